"""Which records enter the inventory: keys, required fields, limits; what is wrong is named with its cell."""

from collections import defaultdict
from collections.abc import Sequence
from functools import cache
from typing import Any

import numpy as np
import pandas as pd
from pandera.errors import SchemaErrors
from pandera.pandas import DataFrameSchema

from groundcheck.ingest.assets.copies import file_rank
from groundcheck.ingest.assets.frame_rows import frame_rows
from groundcheck.ingest.assets.told_elsewhere import told_elsewhere
from groundcheck.ingest.book import Book
from groundcheck.ingest.mapping.headings import table_columns
from groundcheck.ingest.tables.read_field import Problem
from groundcheck.ingest.tables.records import Records
from groundcheck.ingest.tables.typed_values import blank_series, typed_series
from groundcheck.schema import INVENTORY_TABLES, Column

# Columns that ingest keeps beside the model's own while it works.
BESIDE = ("raw_row", "part", "inferred_from", "records_position", "is_primary")

_INFERRED = Column("inferred_from", "text", "Where the asset was only named.")


def combine(records: list[Records], table: str) -> pd.DataFrame:
    """The records of one table as one typed frame, in the order of reading; `records_position` is that in the list."""
    parts = [_frame(part, number) for number, part in enumerate(records) if part.feed.table == table and part.rows]
    if not parts:
        return typed_frame({}, table)
    return parts[0] if len(parts) == 1 else pd.concat(parts, ignore_index=True)


def _frame(part: Records, number: int) -> pd.DataFrame:
    size = len(part.rows)
    values = {
        name: part.values[name] if name in part.values else blank_series(size, column)
        for name, column in table_columns(part.feed.table).items()
    }
    beside = {
        "raw_row": np.asarray(part.raw_rows, dtype="int64"),
        "part": np.full(size, part.feed.part, dtype="int64"),
        "inferred_from": blank_series(size, _INFERRED),
        "records_position": np.full(size, number, dtype="int64"),
        "is_primary": np.full(size, part.feed.primary),
    }
    return pd.DataFrame(values | beside)


def typed_frame(values: dict[str, list[Any]], table: str) -> pd.DataFrame:
    """A frame of a canonical table from lists of plain values, each column in the type that its model asks for."""
    columns = table_columns(table)
    frame = pd.DataFrame({name: typed_series(values.get(name, []), column) for name, column in columns.items()})
    frame["raw_row"] = np.asarray(values.get("raw_row", []), dtype="int64")
    frame["part"] = np.asarray(values.get("part", []), dtype="int64")
    frame["inferred_from"] = typed_series(values.get("inferred_from", []), _INFERRED)
    frame["records_position"] = np.asarray(values.get("records_position", []), dtype="int64")
    frame["is_primary"] = np.asarray(values.get("is_primary", []), dtype=bool)
    return frame


def admit_primary(
    frame: pd.DataFrame, table: str, records: list[Records], book: Book, precedence: Sequence[str] = ()
) -> pd.DataFrame:
    """
    The rows of a table's own sheets that enter; the others go to quarantine or out of service.

    A row may lack a required field that another record of its asset gives, in a file of the same precedence.
    """
    columns = table_columns(table)
    keys = INVENTORY_TABLES[table].key_columns()
    problems = _problems_by_row(records, table, primary=True)
    failures = _limit_failures(frame, table)
    kept = np.ones(len(frame), dtype=bool)

    kept &= ~_quarantine_missing(frame, kept, keys, table, records, book, problems)
    away = kept & frame["status"].notna().to_numpy() & (frame["status"] != "in service").fillna(False).to_numpy()
    for row in frame_rows(frame.loc[away, list({*keys, "substation", "status", "raw_row"})]):
        book.out_of_service.append({**row, "asset_kind": table, "asset": row[keys[-1]]})
    kept &= ~away
    required = tuple(name for name, column in columns.items() if column.required and name not in keys)
    told = told_elsewhere(frame, kept, required, keys, [file_rank(part.sheet.file, precedence) for part in records])
    kept &= ~_quarantine_missing(frame, kept & ~told, required, table, records, book, problems)
    for name, position in failures:
        if columns[name].required and kept[position]:
            raw_row, source = _origin(frame, position, records)
            reason = "unknown_word" if columns[name].kind == "choice" else "outside_limits"
            book.quarantine(raw_row, source.column_of(name), table, reason, expected_of(columns[name]), None)
            kept[position] = False
    return _blank_failures(frame, kept, failures, table, records, book, problems)


def refuse_incomplete(frame: pd.DataFrame, table: str, records: list[Records], book: Book) -> pd.DataFrame:
    """The rows that have all required fields, once what several records say of one asset is settled."""
    required = tuple(name for name, column in table_columns(table).items() if column.required)
    if not frame[list(required)].isna().to_numpy().any():
        return frame
    kept = np.ones(len(frame), dtype=bool)
    problems = _problems_by_row(records, table, primary=True)
    kept &= ~_quarantine_missing(frame, kept, required, table, records, book, problems)
    return frame[kept]


