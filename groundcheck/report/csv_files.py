"""findings.csv and outcomes.csv: the lists for other programs, safe to open in a spreadsheet program."""

import csv
from pathlib import Path
from typing import Any

import pandas as pd

from groundcheck.own_files import FINDING_COLUMNS, OUTCOME_COLUMNS
from groundcheck.report.cell_text import csv_text
from groundcheck.report.rows import fetch, severity_order
from groundcheck.store import Store


def write_findings_csv(store: Store, path: Path) -> None:
    """All findings, the open ones first, by severity, district, station, asset."""
    query = f"""
        SELECT {", ".join(FINDING_COLUMNS)} FROM audit.finding
        ORDER BY status = 'waived', {severity_order("severity")}, district, substation, asset, rule, finding
    """
    _write(path, FINDING_COLUMNS, fetch(store, query))


def write_outcomes_csv(store: Store, path: Path) -> None:
    """The four counts of each rule and station."""
    query = f"SELECT {', '.join(OUTCOME_COLUMNS)} FROM audit.outcome ORDER BY rule, substation"
    _write(path, OUTCOME_COLUMNS, fetch(store, query))


def write_changes_csv(changes: pd.DataFrame, path: Path) -> None:
    """Every finding of two audits with what became of it, and why."""
    rows = changes.astype(object).where(changes.notna(), None)
    _write(path, tuple(changes.columns), list(rows.itertuples(index=False, name=None)))


def _write(path: Path, columns: tuple[str, ...], rows: list[tuple[Any, ...]]) -> None:
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(columns)
        writer.writerows([_cell(value) for value in row] for row in rows)


def _cell(value: Any) -> Any:
    if isinstance(value, str):
        return csv_text(value)
    if isinstance(value, bool):
        return "true" if value else "false"
    return value
