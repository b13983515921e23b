"""Writing a register as a workbook or a csv file, to the same bytes every time."""

import csv
import io
import re
import zipfile
from datetime import datetime
from pathlib import Path

from openpyxl import Workbook
from openpyxl.styles import Alignment, Font
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet
from register import Register, Sheet, Table

LAST_SAVED = datetime(2025, 3, 14, 9, 30)
_TITLE_SPAN = 5


def write_register(register: Register, folder: Path) -> None:
    """Write the register's file into the folder, in the format that its name says."""
    path = folder / register.file
    if path.suffix == ".csv":
        _write_csv(register, path)
    else:
        _write_workbook(register, path)


def _write_csv(register: Register, path: Path) -> None:
    table = register.sheets[0].tables[0]
    with path.open("w", newline="", encoding="cp1252") as stream:
        writer = csv.writer(stream, delimiter=";", lineterminator="\r\n")
        writer.writerow(table.heading_cells())
        writer.writerows(table.row_cells())


def _write_workbook(register: Register, path: Path) -> None:
    book = Workbook()
    book.remove(book.active)
    for sheet in register.sheets:
        _fill_sheet(book.create_sheet(sheet.name), sheet)
    stream = io.BytesIO()
    book.save(stream)
    path.write_bytes(_without_clock(stream.getvalue()))


def _fill_sheet(target: Worksheet, sheet: Sheet) -> None:
    row = 1
    for text in sheet.title:
        target.cell(row, 1, text).font = Font(bold=row == 1, size=14 if row == 1 else 11)
        if row == 1:
            target.merge_cells(start_row=1, end_row=1, start_column=1, end_column=_TITLE_SPAN)
        row += 1
    row += bool(sheet.title)
    for table in sheet.tables if not sheet.turned else ():
        row = _fill_table(target, table, row, merged_station=sheet.merged_station) + 2
    if sheet.turned:
        _fill_turned(target, sheet.tables[0], row)
    for column in range(1, target.max_column + 1):
        target.column_dimensions[get_column_letter(column)].width = 14


def _fill_table(target: Worksheet, table: Table, row: int, *, merged_station: bool) -> int:
    """Fill in one table from the row given; the first row below it."""
    for column, heading in enumerate(table.heading_cells(), start=1):
        cell = target.cell(row, column, heading)
        cell.font = Font(bold=True)
        cell.alignment = Alignment(wrap_text=True)
    first = row + 1
    rows = table.row_cells()
    for offset, cells in enumerate(rows):
        for column, value in enumerate(cells, start=1):
            if value is not None:
                target.cell(first + offset, column, value)
    if merged_station:
        _merge_equal(target, first, [cells[0] for cells in rows])
    row = first + len(rows)
    for note in table.notes:
        row += 1
        target.cell(row, 1, note).font = Font(italic=True)
    return row + bool(table.notes)


def _fill_turned(target: Worksheet, table: Table, row: int) -> None:
    """Fill in a table with its headings down the first column and a column an asset."""
    for offset, cells in enumerate(zip(table.heading_cells(), *table.row_cells(), strict=True)):
        target.cell(row + offset, 1, cells[0]).font = Font(bold=True)
        for column, value in enumerate(cells[1:], start=2):
            if value is not None:
                target.cell(row + offset, column, value)


def _merge_equal(target: Worksheet, first: int, stations: list[object]) -> None:
    """Merge each run of the same station in the first column, as a person does who dislikes repetition."""
    start = 0
    for index in range(1, len(stations) + 1):
        if index < len(stations) and stations[index] == stations[start]:
            continue
        if index - start > 1:
            target.merge_cells(start_row=first + start, end_row=first + index - 1, start_column=1, end_column=1)
        start = index


def _without_clock(content: bytes) -> bytes:
    """The same workbook with a fixed date in its properties and on its parts."""
    stamp = LAST_SAVED.strftime("%Y-%m-%dT%H:%M:%SZ")
    stream = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            data = old.read(name)
            if name == "docProps/core.xml":
                data = re.sub(rb"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ", stamp.encode(), data)
            new.writestr(zipfile.ZipInfo(name, LAST_SAVED.timetuple()[:6]), data, zipfile.ZIP_DEFLATED)
    return stream.getvalue()
