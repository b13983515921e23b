"""A neutral brought down from its winding, with what stands in it on the way to ground."""

from groundcheck.report.one_line import symbols
from groundcheck.report.one_line.findings import Row
from groundcheck.report.one_line.model import Device, Model, Neutral
from groundcheck.report.one_line.part import RELAY, ROW, Part
from groundcheck.report.one_line.symbols import line, n
from groundcheck.report.one_line.words import DEVICES, device_lines, relay_line, shown

RELAY_PITCH = 2 * RELAY + 3
LABEL_AT = {("distribution_transformer", 1): 34, ("arc_suppression_coil", 1): 19, ("arc_suppression_coil", -1): 15}
"""How far from its lead a device's label stands, where its symbol reaches farther than others."""


def draw_neutral(part: Part, model: Model, x: float, y: float, side: int, neutral: Neutral, whose: str) -> None:
    """
    From (x, y) down, its texts at `side`.

    A neutral that is not brought out has nothing to show unless a device is said to stand in it.
    """
    if not neutral.devices:
        if neutral.brought_out or neutral.brought_out is None:
            _not_on_record(part, x, y, side, neutral, whose)
        return
    at = x
    for device in neutral.devices:
        if at != x:
            part.path(line(x, y, at, y))
        if neutral.brought_out:
            part.path(line(at, y, at, y + 6))
        else:
            part.path(line(at, y, at, y + 6), "d")
        part.left, before = (0.0, part.left) if side < 0 else (part.left, 0.0)
        part.right, other = (0.0, part.right) if side > 0 else (part.right, 0.0)
        draw_device(part, model, at, y + 6, side, device, neutral, whose)
        reach = part.left if side < 0 else part.right
        part.left, part.right = max(part.left, before), max(part.right, other)
        at = side * (reach + 26)


def has_neutral(neutral: Neutral) -> bool:
    """Whether there is anything to draw of it."""
    return bool(neutral.devices) or neutral.brought_out is not False


def _not_on_record(part: Part, x: float, y: float, side: int, neutral: Neutral, whose: str) -> None:
    part.path(line(x, y, x, y + 10), "d")
    part.symbol(symbols.circle(x, y + 19, 9), (x - 9, y + 10, x + 9, y + 28), "d", f"neutral of {whose} not on record")
    part.text(x, y + 23, "?", "h", 0, 12)
    part.boxes.pop()  # stands inside its circle
    said = ["neutral", "not on record"] if neutral.brought_out else ["neutral?", "connection", "not on record"]
    if neutral.taken_as:
        said.append(f"taken as {DEVICES.get(neutral.taken_as, shown(neutral.taken_as))}")
    for number, words in enumerate(said):
        part.text(x + side * 14, y + 14 + number * ROW, words, "q", side)


def draw_device(
    part: Part, model: Model, x: float, y: float, side: int, device: Device, neutral: Neutral, whose: str
) -> None:
    """A device from (x, y) to ground, its relays above it; where it is drawn elsewhere, a pointer to it."""
    if not device.first:
        part.path(line(x, y, x, y + 10) + symbols.down_arrow(x, y + 18), "w")
        part.text(x + side * 12, y + 8, "shared:", "q", side)
        part.text(x + side * 12, y + 8 + ROW, device.tag, "t", side)
        part.boxes.append(part.boxes[-1]._replace(left=x - 5, right=x + 5, top=y + 8, bottom=y + 18, what="symbol"))
        part.height = max(part.height, y + 24)
        return
    row = device.row
    y = draw_relays(part, model.relays.get(("neutral_device", device.tag), ()), x, y, side, lead=True)
    said = device_lines(row)
    tail = f"in the neutral of {whose}"
    part.open("neutral_device", device.tag, f"Neutral device {device.tag} {tail}: {', '.join(said)}")
    bottom = device_symbol(part, x, y, row.get("kind"))
    top = y + 9
    beside = x + side * LABEL_AT.get((row.get("kind") or "", side), 14)
    part.head(beside, top, "neutral_device", device.tag, side)
    for number, words in enumerate(said, 1):
        part.text(beside, top + number * ROW, words, "t", side)
    notes = [f"shared with {', '.join(device.others)}"] if device.others else []
    if neutral.brought_out is False:
        notes.append("no neutral brought out")
    for number, words in enumerate(notes, len(said) + 1):
        part.text(beside, top + number * ROW, words, "q", side)
    part.height = max(part.height, bottom + 4)
    part.close()


