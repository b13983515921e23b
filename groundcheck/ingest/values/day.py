"""Calendar dates: spreadsheet serial numbers, ISO 8601, and dates with the month in letters or in figures."""

import re
from collections.abc import Iterable
from datetime import date, datetime, timedelta
from typing import NamedTuple

from groundcheck.ingest.values.cell_text import says_none, says_nothing, tidy
from groundcheck.ingest.values.month_names import MONTHS, without_accents
from groundcheck.ingest.values.reading import BLANK, Habits, Problem, Reading, unreadable
from groundcheck.ingest.values.wanted import wanted
from groundcheck.schema import Column

# Day 0 of the 1900 date system of spreadsheets, for days after 28 February 1900.
_EPOCH = date(1899, 12, 30)
_SERIALS = range(20_000, 60_001)
_YEARS = range(1900, 2101)
_CENTURY_TURNS = 69

_TIME = re.compile(r"(?:t| |, )\d{1,2}:\d{2}(:\d{2}(\.\d+)?)?( ?[ap]m)?(z|[+-]\d{2}:?\d{2})?\Z")
_WEEKDAY = re.compile(r"(?:mon|tues?|wed(?:nes)?|thu(?:rs?)?|fri|sat(?:ur)?|sun)(?:day)?\.?,? +(?=\S)")
_OF = re.compile(r"(?<=[\d. ])(?:de|del|of) (?=\w)| (?:de|del|of) (?=\d)")
_COMPACT = re.compile(r"((?:19|20)\d{2})(\d{2})(\d{2})\Z")
_YEAR_FIRST = re.compile(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})\Z")
_FIGURES = re.compile(r"(\d{1,2})([-/. ])(\d{1,2})\2(\d{4}|\d{2})\Z")
_ORDINAL = r"(?:st|nd|rd|th|er|[oa](?= ))?"
_DAY_MONTH_YEAR = re.compile(rf"(\d{{1,2}}){_ORDINAL}[-/. ,]*([a-z]{{3,10}})\.?[-/., ']*(\d{{4}}|\d{{2}})\Z")
_MONTH_DAY_YEAR = re.compile(rf"([a-z]{{3,10}})\.?[- ]*(\d{{1,2}}){_ORDINAL}[-, ]+(\d{{4}})\Z")
_YEAR_MONTH_DAY = re.compile(r"(\d{4})[- ]([a-z]{3,10})\.?[- ](\d{1,2})\Z")
_MONTH_YEAR = re.compile(r"([a-z]{3,10})\.?[-/., ']*(\d{4}|\d{2})\Z")
_MONTH_IN_FIGURES = re.compile(r"(\d{1,2})[-/.](\d{4})\Z|(\d{4})[-/.](\d{1,2})\Z")
_QUARTER = re.compile(r"q ?([1-4])[- /,']*(\d{4}|\d{2})\Z|(\d{4})[- /]*q ?([1-4])\Z")
_SERIAL_TEXT = re.compile(r"[0-9]{5}(\.[0-9]+)?\Z")

_NO_DAY = "no day is given: read as the first of the month"
_NO_MONTH = "no month is given: read as 1 January"
_QUARTER_ONLY = "a quarter is given: read as its first day"
_DAY_FIRST = "read with the day before the month"
_MONTH_FIRST = "read with the month before the day"


class _Dated(NamedTuple):
    """The days that a text can mean, and what is to be said of it."""

    days: list[date]
    note: str | None = None


def read_day(cell: object, column: Column, habits: Habits) -> Reading:
    """A calendar date; a year, a quarter or a month alone is its first day, and is noted."""
    if isinstance(cell, datetime):
        return _reading(_Dated([cell.date()]), column)
    if isinstance(cell, date):
        return _reading(_Dated([cell]), column)
    if isinstance(cell, int | float) and not isinstance(cell, bool):
        return _reading(_from_number(cell), column)
    if not isinstance(cell, str):
        return unreadable(wanted(column))
    text = tidy(cell)
    if says_nothing(text) or says_none(text):
        return BLANK
    return _reading(_dated(_plain(text), habits), column)


