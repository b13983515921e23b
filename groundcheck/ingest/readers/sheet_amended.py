"""An .xlsx sheet written anew: its errors as text, and apart from it the cells that stand far off the rest."""

import re
from collections.abc import Callable, Iterator
from typing import IO

import numpy as np

from groundcheck.ingest.readers.amended import Amended, Damaged
from groundcheck.ingest.readers.extents import Grid, choose_grid
from groundcheck.ingest.readers.marks import position
from groundcheck.ingest.readers.sheet_xml import column_number, read_blocks
from groundcheck.ingest.sheets import Position

_TAG = rb"<(?:\w+:)?"
_PLACED = re.compile(_TAG + rb"c\b[^>]*?\sr=[\"']([^\"']*)[\"'][^>]*?(?<!/)>(?!</)")
_ROW = re.compile(_TAG + rb"row\b[^>]*?\sr=[\"'](\d+)[\"']")
_NAME = re.compile(rb"([A-Z]{1,3})([1-9]\d{0,6})")
_ROWS, _COLUMNS = 1_048_576, 16_384  # of any sheet
_CELL = re.compile(_TAG + rb"c\b([^>]*[^/>])>(.*?)</(?:\w+:)?c>", re.S)
_ERROR = re.compile(rb"(" + _TAG + rb"c\b[^>]*?\st=)[\"']e[\"']")
_REFERENCE = re.compile(rb"(\sr=)[\"'][A-Z]{1,3}\d{1,7}[\"']")

# Opens the part for each pass over it.
Opener = Callable[[], IO[bytes]]


def find_grid(open_part: Opener) -> tuple[Grid, bool]:
    """
    The grid in which a sheet is read, and whether cells stand outside of it.

    Raises
    ------
    Damaged
        A row stands above one before it, or a cell beyond what any sheet has.
    """
    rows: list[np.ndarray[tuple[int], np.dtype[np.int64]]] = [np.array([], dtype=np.int64)]
    columns = [rows[0]]
    with open_part() as stream:
        for block in read_blocks(stream):
            if block.kind == "rows":
                found = [_NAME.fullmatch(name) for name in _PLACED.findall(block.content)]
                if not all(found) or any(not 0 < int(row) <= _ROWS for row in _ROW.findall(block.content)):
                    raise Damaged("a cell stands in no row or column that there is")
                rows.append(np.array([int(name[2]) - 1 for name in found if name], dtype=np.int64))
                columns.append(np.array([column_number(name[1]) for name in found if name], dtype=np.int64))
    down, across = np.concatenate(rows), np.concatenate(columns)
    if len(down) and (down.max() >= _ROWS or across.max() >= _COLUMNS):
        raise Damaged("a cell stands in no row or column that there is")
    if (np.diff(down) < 0).any():
        raise Damaged("the rows of a sheet are out of order")
    grid = choose_grid(down, across)
    return grid, bool(len(down)) and bool((down.max() >= grid.rows) or (across.max() >= grid.columns))


def amend_sheet(open_part: Opener, grid: Grid | None) -> Amended:
    """The sheet with its errors as text, and without the cells outside of a grid."""
    strays: dict[Position, bytes] = {}
    head, prefix = b"", b""
    if grid is not None:
        with open_part() as stream:
            for block in read_blocks(stream):
                head = block.content if block.kind == "head" else head
                if block.kind == "rows":
                    _apart(_as_text(block.content), grid, strays)
                prefix = block.prefix
        cells = [
            b"<%srow r='%d'>%s</%srow>" % (prefix, row, _REFERENCE.sub(b"\\1'A%d'" % row, cell, count=1), prefix)
            for row, cell in enumerate(strays.values(), 1)
        ]
        sheet = head + b"".join(cells) + b"</%ssheetData></%sworksheet>" % (prefix, prefix)
    return Amended(_rewritten(open_part, grid), list(strays), sheet if strays else b"")


def _rewritten(open_part: Opener, grid: Grid | None) -> Iterator[bytes]:
    with open_part() as stream:
        for block in read_blocks(stream):
            if block.kind != "rows":
                yield block.content
            elif grid is None:
                yield _as_text(block.content)
            else:
                yield _apart(_as_text(block.content), grid, {})


def _as_text(content: bytes) -> bytes:
    """Calamine gives no error as a value, and gives up a sheet over one that it does not know."""
    return _ERROR.sub(rb'\1"str"', content)


def _apart(content: bytes, grid: Grid, strays: dict[Position, bytes]) -> bytes:
    def keep(cell: re.Match[bytes]) -> bytes:
        where = position(cell[1])
        if where is None or grid.holds(*where):
            return cell[0]
        strays[where] = cell[0]
        return b""

    return _CELL.sub(keep, content)
