"""The text of a cell in the file format, with all that a column has in common made once."""

import math
import re
from collections.abc import Callable
from datetime import date
from typing import Any

from xlsxwriter.utility import xl_col_to_name

from groundcheck.report.workbook.cells import Link, as_number, plain_text
from groundcheck.report.workbook.looks import ANSWERS, Looks
from groundcheck.report.workbook.quick_sheet import QuickSheet, xf_index

Write = Callable[[str, Any], str]

_DAY_ZERO = date(1899, 12, 30)  # day 0 of a workbook's calendar, for days from March 1900 on
# _x0041_ in a file stands for a letter; text that looks so has its underscore written in the same way.
_ESCAPE = re.compile(r"_(x[0-9a-fA-F]{4}_)")


def cell_writer(sheet: QuickSheet, looks: Looks, position: int, look: str) -> Write:
    """What makes of a row's number, as text, and a value the cell of that row in this column."""
    letters = xl_col_to_name(position)
    start = f'<c r="{letters}'
    inline = f'" s="{xf_index(looks[look if look != "value" else "wrap_right"])}" t="inlineStr"><is><t'
    number_look = "number" if look in ("text", "value") else look
    number_style = f'" s="{xf_index(looks[number_look])}"><v>'
    blank = f'" s="{xf_index(looks[look if look in ANSWERS else "text"])}"/>'
    linked = f'" s="{xf_index(looks["link"])}" t="inlineStr"><is><t'
    may_be_number = look == "value"

    def write(row: str, value: Any) -> str:
        if value.__class__ is str:
            if may_be_number and (number := as_number(value)) is not None:
                return f"{start}{row}{number_style}{number:.16G}</v></c>"
            return f"{start}{row}{inline}{escaped(value)}</t></is></c>"
        if value is None:
            return f"{start}{row}{blank}"
        if value.__class__ is Link:
            if sheet.has_room_for_link:
                sheet.put_link(letters + row, value.target)
                return f"{start}{row}{linked}{escaped(value.text)}</t></is></c>"
            return f"{start}{row}{inline}{escaped(value.text)}</t></is></c>"
        if value is True or value is False:
            return f"{start}{row}{inline}>{'yes' if value else 'no'}</t></is></c>"
        if isinstance(value, date):
            return f"{start}{row}{number_style}{(value - _DAY_ZERO).days}</v></c>"
        if isinstance(value, (int, float)):
            if math.isinf(value):
                return f"{start}{row}{inline}>no limit</t></is></c>"
            return f"{start}{row}{blank}" if math.isnan(value) else f"{start}{row}{number_style}{value:.16G}</v></c>"
        return f"{start}{row}{inline}{escaped(str(value))}</t></is></c>"

    return write


def escaped(text: str) -> str:
    """Text as it stands in the file, behind the '<t' of its element."""
    text = plain_text(text)
    if "_x" in text:
        text = _ESCAPE.sub(r"_x005F_\1", text)
    if "&" in text or "<" in text or ">" in text:
        text = text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    if text and (text[0].isspace() or text[-1].isspace()):
        return f' xml:space="preserve">{text}'
    return f">{text}"
