"""A store with two findings, the workbook that reports them, and a person who fills it in."""

from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path
from typing import Any

import openpyxl
import pandas as pd
import pytest
from waivers_world import RATED, put_findings

from groundcheck.policy import load_policy
from groundcheck.report import write_reports
from groundcheck.report.workbook import write_workbook
from groundcheck.store import Store
from groundcheck.waivers import apply_waivers, gather_waivers

AS_OF = date(2026, 1, 1)


@pytest.fixture
def store() -> Iterator[Store]:
    """NR1 and NR2 of ASH, both rated 400 A where 640 A are required."""
    with Store() as store:
        store.write("inventory", "substation", pd.DataFrame([{"substation": "ASH", "district": "North"}]))
        put_findings(store, RATED, RATED | {"asset": "NR2"})
        yield store


@pytest.fixture
def waive(store: Store) -> Callable[..., dict[str, tuple[str, str | None]]]:
    """Apply what files say; gives status and waiver of each finding."""

    def judge(*paths: Path, as_of: date = AS_OF) -> dict[str, tuple[str, str | None]]:
        apply_waivers(store, gather_waivers(paths), load_policy(), as_of)
        rows = store.sql("SELECT finding, status, waiver FROM audit.finding").fetchall()
        return {finding: (status, waiver) for finding, status, waiver in rows}

    return judge


@pytest.fixture
def toml(tmp_path: Path) -> Callable[..., Path]:
    """Write a waiver file of entries; a key that is None is left out."""

    def write(*entries: dict[str, Any], name: str = "waivers.toml") -> Path:
        lines = []
        for entry in entries:
            lines.append("[[waiver]]")
            for key, value in entry.items():
                if value is not None:
                    text = f'"{value}"' if isinstance(value, str) else str(value)
                    lines.append(f"{key} = {text}")
        path = tmp_path / name
        path.write_text("\n".join(lines) + "\n", encoding="utf-8")
        return path

    return write


@pytest.fixture
def report(store: Store, tmp_path: Path) -> Callable[..., Path]:
    """Write exceptions.xlsx over the one that is there, as an audit that was told everything in it."""

    def write(sheet_by_district: bool = False) -> Path:
        (tmp_path / "out" / "exceptions.xlsx").unlink(missing_ok=True)
        write_reports(store, tmp_path / "out")
        if sheet_by_district:
            write_workbook(store, tmp_path / "out" / "exceptions.xlsx", sheet_by_district=True)
        return tmp_path / "out" / "exceptions.xlsx"

    return write


@pytest.fixture
def fill_in() -> Callable[..., Path]:
    """Fill in cells of one finding's row of a sheet, by heading, and save the workbook."""

    def save(path: Path, finding: str, sheet: str = "Exceptions", **cells: Any) -> Path:
        book = openpyxl.load_workbook(path)
        page = book[sheet]
        heads = {cell.value: cell.column for cell in page[1]}
        (row,) = [row[0].row for row in page.iter_rows(min_row=2) if row[0].value == finding]
        for head, value in cells.items():
            cell = page.cell(row, heads[head])
            cell.value = value
            if isinstance(value, str):
                cell.data_type = "s"  # what a person types into a cell of format text is no formula
        book.save(path)
        return path

    return save
