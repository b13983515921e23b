"""Conductor sizes: AWG, kcmil, mm2, strands, parallel conductors, and bars by their sides."""

import math
import re
from fractions import Fraction
from typing import NamedTuple

from groundcheck.ingest.values.cell_text import says_none, says_nothing, tidy
from groundcheck.ingest.values.limits import within_limits
from groundcheck.ingest.values.number_text import parse_number, split_number
from groundcheck.ingest.values.qualified import qualify
from groundcheck.ingest.values.reading import BLANK, Habits, Reading, ambiguous, joined, unreadable
from groundcheck.ingest.values.strands import stranded
from groundcheck.ingest.values.units import known_unit
from groundcheck.ingest.values.wanted import wanted
from groundcheck.schema import Column

MM2_PER_KCMIL = 0.506707
# IEC 60228, nominal cross-sections (recalled). [mm2]
_IEC_SIZES = (0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120, 150, 185, 240, 300, 400, 500, 630, 800)
_MOST_PARALLEL = 6
_MOST_PARALLEL_WITH_UNIT = 12
_LEAST_PARALLEL_AREA = 10

_AUGHT = re.compile(r"#? ?([1-4]) ?/ ?0(?: ?awg)?\Z")
_AUGHTS = re.compile(r"#? ?(0{2,4})(?: ?awg)?\Z|#? ?(0) ?awg\Z|# ?(0)\Z")
_GAUGE = re.compile(r"# ?(\d{1,2})(?: ?awg)?\Z|(?:no\.? ?)?(\d{1,2}) ?-?awg\Z|awg ?#? ?(\d{1,2})\Z")
_TIMES = re.compile(r" ?(?:x|\*) ?")
_BRACKETED_COUNT = re.compile(r"\((\d{1,2})\) ?(?:x ?)?")
_TIMES_BRACKETS = re.compile(r"(\d{1,2}) ?(?:x|\*) ?\(([^()]+)\)\Z")
_COUNTED = re.compile(r"(\d{1,2}) ?(?:nos?\.?|off) ?(?:x ?)?(?=[\d#])")
_INCH = re.compile(r"\"|''|\bin\b|inch|′′")
_DIAMETER = re.compile(r"ø|\bdia|diam|\brod\b|round|[⌀∅]|\d ?(?:mm|\")? ?d\Z")
_MATERIAL = re.compile(
    r"[ ,](?:bare|cu|copper|al|aluminium|aluminum|gi|galvani[sz]ed|steel|ms|strip|strap|tape|flat|bar|stranded|pvc|"
    r"cable|wire|conductors?|hdbc|sdbc|hdc|tinned|xlpe|g\.?i\.?|lead)(?= |,|\Z)"
)


class Size(NamedTuple):
    """The area of one conductor, how many there are, and what is to be said of it. [mm2]"""

    area: float
    parallel: int | None = None
    note: str | None = None


class _TwoSizesError(Exception):
    """A size that can be two."""


def awg_area_mm2(gauge: int) -> float:
    """
    Area of a solid conductor of a gauge; 1/0 is 0, 4/0 is -3. [mm2]

    Source: ASTM B258, diameter 0.127 mm x 92^((36 - n)/39).
    """
    diameter: float = 0.127 * 92 ** ((36 - gauge) / 39)
    return math.pi / 4 * diameter**2


def read_size(cell: float | int | str, column: Column, habits: Habits) -> Reading:
    """The area of one conductor, with the number in parallel where the text gives it."""
    unit = (known_unit(habits.unit) or habits.unit) if habits.unit else None
    text, note = repr(cell), None
    if isinstance(cell, str):
        said = qualify(tidy(cell))
        if says_nothing(said.text) or says_none(said.text):
            return BLANK
        if said.no_value or said.tolerance:
            held = said.no_value or "a tolerance"
            return unreadable(f"{wanted(column)}; the cell holds {held}, not one size")
        text, note = said.text, said.note
    text = _MATERIAL.sub("", text.casefold().replace("×", "x"))
    try:
        size = _size(text.strip(" ,"), unit, habits)
    except _TwoSizesError as candidates:
        return ambiguous(str(candidates))
    if size is None or not math.isfinite(size.area):
        return unreadable(wanted(column) + _advice(text))
    reading = within_limits(size.area, column)
    return reading if reading.problem else reading._replace(parallel=size.parallel, note=joined(note, size.note))


