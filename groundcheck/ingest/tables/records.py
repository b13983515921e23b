"""From the cells of a region to typed values, field by field, each problem with its cell."""

import re
from dataclasses import dataclass, field, replace
from typing import Any, TypeVar

import numpy as np
import pandas as pd

from groundcheck.ingest.coded import Coded, code_cells
from groundcheck.ingest.mapping.column_map import ReadingHabits
from groundcheck.ingest.mapping.feeds import Feed, Source
from groundcheck.ingest.mapping.headings import table_columns
from groundcheck.ingest.sheets import Sheet, Uncomputed, cell_text, is_blank
from groundcheck.ingest.tables.part_fields import read_part_fields
from groundcheck.ingest.tables.typed_values import blank_series, taken_series, typed_series
from groundcheck.ingest.values import ReadColumn, read_column
from groundcheck.schema import Column

_T = TypeVar("_T")
_NO_RESULT = "no stored result: open and save it in a spreadsheet program"
_PER_CENT = Column("", "quantity", "Per cent on the base of the column map.", unit="%", ge=0)


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
class Records:
    """The records that one feed takes from one region: typed columns, one entry a row of the sheet."""

    sheet: Sheet
    region: int
    feed: Feed
    rows: list[int]
    raw_rows: list[int]
    habits: ReadingHabits = field(default_factory=ReadingHabits)
    values: dict[str, pd.Series] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    remarks: list[Remark] = field(default_factory=list)

    @property
    def decimal_comma(self) -> bool:
        """Whether decimals carry a comma: by the column map, else as the reader of the file found."""
        told = self.habits.decimal_comma
        return self.sheet.decimal_comma if told is None else told

    def column_of(self, name: str) -> int | None:
        """The column of the sheet that feeds a field."""
        source = self.feed.fields.get(name)
        return source.columns[0] if source else None


def read_records(
    sheet: Sheet,
    region: int,
    feed: Feed,
    rows: list[int],
    carried: dict[int, list[Any]],
    raw_rows: list[int],
    habits: ReadingHabits | None = None,
) -> Records:
    """Read every field that the feed gives; `carried` holds the rows that merged ranges reach into, filled in."""
    records = Records(sheet, region, feed, rows, raw_rows, habits or ReadingHabits())
    columns = table_columns(feed.table)
    parts: dict[int, dict[str, Source]] = {}
    for name, source in feed.fields.items():
        if source.kind == "ratio":  # filled in with the impedance
            continue
        if source.kind == "part":
            parts.setdefault(source.columns[0], {})[name] = source
            continue
        taken = [_taken(sheet, c, rows, carried) for c in source.columns]
        if _carries_down(feed, name):
            taken = [_carry_down(column) for column in taken]
        coded = None
        if source.kind == "heading" and not carried and not _carries_down(feed, name):
            whole = sheet.coded(source.columns[0]) if source.columns[0] < sheet.width else None
            coded = whole.at(rows) if whole is not None else None
        column = columns[name]
        if column.unit == "%" and feed.entry is not None and feed.entry.impedance_base is not None:
            column = replace(column, le=None)  # the limit is one of per cent on own rating
        _read_field(records, column, source, taken, coded)
    for place, sources in parts.items():
        _read_parts(records, place, sources, _taken(sheet, place, rows, carried))
    for name, value in feed.constants.items():
        reading = read_column([value], columns[name])
        records.values[name] = taken_series(reading.values, np.zeros(len(rows), dtype=np.intp), columns[name])
    if feed.entry is not None and feed.entry.impedance_base is not None:
        _to_own_rating(records, feed.entry.impedance_base)
    return records


def _taken(sheet: Sheet, column: int, rows: list[int], carried: dict[int, list[Any]]) -> list[Any]:
    cells = sheet.columns[column] if column < sheet.width else (None,) * len(sheet.rows)
    taken = [cells[row] for row in rows]
    for place, row in enumerate(rows) if carried else ():
        filled = carried.get(row)
        if filled is not None and column < len(filled):
            taken[place] = filled[column]
    return taken


def _carry_down(cells: list[Any]) -> list[Any]:
    last: Any = None
    filled = []
    for cell in cells:
        last = last if is_blank(cell) else cell
        filled.append(last)
    return filled


def _carries_down(feed: Feed, name: str) -> bool:
    return feed.entry is not None and name in feed.entry.carry_down


def _read_field(records: Records, column: Column, source: Source, taken: list[list[Any]], coded: Coded | None) -> None:
    if source.kind == "join":
        parts = [[cell_text(cell) for cell in cells] for cells in taken]
        joined = [
            None if any(part is None or not part.strip() for part in row) else source.detail.join(map(str, row))
            for row in zip(*parts, strict=True)
        ]
        _read_cells(records, column, source, joined)
    elif source.kind == "pattern":
        pattern = re.compile(source.detail)
        matches = [pattern.search(cell_text(cell) or "") for cell in taken[0]]
        within = [f"{cell_text(cell)} " for cell in taken[1]] if len(taken) > 1 else [""] * len(matches)
        found = [prefix + match[1] if match else None for prefix, match in zip(within, matches, strict=True)]
        _read_cells(records, column, source, found)
    elif source.kind == "rx":
        _read_impedance(records, column, source, taken)
    else:
        _read_cells(records, column, source, taken[0], coded)


