"""The sheet Source rows: every row that a finding or the quarantine cites, as it was read, under its own headings."""

import re
from collections.abc import Iterator
from itertools import islice
from typing import Any

import pandas as pd
from xlsxwriter.utility import xl_col_to_name, xl_rowcol_to_cell

from groundcheck.report.rows import fetch, stream
from groundcheck.report.workbook import table_sheet
from groundcheck.report.workbook.cells import Link, row_height
from groundcheck.report.workbook.looks import Looks
from groundcheck.report.workbook.page import set_page
from groundcheck.report.workbook.quick_sheet import QuickSheet, xf_index
from groundcheck.report.workbook.row_text import escaped
from groundcheck.store import Store

NAME = "Source rows"
_FIRST_CELL = 3  # column D holds column A of the source
_COLUMN_LIMIT = 16_384
_CELL_WIDTH = 14.0
_PLACE_WIDTHS = (34.0, 24.0, 9.0)
_CELL = re.compile(r"([A-Z]{1,3})([0-9]+)")

Sheet = tuple[str, str]  # file and sheet of the source
Block = tuple[str, str, int]  # and the table in the sheet

_CITED = """
    SELECT source_file AS file, sheet, cell, NULL AS "row" FROM audit.finding
    UNION SELECT file, sheet, cell, CASE WHEN cell IS NULL THEN "row" END FROM raw.quarantine
"""
_CITED_BY_EVIDENCE = "UNION SELECT source_file, sheet, cell, NULL FROM audit.evidence WHERE {}"


class SourceRows:
    """
    Where each cited row ends up, and which of its cells are cited.

    `evidence` is the condition on the evidence whose cells are shown; what findings and quarantine cite always is, as
    far as the sheet goes.
    """

    def __init__(self, store: Store, evidence: str = "TRUE") -> None:
        self._store = store
        self._turned = set(fetch(store, "SELECT file, sheet FROM raw.account WHERE turned"))
        self._cited = self._cells(_CITED + _CITED_BY_EVIDENCE.format(evidence))
        if sum(map(len, self._cited.values())) > table_sheet.ROWS_SHOWN:
            self._cited = self._cells(_CITED)
        self._headings = _headings(store)
        self._widest = max((len(row) for row in self._headings.values()), default=0)
        self._places: dict[Sheet, dict[int, int]] = {}
        self.size = 0
        block: Block | None = None
        for file, sheet, region, row, width in self._rows("length(r.cells)"):
            self.size += 1 + ((file, sheet, region) != block)
            block = (file, sheet, region)
            if self.size <= table_sheet.ROWS_SHOWN:
                self._places.setdefault((file, sheet), {})[row] = self.size
                self._widest = max(self._widest, width or 0)

    @property
    def left_out(self) -> str | None:
        """What the sheet does not hold, in words."""
        more = self.size - table_sheet.ROWS_SHOWN
        return f"{more:,} more lines are not on this sheet; raw.row of the store holds them." if more > 0 else None

    def cell_link(self, file: str | None, sheet: str | None, cell: str | None) -> Link | str | None:
        """The name of the cell, leading to it as it was read; plain text where its row is not shown."""
        target = self.target(file, sheet, cell)
        return Link(cell, target) if cell and target else cell

    def target(self, file: str | None, sheet: str | None, cell: str | None) -> str | None:
        """Where in this workbook the source cell is shown, if it is."""
        found = _row_and_column(cell, turned=(file, sheet) in self._turned)
        number = self._places.get((file or "", sheet or ""), {}).get(found[0]) if found else None
        if found is None or number is None:
            return None
        return f"'{NAME}'!{xl_rowcol_to_cell(number, min(_FIRST_CELL + found[1], _COLUMN_LIMIT - 1))}"

    def write(self, sheet: QuickSheet, looks: Looks) -> None:
        """Fill the sheet."""
        last = min(_FIRST_CELL + max(self._widest, 1), _COLUMN_LIMIT) - 1
        sheet.freeze_panes(1, _FIRST_CELL)
        widths = [*_PLACE_WIDTHS, *[_CELL_WIDTH] * (last + 1 - _FIRST_CELL)]
        set_page(sheet, last, widths, kept_columns=_FIRST_CELL)
        for position, width in enumerate(widths[:_FIRST_CELL]):
            sheet.set_column(position, position, width, looks["column"])
        sheet.set_column(_FIRST_CELL, last, _CELL_WIDTH, looks["column"])
        heads = ["file", "sheet", "row", *(f"column {xl_col_to_name(n)}" for n in range(last - _FIRST_CELL + 1))]
        for position, head in enumerate(heads):
            sheet.write_string(0, position, head, looks["head"])
        if not self.size:
            sheet.write_string(1, 0, "No finding and no quarantined row cites a row of a file.", looks["quiet"])
            return
        shown = min(self.size, table_sheet.ROWS_SHOWN)
        sheet.autofilter(0, 0, shown, last)
        lines = _Lines(sheet, looks, last)
        for number, (file, name, row, cells, cited) in enumerate(islice(self._lines(), shown), 1):
            lines.put(number, (file, name, row), cells, cited)
        if self.left_out:
            sheet.write_string(shown + 1, 0, self.left_out, looks["warning_line"])

    def _lines(self) -> Iterator[tuple[str, str, int | None, list[str | None], int]]:
        """File, sheet, row, cells and the cited ones of them, a bit each; headings have no row."""
        block: Block | None = None
        for file, name, region, row, cells in self._rows("r.cells"):
            if (file, name, region) != block:
                block = (file, name, region)
                yield file, name, None, self._headings.get(block, []), 0
            yield file, name, row, list(cells or []), self._cited[file, name].get(row, 0)

    def _rows(self, what: str) -> Iterator[tuple[str, str, int, int, Any]]:
        """The cited rows that were read, in the order of the sheet, with something of each."""
        places = [(file, sheet, row) for (file, sheet), rows in self._cited.items() for row in rows]
        kinds = {"file": "str", "sheet": "str", "row": "int64"}  # told, as an empty frame has none
        query = f"""
            SELECT coalesce(r.file, ''), coalesce(r.sheet, ''), coalesce(r.region, 0), r."row", {what}
            FROM raw.row r JOIN cited_rows c
              ON c.file = coalesce(r.file, '') AND c.sheet = coalesce(r.sheet, '') AND c."row" = r."row"
            ORDER BY 1, 2, 3, 4, r.raw_row
        """
        frame = pd.DataFrame(places, columns=list(kinds)).astype(kinds)
        yield from stream(self._store, query, {"cited_rows": frame})

    def _cells(self, query: str) -> dict[Sheet, dict[int, int]]:
        """By sheet and row, the cited cells, a bit each."""
        cited: dict[Sheet, dict[int, int]] = {}
        for file, sheet, cell, row in stream(self._store, query):
            turned = (file, sheet) in self._turned
            found = (int(row), 0) if row is not None else _row_and_column(cell, turned=turned)
            if found:
                rows = cited.setdefault((file or "", sheet or ""), {})
                rows[found[0]] = rows.get(found[0], 0) | 1 << min(found[1], _COLUMN_LIMIT)
        return cited


