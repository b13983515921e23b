"""The drawing in words, for who cannot see it."""

from groundcheck.report.one_line.model import Model, Neutral, Winding
from groundcheck.report.one_line.words import device_lines, grounding, joined, kilovolts, power, shown

LIMIT = 4000  # characters; after that, how much is left out


def describe(model: Model) -> str:
    """Buses, transformers with their neutrals, machines, lines, switches, mat."""
    said: list[str] = []
    for bus in sorted(model.buses, key=lambda bus: (bus.tier, bus.rank)):
        if bus.note:
            said.append(f"{shown(bus.tag)}: {bus.note}")
            continue
        zone = bus.zone
        state = f", zone {shown(zone.name)}, {grounding(zone.grounding_class) or 'grounding not known'}" if zone else ""
        said.append(f"Bus {shown(bus.tag)}, {kilovolts(bus.row.get('nominal_voltage'))}{state}")
    for unit in model.units:
        row = unit.row
        windings = [winding for winding in (unit.upper, unit.lower, unit.third) if winding]
        between = " and ".join(shown(winding.bus.tag) for winding in windings if winding.bus)
        neutrals = [words for winding in windings if (words := _winding(winding))]
        said.append(
            joined(
                f"Transformer {shown(row['transformer'])} between {between}",
                power(row.get("rated_power")),
                shown(row.get("vector_group") or "vector group not on record"),
                *neutrals,
            )
        )
    for (kind, tag), neutral in model.neutrals.items():
        said.append(f"{kind.replace('_', ' ').capitalize()} {shown(tag)}, {_neutral(neutral) or 'no neutral'}")
    for join in model.joins:
        normally = shown(join.row.get("normal_state") or "state not on record")
        more = f", {normally}" if join.kind == "switch" else ""
        named = f"{join.kind.capitalize()} {shown(join.row[join.kind])}"
        said.append(f"{named} between {shown(join.a.tag)} and {shown(join.b.tag)}{more}")
    for key, hanging in model.hanging.items():
        for kind, row in hanging:
            if kind == "infeed":
                said.append(f"Infeed {shown(row[kind])} at {shown(key)}")
            elif kind == "line":
                far = row.get("far")
                said.append(f"Line {shown(row[kind])} from {shown(key)}" + (f" to {shown(far)}" if far else ", radial"))
    text, left = "", len(said)
    for sentence in said:
        if len(text) + len(sentence) > LIMIT:
            return f"{text}And {left} more."
        text, left = f"{text}{sentence}. ", left - 1
    return text.strip() or "Nothing on record to draw."


def _winding(winding: Winding) -> str:
    words = _neutral(winding.neutral)
    return f"{winding.name.upper()} {words}" if words else ""


def _neutral(neutral: Neutral) -> str:
    if neutral.devices:
        return "neutral: " + " and ".join(
            f"{shown(device.tag)}" + (f" ({device_lines(device.row)[0]})" if device.row else "")
            for device in neutral.devices
        )
    if neutral.brought_out is False:
        return ""
    return "neutral: not on record"
