"""What a cell was read as: its value, or why it has none."""

from dataclasses import dataclass
from datetime import date
from typing import NamedTuple

Value = float | int | str | bool | date | list[str] | None


class Problem(NamedTuple):
    """
    Why a cell has no value, and what was expected.

    Reasons: 'unreadable', 'outside_limits', 'unknown_word', 'ambiguous'; 'date_order' where the only question is
    whether the day or the month stands first, which one answer settles for a whole file.
    """

    reason: str
    expected: str


class Reading(NamedTuple):
    """
    The value of one cell; None where it is blank or there is a problem.

    A note says what was made of a text that is not quite a value as written. Parallel is the number of conductors in a
    size such as '2 x 95 mm2'; the value is then the area of one of them. Tolerance is a share of the value.
    """

    value: Value
    problem: Problem | None = None
    note: str | None = None
    parallel: int | None = None
    tolerance: float | None = None


BLANK = Reading(None)


@dataclass(frozen=True)
class Habits:
    """What is known of how a column was written: its unit, its decimal mark, the order of its dates, its frequency."""

    unit: str | None = None
    decimal_comma: bool = False
    day_first: bool | None = None
    frequency: float | None = None


def unreadable(expected: str) -> Reading:
    """No value: the text is none of the column's kind."""
    return Reading(None, Problem("unreadable", expected))


def ambiguous(expected: str) -> Reading:
    """No value: the text can be read in more than one way."""
    return Reading(None, Problem("ambiguous", expected))


def joined(*notes: str | None) -> str | None:
    """Several notes as one."""
    return "; ".join(note for note in notes if note) or None
