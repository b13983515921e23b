"""The sheet What to do: how the workbook is filled in and sent back, and what it asks for on which sheet."""

from collections.abc import Sequence

from xlsxwriter.worksheet import Worksheet

from groundcheck.report.cautions import CAUTIONS
from groundcheck.report.data_requests.form import ROWS_PER_SHEET, set_paper
from groundcheck.report.workbook.looks import Looks
from groundcheck.report.workbook.table_sheet import Link, set_height, write_text, write_value

NAME = "What to do"
_WIDTHS = (34.0, 10.0, 96.0)
SENTENCES = (
    "1. Each sheet named for a district lists the cells of its grounding records that are not filled in and for which "
    "a check waits, first those for which most checks wait.",
    "2. Fill in the shaded cells only: the value, in the unit shown or with its own unit beside it, and where it comes "
    "from (drawing, nameplate, test ...); leave blank what is not known, and guess nothing.",
    "3. Take values from drawings, test reports and order papers, or from a nameplate during an outage: do not open, "
    "enter or approach live equipment to read a nameplate.",
    "4. Answer the sheet Questions in its column 'answer', and enter what the sheet Records to add lists into your own "
    "register, where the other assets of its kind stand.",
    "5. Leave sheets, headings and the other columns as they are, save the workbook under its name with that of your "
    "district added, and send it back to whoever sent it to you.",
)
LIMIT_NOTE = f"A sheet holds at most {ROWS_PER_SHEET:,} rows; more go on to a sheet of the same name with a number."


def write_front(sheet: Worksheet, looks: Looks, made_at: str | None, sheets: Sequence[tuple[str, int, str]]) -> None:
    """Fill the first sheet; `sheets` are name, rows, and what stands there."""
    set_paper(sheet, NAME)
    sheet.hide_gridlines(2)
    for column, width in enumerate(_WIDTHS):
        sheet.set_column(column, column, width, looks["column"])
    sheet.set_row(0, 22)
    write_text(sheet, 0, 0, "Data requests: what the grounding records lack", looks["title"])
    write_text(sheet, 1, 0, f"from the audit made at {made_at or 'a time not recorded'}", looks["quiet"])
    row = 2
    for sentence in SENTENCES:
        row = _wide(sheet, looks, row, sentence, "sentence")
    row = _heading(sheet, looks, row, "Sheets of this workbook")
    for column, head in enumerate(("sheet", "rows", "what stands there")):
        sheet.write_string(row, column, head, looks["head_right" if column == 1 else "head"])
    for name, rows, about in sheets:
        row += 1
        values = (Link(name, "'{}'!A1".format(name.replace("'", "''"))), rows, about)
        for column, (value, look) in enumerate(zip(values, ("text", "count", "wrap"), strict=True)):
            write_value(sheet, looks, row, column, value, look)
    row = _wide(sheet, looks, row + 1, LIMIT_NOTE + " A check may wait for several cells.", "quiet")
    row = _heading(sheet, looks, row, "Cautions")
    for caution in CAUTIONS:
        row = _wide(sheet, looks, row, caution, "sentence")


def _heading(sheet: Worksheet, looks: Looks, row: int, text: str) -> int:
    for column in range(len(_WIDTHS)):
        sheet.write_blank(row + 1, column, None, looks["heading"])
    write_text(sheet, row + 1, 0, text, looks["heading"])
    return row + 2


def _wide(sheet: Worksheet, looks: Looks, row: int, text: str, look: str) -> int:
    """A sentence over the whole width; a merged cell does not grow by itself, so its height is set here."""
    set_height(sheet, row, (text,), (sum(_WIDTHS),))
    sheet.merge_range(row, 0, row, len(_WIDTHS) - 1, "", looks[look])
    write_text(sheet, row, 0, text, looks[look])
    return row + 1