class _Lines:
    """The lines being written; the cells of a line have few formats, and are many."""

    def __init__(self, sheet: QuickSheet, looks: Looks, last: int) -> None:
        self._sheet = sheet
        self._letters = [xl_col_to_name(position) for position in range(last + 1)]
        self._styles = {name: xf_index(looks[name]) for name in ("text", "band", "cited", "number")}

    def put(self, number: int, place: tuple[str, str, int | None], cells: list[str | None], cited: int) -> None:
        """A line of the sheet."""
        file, name, row = place
        heading = row is None
        look = "band" if heading else "text"
        parts = [self._text(number, 0, file, look), self._text(number, 1, name, look)]
        if heading:
            parts.append(self._text(number, 2, "heading", look))
        else:
            parts.append(f'<c r="C{number + 1}" s="{self._styles["number"]}"><v>{row}</v></c>')
        shown = cells[: len(self._letters) - _FIRST_CELL]
        for column, text in enumerate(shown):
            is_cited = cited >> column & 1
            if text or is_cited:
                parts.append(self._text(number, _FIRST_CELL + column, text or "", "cited" if is_cited else look))
        widths: list[float | None] = [*_PLACE_WIDTHS, *[_CELL_WIDTH] * len(cells)]
        height = row_height([file, name, None, *cells], widths) if heading else None
        self._sheet.put_row(number, "".join(parts), _FIRST_CELL + max(len(shown), 1) - 1, height)

    def _text(self, number: int, column: int, text: str, look: str) -> str:
        start = f'<c r="{self._letters[column]}{number + 1}" s="{self._styles[look]}"'
        return f'{start} t="inlineStr"><is><t{escaped(text)}</t></is></c>'


def _row_and_column(cell: str | None, *, turned: bool) -> tuple[int, int] | None:
    """Row of the store and position in it of a cell; in a sheet that has a column an asset, its column is the row."""
    match = _CELL.fullmatch(cell or "")
    if match is None:
        return None
    row, column = int(match[2]), _column_number(match[1])
    return (column + 1, row - 1) if turned else (row, column)


def _headings(store: Store) -> dict[Block, list[str | None]]:
    """The headings as written, by file, sheet and region, each under its own column letter."""
    headings: dict[Block, list[str | None]] = {}
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
