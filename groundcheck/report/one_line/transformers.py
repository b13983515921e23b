"""A transformer between an upper and a lower lead, with the neutrals of its windings."""

from dataclasses import dataclass

from groundcheck.report.one_line import symbols
from groundcheck.report.one_line.model import Bus, Model, Unit, Winding
from groundcheck.report.one_line.neutrals import RELAY_PITCH, draw_neutral, draw_relays, has_neutral
from groundcheck.report.one_line.part import ROW, Part
from groundcheck.report.one_line.symbols import CENTRES, R, line
from groundcheck.report.one_line.words import joined, power, quantity, shown


@dataclass
class Drawn:
    """A part with its lower lead, and the lead of its third winding, both from the upper one."""

    part: Part
    lower: tuple[float, float]
    third: tuple[float, float] | None


def draw_transformer(model: Model, unit: Unit) -> Drawn:
    """Upper neutral to the left, lower neutral to the right, ratings beside the upper winding."""
    part, row = Part(model.findings), unit.row
    tag = str(row["transformer"])
    three = unit.third is not None and not unit.auto
    relays = model.relays.get(("transformer", tag), [])
    labels = 3 * ROW + len(relays) * RELAY_PITCH + 8
    spread = 10.0 if three else 0.0
    lower_has = has_neutral(unit.lower.neutral) or (unit.auto and has_neutral(unit.upper.neutral))
    top = max(12.0, labels - R - CENTRES - 4) if lower_has else 12.0
    first, second = top + R, top + R + CENTRES
    if three:
        second = first + 17
    part.open("transformer", tag, _in_words(unit))
    part.path(line(0, 0, 0, top) if not unit.auto else line(0, 0, 0, second - R - 8))
    if unit.auto:
        part.symbol(
            symbols.circle(0, second, R) + f"M0 {second - R - 8:g}a21 21 0 0 1 {R:g} {R + 8:g}",
            (-R, second - R - 8, 21, second + R), "s", "autotransformer",
        )  # fmt: skip
        _connection(part, 0, second, unit.lower)
    else:
        part.symbol(symbols.circle(0, first, R), (-R, top, R, first + R), "s", "upper winding")
        lower = symbols.circle(spread, second, R)
        part.symbol(lower, (spread - R, second - R, spread + R, second + R), "n", "lower winding")
        _connection(part, 0, first - 3, unit.upper)
        _connection(part, spread, second + 3, unit.lower)
    third_lead = None
    if unit.third is not None:
        at = -spread if three else -R - 9.0
        part.symbol(symbols.circle(at, second, R), (at - R, second - R, at + R, second + R), "n", "third winding")
        _connection(part, at - 1, second + 3, unit.third)
        third_lead = (at, second + R) if unit.third.bus is not None else None
    beside = spread + R + 8 if three else (24.0 if unit.auto else R + 7)
    part.head(beside, 10, "transformer", tag)
    ratings = joined(power(row.get("rated_power")), row.get("vector_group") or "vector group?", by=" ")
    part.text(beside, 10 + ROW, ratings)
    impedance = quantity(row, "impedance", "%")
    part.text(
        beside, 10 + 2 * ROW, f"Z {impedance}" if impedance else "impedance not on record", "t" if impedance else "q"
    )
    part.close()
    draw_relays(part, relays, beside - 6, 2 * ROW + 15, 1)
    _neutrals(part, model, unit, first, second, spread)
    part.height = max(part.height, second + R)
    return Drawn(part, (spread, second + R), third_lead)


def _neutrals(part: Part, model: Model, unit: Unit, first: float, second: float, spread: float) -> None:
    tag = str(unit.row["transformer"])
    third = unit.third
    reach = R + 13.0
    if third and has_neutral(third.neutral):
        x, y = -(spread + R + 10 if spread else 2 * R + 19), second + 9
        part.path(line(-spread - 9 if spread else -R - 18, y, x, y), _look(third))
        part.left = 0.0
        draw_neutral(part, model, x, y, -1, third.neutral, f"{tag} {third.name.upper()}")
        reach = part.left + 18
    elif third:
        reach = spread + R + 10 if spread else 2 * R + 18
    if unit.auto:
        for winding in (unit.lower, unit.upper):
            if winding.neutral.devices or (winding is unit.lower and not unit.upper.neutral.devices):
                part.path(line(9, second + 9, R + 12, second + 9), _look(winding))
                draw_neutral(part, model, R + 12, second + 9, 1, winding.neutral, f"{tag} {winding.name.upper()}")
        return
    if has_neutral(unit.upper.neutral):
        part.path(line(-9, first - 9, -reach, first - 9), _look(unit.upper))
        before, part.left = part.left, 0.0
        draw_neutral(part, model, -reach, first - 9, -1, unit.upper.neutral, f"{tag} {unit.upper.name.upper()}")
        part.left = max(before, part.left)
    if has_neutral(unit.lower.neutral):
        x = spread + R + 12
        part.path(line(spread + 9, second + 9, x, second + 9), _look(unit.lower))
        draw_neutral(part, model, x, second + 9, 1, unit.lower.neutral, f"{tag} {unit.lower.name.upper()}")


def _look(winding: Winding) -> str:
    return "w" if winding.neutral.brought_out else "d"


def _connection(part: Part, x: float, y: float, winding: Winding) -> None:
    glyph = symbols.CONNECTIONS.get(winding.connection or "")
    if glyph:
        part.path(glyph(x, y), "w")
    else:
        part.text(x, y + 4, "?", "q", 0)
        part.boxes.pop()


def _in_words(unit: Unit) -> str:
    row = unit.row
    sides = ", ".join(
        joined(
            winding.name.upper(), quantity(row, f"{winding.name}_voltage", "kV"), f"at {_place(winding.bus)}", by=" "
        )
        for winding in (unit.upper, unit.lower, unit.third)
        if winding is not None
    )
    impedance = quantity(row, "impedance", "%")
    return joined(
        f"Transformer {shown(row['transformer'])}: {sides}",
        power(row.get("rated_power")),
        shown(row.get("vector_group") or "vector group not on record"),
        f"impedance {impedance}" if impedance else "impedance not on record",
    )


def _place(bus: Bus | None) -> str:
    return "no bus" if bus is None else shown(bus.tag) + (f" ({bus.note})" if bus.note else "")
