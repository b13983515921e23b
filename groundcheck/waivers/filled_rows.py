"""The rows of Exceptions and of the sheets by district in a workbook, whatever columns were added or moved."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from python_calamine import CalamineError, CalamineWorkbook

from groundcheck.own_files import WORKBOOK_SHEETS
from groundcheck.waivers.marks import AS_WRITTEN, EXCEPTIONS_SHEET, FILLED_IN, FINDING, RowMark, read_row_mark

_SEARCHED = 20  # rows: a person may have put lines of their own above the headings


@dataclass(frozen=True)
class FilledRow:
    """One row: where it is, its finding, the four cells as they are, the mark, and the column letters by heading."""

    sheet: str
    number: int
    finding: str
    values: dict[str, Any]
    mark: RowMark | None
    letters: dict[str, str]

    def text(self, head: str) -> str | None:
        """A cell as text, without blanks around it; None if nothing is in it."""
        value = self.values[head]
        if isinstance(value, float) and value.is_integer():
            value = int(value)
        if isinstance(value, datetime):
            value = value.date()
        return str(value).strip() or None


def find_rows(book: CalamineWorkbook) -> list[FilledRow] | None:
    """
    The rows under the headings, those of Exceptions first; None if that sheet or one of its headings is not there.

    Any sheet with these headings counts, such as one of a district, whatever it is named now; the other sheets that a
    workbook always has are not looked at, as some are long.
    """
    if EXCEPTIONS_SHEET not in book.sheet_names:
        return None
    rows = _rows_of(book, EXCEPTIONS_SHEET)
    if rows is None:
        return None
    for name in book.sheet_names:
        if name not in WORKBOOK_SHEETS:
            rows += _rows_of(book, name) or []
    return rows


def _rows_of(book: CalamineWorkbook, sheet: str) -> list[FilledRow] | None:
    try:
        cells = book.get_sheet_by_name(sheet).to_python(skip_empty_area=False)
    except CalamineError:  # a sheet of charts alone
        return None
    wanted = (FINDING, *FILLED_IN, AS_WRITTEN)
    for index, row in enumerate(cells[:_SEARCHED]):
        heads = [str(cell).strip().casefold() for cell in row]
        if all(head in heads for head in wanted):
            places = {head: heads.index(head) for head in wanted}
            return _rows_below(sheet, cells, index, places)
    return None


def _rows_below(sheet: str, cells: list[list[Any]], heading: int, places: dict[str, int]) -> list[FilledRow]:
    letters = {head: _letters(place) for head, place in places.items()}
    rows = []
    for index, row in enumerate(cells[heading + 1 :], heading + 1):
        values = {head: row[places[head]] for head in FILLED_IN}
        mark = read_row_mark(str(row[places[AS_WRITTEN]]))
        rows.append(FilledRow(sheet, index + 1, str(row[places[FINDING]]).strip(), values, mark, letters))
    return rows


def place_of(row: FilledRow, head: str) -> str:
    """The cell in words, as 'sheet Exceptions, cell T5'."""
    return f"sheet {row.sheet}, cell {cell_of(row, head)}"


def cell_of(row: FilledRow, head: str) -> str:
    """The cell of a row under a heading, as 'T5'."""
    return f"{row.letters[head]}{row.number}"


def _letters(place: int) -> str:
    name = ""
    place += 1
    while place:
        place, rest = divmod(place - 1, 26)
        name = chr(65 + rest) + name
    return name
