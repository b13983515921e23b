"""The sheet Source rows: every row that a finding or the quarantine cites, as it was read, under its own headings."""

import re
from dataclasses import dataclass
from typing import Any

import pandas as pd
from xlsxwriter.utility import xl_col_to_name, xl_rowcol_to_cell
from xlsxwriter.worksheet import Worksheet

from groundcheck.report.rows import fetch
from groundcheck.report.workbook.looks import Looks
from groundcheck.report.workbook.table_sheet import ROW_LIMIT, Link, set_height, set_page, write_text
from groundcheck.store import Store

NAME = "Source rows"
_FIRST_CELL = 3  # column D holds column A of the source
_COLUMN_LIMIT = 16_384
_CELL = re.compile(r"([A-Z]{1,3})([0-9]+)")

Place = tuple[str, str, int]  # file, sheet, row of the source


@dataclass(frozen=True)
class Line:
    """One line to be: a row of a source, or the headings above a block of them."""

    place: Place
    cells: list[str | None]
    is_heading: bool


class SourceRows:
    """The lines in order, which cells of them are cited, and where each source row ends up."""

    def __init__(self, store: Store) -> None:
        self._turned = set(fetch(store, "SELECT file, sheet FROM raw.account WHERE turned"))
        self.cited = _cited_cells(store, self._turned)
        self.lines = _lines(store, list(self.cited))
        self.position = {line.place: number for number, line in enumerate(self.lines, 1) if not line.is_heading}

    def link(self, file: str | None, sheet: str | None, cell: str | None) -> Link | str | None:
        """The source in words, leading to the cell as it was read; plain text where that row is not shown."""
        words = " · ".join(part for part in (file, sheet, cell) if part)
        target = self.target(file, sheet, cell)
        return Link(words, target) if target else words or None

    def target(self, file: str | None, sheet: str | None, cell: str | None) -> str | None:
        """Where in this workbook the source cell is shown, if it is."""
        found = _row_and_column(cell, turned=(file, sheet) in self._turned)
        number = self.position.get((file or "", sheet or "", found[0])) if found else None
        if found is None or number is None or number >= ROW_LIMIT:
            return None
        return f"'{NAME}'!{xl_rowcol_to_cell(number, min(_FIRST_CELL + found[1], _COLUMN_LIMIT - 1))}"

    def write(self, sheet: Worksheet, looks: Looks) -> None:
        """Fill the sheet."""
        widest = max((len(line.cells) for line in self.lines), default=0)
        last = min(_FIRST_CELL + max(widest, 1), _COLUMN_LIMIT) - 1
        set_page(sheet, last)
        sheet.freeze_panes(1, _FIRST_CELL)
        sheet.set_column(0, 1, 30, looks["column"])
        sheet.set_column(2, 2, 9, looks["column"])
        sheet.set_column(_FIRST_CELL, last, 14, looks["column"])
        heads = ["file", "sheet", "row", *(f"column {xl_col_to_name(n)}" for n in range(last - _FIRST_CELL + 1))]
        for position, head in enumerate(heads):
            sheet.write_string(0, position, head, looks["head"])
        if not self.lines:
            sheet.write_string(1, 0, "No finding and no quarantined row cites a row of a file.", looks["quiet"])
            return
        sheet.autofilter(0, 0, min(len(self.lines), ROW_LIMIT - 1), last)
        for number, line in enumerate(self.lines[: ROW_LIMIT - 1], 1):
            self._write_line(sheet, looks, number, line)

    def _write_line(self, sheet: Worksheet, looks: Looks, number: int, line: Line) -> None:
        file, name, row = line.place
        look = looks["band" if line.is_heading else "text"]
        if line.is_heading:
            set_height(sheet, number, line.cells, [14.0] * len(line.cells))
        write_text(sheet, number, 0, file, look)
        write_text(sheet, number, 1, name, look)
        if line.is_heading:
            sheet.write_string(number, 2, "heading", look)
        else:
            sheet.write_number(number, 2, row, looks["number"])
        cited = self.cited.get(line.place, set()) if not line.is_heading else set()
        for column, text in enumerate(line.cells[: _COLUMN_LIMIT - _FIRST_CELL]):
            if column in cited:
                write_text(sheet, number, _FIRST_CELL + column, text or "", looks["cited"])
            elif text:
                write_text(sheet, number, _FIRST_CELL + column, text, look)


_CITED = """
    SELECT source_file AS file, sheet, cell, NULL AS "row" FROM audit.finding
    UNION SELECT source_file, sheet, cell, NULL FROM audit.evidence
    UNION SELECT file, sheet, cell, CASE WHEN cell IS NULL THEN "row" END FROM raw.quarantine
"""


def _row_and_column(cell: str | None, *, turned: bool) -> tuple[int, int] | None:
    """Row of the store and position in it of a cell; in a sheet that has a column an asset, its column is the row."""
    match = _CELL.fullmatch(cell or "")
    if match is None:
        return None
    row, column = int(match[2]), _column_number(match[1])
    return (column + 1, row - 1) if turned else (row, column)


def _cited_cells(store: Store, turned: set[tuple[Any, ...]]) -> dict[Place, set[int]]:
    cited: dict[Place, set[int]] = {}
    for file, sheet, cell, row in fetch(store, _CITED):
        found = (int(row), 0) if row is not None else _row_and_column(cell, turned=(file, sheet) in turned)
        if found:
            cited.setdefault((file or "", sheet or "", found[0]), set()).add(found[1])
    return cited


def _lines(store: Store, cited: list[Place]) -> list[Line]:
    query = """
        SELECT coalesce(r.file, ''), coalesce(r.sheet, ''), coalesce(r.region, 0), r."row", r.cells
        FROM raw.row r JOIN cited_rows c
          ON c.file = coalesce(r.file, '') AND c.sheet = coalesce(r.sheet, '') AND c."row" = r."row"
        ORDER BY ALL
    """
    headings = _headings(store)
    lines: list[Line] = []
    block: tuple[Any, ...] | None = None
    kinds = {"file": "str", "sheet": "str", "row": "int64"}  # told, as an empty frame has none
    store.connection.register("cited_rows", pd.DataFrame(cited, columns=list(kinds)).astype(kinds))
    try:
        rows = fetch(store, query)
    finally:
        store.connection.unregister("cited_rows")
    for file, sheet, region, row, cells in rows:
        if (file, sheet, region) != block:
            block = (file, sheet, region)
            lines.append(Line((file, sheet, 0), headings.get(block, []), is_heading=True))
        lines.append(Line((file, sheet, int(row)), list(cells or []), is_heading=False))
    return lines


def _headings(store: Store) -> dict[tuple[Any, ...], list[str | None]]:
    """The headings as written, by file, sheet and region, each under its own column letter."""
    headings: dict[tuple[Any, ...], list[str | None]] = {}
    query = """
        SELECT DISTINCT coalesce(file, ''), coalesce(sheet, ''), coalesce(region, 0), column_letter, heading
        FROM raw.column_map WHERE column_letter IS NOT NULL ORDER BY ALL
    """
    for file, sheet, region, letter, heading in fetch(store, query):
        if not re.fullmatch("[A-Z]{1,3}|[0-9]+", letter):
            continue
        row = headings.setdefault((file, sheet, region), [])
        column = int(letter) - 1 if letter.isdigit() else _column_number(letter)
        row.extend([None] * (column + 1 - len(row)))
        row[column] = heading
    return headings


def _column_number(letters: str) -> int:
    number = 0
    for letter in letters:
        number = 26 * number + ord(letter) - ord("A") + 1
    return number - 1
