"""An inventory written to files of each kind, with what else stands in the sheets that districts send."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime, time
from decimal import Decimal
from pathlib import Path
from typing import Any

import pandas as pd
import xlwt
from hypothesis import strategies as st
from round_trips.inventories import Sheet

Grid = list[list[Any]]


@dataclass(frozen=True)
class Junk:
    """What stands around a table: rows of titles above, blank columns to its left, headings again, a total, notes."""

    titles: int
    left: int
    repeat_after: int
    blank_after: int
    total: bool
    notes: bool


JUNK = st.builds(
    Junk,
    titles=st.integers(0, 3),
    left=st.integers(0, 2),
    repeat_after=st.integers(0, 3),
    blank_after=st.integers(0, 3),
    total=st.booleans(),
    notes=st.booleans(),
)
NO_JUNK = Junk(0, 0, 0, 0, False, False)


def with_junk(grid: Grid, junk: Junk, title: str) -> Grid:
    """The grid with other rows and columns around it."""
    headings, *rows = grid
    titles = [[f"Register of {title}"], ["North district, issue 3"], ["Printed 3 May 2024"]]
    body = [headings]
    for number, row in enumerate(rows, 1):
        body.append(row)
        if number == junk.repeat_after and number < len(rows):
            body.append(headings)
        if number == junk.blank_after and number < len(rows):
            body.append([])
    body += [["Total", *[None] * (len(headings) - 2), len(rows)]] if junk.total and len(headings) > 3 else []
    body += [[], ["Notes: all values are from nameplates."]] if junk.notes else []
    whole = [*titles[: junk.titles], *([[]] if junk.titles else []), *([None] * junk.left + row for row in body)]
    return padded(whole)


def padded(grid: Grid) -> Grid:
    """The rows, all as long as the longest."""
    width = max(map(len, grid), default=0)
    return [row + [None] * (width - len(row)) for row in grid]


def _native(cell: Any) -> Any:
    """A cell as a workbook keeps it."""
    if isinstance(cell, Decimal):
        return float(cell)
    return datetime.combine(cell, time()) if isinstance(cell, date) else cell


def _frames(sheets: dict[str, Grid]) -> dict[str, pd.DataFrame]:
    native = {name: [[_native(cell) for cell in row] for row in grid] for name, grid in sheets.items()}
    return {name: pd.DataFrame(grid, dtype=object) for name, grid in native.items()}


def _workbook(engine: str, suffix: str) -> Callable[[dict[str, Grid], Path], list[Path]]:
    def write(sheets: dict[str, Grid], folder: Path) -> list[Path]:
        path = folder / f"north.{suffix}"
        with pd.ExcelWriter(path, engine=engine) as writer:  # type: ignore[arg-type]
            for name, frame in _frames(sheets).items():
                frame.to_excel(writer, sheet_name=name, header=False, index=False)
        return [path]

    return write


def _old_workbook(sheets: dict[str, Grid], folder: Path) -> list[Path]:
    workbook = xlwt.Workbook()
    days = xlwt.easyxf(num_format_str="yyyy-mm-dd")
    for name, grid in sheets.items():
        sheet = workbook.add_sheet(name)
        for number, row in enumerate(grid):
            for column, cell in enumerate(row):
                if cell is not None:
                    look = days if isinstance(cell, date) else xlwt.Style.default_style
                    sheet.write(number, column, _native(cell), look)
    workbook.save(str(folder / "north.xls"))
    return [folder / "north.xls"]


def text_of(cell: Any, comma: bool) -> str:
    """A cell in a delimited text; a decimal comma before exactly three digits would say thousands."""
    if cell is None:
        return ""
    if isinstance(cell, Decimal):
        text = f"{cell:f}"
        if comma and len(text.partition(".")[2]) == 3:
            text += "0"
        return text.replace(".", ",") if comma else text
    if isinstance(cell, str) and comma and cell[:1].isdigit():
        number, _, unit = cell.partition(" ")
        return f"{text_of(Decimal(number), True)} {unit}" if number.replace(".", "", 1).isdigit() and unit else cell
    return cell.isoformat() if isinstance(cell, date) else str(cell)


def _texts(delimiter: str, encoding: str, comma: bool) -> Callable[[dict[str, Grid], Path], list[Path]]:
    def write(sheets: dict[str, Grid], folder: Path) -> list[Path]:
        paths = []
        for name, grid in sheets.items():
            paths.append(folder / f"{name}.{'tsv' if delimiter == chr(9) else 'csv'}")
            rows = [[text_of(cell, comma) for cell in row] for row in grid]
            pd.DataFrame(rows).to_csv(
                paths[-1], sep=delimiter, encoding=encoding, errors="replace", header=False, index=False
            )
        return paths

    return write


def _parquets(sheets: dict[str, Grid], folder: Path) -> list[Path]:
    paths = []
    for name, frame in typed_frames(sheets).items():
        paths.append(folder / f"{name}.parquet")
        frame.to_parquet(paths[-1])
    return paths


def typed_frames(sheets: dict[str, Grid]) -> dict[str, pd.DataFrame]:
    """A frame for each grid, its first row as headings; a column of mixed kinds as text."""
    frames = {}
    for name, (headings, *rows) in sheets.items():
        columns = []
        for cells in zip(*rows, strict=True):
            native = [_native(cell) for cell in cells]
            mixed = len({type(cell) for cell in native if cell is not None}) > 1
            columns.append(pd.Series([None if c is None else text_of(c, False) for c in cells] if mixed else native))
        frames[name] = pd.concat(columns, axis=1, keys=headings)
    return frames


# Kind of file: how it is written, and whether anything but the table fits in it.
WRITERS: dict[str, tuple[Callable[[dict[str, Grid], Path], list[Path]], bool]] = {
    "xlsx by openpyxl": (_workbook("openpyxl", "xlsx"), True),
    "xlsx by xlsxwriter": (_workbook("xlsxwriter", "xlsx"), True),
    "xls": (_old_workbook, True),
    "ods": (_workbook("odf", "ods"), True),
    "csv, comma": (_texts(",", "utf-8", False), True),
    "csv, UTF-8 with mark": (_texts(",", "utf-8-sig", False), True),
    "csv, semicolon and decimal comma": (_texts(";", "cp1252", True), True),
    "csv, pipe": (_texts("|", "utf-8", False), True),
    "tsv, UTF-16": (_texts("\t", "utf-16", False), True),
    "parquet": (_parquets, False),
}


def sheet_names(sheets: list[Sheet]) -> list[str]:
    """Each sheet is named for its table, as a person would."""
    return [sheet.table.replace("_", " ").capitalize() + "s" for sheet in sheets]
