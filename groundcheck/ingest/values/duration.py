"""Durations in words, by the clock, and in two units; times that a spreadsheet made of them."""

import re
from datetime import time, timedelta
from fractions import Fraction

from groundcheck.ingest.values.reading import Reading, ambiguous

_CONTINUOUS = frozenset(
    {
        *("continuous", "continuously", "continous", "contin", "cont", "continuous duty", "cont. duty", "cont duty"),
        *("continuous rating", "continuously rated", "permanent", "permanently", "indefinite", "indefinitely"),
        *("unlimited", "no limit", "infinite", "∞", "dauernd", "permanente", "continu"),
    }
)
_CLOCK = re.compile(r"(\d{1,3}):([0-5]\d):([0-5]\d(?:\.\d+)?)\Z", re.ASCII)
_SHORT_CLOCK = re.compile(r"(\d{1,3}):([0-5]\d)\Z", re.ASCII)
_UNITS = (
    (r"(?:hours|hour|hrs|hr|h)", 3600),
    (r"(?:minutes|minute|mins|min|m)", 60),
    (r"(?:seconds|second|secs|sec|s)", 1),
)
_IN_UNITS = re.compile(
    "".join(rf"(?:(\d+(?:\.\d+)?) ?{names}\.?(?:,? ?(?:and )?|\Z))?" for names, _ in _UNITS) + r"\Z", re.ASCII | re.I
)
_AS_A_CLOCK = "a time of day is read as a duration"


def says_continuous(text: str) -> bool:
    """Whether a tidy text says that a duration has no end."""
    return text.casefold().strip("() .") in _CONTINUOUS


def duration_seconds(text: str) -> Fraction | None:
    """A duration as 00:00:10, or in two or three units such as '1 min 30 s'; None if it is neither. [s]"""
    if match := _CLOCK.match(text):
        hours, minutes, seconds = (Fraction(part) for part in match.groups())
        return 3600 * hours + 60 * minutes + seconds
    match = _IN_UNITS.match(text)
    if match is None or sum(part is not None for part in match.groups()) < 2:
        return None
    return sum((Fraction(part) * by for part, (_, by) in zip(match.groups(), _UNITS, strict=True) if part), Fraction(0))


def short_clock(text: str) -> str | None:
    """Both meanings of a duration such as 0:10, in words; None if the text is none."""
    match = _SHORT_CLOCK.match(text)
    return _either(int(match[1]), int(match[2])) if match else None


def clock_cell(cell: time | timedelta) -> Reading:
    """
    The duration that a cell of time holds. [s]

    A length of time, which a spreadsheet shows as [h]:mm:ss, is one. A time of day below one hour with seconds in it
    was typed as 00:00:10, and is read with a note. Without seconds it may have been typed as 0:10, which a spreadsheet
    takes for ten minutes whatever was meant; an hour or more may be minutes and seconds as well. Both are asked about.
    """
    if isinstance(cell, timedelta):
        return Reading(cell.total_seconds())
    if cell.hour == 0 and (cell.second or cell.microsecond or not cell.minute):
        return Reading(60.0 * cell.minute + cell.second + cell.microsecond / 1e6, note=_AS_A_CLOCK)
    return ambiguous(_either(cell.hour, cell.minute))


def _either(large: int, small: int) -> str:
    short, long = 60 * large + small, 3600 * large + 60 * small
    return f"either {short} s (minutes and seconds) or {long} s (hours and minutes): write the unit"