def day_order(cells: Iterable[object]) -> bool | None:
    """
    Whether the dates among some cells have the day first.

    True if some can only be read so and none only with the month first, False for the reverse; None where nothing
    shows it, or some cells show the one and some the other. Dates with points are no evidence: they have the day first
    wherever they are in use.
    """
    shown = set()
    for text in {cell for cell in cells if isinstance(cell, str)}:
        match = _FIGURES.match(_plain(tidy(text)))
        if match is not None and match[2] != ".":
            first, _, second, year = match.groups()
            day_first, month_first = _day(year, int(second), first), _day(year, int(first), second)
            if bool(day_first) != bool(month_first):
                shown.add(bool(day_first))
    return shown.pop() if len(shown) == 1 else None


def _plain(text: str) -> str:
    """A text in small letters without accents, weekday, time of day and the words between its parts."""
    text = _TIME.sub("", without_accents(text.casefold()))
    return _OF.sub(" ", _WEEKDAY.sub("", text)).strip()


def _reading(dated: _Dated, column: Column) -> Reading:
    days = [day for day in dict.fromkeys(dated.days) if day.year in _YEARS]
    if len(days) > 1:
        return Reading(None, Problem("date_order", f"either {' or '.join(map(str, days))}: write year-month-day"))
    return Reading(days[0], note=dated.note) if days else unreadable(wanted(column))


def _from_number(number: float) -> _Dated:
    whole = int(number) if number == number and abs(number) < 1e9 else 0
    if whole in _SERIALS:
        return _Dated([_EPOCH + timedelta(days=whole)])
    return _from_digits(str(whole)) if whole == number else _Dated([])


def _from_digits(text: str) -> _Dated:
    """A year, or year, month and day without marks."""
    if match := _COMPACT.match(text):
        return _Dated(_day(match[1], int(match[2]), match[3]))
    if len(text) == 4 and text.isdigit() and text.isascii():
        return _Dated(_day(text, 1, "1"), _NO_MONTH)
    return _Dated([])


def _dated(text: str, habits: Habits) -> _Dated:
    if match := _YEAR_FIRST.match(text):
        return _Dated(_day(match[1], int(match[2]), match[3]))
    if match := _FIGURES.match(text):
        return _in_figures(match, habits)
    if match := _DAY_MONTH_YEAR.match(text):
        return _Dated(_day(match[3], _month(match[2]), match[1]))
    if match := _MONTH_DAY_YEAR.match(text):
        return _Dated(_day(match[3], _month(match[1]), match[2]))
    if match := _YEAR_MONTH_DAY.match(text):
        return _Dated(_day(match[1], _month(match[2]), match[3]))
    if match := _MONTH_YEAR.match(text):
        return _Dated(_day(match[2], _month(match[1]), "1"), _NO_DAY)
    if match := _MONTH_IN_FIGURES.match(text):
        return _Dated(_day(match[2] or match[3], int(match[1] or match[4]), "1"), _NO_DAY)
    if match := _QUARTER.match(text):
        return _Dated(_day(match[2] or match[3], 3 * int(match[1] or match[4]) - 2, "1"), _QUARTER_ONLY)
    if _SERIAL_TEXT.match(text):
        return _from_number(float(text))
    return _from_digits(text)


def _in_figures(match: re.Match[str], habits: Habits) -> _Dated:
    """Day, month and year in figures; noted where it took the order of the file, or goes against it."""
    first, mark, second, year = match.groups()
    day_first, month_first = _day(year, int(second), first), _day(year, int(first), second)
    if mark == ".":  # points mark day-first dates wherever they are in use
        return _Dated(day_first)
    if habits.day_first is None or day_first == month_first:
        return _Dated(day_first + month_first)
    if day_first and (habits.day_first or not month_first):
        return _Dated(day_first, _DAY_FIRST if month_first or not habits.day_first else None)
    return _Dated(month_first, _MONTH_FIRST if day_first or habits.day_first else None)


def _month(name: str) -> int:
    """The number of a month's name, full or cut short; 0 if it is none."""
    return MONTHS.get(name, 0)


def _day(year: str, month: int, day: str) -> list[date]:
    number = int(year)
    if len(year) == 2:
        number += 2000 if number < _CENTURY_TURNS else 1900
    try:
        return [date(number, month, int(day))]
    except ValueError:
        return []
