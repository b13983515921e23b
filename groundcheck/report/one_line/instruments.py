"""Voltage and current transformers, and ground detectors."""

from groundcheck.report.one_line import symbols
from groundcheck.report.one_line.findings import Row
from groundcheck.report.one_line.model import Model
from groundcheck.report.one_line.neutrals import RELAY_PITCH, draw_relays
from groundcheck.report.one_line.part import ROW, Part
from groundcheck.report.one_line.symbols import line
from groundcheck.report.one_line.words import DETECTORS, joined, number, shown, volts


def instrument_transformer(model: Model, row: Row) -> Part:
    part, tag = Part(model.findings), str(row["instrument_transformer"])
    relays = model.relays.get(("instrument_transformer", tag), [])
    detectors = model.detectors.get(tag, [])
    connection = shown(row.get("connection") or "")
    kind = row.get("kind")
    what = "Current" if kind == "ct" else "Voltage"
    sides = [row[side] for side in ("primary", "secondary") if row.get(side) is not None]
    ratio = joined(*(f"{number(side)} A" if kind == "ct" else volts(side) for side in sides), by=" / ")
    part.open(
        "instrument_transformer",
        tag,
        joined(f"{what} transformer {tag}", connection, ratio),
    )
    if kind == "ct":
        part.path(line(0, 0, 0, 34))
        part.symbol(symbols.circle(0, 18, 7), (-7, 11, 7, 25), "n", "current transformer")
        part.path("M7 18h6M9 21l3 -6")
    else:
        broken = any(word in connection.lower() for word in ("broken", "open"))
        part.path(line(0, 0, 0, 8))
        part.symbol(symbols.circle(0, 17, 9) + symbols.circle(0, 30, 9), (-9, 8, 9, 39), "n", "voltage transformer")
        part.path(symbols.star(0, 15, 3.5) + (symbols.open_delta(0, 32, 3) if broken else symbols.star(0, 33, 3.5)))
    part.head(16, 15, "instrument_transformer", tag)
    part.text(16, 15 + ROW, ratio or "ratio not on record", "t" if ratio else "q")
    if connection:
        part.text(16, 15 + 2 * ROW, connection, "q")
    part.close()
    y = 15 + 3 * ROW
    for detector in detectors:
        _detector_row(part, detector, 16, y + 2)
        y += ROW + 2
    if relays:
        y -= 5
        end = draw_relays(part, relays, 0, y, 1)
        part.path(line(0, 39 if kind != "ct" else 34, 0, end - RELAY_PITCH / 2 - 1), "d")
    part.height = max(part.height, 44)
    return part


def _detector_row(part: Part, row: Row, x: float, y: float) -> None:
    tag = str(row["ground_detector"])
    method = DETECTORS.get(row.get("method") or "", shown(row.get("method") or "method not on record"))
    part.open("ground_detector", tag, f"Ground detector {tag}: {method}")
    part.head(x, y, "ground_detector", tag, more=method)
    part.close()


def detector_part(model: Model, row: Row) -> Part:
    """A detector that no voltage transformer on record feeds."""
    part, tag = Part(model.findings), str(row["ground_detector"])
    method = DETECTORS.get(row.get("method") or "", shown(row.get("method") or "method not on record"))
    part.open("ground_detector", tag, f"Ground detector {tag}: {method}")
    part.path(line(0, 0, 0, 10))
    if row.get("method") == "lamps":
        part.symbol(
            symbols.circle(0, 18, 8) + "M-5.7 12.3l11.3 11.3M5.7 12.3l-11.3 11.3", (-8, 10, 8, 26), "s", "lamps"
        )
        part.path(line(0, 26, 0, 32) + symbols.ground(0, 32))
    else:
        part.symbol("M-11 10h22v15h-22z", (-11, 10, 11, 25), "s", "detector")
        part.text(0, 21, "ohm" if row.get("method") == "insulation_monitor" else "3U0", "t", 0, 8)
        part.boxes.pop()
        part.path(line(0, 25, 0, 32) + symbols.ground(0, 32))
    part.head(16, 18, "ground_detector", tag)
    part.text(16, 18 + ROW, method, "q")
    part.close()
    part.height = max(part.height, 42)
    return part