def admit_secondary(
    frame: pd.DataFrame, table: str, records: list[Records], book: Book, raw_rows: set[int]
) -> pd.DataFrame:
    """Records that a sheet about something else gives; their problems are unread cells, never a row in quarantine."""
    problems = _problems_by_row(records, table, primary=False)
    frame = frame[frame["raw_row"].isin(raw_rows)].reset_index(drop=True)
    kept = np.ones(len(frame), dtype=bool)
    admitted = _blank_failures(frame, kept, _limit_failures(frame, table), table, records, book, problems)
    required = [name for name, column in table_columns(table).items() if column.required]
    return admitted[admitted[required].notna().all(axis=1)]


def _problems_by_row(records: list[Records], table: str, primary: bool) -> dict[tuple[int, int], dict[str, Problem]]:
    found: dict[tuple[int, int], dict[str, Problem]] = defaultdict(dict)
    for part in records:
        if part.feed.table == table and part.feed.primary == primary:
            for problem in part.problems:
                found[part.raw_rows[problem.position], part.feed.part][problem.field] = problem
    return found


def _quarantine_missing(
    frame: pd.DataFrame,
    kept: np.ndarray[Any, np.dtype[np.bool_]],
    names: tuple[str, ...],
    table: str,
    records: list[Records],
    book: Book,
    problems: dict[tuple[int, int], dict[str, Problem]],
) -> np.ndarray[Any, np.dtype[np.bool_]]:
    """Quarantine the rows that lack one of the fields; gives which they are."""
    columns = table_columns(table)
    missing = np.zeros(len(frame), dtype=bool)
    for name in names:
        for position in np.flatnonzero(frame[name].isna().to_numpy() & kept & ~missing).tolist():
            raw_row, source = _origin(frame, position, records)
            problem = problems.get((raw_row, source.feed.part), {}).get(name)
            if problem is not None:
                book.quarantine(raw_row, problem.column, table, problem.reason, problem.expected, problem.found)
            else:
                reason = "key_missing" if columns[name].kind == "key" else "required_missing"
                column = source.column_of(name)
                expected = expected_of(columns[name])
                if column is None:
                    expected = f"no column of this sheet gives it: {expected}"
                book.quarantine(raw_row, column, table, reason, expected)
            missing[position] = True
    return missing


def _limit_failures(frame: pd.DataFrame, table: str) -> list[tuple[str, int]]:
    """Field and position of every value outside its limits or vocabulary, as the table's model finds them."""
    if frame.empty:
        return []
    limited = INVENTORY_TABLES[table].to_schema().columns.items()
    names = tuple(name for name, column in limited if column.checks and frame[name].notna().any())
    try:
        _limits(table, names).validate(frame, lazy=True)
    except SchemaErrors as errors:
        cases = errors.failure_cases
        columns = table_columns(table)
        cases = cases[(cases["check"] != "not_nullable") & cases["index"].notna() & cases["column"].isin(list(columns))]
        found = zip(cases["column"], cases["index"], strict=True)
        return sorted({(str(name), int(position)) for name, position in found}, key=lambda case: case[1])
    return []


@cache
def _limits(table: str, names: tuple[str, ...]) -> DataFrameSchema:
    """The limits and vocabularies of some columns of a table."""
    return INVENTORY_TABLES[table].to_schema().select_columns(list(names))


def _blank_failures(
    frame: pd.DataFrame,
    kept: np.ndarray[Any, np.dtype[np.bool_]],
    failures: list[tuple[str, int]],
    table: str,
    records: list[Records],
    book: Book,
    problems: dict[tuple[int, int], dict[str, Problem]],
) -> pd.DataFrame:
    """Blank what is outside its limits in the rows that are kept, and name every cell that could not be read."""
    columns = table_columns(table)
    frame = frame.copy()
    blanked: dict[str, list[int]] = defaultdict(list)
    for name, position in failures:
        if kept[position]:
            raw_row, source = _origin(frame, position, records)
            book.leave_unread(raw_row, source.column_of(name), table, name, expected_of(columns[name]))
            blanked[name].append(position)
    for name, positions in blanked.items():
        frame[name] = frame[name].mask(np.isin(np.arange(len(frame)), positions))
    for raw_row, part in zip(frame["raw_row"][kept], frame["part"][kept], strict=True) if problems else ():
        for name, problem in problems.get((int(raw_row), int(part)), {}).items():
            book.leave_unread(int(raw_row), problem.column, table, name, problem.expected)
    return frame[kept]


def _origin(frame: pd.DataFrame, position: int, records: list[Records]) -> tuple[int, Records]:
    return int(frame["raw_row"].to_numpy()[position]), records[int(frame["records_position"].to_numpy()[position])]


def expected_of(column: Column) -> str:
    """What a cell of the column must hold, in words."""
    parts = [column.description.rstrip(".")]
    if column.unit:
        parts.append(f"in {column.unit}")
    if column.limits:
        parts.append(column.limits)
    if column.accepted:
        parts.append("one of " + ", ".join(column.accepted))
    return "; ".join(parts)
