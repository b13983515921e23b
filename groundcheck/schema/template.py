"""The blank inventory workbook: a sheet a table, a heading a column, with the help that the models give."""

import io
from pathlib import Path

from xlsxwriter import Workbook
from xlsxwriter.format import Format
from xlsxwriter.utility import xl_col_to_name
from xlsxwriter.worksheet import Worksheet

from groundcheck.schema.columns import Column
from groundcheck.schema.inventory.registry import INVENTORY_TABLES
from groundcheck.schema.table import Table

ROWS = 1000  # rows for which a drop-down is laid down
LIST_LIMIT = 255  # characters of a drop-down that stands in its own rule; Microsoft, data validation
HELP_BY_KIND = {
    "key": "A tag. It need be unique in its station only.",
    "reference": "Its tag; an asset of another station is written STATION:TAG.",
    "references": "One tag or several, separated by semicolons; of another station STATION:TAG.",
    "vector_group": "IEC 60076-1 notation, such as YNd11, Dyn1 or YNyn0d11.",
    "size": "Such as 70 mm2, 2 x 95 mm2, 4/0 AWG, 300 kcmil or 40x5 mm.",
    "yes_no": "yes or no; blank if it is not known.",
    "date": "A date, or text such as 2024-03-31.",
    "places": "Places separated by semicolons; none if there are none, blank if it is not known.",
    "count": "A whole number.",
    "text": "Text.",
}


def template_heading(column: Column) -> str:
    """The heading of a column: its name, and its unit in brackets."""
    name = column.name.replace("_", " ")
    return f"{name} ({column.unit})" if column.unit else name


def column_help(column: Column) -> str:
    """All that a person filling in the column needs to know."""
    lines = [column.description, "Required." if column.required else "May be blank: then not on record."]
    if column.kind == "quantity":
        lines.append(f"A number in {column.unit}, or with its unit." if column.unit else "A number.")
    elif column.kind != "choice":
        lines.append(HELP_BY_KIND[column.kind])
    if column.limits:
        lines.append(f"Limits: {column.limits}.")
    if column.accepted:
        lines.append(f"One of: {', '.join(column.accepted)}.")
    return "\n".join(lines)


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
        font = {"font_name": "Arial", "font_size": 9}
        plain = {"bold": False, "bg_color": "#DCE3EA", "border": 1, "border_color": "#FFFFFF", "text_wrap": True}
        head = book.add_format(font | plain)
        required = book.add_format(font | plain | {"bold": True, "bg_color": "#33475B", "font_color": "#FFFFFF"})
        body = book.add_format(font | {"text_wrap": True, "valign": "top"})
        title = book.add_format(font | {"bold": True, "font_size": 15, "font_color": "#33475B"})
        _write_explanation(book.add_worksheet("Explanation"), title, body)
        long_lists = _LongLists()
        for name, model in INVENTORY_TABLES.items():
            _write_table(book.add_worksheet(name.replace("_", " ")), model, long_lists, (head, required, body))
        long_lists.write(book.add_worksheet("Words"), body)
    Path(path).write_bytes(content.getvalue())


class _LongLists:
    """Drop-downs too long to stand in a cell's own rule: they go to a hidden sheet, a column a list."""

    def __init__(self) -> None:
        self.lists: list[list[str]] = []

    def source(self, words: list[str]) -> list[str] | str:
        """What a drop-down takes its words from."""
        if len(",".join(words)) <= LIST_LIMIT:
            return words
        if words not in self.lists:
            self.lists.append(words)
        column = xl_col_to_name(self.lists.index(words))
        return f"=Words!${column}$1:${column}${len(words)}"

    def write(self, sheet: Worksheet, body: Format) -> None:
        """Fill the hidden sheet."""
        for position, words in enumerate(self.lists):
            sheet.set_column(position, position, 40, body)
            sheet.write_column(0, position, words)
        sheet.hide()


def _write_table(
    sheet: Worksheet, model: type[Table], long_lists: _LongLists, formats: tuple[Format, Format, Format]
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
        words = list(column.accepted or {}) or (["yes", "no"] if column.kind == "yes_no" else [])
        if words:
            sheet.data_validation(
                *(1, position, ROWS, position),
                {
                    "validate": "list",
                    "source": long_lists.source(words),
                    "error_type": "warning",
                    "error_title": "Not in the list",
                    "error_message": "Other spellings are read where they are known.",
                },
            )


def _write_explanation(sheet: Worksheet, title: Format, body: Format) -> None:
    sheet.set_column(0, 0, 120, body)
    sheet.write_string(0, 0, "Inventory of grounding records", title)
    sentences = [
        "Each sheet holds one kind of asset, a row an asset. Dark headings must be filled in; every other cell may "
        "stay blank. What is blank is not taken as zero: it makes checks not assessable, and the report asks for it.",
        "A heading tells its unit in brackets. A bare number takes that unit; a number with another unit beside it, "
        "such as 11000 V, is converted. Point at a heading to see what it means.",
        "An asset is known by its station and its tag, so that T1 may stand in every station. An asset of another "
        "station is written STATION:TAG.",
        "Status tells what is in service; blank means that it is. Only what is in service is studied.",
        "Sheets that are not needed may stay empty or be deleted. Columns may stand in any order.",
        *(f"Sheet '{name.replace('_', ' ')}': {model.summary()}" for name, model in INVENTORY_TABLES.items()),
    ]
    for row, sentence in enumerate(sentences, 2):
        sheet.write_string(row, 0, sentence, body)
