"""One cell, written as what it is; text is never written as anything but text."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from xlsxwriter.utility import xl_rowcol_to_cell
from xlsxwriter.worksheet import Worksheet

from groundcheck.report.cell_text import clean_text, is_number
from groundcheck.report.workbook.looks import ANSWERS, Looks
from groundcheck.report.workbook.quick_sheet import QuickSheet

HEIGHT_LIMIT = 409  # points of one row; Microsoft, 'Excel specifications and limits'
LETTERS = 1.15  # letters of running text, broken at words, to a unit of column width
LINE_HEIGHT = 11.5  # points of a line of 9-point text


@dataclass(frozen=True, slots=True)
class Link:
    """Text that leads to a cell of this workbook."""

    text: str
    target: str


def row_height(values: Sequence[Any], widths: Sequence[float | None]) -> float | None:
    """The height of the longest wrapped text, in points; None if one line holds each, in the columns with a width."""
    lines = 1
    for value, width in zip(values, widths, strict=False):
        if value.__class__ is Link:
            value = value.text
        if width is not None and value.__class__ is str and (len(value) > LETTERS * width or "\n" in value):
            room = LETTERS * width
            needed = sum(math.ceil(max(len(part), 1) / room) for part in value.split("\n"))
            lines = max(lines, needed)
    return min(LINE_HEIGHT * lines + 2, HEIGHT_LIMIT) if lines > 1 else None


def set_height(sheet: Worksheet, row: int, values: Sequence[Any], widths: Sequence[float]) -> None:
    """Make a row as high as its longest wrapped text; call it before the row's cells are written."""
    height = row_height(values, widths)
    if height is not None:
        sheet.set_row(row, height)


def write_value(sheet: Worksheet, looks: Looks, row: int, column: int, value: Any, look: str) -> None:
    """Write one cell as what it is."""
    if value is None:
        sheet.write_blank(row, column, None, looks[look if look in ANSWERS else "text"])
    elif isinstance(value, date):
        sheet.write_datetime(row, column, value, looks[look])
    elif isinstance(value, Link):
        _write_link(sheet, looks, row, column, value)
    elif isinstance(value, bool):
        sheet.write_string(row, column, "yes" if value else "no", looks[look])
    elif isinstance(value, (int, float)):
        _write_number(sheet, looks, row, column, float(value), "number" if look in ("text", "value") else look)
    elif look == "value":
        number = as_number(value)
        if number is not None:
            sheet.write_number(row, column, number, looks["number"])
        else:
            write_text(sheet, row, column, value, looks["wrap_right"])
    elif look == "severity":
        write_text(sheet, row, column, value, looks[f"severity:{value}"])
    else:
        write_text(sheet, row, column, str(value), looks[look])


def as_number(text: str) -> float | None:
    """The number that a text is, if a cell keeps all its digits."""
    number = float(text) if len(text) <= 15 and is_number(text) else math.nan
    return number if math.isfinite(number) else None


def write_text(sheet: Worksheet, row: int, column: int, text: str, look: Any) -> None:
    """Write text as written, never as a formula, a link or markup."""
    sheet.write_string(row, column, plain_text(text), look)


def plain_text(text: str) -> str:
    """Text that a cell shows as it stands."""
    text = clean_text(text)
    # xlsxwriter takes text between two <r> tags for rich text and would write it unescaped; a blank prevents it.
    return text + " " if text.startswith("<r>") and text.endswith("</r>") else text


def _write_number(sheet: Worksheet, looks: Looks, row: int, column: int, number: float, look: str) -> None:
    if math.isinf(number):
        sheet.write_string(row, column, "no limit", looks[look])
    elif not math.isnan(number):
        sheet.write_number(row, column, number, looks[look])


def _write_link(sheet: Worksheet, looks: Looks, row: int, column: int, link: Link) -> None:
    text = plain_text(link.text)
    if isinstance(sheet, QuickSheet):
        if sheet.has_room_for_link:
            sheet.write_string(row, column, text, looks["link"])
            sheet.put_link(xl_rowcol_to_cell(row, column), link.target)
            return
    elif len(text) <= 255:
        sheet.write_url(row, column, f"internal:{link.target}", looks["link"], text)
        return
    sheet.write_string(row, column, text, looks["text"])
