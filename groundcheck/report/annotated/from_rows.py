"""A marked workbook made from the rows as they were read, for a source that is no workbook of today."""

from collections.abc import Mapping, Sequence
from pathlib import Path

from openpyxl.utils.cell import coordinate_to_tuple, get_column_letter
from xlsxwriter import Workbook
from xlsxwriter.worksheet import Worksheet

from groundcheck.own_files import REPORT
from groundcheck.report.annotated.comment import AUTHOR, comment_size, comment_text, tint
from groundcheck.report.annotated.notes import Note
from groundcheck.report.annotated.places import Places
from groundcheck.report.rows import fetch
from groundcheck.report.sheet_names import distinct_sheet_names
from groundcheck.report.workbook.table_sheet import ROW_LIMIT, write_text
from groundcheck.store import Store

COLUMN_LIMIT = 16_384  # columns of one sheet; Microsoft, 'Excel specifications and limits'

Grid = dict[int, dict[int, str]]  # row and column, both from 1


def write_from_rows(
    store: Store, file: str, target: Path, notes: Mapping[str, Mapping[str, Sequence[Note]]]
) -> list[str]:
    """Lay the cells out where they stood and mark them; tell what does not fit on a sheet."""
    query = "SELECT sheet FROM raw.row WHERE file = ? GROUP BY sheet ORDER BY min(raw_row)"
    wanted = [sheet for (sheet,) in fetch(store, query, [file])]
    wanted += [sheet for sheet in notes if sheet not in wanted]
    remarks = []
    with Workbook(str(target), {"constant_memory": True, "tmpdir": str(target.parent)}) as book:
        book.set_properties({"category": REPORT})
        for sheet, name in zip(wanted, distinct_sheet_names(wanted), strict=True):
            grid = _grid(store, file, sheet)
            over = sum(row > ROW_LIMIT or any(column > COLUMN_LIMIT for column in grid[row]) for row in grid)
            if over:
                remarks.append(f"sheet {sheet}: {over:,} rows reach beyond what a sheet holds and are not shown there")
            _write_sheet(book, book.add_worksheet(name), grid, notes.get(sheet, {}))
    return remarks


def _grid(store: Store, file: str, sheet: str) -> Grid:
    """The cells in place; a row that holds cells of several tables was entered once for each."""
    turned = Places(store).is_turned(file, sheet)
    grid: Grid = {}
    query = 'SELECT "row", cells FROM raw.row WHERE file = ? AND sheet = ? ORDER BY raw_row'
    for row, cells in fetch(store, query, [file, sheet]):
        for column, text in enumerate(cells or [], 1):
            if text is not None:
                place = (column, row) if turned else (row, column)
                grid.setdefault(place[0], {})[place[1]] = text
    return grid


def _write_sheet(book: Workbook, sheet: Worksheet, grid: Grid, notes: Mapping[str, Sequence[Note]]) -> None:
    by_place: dict[tuple[int, int], list[Note]] = {}
    for cell, told in notes.items():
        by_place.setdefault(coordinate_to_tuple(cell.partition(":")[0]), []).extend(told)
    for row, column in by_place:
        grid.setdefault(row, {}).setdefault(column, "")
    marks = {colour: book.add_format({"bg_color": colour}) for colour in {tint(told) for told in by_place.values()}}
    widest = max((column for cells in grid.values() for column in cells), default=1)
    sheet.ignore_errors({"number_stored_as_text": f"A1:{get_column_letter(min(widest, COLUMN_LIMIT))}{ROW_LIMIT}"})
    sheet.set_comments_author(AUTHOR)
    for row in sorted(grid):
        for column, text in sorted(grid[row].items()):
            if row > ROW_LIMIT or column > COLUMN_LIMIT:
                continue
            told = by_place.get((row, column), [])
            look = marks[tint(told)] if told else None
            if text:
                write_text(sheet, row - 1, column - 1, text, look)
            else:
                sheet.write_blank(row - 1, column - 1, None, look)
            if told:
                comment = comment_text(told)
                width, height = comment_size(comment)
                sheet.write_comment(row - 1, column - 1, comment, {"width": width, "height": height})
