"""Numbers with units, and whole numbers."""

import math
import re
from datetime import time, timedelta
from fractions import Fraction
from functools import lru_cache

from groundcheck.ingest.values.cell_text import says_none, says_nothing, tidy
from groundcheck.ingest.values.duration import clock_cell
from groundcheck.ingest.values.limits import within_limits
from groundcheck.ingest.values.number_text import parse_number, split_number
from groundcheck.ingest.values.one_value import converted, not_one_number, one_value
from groundcheck.ingest.values.qualified import Qualified, qualify
from groundcheck.ingest.values.reading import BLANK, Habits, Reading, joined, unreadable
from groundcheck.ingest.values.units import factor, known_unit
from groundcheck.ingest.values.wanted import advice, wanted
from groundcheck.schema import Column

_QUICK = re.compile(r"(\d{1,15})(?:\.(\d{1,15}))?(?: ?([a-zΩ%]+))?", re.ASCII | re.I)
_COUNTED = frozenset({"", "no", "nos", "no.", "nos.", "off", "pcs", "ea"})
_LARGEST_COUNT = 10**15


def read_quantity(cell: float | int | str | time | timedelta, column: Column, habits: Habits) -> Reading:
    """A number in the column's unit."""
    bare_unit = (known_unit(habits.unit) if habits.unit else None) or column.unit
    if not isinstance(cell, str):
        return _typed(cell, bare_unit, column, habits)
    quick = _QUICK.fullmatch(cell)
    if quick is not None and not habits.decimal_comma:
        value = _quick_value(quick, bare_unit, column, habits)
        if value is not None:
            return within_limits(value, column)
    text = tidy(cell)
    if _says_nothing(text):
        return BLANK
    said = qualify(text, duration=column.unit == "s")
    if said.no_value:
        return not_one_number(column, advice(text) or f"; the cell holds {said.no_value}, not a value")
    return _qualified(said, bare_unit, column, habits)


def read_count(cell: float | int | str, column: Column, habits: Habits) -> Reading:
    """A whole number."""
    note = None
    if isinstance(cell, str):
        text = tidy(cell)
        if _says_nothing(text):
            return BLANK
        said = qualify(text)
        if said.no_value:
            return unreadable(f"{wanted(column)}; the cell holds {said.no_value}, not a value")
        split, note = split_number(said.text), said.note
        if split is None or said.tolerance or not _counts(split[1], column):
            return unreadable(wanted(column))
        numbers = parse_number(split[0], decimal_comma=habits.decimal_comma)
    else:
        numbers = (Fraction(repr(cell)),) if math.isfinite(cell) else ()
    number = numbers[-1] if numbers else Fraction(1, 2)  # of two readings, thousands: a count has no decimals
    if number.denominator != 1 or abs(number) > _LARGEST_COUNT:
        return unreadable(wanted(column))
    reading = within_limits(int(number), column)
    return reading if reading.problem or note is None else reading._replace(note=note)


def _typed(cell: float | int | time | timedelta, bare_unit: str | None, column: Column, habits: Habits) -> Reading:
    if isinstance(cell, time | timedelta):
        clock = clock_cell(cell)
        if not isinstance(clock.value, float):
            return clock
        reading = within_limits(clock.value, column)
        return reading if reading.problem else reading._replace(note=clock.note)
    if not math.isfinite(cell):
        endless = cell > 0 and column.unit == "s"
        return within_limits(math.inf, column) if endless else not_one_number(column)
    quick = _QUICK.fullmatch(repr(cell))
    value = _quick_value(quick, bare_unit, column, habits) if quick is not None else None
    if value is not None:
        return within_limits(value, column)
    return converted((Fraction(repr(cell)),), bare_unit, column, habits)


def _quick_value(match: re.Match[str], bare_unit: str | None, column: Column, habits: Habits) -> float | None:
    """The value of a plain number with or without a plain unit; None where it takes a closer look."""
    whole, decimals, unit = match.groups()
    if unit is None:
        if bare_unit == column.unit:
            return float(match[0])
        unit = bare_unit
    by = _plain_factor(unit, column.unit, habits.frequency) if unit else None
    if by is None:
        return None
    if decimals is None:
        return int(whole) * by[0] / by[1]
    above, below = int(whole + decimals) * by[0], by[1] * int("1" + "0" * len(decimals))
    return above / below


@lru_cache(maxsize=4096)
def _plain_factor(spelling: str, canonical: str | None, frequency: float | None) -> tuple[int, int] | None:
    unit = known_unit(spelling)
    by = factor(unit, canonical, frequency) if unit else None
    return by.as_integer_ratio() if by is not None else None


def _counts(text: str, column: Column) -> bool:
    """Whether what follows a number leaves it a count."""
    return text.casefold() in _COUNTED or (text == "%" and "per cent" in column.description)


def _says_nothing(text: str) -> bool:
    """Whether a text is blank; 'NaN' is not, for a failed calculation is no blank."""
    return says_none(text) or (says_nothing(text) and text.casefold() not in ("nan", "nat"))


def _qualified(said: Qualified, bare_unit: str | None, column: Column, habits: Habits) -> Reading:
    """The value with what is said of it: notes, and a tolerance as a share of the value."""
    if said.tolerance is None:
        reading = one_value(said.text, bare_unit, column, habits)
        return reading if reading.problem else reading._replace(note=joined(said.note, reading.note))
    split = split_number(said.tolerance)
    number = parse_number(split[0], decimal_comma=habits.decimal_comma) if split else ()
    unit = known_unit(split[1]) if split and split[1] else None
    if split is None or len(number) != 1 or (split[1] and unit is None):
        return not_one_number(column)
    own = _unit_of(said.text)
    if own is None and unit is not None and unit != "%":
        bare_unit = unit
    reading = one_value(said.text, bare_unit, column, habits)
    if not isinstance(reading.value, int | float):
        return reading
    share, note = _share(number[0], unit, own or bare_unit, float(reading.value), column, habits)
    if share is not None and share >= 1:  # the value and its tolerance are not in one unit
        return not_one_number(column, "; the tolerance is as large as the value")
    return reading._replace(note=joined(said.note, reading.note, note), tolerance=share)


def _share(
    number: Fraction, unit: str | None, own: str | None, value: float, column: Column, habits: Habits
) -> tuple[float | None, str]:
    """A tolerance as a share of its value, and what is said of it; None where the two cannot be compared."""
    if unit == "%" and column.unit == "%":
        return None, "the tolerance is left out: it can be a share of the value, or points of per cent"
    if unit == "%":
        return float(number / 100), f"a tolerance of {float(number):g} % is written beside it"
    written = f"{float(number):g} {unit or ''}".strip()
    by = factor(unit or own or "", column.unit, habits.frequency) if unit or own else Fraction(1)
    if by is None or value == 0 or not math.isfinite(value):
        return None, "the tolerance is left out: it cannot be compared with the value"
    return float(number * by / abs(Fraction(value))), f"a tolerance of {written} is written beside it"


def _unit_of(text: str) -> str | None:
    """The unit that a value is written with."""
    split = split_number(text)
    return known_unit(split[1]) if split and split[1] else None
