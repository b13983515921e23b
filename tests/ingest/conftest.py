"""Workbooks written for one test, and stores that they were read into."""

import csv
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from groundcheck.ingest import ingest
from groundcheck.store import Store

Rows = list[list[Any]]


@pytest.fixture
def book(tmp_path: Path) -> Callable[..., Path]:
    """Write a workbook: sheets by name, each a list of rows; `merge` names ranges by sheet."""

    def write(sheets: dict[str, Rows], name: str = "north.xlsx", merge: dict[str, list[str]] | None = None) -> Path:
        workbook = openpyxl.Workbook()
        workbook.remove(workbook.active)
        for title, rows in sheets.items():
            sheet = workbook.create_sheet(title)
            for row in rows:
                sheet.append(row)
            for cells in (merge or {}).get(title, []):
                sheet.merge_cells(cells)
        path = tmp_path / name
        workbook.save(path)
        return path

    return write


@pytest.fixture
def csv_file(tmp_path: Path) -> Callable[..., Path]:
    """Write a csv file."""

    def write(rows: Rows, name: str = "north.csv", encoding: str = "utf-8", delimiter: str = ",") -> Path:
        path = tmp_path / name
        with path.open("w", encoding=encoding, newline="") as stream:
            csv.writer(stream, delimiter=delimiter).writerows(rows)
        return path

    return write


@pytest.fixture
def read() -> Iterator[Callable[..., Store]]:
    """Read sources into a store in memory, and prove that every row is accounted for once."""
    stores: list[Store] = []

    def run(sources: Any, **options: Any) -> Store:
        store = Store()
        stores.append(store)
        ingest(store, sources, **options)
        assert_accounted(store)
        return store

    yield run
    for store in stores:
        store.close()


def assert_accounted(store: Store) -> None:
    """Every row is in raw once, and used, in quarantine, a heading, a note or blank."""
    wrong = store.sql(
        "FROM raw.account WHERE rows_read <> rows_used + rows_quarantined + heading_rows + note_rows + blank_rows"
    ).fetchall()
    assert wrong == []
    rows, numbers = store.sql("SELECT count(*), count(DISTINCT raw_row) FROM raw.row").fetchall()[0]
    read = store.sql("SELECT coalesce(sum(rows_read), 0) FROM raw.account").fetchall()[0][0]
    assert rows == numbers == read
    waiting = store.sql("SELECT raw_row FROM raw.quarantine ORDER BY 1").fetchall()
    assert waiting == store.sql("SELECT raw_row FROM raw.row WHERE use = 'quarantine' ORDER BY 1").fetchall()