def _read_cells(records: Records, column: Column, source: Source, cells: list[Any], coded: Coded | None = None) -> None:
    words = dict(records.feed.words.get(column.name, {}))
    words |= records.feed.entry.words.get(column.name, {}) if records.feed.entry else {}
    if words:
        cells = [words.get((cell_text(cell) or "").strip().casefold(), cell) for cell in cells]
        coded = None
    if records.sheet.table is not None:
        typed = _typed_values(column, cells)
        if typed is not None:
            records.values[column.name] = typed_series(typed, column)
            return
    values, parallel = _read(records, column, source.unit, cells, source.columns[0], coded)
    records.values[column.name] = values
    if parallel and "parallel" in table_columns(records.feed.table) and "parallel" not in records.feed.fields:
        counts = [parallel.get(index) for index in range(len(cells))]
        records.values["parallel"] = typed_series(counts, table_columns(records.feed.table)["parallel"])


def _read_parts(records: Records, place: int, sources: dict[str, Source], cells: list[Any]) -> None:
    found = read_part_fields(records.feed.table, sources, cells, records.decimal_comma, records.habits)
    for name, reading in found.items():
        records.values[name] = typed_series(reading.values, table_columns(records.feed.table)[name])
        records.problems += _problems(reading, name, place, cells)
        records.remarks += _remarks(reading, records.values[name], name, place)


def _read(
    records: Records,
    column: Column,
    unit: str | None,
    cells: list[Any],
    position: int,
    coded: Coded | None = None,
) -> tuple[pd.Series, dict[int, int]]:
    """Read the cells of one column, each different one once; gives their values, and counts of parallel conductors."""
    habits = records.habits
    uncomputed = [index for index, cell in enumerate(cells) if type(cell) is Uncomputed] if coded is None else []
    for index in uncomputed:
        found = cell_text(cells[index]) or ""
        records.problems.append(Problem(index, column.name, position, found, _NO_RESULT, "unreadable"))
    if uncomputed:
        cells = [None if type(cell) is Uncomputed else cell for cell in cells]
    coded = code_cells(cells) if coded is None else coded
    reading = read_column(
        cells if coded is None else coded.distinct,
        column,
        unit=unit,
        decimal_comma=records.decimal_comma,
        day_first=habits.day_first,
        frequency=habits.frequency,
    )
    if coded is None:
        values = typed_series(reading.values, column)
    else:
        values = taken_series(reading.values, coded.codes, column)
        reading = _spread(reading, coded)
    records.problems += _problems(reading, column.name, position, cells)
    records.remarks += _remarks(reading, values, column.name, position)
    return values, reading.parallel


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


def _remarks(reading: ReadColumn, values: pd.Series, name: str, position: int) -> list[Remark]:
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


def _problems(reading: ReadColumn, name: str, position: int, cells: list[Any]) -> list[Problem]:
    return [
        Problem(index, name, position, cell_text(cells[index]) or "", problem.expected, problem.reason)
        for index, problem in reading.problems.items()
    ]


def _typed_values(column: Column, cells: list[Any]) -> list[Any] | None:
    """The cells of a frame where all are already of the field's type; None if one is text to be read."""
    if column.kind in ("quantity", "size"):
        if all(cell is None or (isinstance(cell, int | float) and not isinstance(cell, bool)) for cell in cells):
            return [None if cell is None else float(cell) for cell in cells]
    elif column.kind in ("references", "places") and all(cell is None or isinstance(cell, list) for cell in cells):
        return [None if cell is None else [str(item) for item in cell] for cell in cells]
    return None


def _read_impedance(records: Records, column: Column, source: Source, taken: list[list[Any]]) -> None:
    """Per cent impedance from its reactance and, where given, its resistance; their ratio besides."""
    reactance, _ = _read(records, column, source.unit, taken[0], source.columns[0])
    if len(taken) == 1:
        records.values[column.name] = reactance
        return
    known = len(records.problems)
    resistance, _ = _read(records, _PER_CENT, source.unit, taken[1], source.columns[1])
    del records.problems[known:]  # it is named below, as what the ratio lacks
    records.values[column.name] = (reactance**2 + resistance.fillna(0.0) ** 2) ** 0.5
    ratio_source = records.feed.fields.get("x_over_r")
    if column.name != "impedance" or ratio_source is None or ratio_source.kind != "ratio":
        return
    above = (resistance > 0) & (reactance > 0)
    records.values["x_over_r"] = (reactance / resistance.where(above)).where(above)
    for index in np.flatnonzero(~(resistance > 0).to_numpy()).tolist():
        found = cell_text(taken[1][index])
        if found is not None:
            expected = "a resistance above 0, so that X/R can be found"
            records.problems.append(Problem(index, "x_over_r", source.columns[1], found, expected, "unreadable"))


def _to_own_rating(records: Records, base_mva: float) -> None:
    """Per cent on the common base to per cent on the row's own rating: Z% x rating / base."""
    columns = table_columns(records.feed.table)
    if "rated_power" not in columns:
        return
    ratings = records.values.get("rated_power", blank_series(len(records.rows), columns["rated_power"]))
    for name, column in columns.items():
        if column.unit == "%" and name in records.values:
            records.values[name] = records.values[name] * ratings / base_mva
