"""The cells of one column as the values of one field: each different cell is read once."""

from dataclasses import dataclass, field
from typing import Any, TypeVar

import numpy as np
import pandas as pd

from groundcheck.ingest.coded import Coded, code_cells
from groundcheck.ingest.mapping.column_map import ReadingHabits
from groundcheck.ingest.sheets import Uncomputed, cell_text
from groundcheck.ingest.tables.typed_values import taken_series, typed_series
from groundcheck.ingest.values import ReadColumn, read_column
from groundcheck.schema import Column

_T = TypeVar("_T")
_NO_RESULT = "no stored result: open and save it in a spreadsheet program"


@dataclass(frozen=True)
class Problem:
    """A cell that could not be read: position among the records, field, column of the sheet, and why."""

    position: int
    field: str
    column: int
    found: str
    expected: str
    reason: str


@dataclass(frozen=True)
class Remark:
    """A cell that was used, but not quite as it was written."""

    position: int
    field: str
    column: int
    read_as: Any
    note: str
    tolerance: float | None


@dataclass
class ReadField:
    """The values of a field, and what is to be said of single cells; counts of parallel conductors by position."""

    values: pd.Series
    problems: list[Problem] = field(default_factory=list)
    remarks: list[Remark] = field(default_factory=list)
    parallel: dict[int, int] = field(default_factory=dict)


def read_field(
    cells: list[Any] | Coded,
    column: Column,
    position: int,
    unit: str | None,
    decimal_comma: bool,
    habits: ReadingHabits,
) -> ReadField:
    """Read the cells of one column of a sheet, which stands at `position`."""
    uncomputed: list[Problem] = []
    if not isinstance(cells, Coded):
        uncomputed = [
            Problem(index, column.name, position, cell_text(cell) or "", _NO_RESULT, "unreadable")
            for index, cell in enumerate(cells)
            if type(cell) is Uncomputed
        ]
        if uncomputed:
            cells = [None if type(cell) is Uncomputed else cell for cell in cells]
    coded = cells if isinstance(cells, Coded) else code_cells(cells)
    reading = read_column(
        cells if coded is None else coded.distinct,
        column,
        unit=unit,
        decimal_comma=decimal_comma,
        day_first=habits.day_first,
        frequency=habits.frequency,
    )
    if coded is None:
        values = typed_series(reading.values, column)
    else:
        values = taken_series(reading.values, coded.codes, column)
        reading = _spread(reading, coded)
    problems = uncomputed + problems_of(reading, column.name, position, cells)
    return ReadField(values, problems, remarks_of(reading, values, column.name, position), reading.parallel)


def _spread(reading: ReadColumn, coded: Coded) -> ReadColumn:
    """What is to be said of each different cell, said of every place where it stands."""
    return ReadColumn(
        [],
        _at_places(reading.problems, coded),
        _at_places(reading.notes, coded),
        _at_places(reading.parallel, coded),
        _at_places(reading.tolerance, coded),
    )


def _at_places(told: dict[int, _T], coded: Coded) -> dict[int, _T]:
    places = np.flatnonzero(np.isin(coded.codes, list(told))).tolist() if told else []
    return {place: told[int(coded.codes[place])] for place in places}


def remarks_of(reading: ReadColumn, values: pd.Series, name: str, position: int) -> list[Remark]:
    """What is to be said of cells that were used."""
    return [
        Remark(
            index,
            name,
            position,
            values.iat[index],
            reading.notes.get(index, "a tolerance is written beside it"),
            reading.tolerance.get(index),
        )
        for index in sorted({*reading.notes, *reading.tolerance})
    ]


def problems_of(reading: ReadColumn, name: str, position: int, cells: list[Any] | Coded) -> list[Problem]:
    """What is to be said of cells that could not be used."""
    return [
        Problem(index, name, position, _text(cells, index), problem.expected, problem.reason)
        for index, problem in reading.problems.items()
    ]


def _text(cells: list[Any] | Coded, index: int) -> str:
    cell = cells.distinct[cells.codes[index]] if isinstance(cells, Coded) else cells[index]
    return cell_text(cell) or ""