def device_symbol(part: Part, x: float, y: float, kind: str | None) -> float:
    """What stands between (x, y) and the mat, down to and with the sign of ground; its lower end."""
    if kind == "solid":
        part.symbol(line(x, y, x, y + 22) + symbols.ground(x, y + 22), (x - 8, y, x + 8, y + 30), "w", "solid link")
        return y + 30
    if kind == "open":
        part.path(line(x, y, x, y + 12))
        part.symbol(
            symbols.circle(x, y + 15, 3) + symbols.ground(x, y + 28), (x - 8, y + 12, x + 8, y + 36), "s", "open"
        )
        return y + 36
    end = y + 28
    if kind == "distribution_transformer":
        part.symbol(
            symbols.circle(x, y + 11, 8) + symbols.circle(x + 11, y + 11, 8), (x - 8, y + 3, x + 29, y + 25), "s", kind
        )
        part.path(line(x, y, x, y + 3) + line(x, y + 19, x, end + 4))
        part.path(f"M{n(x + 18)} {n(y + 7)}h8v3m-3 0h6v11h-6zm3 11v4h-15v-6")
        part.path(symbols.ground(x, end + 4))
        return end + 12
    if kind in ("resistor", "surge_arrester"):
        shape = symbols.rectangle(x, y + 2) if kind == "resistor" else symbols.arrester(x, y + 2)
    elif kind in ("reactor", "arc_suppression_coil"):
        shape = symbols.coil(x, y + 2) + (symbols.tuning_arrow(x, y + 2) if kind == "arc_suppression_coil" else "")
    else:
        part.symbol(symbols.rectangle(x, y + 2, 12), (x - 6, y + 2, x + 6, end), "d", "kind not on record")
        part.path(line(x, y, x, y + 2) + line(x, end, x, end + 4) + symbols.ground(x, end + 4))
        return end + 12
    part.symbol(shape, (x - 8, y + 2, x + 8, end), "s", kind)
    part.path(line(x, y, x, y + 2) + line(x, end, x, end + 4) + symbols.ground(x, end + 4))
    return end + 12


def draw_relays(
    part: Part, rows: "tuple[Row, ...] | list[Row]", x: float, y: float, side: int, lead: bool = False
) -> float:
    """Relays, one above the other, from y down, beside a lead at x that is drawn along; the lower end."""
    for row in rows:
        tag, function = str(row.get("ground_relay")), shown(row.get("function") or "?")
        measures = row.get("measures") or "what is not on record"
        action = f", {row['action']}" if row.get("action") else ""
        part.open("ground_relay", tag, f"Ground relay {tag}, {function}, on {measures}: {relay_line(row)}{action}")
        at, middle = x + side * (RELAY + 8), y + RELAY + 1
        part.path(line(x, middle, at - side * RELAY, middle), "d")
        part.symbol(
            symbols.circle(at, middle, RELAY), (at - RELAY, middle - RELAY, at + RELAY, middle + RELAY), "s", function
        )
        part.text(at, middle + 3, function[:5], "t", 0, 8.5 if len(function) < 4 else 7)
        part.boxes.pop()  # stands inside its circle
        part.head(at + side * (RELAY + 4), middle - 1, "ground_relay", tag, side)
        part.text(at + side * (RELAY + 4), middle + 10, relay_line(row), "q", side)
        part.close()
        if lead:
            part.path(line(x, y, x, y + RELAY_PITCH))
        y += RELAY_PITCH
    return y
