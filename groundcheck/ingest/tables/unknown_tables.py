"""Headings of a table that nobody knows, standing apart under a table that is known."""

import re
from typing import Any

import numpy as np

from groundcheck.ingest.sheets import Sheet, is_blank
from groundcheck.ingest.tables.heading_score import is_number
from groundcheck.ingest.tables.note_words import NOTE, REVISION_WORDS, TOTAL
from groundcheck.ingest.values.cell_text import says_none, says_nothing, tidy

_LONGEST = 40  # letters of a heading
_FEWEST = 3  # headings of a table without a title
_SAMPLE = 50  # rows of the table above that are compared
_NOT_HEADINGS = re.compile(f"{TOTAL}|{NOTE}", re.I)
_MOSTLY = 0.5


def looks_like_headings(sheet: Sheet, row: int, headings: dict[int, str], body: range) -> bool:
    """
    Whether a row after a blank one is the headings of a table unlike the one above.

    Its cells are words where the table above has numbers, or stand outside it, or under a title of their own; none
    of them stands in the table above, and a record follows. Signatures, revisions and totals are none.
    """
    cells = {column: cell for column, cell in enumerate(sheet.rows[row]) if not is_blank(cell)}
    titled = row > 1 and sheet.filled[row - 1].sum() == 1 and not sheet.filled[row - 2].any()
    if len(cells) < (2 if titled else _FEWEST) or not all(map(_is_word, cells.values())):
        return False
    texts = [str(cell).strip() for cell in cells.values()]
    if len(set(texts)) < len(texts) or _NOT_HEADINGS.match(texts[0]):
        return False
    if sum(text.casefold().strip(" :") in REVISION_WORDS for text in texts) >= _MOSTLY * len(texts):
        return False
    if row + 1 >= len(sheet.rows) or sheet.filled[row + 1].sum() < 2:
        return False
    if titled and _NOT_HEADINGS.match(_first(sheet.rows[row - 1])):
        return False
    above = [i for i in body if sheet.filled[i].sum() > 1][-_SAMPLE:]
    if any(_cell(sheet, i, column) == cell for i in above for column, cell in cells.items()):
        return False
    outside = [column for column in cells if column not in headings]
    under_numbers = [column for column in cells if _is_numeric([_cell(sheet, i, column) for i in above])]
    return titled or bool(outside or under_numbers)


def _is_word(cell: Any) -> bool:
    return (
        type(cell) is str
        and len(cell) <= _LONGEST
        and not is_number(cell)
        and not (says_nothing(tidy(cell)) or says_none(tidy(cell)))
        and sum(map(str.isdigit, cell)) <= 1
    )


def _is_numeric(cells: list[Any]) -> bool:
    filled = [cell for cell in cells if not is_blank(cell)]
    numbers = [isinstance(cell, int | float) or (isinstance(cell, str) and is_number(cell)) for cell in filled]
    return bool(filled) and float(np.mean(numbers)) > _MOSTLY


def _cell(sheet: Sheet, row: int, column: int) -> Any:
    return sheet.rows[row][column] if column < len(sheet.rows[row]) else None


def _first(cells: list[Any]) -> str:
    return next((str(cell) for cell in cells if not is_blank(cell)), "")
