"""Drop-downs of the workbooks that a person fills in: the words a column offers, and where the long lists go."""

from collections.abc import Mapping
from itertools import zip_longest
from typing import Any

from xlsxwriter.format import Format
from xlsxwriter.utility import xl_col_to_name
from xlsxwriter.worksheet import Worksheet

from groundcheck.schema.columns import Column

LIST_LIMIT = 255  # characters of a drop-down that stands in its own rule; Microsoft, data validation
WORDS_SHEET = "Words"


def words_of(column: Column) -> list[str]:
    """The words that a cell of the column may hold; empty where any text or number may stand."""
    return list(column.accepted or {}) or (["yes", "no"] if column.kind == "yes_no" else [])


class DropDowns:
    """The drop-downs of a workbook; lists too long to stand in a cell's own rule go to a hidden sheet."""

    def __init__(self) -> None:
        self.lists: list[list[str]] = []

    def rule(self, words: list[str]) -> Mapping[str, Any]:
        """The data validation that offers the words, and lets other spellings pass after a warning."""
        return {
            "validate": "list",
            "source": self._source(words),
            "error_type": "warning",
            "error_title": "Not in the list",
            "error_message": "Other spellings are read where they are known.",
        }

    def _source(self, words: list[str]) -> list[str] | str:
        if len(",".join(words)) <= LIST_LIMIT:
            return words
        if words not in self.lists:
            self.lists.append(words)
        column = xl_col_to_name(self.lists.index(words))
        return f"={WORDS_SHEET}!${column}$1:${column}${len(words)}"

    def write(self, sheet: Worksheet, body: Format) -> None:
        """Fill the hidden sheet, a column a list."""
        sheet.set_column(0, max(len(self.lists) - 1, 0), 40, body)
        for row, words in enumerate(zip_longest(*self.lists)):  # row by row, as a workbook written in passing asks for
            for column, word in enumerate(words):
                if word is not None:
                    sheet.write_string(row, column, word)
        sheet.hide()
