"""From the cells of a region to typed values, field by field, each problem with its cell."""

import re
from dataclasses import dataclass, field, replace
from typing import Any

from groundcheck.ingest.mapping.feeds import Feed, Source
from groundcheck.ingest.mapping.headings import table_columns
from groundcheck.ingest.sheets import Sheet, cell_text, is_blank
from groundcheck.ingest.values import read_column
from groundcheck.schema import Column

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


@dataclass
class Records:
    """The records that one feed takes from one region: parallel lists, one entry a row of the sheet."""

    sheet: Sheet
    region: int
    feed: Feed
    rows: list[int]
    raw_rows: list[int]
    values: dict[str, list[Any]] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)

    def column_of(self, name: str) -> int | None:
        """The column of the sheet that feeds a field."""
        source = self.feed.fields.get(name)
        return source.columns[0] if source else None


def read_records(
    sheet: Sheet, region: int, feed: Feed, rows: list[int], cells: list[list[Any]], raw_rows: list[int]
) -> Records:
    """Read every field that the feed gives; `cells` are the rows of the records, merged ranges filled in."""
    records = Records(sheet, region, feed, rows, raw_rows)
    columns = table_columns(feed.table)
    for name, source in feed.fields.items():
        if source.kind == "ratio":  # filled in with the impedance
            continue
        taken = [[row[c] if c < len(row) else None for row in cells] for c in source.columns]
        if feed.entry is not None and name in feed.entry.carry_down:
            taken = [_carry_down(column) for column in taken]
        column = columns[name]
        if column.unit == "%" and feed.entry is not None and feed.entry.impedance_base is not None:
            column = replace(column, le=None)  # the limit is one of per cent on own rating
        _read_field(records, column, source, taken)
    for name, value in feed.constants.items():
        reading = read_column([value], columns[name])
        records.values[name] = [reading.values[0]] * len(rows)
    if feed.entry is not None and feed.entry.impedance_base is not None:
        _to_own_rating(records, feed.entry.impedance_base)
    return records


def _carry_down(cells: list[Any]) -> list[Any]:
    last: Any = None
    filled = []
    for cell in cells:
        last = last if is_blank(cell) else cell
        filled.append(last)
    return filled


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
        words = records.feed.entry.words.get(column.name) if records.feed.entry else None
        cells = taken[0]
        if words:
            cells = [words.get(c.strip().casefold(), c) if isinstance(c, str) else c for c in cells]
        _read_cells(records, column, source, cells)


def _read_cells(records: Records, column: Column, source: Source, cells: list[Any]) -> None:
    if records.sheet.table is not None:
        typed = _typed_values(column, cells)
        if typed is not None:
            records.values[column.name] = typed
            return
    values, problems, parallel = _read(column, source.unit, cells, records.sheet, source.columns[0])
    records.values[column.name] = values
    records.problems += problems
    if parallel and "parallel" in table_columns(records.feed.table) and "parallel" not in records.feed.fields:
        records.values["parallel"] = [parallel.get(index) for index in range(len(cells))]


def _read(
    column: Column, unit: str | None, cells: list[Any], sheet: Sheet, position: int
) -> tuple[list[Any], list[Problem], dict[int, int]]:
    reading = read_column(cells, column, unit=unit, decimal_comma=sheet.decimal_comma)
    problems = [
        Problem(index, column.name, position, cell_text(cells[index]) or "", problem.expected, problem.reason)
        for index, problem in reading.problems.items()
    ]
    return list(reading.values), problems, reading.parallel


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
    reactance, problems, _ = _read(column, source.unit, taken[0], records.sheet, source.columns[0])
    records.problems += problems
    if len(taken) == 1:
        records.values[column.name] = reactance
        return
    resistance, _, _ = _read(_PER_CENT, source.unit, taken[1], records.sheet, source.columns[1])
    records.values[column.name] = [
        None if x is None else float((x * x + (r or 0.0) ** 2) ** 0.5)
        for x, r in zip(reactance, resistance, strict=True)
    ]
    ratio_source = records.feed.fields.get("x_over_r")
    if column.name != "impedance" or ratio_source is None or ratio_source.kind != "ratio":
        return
    records.values["x_over_r"] = [None if not x or not r else x / r for x, r in zip(reactance, resistance, strict=True)]
    for index, r in enumerate(resistance):
        found = cell_text(taken[1][index])
        if not r and found is not None:
            expected = "a resistance above 0, so that X/R can be found"
            records.problems.append(Problem(index, "x_over_r", source.columns[1], found, expected, "unreadable"))


def _to_own_rating(records: Records, base_mva: float) -> None:
    """Per cent on the common base to per cent on the row's own rating: Z% x rating / base."""
    ratings = records.values.get("rated_power", [])
    for name, column in table_columns(records.feed.table).items():
        if column.unit == "%" and name in records.values:
            records.values[name] = [
                None if value is None or rating is None else value * rating / base_mva
                for value, rating in zip(records.values[name], ratings, strict=True)
            ]
