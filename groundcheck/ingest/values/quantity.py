"""Numbers with units, durations that may be continuous, and whole numbers."""

import math
import re
from fractions import Fraction

from groundcheck.ingest.values.cell_text import says_none, says_nothing, tidy
from groundcheck.ingest.values.number_text import parse_number, split_number
from groundcheck.ingest.values.reading import BLANK, Habits, Problem, Reading, ambiguous, unreadable
from groundcheck.ingest.values.units import THOUSANDTH, factor, known_unit
from groundcheck.ingest.values.wanted import wanted
from groundcheck.schema import Column

_CONTINUOUS = frozenset(
    {
        *("continuous", "continuously", "continous", "contin.", "cont", "cont.", "continuous duty", "cont. duty"),
        *("continuous rating", "permanent", "indefinite", "indefinitely", "unlimited", "no limit", "infinite", "∞"),
    }
)
_PLAIN = re.compile(r"\d{1,15}(?:\.\d{1,15})?", re.ASCII)
_COMPOUND = re.compile(
    r"\A[\d.,]+ ?k?A ?(?:/|@|-|for|x)? ?[\d.,]+ ?-?(?:s|secs?|seconds?|mins?|minutes?|h|hrs?)\Z", re.I
)
_RATIO = re.compile(r"\A[\d.,]+ ?[a-z]*(?: ?[/:] ?[\d.,]+ ?[a-z]*)+\Z", re.I)
_COUNTED = frozenset({"no", "nos", "no.", "off", "pcs", "ea"})
_LARGEST_COUNT = 10**15


def read_quantity(cell: float | int | str, column: Column, habits: Habits) -> Reading:
    """A number in the column's unit."""
    heading_unit = known_unit(habits.unit) if habits.unit else None
    if not isinstance(cell, str):
        if not math.isfinite(cell):
            return _within(math.inf, column) if cell > 0 and column.unit == "s" else unreadable(_one_number(column))
        return _converted((Fraction(repr(cell)),), heading_unit or column.unit, column, habits)
    bare_unit = heading_unit or column.unit
    if _PLAIN.fullmatch(cell) and bare_unit == column.unit and not habits.decimal_comma:
        return _within(float(cell), column)
    text = tidy(cell)
    if _says_nothing(text):
        return BLANK
    if column.unit == "s" and text.casefold() in _CONTINUOUS:
        return _within(math.inf, column)
    split = split_number(text)
    if split is None:
        return unreadable(_one_number(column))
    numbers = parse_number(split[0], decimal_comma=habits.decimal_comma)
    unit = known_unit(split[1]) if split[1] else bare_unit
    if split[1] == "R" and column.unit == "ohm":
        unit = "ohm"
    if not numbers or (split[1] and unit is None):
        return unreadable(_one_number(column) + _advice(text))
    return _converted(numbers, unit, column, habits, written=bool(split[1]))


def read_count(cell: float | int | str, column: Column, habits: Habits) -> Reading:
    """A whole number."""
    if isinstance(cell, str):
        text = tidy(cell)
        if _says_nothing(text):
            return BLANK
        split = split_number(text)
        if split is None or (split[1].casefold() not in _COUNTED | {""} and not _is_per_cent(split[1], column)):
            return unreadable(wanted(column))
        numbers = parse_number(split[0], decimal_comma=habits.decimal_comma)
    else:
        numbers = (Fraction(repr(cell)),) if math.isfinite(cell) else ()
    number = numbers[-1] if numbers else Fraction(1, 2)  # of two readings, thousands: a count has no decimals
    if number.denominator != 1 or abs(number) > _LARGEST_COUNT:
        return unreadable(wanted(column))
    return _within(int(number), column)


def _says_nothing(text: str) -> bool:
    """Whether a text is blank; 'NaN' is not, for a failed calculation is no blank."""
    return says_none(text) or (says_nothing(text) and text.casefold() not in ("nan", "nat"))


def _is_per_cent(text: str, column: Column) -> bool:
    return text == "%" and "per cent" in column.description


def _converted(
    numbers: tuple[Fraction, ...], unit: str | None, column: Column, habits: Habits, written: bool = False
) -> Reading:
    """The reading of one number, or the choice between two, in the unit given."""
    times = Fraction(1)
    if unit is not None and (written or column.unit is not None):
        by = factor(unit, column.unit, habits.frequency)
        if by is None:
            return unreadable(f"{wanted(column)}; {_why_not(unit, column)}")
        times = by
    if len(numbers) == 2:
        readings = [_within(_finite(number * times), column) for number in numbers]
        chosen = _choose(readings, unit, written)
        if chosen is None:
            pair = _candidates(numbers, unit, within=readings[1].problem is None)
            return ambiguous(f"either {pair}: " + ("write no comma" if written else "write the unit, and no comma"))
        return chosen
    return _within(_finite(numbers[0] * times), column)


def _choose(readings: list[Reading], unit: str | None, written: bool) -> Reading | None:
    """Which of the readings (decimal, thousands) is meant; None if either may be."""
    decimal, thousands = readings
    if unit in ("V", "A", "V or A", "A or V"):
        return thousands
    if (written or unit not in THOUSANDTH) and (decimal.problem is None) != (thousands.problem is None):
        return decimal if decimal.problem is None else thousands
    return None


def _candidates(numbers: tuple[Fraction, ...], unit: str | None, *, within: bool) -> str:
    unit = unit or ""
    smaller = unit if within else THOUSANDTH.get(unit, unit)
    thousands = f"{int(numbers[1]):,}".replace(",", " ")
    return f"{float(numbers[0]):g} {unit}".strip() + " or " + f"{thousands} {smaller}".strip()


def _within(value: float | int, column: Column) -> Reading:
    if isinstance(value, float) and math.isnan(value):
        return unreadable(_one_number(column))
    outside = (
        (column.gt is not None and not value > column.gt)
        or (column.ge is not None and not value >= column.ge)
        or (column.le is not None and not value <= column.le)
    )
    return Reading(None, Problem("outside_limits", wanted(column))) if outside else Reading(value)


def _finite(number: Fraction) -> float:
    """The nearest float; NaN where it is too large for one."""
    try:
        return float(number)
    except OverflowError:
        return math.nan


def _one_number(column: Column) -> str:
    return f"a single number: {wanted(column)}"


def _advice(text: str) -> str:
    if _COMPOUND.match(text):
        return "; give current and time in a column each"
    if _RATIO.match(text):
        return "; a ratio or a list needs a column for each number"
    return ""


def _why_not(unit: str, column: Column) -> str:
    if unit == "cycles" and column.unit == "s":
        return "cycles need the frequency"
    return f"{unit} cannot be converted to {column.unit or 'a bare number'}"