def _advice(text: str) -> str:
    """What to write instead of an inch size or a diameter, as the end of a sentence."""
    if _INCH.search(text):
        return "; for an inch size say whether it is a rod or a strap, and its sides in mm"
    return "; for a diameter give the area" if _DIAMETER.search(text) else ""


def _size(text: str, unit: str | None, habits: Habits) -> Size | None:
    strands = stranded(text)
    if strands is not None:
        return Size(strands.area, note=strands.note)
    if times := _TIMES_BRACKETS.match(text):
        return _in_parallel(int(times[1]), _size(times[2].strip(), unit, habits))
    counted = _BRACKETED_COUNT.match(text) or _COUNTED.match(text)
    if counted:
        inner = _size(text[counted.end() :], unit, habits)
        return _in_parallel(int(counted[1]), inner)
    factors = _TIMES.split(text)
    if len(factors) == 1:
        area = _one_area(text, unit, habits)
        return None if area is None else Size(area)
    if len(factors) == 2:
        return _pair(factors[0], factors[1], unit, habits)
    if len(factors) == 3 and factors[0].isdigit():
        return _in_parallel(int(factors[0]), _bar(factors[1], factors[2], habits))
    return None


def _pair(first: str, second: str, unit: str | None, habits: Habits) -> Size | None:
    """A number of parallel conductors times a size, or the two sides of a bar."""
    count = int(first) if first.isdigit() and len(first) <= 4 else 0
    split = split_number(second)
    written = known_unit(split[1]) if split and split[1] else None
    if written == "mm2" and not 1 <= count <= _MOST_PARALLEL_WITH_UNIT:
        return _bar(first, second[: -len(split[1])].strip() if split else second, habits)
    if written in ("mm2", "AWG", "kcmil", "cmil") or not split or "/" in second or unit in ("AWG", "kcmil"):
        area = _one_area(second, unit, habits)
        return None if area is None else _in_parallel(count, Size(area))
    numbers = parse_number(split[0], decimal_comma=habits.decimal_comma) if not split[1] else ()
    if 1 <= count <= _MOST_PARALLEL and numbers and numbers[0] >= _LEAST_PARALLEL_AREA and numbers[0] in _IEC_SIZES:
        return Size(float(numbers[0]), count)
    return _bar(first, second, habits)


def _bar(first: str, second: str, habits: Habits) -> Size | None:
    sides = []
    for side in (first, second):
        split = split_number(side)
        if split is None or known_unit(split[1] or "mm") != "mm":
            return None
        sides.append(_number(split[0], "mm", habits))
    if any(side is None or side < 2 for side in sides):
        return None
    return Size(math.prod(float(side) for side in sides if side is not None))


def _in_parallel(count: int, size: Size | None) -> Size | None:
    if size is None or size.parallel is not None or not 1 <= count <= _MOST_PARALLEL_WITH_UNIT:
        return None
    return Size(size.area, count, size.note)


def _one_area(text: str, unit: str | None, habits: Habits) -> float | None:
    if match := _AUGHT.match(text):
        return awg_area_mm2(1 - int(match[1]))
    if match := _AUGHTS.match(text):
        return awg_area_mm2(1 - len(match[1] or match[2] or match[3]))
    if match := _GAUGE.match(text):
        return _gauge(int(match[1] or match[2] or match[3]))
    split = split_number(text)
    if split is None:
        return None
    written = known_unit(split[1]) if split[1] else unit
    if written not in ("mm2", "kcmil", "cmil", "AWG", None) or (split[1] and written is None):
        return None
    number = _number(split[0], written or "mm2", habits)
    if number is None:
        return None
    if written == "AWG":
        return _gauge(int(number)) if number.denominator == 1 else None
    if written in ("kcmil", "cmil"):
        return float(number) * MM2_PER_KCMIL / (1 if written == "kcmil" else 1000)
    if written is None and number.denominator == 1 and 1 <= number <= 20 and number not in _IEC_SIZES:
        raise _TwoSizesError(f"either {number} mm2 or {number} AWG: write the unit")
    return float(number)


def _gauge(number: int) -> float | None:
    return awg_area_mm2(number) if 0 <= number <= 40 else None


def _number(text: str, unit: str, habits: Habits) -> Fraction | None:
    numbers = parse_number(text, decimal_comma=habits.decimal_comma)
    if len(numbers) == 2 and unit not in ("kcmil", "cmil"):
        raise _TwoSizesError(f"either {float(numbers[0]):g} {unit} or {int(numbers[1])} {unit}: write no comma")
    return numbers[-1] if numbers else None
