"""The blank inventory workbook: a sheet a table, a heading a column, with the help that the models give."""

import io
from pathlib import Path

from xlsxwriter import Workbook
from xlsxwriter.format import Format
from xlsxwriter.worksheet import Worksheet

from groundcheck.own_files import TEMPLATE
from groundcheck.schema.column_help import column_help
from groundcheck.schema.columns import Column
from groundcheck.schema.drop_downs import WORDS_SHEET, DropDowns, words_of
from groundcheck.schema.inventory.registry import INVENTORY_TABLES
from groundcheck.schema.table import Table

EXPLANATION_SHEET = "Explanation"
ROWS = 1000  # rows for which a drop-down is laid down


def template_heading(column: Column) -> str:
    """The heading of a column: its name, and its unit in brackets."""
    name = column.name.replace("_", " ")
    return f"{name} ({column.unit})" if column.unit else name


def write_template(path: str | Path) -> None:
    """
    Write the blank inventory workbook.

    Raises
    ------
    OSError
        The file can't be written.
    """
    content = io.BytesIO()
    with Workbook(content, {"in_memory": True}) as book:
        book.set_properties({"title": "Inventory of grounding records", "category": TEMPLATE})
        font = {"font_name": "Arial", "font_size": 9}
        plain = {"bold": False, "bg_color": "#DCE3EA", "border": 1, "border_color": "#FFFFFF", "text_wrap": True}
        head = book.add_format(font | plain)
        required = book.add_format(font | plain | {"bold": True, "bg_color": "#33475B", "font_color": "#FFFFFF"})
        body = book.add_format(font | {"text_wrap": True, "valign": "top"})
        title = book.add_format(font | {"bold": True, "font_size": 15, "font_color": "#33475B"})
        _write_explanation(book.add_worksheet(EXPLANATION_SHEET), title, body)
        drop_downs = DropDowns()
        for name, model in INVENTORY_TABLES.items():
            _write_table(book.add_worksheet(name.replace("_", " ")), model, drop_downs, (head, required, body))
        drop_downs.write(book.add_worksheet(WORDS_SHEET), body)
    Path(path).write_bytes(content.getvalue())


def _write_table(
    sheet: Worksheet, model: type[Table], drop_downs: DropDowns, formats: tuple[Format, Format, Format]
) -> None:
    head, required, body = formats
    sheet.freeze_panes(1, len(model.key_columns()))
    sheet.set_row(0, 30)
    for position, column in enumerate(model.columns().values()):
        heading = template_heading(column)
        sheet.set_column(position, position, max(12, min(len(heading) + 2, 24)), body)
        sheet.write_string(0, position, heading, required if column.required else head)
        help_text = column_help(column)
        size = {"width": 300, "height": 40 + 16 * sum(1 + len(line) // 48 for line in help_text.split("\n"))}
        sheet.write_comment(0, position, help_text, size)
        words = words_of(column)
        if words:
            sheet.data_validation(*(1, position, ROWS, position), drop_downs.rule(words))


def _write_explanation(sheet: Worksheet, title: Format, body: Format) -> None:
    sheet.set_column(0, 0, 120, body)
    sheet.write_string(0, 0, "Inventory of grounding records", title)
    sentences = [
        "Each sheet holds one kind of asset, a row an asset. Dark headings must be filled in; every other cell may "
        "stay blank. What is blank is not taken as zero: it makes checks not assessable, and the report asks for it.",
        "A heading tells its unit in brackets. A bare number takes that unit; a number with another unit beside it, "
        "such as 11000 V, is converted. Point at a heading to see what it means, with an example.",
        "An asset is known by its station and its tag, so that T1 may stand in every station. An asset of another "
        "station is written STATION:TAG.",
        "Status tells what is in service; blank means that it is. Only what is in service is studied.",
        "Sheets that are not needed may stay empty or be deleted. Columns may stand in any order.",
        *(f"Sheet '{name.replace('_', ' ')}': {model.summary()}" for name, model in INVENTORY_TABLES.items()),
    ]
    for row, sentence in enumerate(sentences, 2):
        sheet.write_string(row, 0, sentence, body)
