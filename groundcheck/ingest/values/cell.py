"""One cell, by the kind of its column."""

import math
import sys
from collections.abc import Callable
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from typing import Any

import numpy as np
import pandas as pd

from groundcheck.ingest.values.cell_text import is_excel_error, points_elsewhere, tidy
from groundcheck.ingest.values.day import read_day
from groundcheck.ingest.values.names import as_text, read_places, read_tag, read_tags, read_text
from groundcheck.ingest.values.quantity import read_count, read_quantity
from groundcheck.ingest.values.reading import BLANK, Habits, Reading, unreadable
from groundcheck.ingest.values.size import read_size
from groundcheck.ingest.values.spoiled import may_have_been
from groundcheck.ingest.values.units import known_unit
from groundcheck.ingest.values.wanted import wanted
from groundcheck.ingest.values.winding_text import read_vector_group
from groundcheck.ingest.values.words import read_choice, read_yes_no
from groundcheck.schema import Column

_READERS: dict[str, Callable[[Any, Column, Habits], Reading]] = {
    "text": read_text,
    "key": read_tag,
    "reference": read_tag,
    "references": read_tags,
    "choice": read_choice,
    "vector_group": read_vector_group,
    "quantity": read_quantity,
    "size": read_size,
    "count": read_count,
    "yes_no": read_yes_no,
    "date": read_day,
    "places": read_places,
}
_NUMBERS = frozenset({"quantity", "size", "count"})
_WORDS = frozenset({"choice", "vector_group"})
_WORDLIKE = frozenset({"text", "key", "reference", "references", "places"})
_FREE_TEXT = frozenset({"text", "key"})
_CLOCK_KINDS = (date, time, timedelta)


def read_cell(
    cell: object,
    column: Column,
    *,
    unit: str | None = None,
    decimal_comma: bool = False,
    day_first: bool | None = None,
    frequency: float | None = None,
) -> Reading:
    """
    The value of one cell for one column.

    Parameters
    ----------
    cell : object
        Text, number, bool, date, time or datetime; a list for a column of lists. None and NaN are blank.
    column : Column
        The column that it feeds: its kind, unit, limits and vocabulary decide.
    unit : str, optional
        Unit of a bare number; the column's own if not given.
    decimal_comma : bool
        Whether the file marks decimals with a comma.
    day_first : bool, optional
        Order of dates such as 03/04/2021; not given, the problem is 'date_order'.
    frequency : float, optional
        Frequency that a duration in cycles refers to; not given, it is unreadable. [Hz]

    Raises
    ------
    ValueError
        The unit given is none that is known.
    """
    return read_one(cell, column, habits_of(column, unit, decimal_comma, day_first, frequency))


def habits_of(
    column: Column, unit: str | None, decimal_comma: bool, day_first: bool | None, frequency: float | None
) -> Habits:
    """
    What is known of how a column was written.

    Raises
    ------
    ValueError
        The unit given is none that is known.
    """
    if unit is not None and known_unit(unit) is None and unit not in (column.unit or "").split(" or "):
        raise ValueError(f"'{unit}' is not a unit that is known")
    return Habits(unit, decimal_comma, day_first, frequency)


def read_one(cell: object, column: Column, habits: Habits) -> Reading:
    """The value of one cell, by habits that are known."""
    if isinstance(cell, str):
        reading = _READERS[column.kind](cell, column, habits)
        if reading.problem is None and column.kind not in _WORDLIKE:
            return reading
        return _named(cell, reading, column)
    if isinstance(cell, np.datetime64 | np.timedelta64):
        cell = pd.Series([cell]).iloc[0]
    if isinstance(cell, np.generic):
        cell = cell.item()
    if isinstance(cell, Decimal):
        cell = float(cell)
    if cell is None or cell is pd.NaT or cell is pd.NA or (isinstance(cell, float) and math.isnan(cell)):
        return BLANK
    return _read_typed(cell, column, habits)


def _named(cell: str, reading: Reading, column: Column) -> Reading:
    """The reading, but a problem where the text is a formula's error, or names another place to look."""
    text = tidy(cell)
    if is_excel_error(text):
        return unreadable(f"{wanted(column)}; the cell holds an Excel error")
    if column.kind not in _FREE_TEXT and points_elsewhere(text):
        return unreadable(f"{wanted(column)}; the cell names another place to look, not a value")
    return reading


def _read_typed(cell: object, column: Column, habits: Habits) -> Reading:
    """A cell that the file itself says is a number, a bool, a date or a list."""
    if isinstance(cell, time | timedelta) and column.kind == "quantity" and column.unit == "s":
        return read_quantity(cell, column, habits)
    if isinstance(cell, _CLOCK_KINDS) and column.kind not in ("date", "text"):
        return unreadable(f"{wanted(column)}; the cell holds {may_have_been(cell)}")
    if isinstance(cell, bool) and column.kind in _NUMBERS | {"date"}:
        return unreadable(f"{wanted(column)}; the cell holds true or false")
    if column.kind in _NUMBERS | {"yes_no"} and (not isinstance(cell, int | float) or _is_too_large(cell)):
        return unreadable(wanted(column))
    if column.kind in _WORDS:
        return _READERS[column.kind](as_text(cell), column, habits)
    if isinstance(cell, datetime) and column.kind == "text" and cell.time() == time():
        return Reading(cell.date().isoformat())
    return _READERS[column.kind](cell, column, habits)


def _is_too_large(number: float) -> bool:
    """Whether a whole number is larger than any float."""
    return isinstance(number, int) and abs(number) > sys.float_info.max
