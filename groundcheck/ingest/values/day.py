"""Calendar dates: spreadsheet serial numbers, ISO 8601, and dates with the month in letters or in figures."""

import re
from datetime import date, datetime, timedelta

from groundcheck.ingest.values.cell_text import says_none, says_nothing, tidy
from groundcheck.ingest.values.reading import BLANK, Habits, Reading, ambiguous, unreadable
from groundcheck.ingest.values.wanted import wanted
from groundcheck.schema import Column

# Day 0 of the 1900 date system of spreadsheets, for days after 28 February 1900.
_EPOCH = date(1899, 12, 30)
_SERIALS = range(20_000, 60_001)
_YEARS = range(1900, 2101)
_CENTURY_TURNS = 69
_MONTHS = (
    *("january", "february", "march", "april", "may", "june"),
    *("july", "august", "september", "october", "november", "december"),
)

_TIME = re.compile(r"[ t]\d{1,2}:\d{2}(:\d{2}(\.\d+)?)?( ?[ap]m)?z?\Z")
_YEAR_FIRST = re.compile(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})\Z")
_FIGURES = re.compile(r"(\d{1,2})([-/. ])(\d{1,2})\2(\d{4}|\d{2})\Z")
_DAY_MONTH_YEAR = re.compile(r"(\d{1,2})(?:st|nd|rd|th)?[-/. ,]*([a-z]{3,9})\.?[-/., ']*(\d{4}|\d{2})\Z")
_MONTH_DAY_YEAR = re.compile(r"([a-z]{3,9})\.?[- ]*(\d{1,2})(?:st|nd|rd|th)?[-, ]+(\d{4})\Z")
_MONTH_YEAR = re.compile(r"([a-z]{3,9})\.?[-/., ']*(\d{4}|\d{2})\Z")


def read_day(cell: object, column: Column, habits: Habits) -> Reading:
    """A calendar date; a month alone is its first day."""
    if isinstance(cell, datetime):
        return _reading([cell.date()], column)
    if isinstance(cell, date):
        return _reading([cell], column)
    if isinstance(cell, int | float) and not isinstance(cell, bool):
        return _reading(_serial(cell), column)
    if not isinstance(cell, str):
        return unreadable(wanted(column))
    text = tidy(cell)
    if says_nothing(text) or says_none(text):
        return BLANK
    return _reading(_days(_TIME.sub("", text.casefold()), habits), column)


def _reading(days: list[date], column: Column) -> Reading:
    days = [day for day in dict.fromkeys(days) if day.year in _YEARS]
    if len(days) > 1:
        return ambiguous(f"either {' or '.join(map(str, days))}: write year-month-day")
    return Reading(days[0]) if days else unreadable(wanted(column))


def _serial(number: float) -> list[date]:
    whole = int(number) if number == number and abs(number) < 1e9 else 0
    return [_EPOCH + timedelta(days=whole)] if whole in _SERIALS else []


def _days(text: str, habits: Habits) -> list[date]:
    """The days that a text can mean."""
    if match := _YEAR_FIRST.match(text):
        return _day(match[1], int(match[2]), match[3])
    if match := _FIGURES.match(text):
        first, mark, second, year = match.groups()
        day_first, month_first = _day(year, int(second), first), _day(year, int(first), second)
        if mark == ".":  # points mark day-first dates wherever they are in use
            return day_first
        if habits.day_first is not None:
            return day_first if habits.day_first else month_first
        return day_first + month_first
    if match := _DAY_MONTH_YEAR.match(text):
        return _day(match[3], _month(match[2]), match[1])
    if match := _MONTH_DAY_YEAR.match(text):
        return _day(match[3], _month(match[1]), match[2])
    if match := _MONTH_YEAR.match(text):
        return _day(match[2], _month(match[1]), "1")
    if re.fullmatch(r"[0-9]{5}(\.[0-9]+)?", text):
        return _serial(float(text))
    return []


def _month(name: str) -> int:
    """The number of a month's name, full or cut after three letters; 0 if it is none."""
    if name == "sept":
        return 9
    return next((number for number, month in enumerate(_MONTHS, 1) if name in (month, month[:3])), 0)


def _day(year: str, month: int, day: str) -> list[date]:
    number = int(year)
    if len(year) == 2:
        number += 2000 if number < _CENTURY_TURNS else 1900
    try:
        return [date(number, month, int(day))]
    except ValueError:
        return []
