"""A sheet that a person fills in: headings, rows of what is asked, and the cells that are left open for the answer."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from xlsxwriter.worksheet import Worksheet

from groundcheck.report.cautions import CAUTION_LINE
from groundcheck.report.workbook.looks import RIGHT, Looks
from groundcheck.report.workbook.table_sheet import Field, set_height, write_text, write_value
from groundcheck.schema.drop_downs import DropDowns

ROWS_PER_SHEET = 2_000  # what a person can still work through; more rows go on to a further sheet
A4 = 9  # paper size in the page setup of a workbook
ANSWER = "answer"
_ALLOWED = ("autofilter", "format_columns", "format_rows")


@dataclass(frozen=True)
class Form:
    """A sheet to be; `words` holds for each row what the drop-down of its first answer offers, if anything."""

    title: str
    about: str
    fields: tuple[Field, ...]
    rows: Sequence[tuple[Any, ...]]
    words: Sequence[list[str]] = ()
    empty: str = ""


def parts_of(form: Form) -> list[Form]:
    """The form cut into as many sheets as its rows need; one, if it has none."""
    starts = range(0, max(len(form.rows), 1), ROWS_PER_SHEET)
    ends = [start + ROWS_PER_SHEET for start in starts]
    return [
        replace(form, rows=form.rows[start:end], words=form.words[start:end])
        for start, end in zip(starts, ends, strict=True)
    ]


def write_form(sheet: Worksheet, looks: Looks, form: Form, drop_downs: DropDowns) -> None:
    """Fill one sheet; only the answers can be written into."""
    last = len(form.fields) - 1
    set_paper(sheet, form.title)
    sheet.repeat_rows(0)
    sheet.freeze_panes(1, 0)
    sheet.set_row(0, 28)
    for position, field in enumerate(form.fields):
        sheet.set_column(position, position, field.width, looks["column"])
        sheet.write_string(0, position, field.head, looks["head_right" if field.look in RIGHT else "head"])
    sheet.protect("", dict.fromkeys(_ALLOWED, True))
    if not form.rows:
        sheet.write_string(1, 0, form.empty, looks["quiet"])
        return
    sheet.autofilter(0, 0, len(form.rows), last)
    sheet.ignore_errors({"number_stored_as_text": f"A1:Z{len(form.rows) + 1}"})
    widths = [field.width for field in form.fields]
    for number, row in enumerate(form.rows, 1):
        set_height(sheet, number, row, widths)
        for position, (value, field) in enumerate(zip(row, form.fields, strict=True)):
            if field.look == ANSWER:
                sheet.write_blank(number, position, None, looks[ANSWER])
            elif isinstance(value, str):
                write_text(sheet, number, position, value, looks[field.look])
            else:
                write_value(sheet, looks, number, position, value, field.look)
    _offer_words(sheet, form, drop_downs)


def _offer_words(sheet: Worksheet, form: Form, drop_downs: DropDowns) -> None:
    """One rule for all the cells that take the same words; a rule a cell would take far longer to write and to open."""
    column = next((position for position, field in enumerate(form.fields) if field.look == ANSWER), 0)
    cells: dict[tuple[str, ...], list[list[int]]] = {}
    for number, words in enumerate(form.words, 1):
        if words:
            cells.setdefault(tuple(words), []).append([number, column, number, column])
    for offered, (first, *others) in cells.items():
        rule = {**drop_downs.rule(list(offered)), "other_cells": others}
        sheet.data_validation(*first, rule)


def set_paper(sheet: Worksheet, title: str) -> None:
    """A4 landscape, one page wide, the caution at the foot."""
    sheet.set_landscape()
    sheet.set_paper(A4)
    sheet.set_margins(left=0.4, right=0.4, top=0.6, bottom=0.6)
    sheet.fit_to_pages(1, 0)
    sheet.set_header(f"&L&9{title.replace('&', '&&')[:100]}&R&9&F")
    sheet.set_footer(f"&L&7{CAUTION_LINE}&R&8&P / &N")
