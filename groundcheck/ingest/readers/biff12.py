"""
The records of an .xlsb workbook, as far as calamine passes over them: cells that hold errors, and cells far off.

Layouts: [MS-XLSB] 2.1.4 (record), 2.5.9 (Cell), 2.4.309 (BrtBundleSh); numbers of the records: 2.3.2 (recalled).
"""

import struct
from collections.abc import Iterator

import numpy as np

from groundcheck.ingest.readers.amended import Amended, Damaged
from groundcheck.ingest.readers.extents import choose_grid
from groundcheck.ingest.sheets import Position

_ROW, _BLANK, _TEXT, _RICH_TEXT, _END_OF_ROWS, _BUNDLE = 0, 1, 6, 62, 146, 156
_ERRORS = frozenset({3, 11})  # a cell, and the result of a formula
_CELLS = frozenset({*range(1, 12), _RICH_TEXT})
_NAMES = {0: "#NULL!", 7: "#DIV/0!", 15: "#VALUE!", 23: "#REF!", 29: "#NAME?", 36: "#NUM!", 42: "#N/A"}

# Number, start, start of the body, end.
Record = tuple[int, int, int, int]


def sheet_relations(workbook: bytes) -> dict[str, str]:
    """The relation of each sheet, by name."""
    names = {}
    for number, _, body, end in _records(workbook):
        if number == _BUNDLE:
            relation, at = _read_wide(workbook, body + 8)
            names[_read_wide(workbook, min(at, end))[0]] = relation
    return names


def amend_records(content: bytes) -> Amended | None:
    """
    The sheet with its errors as text and its far-off cells apart; None if it has neither.

    Raises
    ------
    Damaged
        A row stands above one before it.
    """
    rows: list[int] = []
    columns: list[int] = []
    row, errors = 0, False
    for number, _, body, _ in _records(content):
        if number == _ROW:
            row = _first_field(content, body)
        elif number in _CELLS and number != _BLANK:
            errors = errors or number in _ERRORS
            rows.append(row)
            columns.append(_first_field(content, body))
    if rows != sorted(rows):
        raise Damaged("the rows of a sheet are out of order")
    grid = choose_grid(np.array(rows, dtype=np.int64), np.array(columns, dtype=np.int64))
    if not errors and all(map(grid.holds, rows, columns)):
        return None
    kept: list[bytes] = []
    strays: dict[Position, bytes] = {}
    for number, start, body, end in _records(content):
        part = content[start:end]
        if number == _ROW:
            row = _first_field(content, body)
        elif number in _CELLS and number != _BLANK:
            column, rest = _first_field(content, body), content[body + 4 : end]
            if number in _ERRORS:
                number, rest = _TEXT, rest[:4] + _wide(_NAMES.get(rest[4], f"#ERROR {rest[4]}"))
                part = _record(number, content[body : body + 4] + rest)
            if not grid.holds(row, column):
                strays[row, column] = _record(number, bytes(4) + rest)
                continue
        kept.append(part)
    return Amended([b"".join(kept)], list(strays), _stray_sheet(content, list(strays.values())))


def _stray_sheet(content: bytes, cells: list[bytes]) -> bytes:
    """A sheet of far-off cells alone, one a row, in column A."""
    around = [
        (number, content[start:end]) for number, start, _, end in _records(content) if number not in _CELLS | {_ROW}
    ]
    rows = [_record(_ROW, struct.pack("<IIH3xI", row, 0, 300, 0)) + cell for row, cell in enumerate(cells)]
    ends = next((i for i, (number, _) in enumerate(around) if number == _END_OF_ROWS), len(around))
    return b"".join([part for _, part in around[:ends]] + rows + [part for _, part in around[ends:]])


def _records(content: bytes) -> Iterator[Record]:
    at, whole = 0, len(content)
    while at < whole:
        start, number = at, content[at]
        at += 1
        if number & 0x80 and at < whole:
            number = (number & 0x7F) | (content[at] & 0x7F) << 7
            at += 1
        size = shift = 0
        while at < whole and shift < 28:
            byte = content[at]
            at += 1
            size |= (byte & 0x7F) << shift
            shift += 7
            if not byte & 0x80:
                break
        yield number, start, at, min(at + size, whole)
        at += size


def _first_field(content: bytes, body: int) -> int:
    return int.from_bytes(content[body : body + 4], "little")


def _record(number: int, body: bytes) -> bytes:
    """A record whose number takes one byte."""
    size = len(body)
    groups = bytearray([number])
    while True:
        size, group = size >> 7, size & 0x7F
        groups.append(group | 0x80 if size else group)
        if not size:
            return bytes(groups) + body


def _wide(text: str) -> bytes:
    return struct.pack("<I", len(text)) + text.encode("utf-16-le")


def _read_wide(content: bytes, at: int) -> tuple[str, int]:
    stop = at + 4 + 2 * _first_field(content, at)
    return content[at + 4 : stop].decode("utf-16-le", errors="replace"), stop
