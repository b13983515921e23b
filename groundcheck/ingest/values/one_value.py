"""The text of one value, with its unit, as a number in the column's unit."""

import math
from fractions import Fraction

from groundcheck.ingest.values.duration import duration_seconds, says_continuous, short_clock
from groundcheck.ingest.values.limits import within_limits
from groundcheck.ingest.values.named_number import without_name
from groundcheck.ingest.values.number_text import parse_number, split_fraction, split_number
from groundcheck.ingest.values.reading import Habits, Reading, ambiguous, unreadable
from groundcheck.ingest.values.two_numbers import choose, either
from groundcheck.ingest.values.units import UNITS, factor, known_unit
from groundcheck.ingest.values.wanted import advice, wanted
from groundcheck.schema import Column

# The end of the sentence for a duration in cycles where no frequency is known: one answer settles it for a file.
NEEDS_FREQUENCY = "cycles need the frequency"

_WITH_FRACTIONS = frozenset({"duration", "length"})


def one_value(text: str, bare_unit: str | None, column: Column, habits: Habits) -> Reading:
    """The reading of a tidy text that holds one value and nothing else."""
    if column.unit == "s":
        if says_continuous(text):
            return _within(math.inf, column)
        seconds = duration_seconds(text)
        if seconds is not None:
            return _within(_finite(seconds), column)
        if meanings := short_clock(text):
            return ambiguous(meanings)
    text = without_name(text, column)
    numbers, written = _number_and_unit(text, column, habits)
    unit = known_unit(written) if written else bare_unit
    if written == "R" and column.unit == "ohm":
        unit = "ohm"
    if not numbers or (written and unit is None):
        return not_one_number(column, advice(text))
    return converted(numbers, unit, column, habits, written=bool(written))


def _number_and_unit(text: str, column: Column, habits: Habits) -> tuple[tuple[Fraction, ...], str]:
    """The number that a text begins with, in both readings where there are two, and the text of its unit."""
    fractions = column.unit in UNITS and UNITS[column.unit].measures in _WITH_FRACTIONS
    fraction = split_fraction(text, slash=fractions)
    if fraction is not None:
        return (fraction[0],), fraction[1]
    split = split_number(text)
    return (parse_number(split[0], decimal_comma=habits.decimal_comma), split[1]) if split else ((), "")


def converted(
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
        chosen = choose(readings, unit, written)
        if chosen is None:
            pair = either(numbers, unit, within=readings[1].problem is None)
            return ambiguous(f"either {pair}: " + ("write no comma" if written else "write the unit, and no comma"))
        return chosen
    return _within(_finite(numbers[0] * times), column)


def not_one_number(column: Column, why: str = "") -> Reading:
    """No value, for want of a single number."""
    return unreadable(f"a single number: {wanted(column)}{why}")


def _within(value: float, column: Column) -> Reading:
    return not_one_number(column) if math.isnan(value) else within_limits(value, column)


def _finite(number: Fraction) -> float:
    """The nearest float; NaN where it is too large for one."""
    try:
        return float(number)
    except OverflowError:
        return math.nan


def _why_not(unit: str, column: Column) -> str:
    if unit == "cycles" and column.unit == "s":
        return NEEDS_FREQUENCY
    return f"{unit} cannot be converted to {column.unit or 'a bare number'}"
