"""The label above the left end of a bar: zone, tag, voltage, declared grounding, ground fault."""

from groundcheck.report.marks import zone_tint
from groundcheck.report.one_line.model import Bus, Model
from groundcheck.report.one_line.part import ROW, Part
from groundcheck.report.one_line.words import fault_line, grounding, kilovolts, shown


def bus_label(model: Model, bus: Bus) -> Part:
    """From (0, 0), which is the left end of the highest line of text; the bar lies below `height`."""
    part = Part(model.findings)
    part.left = part.right = 0.0
    if bus.note:
        part.head(4, 10, "bus", bus.tag, own=False)
        part.text(4, 10 + ROW, bus.note, "q")
        part.height = 10 + ROW + 6
        return part
    y = 10.0
    part.open("bus", bus.tag, _in_words(bus))
    if bus.zone:
        name = bus.zone.name
        mark = model.findings.mark("zone", name)
        said = grounding(bus.zone.grounding_class)
        x = 4.0
        if mark:
            part.mark(mark, 9, y - 3.5, model.findings.words("zone", name) or "")
            x += 13
        wide = part.text(x, y, zone_tint(bus.zone.position).label, "h")
        part.text(x + wide + 5, y, said or "grounding not known", "t" if said else "q")
        y += ROW
    part.head(4, y, "bus", bus.tag, more=kilovolts(bus.row.get("nominal_voltage")))
    declared = grounding(bus.row.get("declared_grounding"))
    y += ROW
    part.text(4, y, f"declared {declared}" if declared else "grounding not declared", "t" if declared else "q", size=9)
    y += ROW - 0.5
    part.text(4, y, fault_line(bus.fault), "q", size=9)
    part.close()
    part.height = y + 6
    return part


def _in_words(bus: Bus) -> str:
    zone = bus.zone
    said = f", zone {zone.name}, {grounding(zone.grounding_class) or 'grounding not known'}" if zone else ""
    declared = grounding(bus.row.get("declared_grounding")) or "grounding not declared"
    kv = kilovolts(bus.row.get("nominal_voltage"))
    declared = f"declared {declared}" if bus.row.get("declared_grounding") else declared
    return f"Bus {shown(bus.tag)}, {kv}{said}, {declared}; {fault_line(bus.fault)}"
