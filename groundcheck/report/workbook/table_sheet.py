"""A sheet that holds one table: heads in the first row, frozen, filtered and repeated on paper; a row a record."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from xlsxwriter.utility import xl_col_to_name
from xlsxwriter.worksheet import Worksheet

from groundcheck.report.cautions import CAUTION_LINE
from groundcheck.report.cell_text import clean_text, is_number
from groundcheck.report.workbook.looks import ANSWERS, RIGHT, FaintLooks, Looks

ROW_LIMIT = 1_048_576  # rows of one sheet; Microsoft, 'Excel specifications and limits'
LINK_LIMIT = 65_530  # hyperlinks of one sheet; the same page
HEIGHT_LIMIT = 409  # points of one row; the same page
LETTERS = 1.15  # letters of running text, broken at words, to a unit of column width
LINE_HEIGHT = 11.5  # points of a line of 9-point text
A3 = 8  # paper size in the page setup of a workbook


@dataclass(frozen=True)
class Link:
    """Text that leads to a cell of this workbook."""

    text: str
    target: str


@dataclass(frozen=True)
class Field:
    """A column: its head, its width in characters and its look; 'value' is a number where it is one, else text."""

    head: str
    width: float
    look: str = "text"
    hidden: bool = False
    allowed: Mapping[str, Any] | None = None  # data validation of its cells, as xlsxwriter takes it


@dataclass(frozen=True)
class TableSheet:
    """
    A sheet to be: what it is for, its columns and rows, and what it says if there are none.

    `faint` holds the positions of rows that are only kept in view.
    """

    name: str
    about: str
    fields: tuple[Field, ...]
    rows: Sequence[tuple[Any, ...]]
    empty: str
    frozen_columns: int = 0
    whole_in: str = "the store"
    faint: frozenset[int] = frozenset()


def set_page(sheet: Worksheet, last_column: int) -> None:
    """A3 landscape, one page wide, heads repeated, the caution at the foot."""
    sheet.set_landscape()
    sheet.set_paper(A3)
    sheet.set_margins(left=0.4, right=0.4, top=0.6, bottom=0.6)
    sheet.fit_to_pages(1, 0)
    sheet.repeat_rows(0)
    sheet.set_header("&L&10&A&R&10&F")
    sheet.set_footer(f"&L&8{CAUTION_LINE}&R&8&P / &N")
    sheet.ignore_errors({"number_stored_as_text": f"A1:{xl_col_to_name(last_column)}{ROW_LIMIT}"})


def write_table_sheet(sheet: Worksheet, looks: Looks, table: TableSheet) -> None:
    """Fill a sheet that was added under the table's name."""
    last = len(table.fields) - 1
    set_page(sheet, last)
    for position, field in enumerate(table.fields):
        hidden = {"hidden": True} if field.hidden else {}
        sheet.set_column(position, position, field.width, looks["column"], hidden)
    sheet.freeze_panes(1, table.frozen_columns)
    sheet.set_row(0, 32)
    for position, field in enumerate(table.fields):
        sheet.write_string(0, position, field.head, looks["head_right" if field.look in RIGHT else "head"])
    if not table.rows:
        sheet.write_string(1, 0, table.empty, looks["quiet"])
        return
    shown = table.rows[: ROW_LIMIT - 2]
    sheet.autofilter(0, 0, len(shown), last)
    styles = [field.look for field in table.fields]
    widths = [math.inf if field.hidden else field.width for field in table.fields]
    for number, row in enumerate(shown, start=1):
        set_height(sheet, number, row, widths)
        shade = looks.faint() if number - 1 in table.faint else looks
        for position, value in enumerate(row):
            write_value(sheet, shade, number, position, value, styles[position])
    for position, field in enumerate(table.fields):
        if field.allowed is not None:
            sheet.data_validation(1, position, len(shown), position, dict(field.allowed))
    if len(shown) < len(table.rows):
        more = f"{len(table.rows) - len(shown):,} more rows do not fit on a sheet; {table.whole_in} holds them."
        sheet.write_string(len(shown) + 1, 0, more, looks["warning"])


def set_height(sheet: Worksheet, row: int, values: Sequence[Any], widths: Sequence[float]) -> None:
    """Make a row as high as its longest wrapped text; call it before the row's cells are written."""
    lines = 1
    for value, width in zip(values, widths, strict=False):
        text = value.text if isinstance(value, Link) else value
        if isinstance(text, str) and (len(text) > LETTERS * width or "\n" in text):
            lines = max(lines, sum(math.ceil(max(len(part), 1) / (LETTERS * width)) for part in text.split("\n")))
    if lines > 1:
        sheet.set_row(row, min(LINE_HEIGHT * lines + 2, HEIGHT_LIMIT))


def write_value(sheet: Worksheet, looks: Looks | FaintLooks, row: int, column: int, value: Any, look: str) -> None:
    """Write one cell as what it is; text is never written as anything but text."""
    if value is None:
        sheet.write_blank(row, column, None, looks[look if look in ANSWERS else "text"])
        return
    if isinstance(value, date):
        sheet.write_datetime(row, column, value, looks[look])
        return
    if isinstance(value, Link):
        _write_link(sheet, looks, row, column, value)
    elif isinstance(value, bool):
        sheet.write_string(row, column, "yes" if value else "no", looks[look])
    elif isinstance(value, (int, float)):
        _write_number(sheet, looks, row, column, float(value), "number" if look in ("text", "value") else look)
    elif look == "value":
        number = float(value) if is_number(value) and len(value) <= 15 else math.nan
        if math.isfinite(number):
            sheet.write_number(row, column, number, looks["number"])
        else:
            write_text(sheet, row, column, value, looks["wrap_right"])
    elif look == "severity":
        write_text(sheet, row, column, value, looks[f"severity:{value}"])
    else:
        write_text(sheet, row, column, str(value), looks[look])


def write_text(sheet: Worksheet, row: int, column: int, text: str, look: Any) -> None:
    """Write text as written, never as a formula, a link or markup."""
    sheet.write_string(row, column, _plain(text), look)


def _plain(text: str) -> str:
    text = clean_text(text)
    # xlsxwriter takes text between two <r> tags for rich text and would write it unescaped; a blank prevents it.
    return text + " " if text.startswith("<r>") and text.endswith("</r>") else text


def _write_number(sheet: Worksheet, looks: Looks | FaintLooks, row: int, column: int, number: float, look: str) -> None:
    if math.isinf(number):
        sheet.write_string(row, column, "no limit", looks[look])
    elif not math.isnan(number):
        sheet.write_number(row, column, number, looks[look])


def _write_link(sheet: Worksheet, looks: Looks | FaintLooks, row: int, column: int, link: Link) -> None:
    text = _plain(link.text)
    if sheet.hlink_count < LINK_LIMIT and len(text) <= 255:
        sheet.write_url(row, column, f"internal:{link.target}", looks["link"], text)
    else:
        sheet.write_string(row, column, text, looks["text"])
