"""Reading .xls workbooks: xlrd tells errors from blanks, and keeps rows as long as they are filled."""

import io
from datetime import date, datetime, time
from typing import Any

import xlrd
from xlrd.biffh import (
    XL_CELL_BLANK,
    XL_CELL_BOOLEAN,
    XL_CELL_DATE,
    XL_CELL_EMPTY,
    XL_CELL_ERROR,
    error_text_from_code,
)

from groundcheck.ingest.readers.strays import set_apart
from groundcheck.ingest.sheets import Sheet, SourceFile


def read_old_workbook(content: bytes, kind: str, source: SourceFile) -> None:
    """Fill the source with the sheets of an .xls workbook, or with the reason why it has none."""
    try:
        with xlrd.open_workbook(file_contents=content, ragged_rows=True, logfile=io.StringIO()) as workbook:
            source.sheets = [_read_sheet(workbook, sheet, source.file) for sheet in workbook.sheets()]
    except xlrd.XLRDError as error:
        encrypted = "encrypted" in str(error).lower()
        told = "protected by a password: save a copy without one" if encrypted else _damaged(error)
        source.problem = told
    except Exception as error:  # xlrd trusts what a file says of itself, and falls over its own assertions
        source.problem = _damaged(error)


def _damaged(error: Exception) -> str:
    reason = (str(error).splitlines() or [type(error).__name__])[0] or type(error).__name__
    return f"not a whole workbook ({reason}): export it again"


def _read_sheet(workbook: Any, found: Any, file: str) -> Sheet:
    sheet = Sheet(file, found.name, [], hidden=found.visibility != 0)
    plain = {XL_CELL_EMPTY, XL_CELL_BLANK, XL_CELL_BOOLEAN, XL_CELL_DATE, XL_CELL_ERROR}
    for row in range(found.nrows):
        types, values = found.row_types(row), found.row_values(row)
        if plain.isdisjoint(types):
            sheet.rows.append(values)
        else:
            sheet.rows.append([_cell(t, v, workbook.datemode) for t, v in zip(types, values, strict=True)])
    # Ends are exclusive in xlrd.
    sheet.merged = [((top, left), (bottom - 1, right - 1)) for top, bottom, left, right in found.merged_cells]
    set_apart(sheet)
    return sheet


def _cell(kind: int, value: Any, datemode: int) -> Any:
    if kind in (XL_CELL_EMPTY, XL_CELL_BLANK):
        return ""
    if kind == XL_CELL_BOOLEAN:
        return bool(value)
    if kind == XL_CELL_ERROR:
        return error_text_from_code.get(value, f"#ERROR {value}")
    if kind == XL_CELL_DATE:
        return _moment(value, datemode)
    return value


def _moment(value: float, datemode: int) -> datetime | date | time | float:
    """A date, a time of day, or both; the number itself where it is no date of the calendar."""
    try:
        moment: datetime = xlrd.xldate_as_datetime(value, datemode)
    except (xlrd.XLDateError, ValueError, OverflowError):
        return value
    if 0 <= value < 1:
        return moment.time()
    return moment if moment.time() != time() else moment.date()
