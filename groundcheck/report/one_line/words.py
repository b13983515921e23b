"""What the drawing says of an asset: its ratings, its grounding and its findings, in words with units."""

import math
from collections.abc import Mapping
from typing import Any

from groundcheck.report.cell_text import clean_text

Row = Mapping[str, Any]

GROUNDING = {
    "effective": "effectively grounded",
    "solid": "solidly grounded",
    "low_resistance": "low-resistance grounded",
    "high_resistance": "high-resistance grounded",
    "resistance": "resistance grounded",
    "reactance": "reactance grounded",
    "resonant": "resonant grounded",
    "ungrounded": "ungrounded",
}
DEVICES = {
    "solid": "solid link",
    "resistor": "resistor",
    "reactor": "reactor",
    "arc_suppression_coil": "arc-suppression coil",
    "distribution_transformer": "loaded grounding transformer",
    "surge_arrester": "surge arrester only",
    "open": "open",
}
DETECTORS = {"broken_delta": "broken delta", "lamps": "ground lamps", "insulation_monitor": "insulation monitor"}

_TURNING = dict.fromkeys([*range(0x202A, 0x202F), *range(0x2066, 0x206A), 0x200E, 0x200F])


def shown(text: object) -> str:
    """A text of the record as one line that neither breaks nor turns round."""
    text = str(text)
    if text.isascii() and text.isprintable():
        return text
    return " ".join(clean_text(text).translate(_TURNING).split())


def number(value: float, digits: int = 4) -> str:
    """Significant digits, never in powers of ten: 12500, 19.1, 0.071."""
    if not math.isfinite(value):
        return "no limit" if value > 0 else "?"
    if value == 0:
        return "0"
    if abs(value) >= 10 ** (digits - 1):
        return f"{value:.0f}"
    return f"{value:.{digits}g}" if abs(value) >= 1e-4 else f"{value:.2e}"


def quantity(row: Row, field: str, unit: str, digits: int = 4) -> str | None:
    """'400 A', or None where it is not on record."""
    value = row.get(field)
    return None if value is None else f"{number(value, digits)} {unit}"


def joined(*parts: str | None, by: str = ", ") -> str:
    """The parts that there are."""
    return by.join(part for part in parts if part)


def kilovolts(value: float | None) -> str:
    """Nominal voltage of a bus."""
    return "voltage not on record" if value is None else f"{number(value)} kV"


def power(mva: float | None) -> str | None:
    """'31.5 MVA', '630 kVA'."""
    if mva is None:
        return None
    return f"{number(mva)} MVA" if mva >= 1 else f"{number(mva * 1000)} kVA"


def grounding(key: str | None) -> str | None:
    """A grounding class as a person says it; an owner's own word as it stands."""
    return None if key is None else GROUNDING.get(key, shown(key).replace("_", " "))


def volts(value: float, digits: int = 4) -> str:
    """'110 V', '11 kV'."""
    return f"{number(value / 1000, digits)} kV" if value >= 1000 else f"{number(value, digits)} V"


def time(seconds: float | None) -> str | None:
    """'10 s', 'continuous'."""
    if seconds is None:
        return None
    return "continuous" if math.isinf(seconds) else f"{number(seconds)} s"


def device_lines(row: Row) -> list[str]:
    """What stands in a neutral, with its ratings."""
    kind = row.get("kind")
    word = DEVICES.get(kind or "", shown(kind or "kind not on record").replace("_", " "))
    if kind in ("solid", "open"):
        return [word]
    if kind == "distribution_transformer":
        ratio = joined(
            *(volts(row[each]) for each in ("primary_voltage", "secondary_voltage") if row.get(each)), by=" / "
        )
        load = quantity(row, "secondary_resistance", "ohm")
        return [word, joined(quantity(row, "rated_power", "kVA"), ratio), f"resistor {load or '? ohm'}"]
    first = quantity(row, "reactance" if kind in ("reactor", "arc_suppression_coil") else "resistance", "ohm")
    if kind == "surge_arrester":
        return [word, joined(quantity(row, "rated_voltage", "kV"))]
    rating = joined(quantity(row, "rated_current", "A"), time(row.get("rated_time")))
    return [f"{word} {first or '? ohm'}", rating or "rating not on record"]


def relay_line(row: Row) -> str:
    """Tag, pickup, time and whether it only tells."""
    in_volts = str(row.get("function") or "").startswith(("59", "27", "64"))
    when = quantity(row, "definite_time", "s") or quantity(row, "time_dial", "time dial")
    alarm = "alarm" if row.get("action") == "alarm" else None
    return joined(quantity(row, "pickup", "V" if in_volts else "A"), when, alarm)


def fault_line(fault: Row | None) -> str:
    """The line-to-ground fault at a bus."""
    if not fault:
        return "ground fault not computed"
    current = fault.get("line_to_ground_ka")
    healthy = fault.get("healthy_phase_kv")
    amperes = None
    if current is not None:
        amperes = f"L-G {number(current, 3)} kA" if current >= 0.1 else f"L-G {number(current * 1000, 3)} A"
    return joined(
        amperes or "L-G not known",
        None if healthy is None else f"healthy phases {volts(healthy * 1000, 3)}",
    )
