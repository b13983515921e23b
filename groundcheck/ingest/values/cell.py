"""One cell, or a column of cells, by the kind of its column."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from typing import Any

import numpy as np
import pandas as pd

from groundcheck.ingest.values.cell_text import is_excel_error, tidy
from groundcheck.ingest.values.day import read_day
from groundcheck.ingest.values.names import as_text, read_places, read_tag, read_tags, read_text
from groundcheck.ingest.values.quantity import read_count, read_quantity
from groundcheck.ingest.values.reading import BLANK, Habits, Problem, Reading, Value, unreadable
from groundcheck.ingest.values.size import read_size
from groundcheck.ingest.values.units import factor, known_unit
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
_CLOCK_KINDS = (date, time, timedelta)


@dataclass
class ReadColumn:
    """A column of values, with what is to be said of single cells by their position."""

    values: list[Value]
    problems: dict[int, Problem] = field(default_factory=dict)
    notes: dict[int, str] = field(default_factory=dict)
    parallel: dict[int, int] = field(default_factory=dict)


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
        Text, number, bool, date or datetime; a list for a column of lists. None and NaN are blank.
    column : Column
        The column that it feeds: its kind, unit, limits and vocabulary decide.
    unit : str, optional
        Unit of a bare number; the column's own if not given.
    decimal_comma : bool
        Whether the file marks decimals with a comma.
    day_first : bool, optional
        Order of dates such as 03/04/2021; not given, they are ambiguous.
    frequency : float, optional
        Frequency that a duration in cycles refers to; not given, it is unreadable. [Hz]

    Raises
    ------
    ValueError
        The unit given is none that is known.
    """
    return _read(cell, column, _habits(column, unit, decimal_comma, day_first, frequency))


def read_column(
    cells: Sequence[object],
    column: Column,
    *,
    unit: str | None = None,
    decimal_comma: bool = False,
    day_first: bool | None = None,
    frequency: float | None = None,
) -> ReadColumn:
    """
    The values of many cells for one column; each distinct cell is read once.

    Parameters, errors: as read_cell, for every cell of the sequence.
    """
    habits = _habits(column, unit, decimal_comma, day_first, frequency)
    quick = _all_numbers(cells, column, habits)
    if quick is not None:
        return quick
    column_read = ReadColumn([])
    known: dict[tuple[type, object], Reading] = {}
    append = column_read.values.append
    for index, cell in enumerate(cells):
        distinct = (type(cell), cell)
        try:
            reading = known.get(distinct)
        except TypeError:  # a list is not hashable, and rare
            reading = _read(cell, column, habits)
        else:
            if reading is None:
                reading = known[distinct] = _read(cell, column, habits)
        value, problem, note, parallel = reading
        append(list(value) if isinstance(value, list) else value)
        if problem is not None:
            column_read.problems[index] = problem
        if note is not None:
            column_read.notes[index] = note
        if parallel is not None:
            column_read.parallel[index] = parallel
    return column_read


def _habits(
    column: Column, unit: str | None, decimal_comma: bool, day_first: bool | None, frequency: float | None
) -> Habits:
    if unit is not None and known_unit(unit) is None and unit not in (column.unit or "").split(" or "):
        raise ValueError(f"'{unit}' is not a unit that is known")
    return Habits(unit, decimal_comma, day_first, frequency)


def _read(cell: object, column: Column, habits: Habits) -> Reading:
    if isinstance(cell, np.datetime64 | np.timedelta64):
        cell = pd.Series([cell]).iloc[0]
    if isinstance(cell, np.generic):
        cell = cell.item()
    if isinstance(cell, Decimal):
        cell = float(cell)
    if cell is None or cell is pd.NaT or cell is pd.NA or (isinstance(cell, float) and math.isnan(cell)):
        return BLANK
    if isinstance(cell, str):
        if is_excel_error(tidy(cell)):
            return unreadable(f"{wanted(column)}; the cell holds an Excel error")
        return _READERS[column.kind](cell, column, habits)
    return _read_typed(cell, column, habits)


def _read_typed(cell: object, column: Column, habits: Habits) -> Reading:
    """A cell that the file itself says is a number, a bool, a date or a list."""
    if isinstance(cell, _CLOCK_KINDS) and column.kind not in ("date", "text"):
        return unreadable(f"{wanted(column)}; the cell holds a date or a time, perhaps made of a fraction or a ratio")
    if isinstance(cell, bool) and column.kind in _NUMBERS | {"date"}:
        return unreadable(f"{wanted(column)}; the cell holds true or false")
    if column.kind in _NUMBERS | {"yes_no"} and not isinstance(cell, int | float):
        return unreadable(wanted(column))
    if column.kind in _WORDS:
        return _READERS[column.kind](as_text(cell), column, habits)
    if isinstance(cell, datetime) and column.kind == "text" and cell.time() == time():
        return Reading(cell.date().isoformat())
    return _READERS[column.kind](cell, column, habits)


def _all_numbers(cells: Sequence[object], column: Column, habits: Habits) -> ReadColumn | None:
    """A column of floats in the column's own unit, all at once; None if it is anything else."""
    if column.kind != "quantity" or len(cells) == 0 or set(map(type, cells)) != {float}:
        return None
    unit = known_unit(habits.unit) if habits.unit else None
    if unit is not None and column.unit is not None and factor(unit, column.unit, habits.frequency) != 1:
        return None
    numbers = np.asarray(cells, dtype=float)
    sound = np.isfinite(numbers)
    for limit, holds in ((column.gt, np.greater), (column.ge, np.greater_equal), (column.le, np.less_equal)):
        if limit is not None:
            sound &= holds(numbers, limit)
    column_read = ReadColumn(list(cells))  # type: ignore[arg-type]
    for index in np.flatnonzero(~sound).tolist():
        column_read.values[index], problem, _, _ = _read(cells[index], column, habits)
        if problem is not None:
            column_read.problems[index] = problem
    return column_read
