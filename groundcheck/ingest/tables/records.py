"""From the cells of a region to typed values, field by field, each problem with its cell."""

import re
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
import pandas as pd

from groundcheck.ingest.coded import Coded
from groundcheck.ingest.mapping.column_map import ReadingHabits
from groundcheck.ingest.mapping.feeds import Feed, Source
from groundcheck.ingest.mapping.headings import table_columns
from groundcheck.ingest.sheets import Sheet, cell_text, is_blank
from groundcheck.ingest.tables.part_fields import read_part_fields
from groundcheck.ingest.tables.read_field import Problem, Remark, problems_of, read_field, remarks_of
from groundcheck.ingest.tables.typed_values import blank_series, taken_series, typed_series
from groundcheck.ingest.values import read_column
from groundcheck.schema import Column

_PER_CENT = Column("", "quantity", "Per cent on the base of the column map.", unit="%", ge=0)


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
        column = columns[name]
        coded = None
        if source.kind == "heading" and not carried and not _carries_down(feed, name):
            coded = sheet.coded(source.columns[0]) if source.columns[0] < sheet.width else None
        if column.unit == "%" and feed.entry is not None and feed.entry.impedance_base is not None:
            column = replace(column, le=None)  # the limit is one of per cent on own rating
        if coded is not None and sheet.table is None and not _words(records, name):
            _keep(records, column, source, coded.at(rows))
            continue
        taken = [_taken(sheet, c, rows, carried) for c in source.columns]
        if _carries_down(feed, name):
            taken = [_carry_down(column) for column in taken]
        _read_field(records, column, source, taken)
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


def _read_field(records: Records, column: Column, source: Source, taken: list[list[Any]]) -> None:
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
        _read_cells(records, column, source, taken[0])


def _read_cells(records: Records, column: Column, source: Source, cells: list[Any]) -> None:
    words = _words(records, column.name)
    if words:
        cells = [words.get((cell_text(cell) or "").strip().casefold(), cell) for cell in cells]
    if records.sheet.table is not None and source.unit in (None, column.unit):
        typed = _typed_values(column, cells)
        if typed is not None:
            records.values[column.name] = typed_series(typed, column)
            return
    _keep(records, column, source, cells)


def _words(records: Records, name: str) -> dict[str, str]:
    """Words of the sheet, in small letters, with what the column map or the kind of the row takes them for."""
    told = records.feed.entry.words.get(name, {}) if records.feed.entry else {}
    return dict(records.feed.words.get(name, {})) | told


def _keep(records: Records, column: Column, source: Source, cells: list[Any] | Coded) -> None:
    """Read the cells of one column, and keep their values as those of the field."""
    values, parallel = _read(records, column, source.unit, cells, source.columns[0])
    records.values[column.name] = values
    if parallel and "parallel" in table_columns(records.feed.table) and "parallel" not in records.feed.fields:
        counts = [parallel.get(index) for index in range(len(values))]
        records.values["parallel"] = typed_series(counts, table_columns(records.feed.table)["parallel"])


def _read_parts(records: Records, place: int, sources: dict[str, Source], cells: list[Any]) -> None:
    found = read_part_fields(records.feed.table, sources, cells, records.decimal_comma, records.habits)
    for name, reading in found.items():
        records.values[name] = typed_series(reading.values, table_columns(records.feed.table)[name])
        records.problems += problems_of(reading, name, place, cells)
        records.remarks += remarks_of(reading, records.values[name], name, place)


def _read(
    records: Records, column: Column, unit: str | None, cells: list[Any] | Coded, position: int
) -> tuple[pd.Series, dict[int, int]]:
    """Read the cells of one column; gives their values, and counts of parallel conductors."""
    field = read_field(cells, column, position, unit, records.decimal_comma, records.habits)
    records.problems += field.problems
    records.remarks += field.remarks
    return field.values, field.parallel


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
