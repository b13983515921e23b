"""
A workbook in BIFF12, the binary form that Excel calls .xlsb: inline strings, numbers, truth values and errors.

Records and their layouts: [MS-XLSB], sections 2.1.4 (record), 2.4.309 BrtBundleSh, 2.4.744 BrtRowHdr, 2.4.829
BrtWsDim, 2.5.9 Cell, 2.5.97.2 BErr (section numbers recalled).
"""

import io
import struct
import zipfile
from typing import Any

_TYPES = """<?xml version="1.0" encoding="UTF-8" standalone="yes"?>
<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">
<Default Extension="bin" ContentType="application/vnd.ms-excel.sheet.binary.macroEnabled.main"/>
<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>{sheets}</Types>"""
_TYPE = '<Override PartName="/xl/worksheets/sheet{n}.bin" ContentType="application/vnd.ms-excel.worksheet"/>'
_RELATIONS = """<?xml version="1.0" encoding="UTF-8" standalone="yes"?>
<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">{relations}</Relationships>"""
_RELATION = (
    '<Relationship Id="rId{n}" Target="{target}"'
    ' Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/{kind}"/>'
)
_ERRORS = {"#NULL!": 0, "#DIV/0!": 7, "#VALUE!": 15, "#REF!": 23, "#NAME?": 29, "#NUM!": 36, "#N/A": 42}

# Record types, [MS-XLSB] 2.3.2.
_ROW, _BLANK, _ERROR, _BOOL, _REAL, _STRING = 0, 1, 3, 4, 5, 6
_BEGIN_SHEET, _END_SHEET, _BEGIN_BOOK, _END_BOOK = 129, 130, 131, 132
_BEGIN_BUNDLE, _END_BUNDLE, _BEGIN_DATA, _END_DATA, _DIMENSION, _BUNDLE = 143, 144, 145, 146, 148, 156


def xlsb_bytes(sheets: dict[str, list[list[Any]]], stray: dict[tuple[int, int], Any] | None = None) -> bytes:
    """The workbook; `stray` holds cells of the last sheet that stand far from its rows, by (row, column)."""
    file = io.BytesIO()
    numbers = range(1, len(sheets) + 1)
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("[Content_Types].xml", _TYPES.format(sheets="".join(_TYPE.format(n=n) for n in numbers)))
        book = _RELATION.format(n=1, target="xl/workbook.bin", kind="officeDocument")
        archive.writestr("_rels/.rels", _RELATIONS.format(relations=book))
        parts = "".join(_RELATION.format(n=n, target=f"worksheets/sheet{n}.bin", kind="worksheet") for n in numbers)
        archive.writestr("xl/_rels/workbook.bin.rels", _RELATIONS.format(relations=parts))
        archive.writestr("xl/workbook.bin", _workbook(list(sheets)))
        for number, rows in zip(numbers, sheets.values(), strict=True):
            cells = {(r, c): cell for r, row in enumerate(rows) for c, cell in enumerate(row)}
            far = stray if stray and number == len(sheets) else {}
            archive.writestr(f"xl/worksheets/sheet{number}.bin", _sheet(cells | far))
    return file.getvalue()


def _workbook(names: list[str]) -> bytes:
    bundles = b"".join(
        _record(_BUNDLE, struct.pack("<II", 0, n) + _wide(f"rId{n}") + _wide(name)) for n, name in enumerate(names, 1)
    )
    bundle = _record(_BEGIN_BUNDLE) + bundles + _record(_END_BUNDLE)
    return _record(_BEGIN_BOOK) + bundle + _record(_END_BOOK)


def _sheet(cells: dict[tuple[int, int], Any]) -> bytes:
    last_row = max((row for row, _ in cells), default=0)
    last_column = max((column for _, column in cells), default=0)
    parts = [_record(_BEGIN_SHEET), _record(_DIMENSION, struct.pack("<IIII", 0, last_row, 0, last_column))]
    parts.append(_record(_BEGIN_DATA))
    current = -1
    for (row, column), cell in sorted(cells.items()):
        if row != current:
            current = row
            # Row, format, height of 15 points, flags, one span of columns.
            parts.append(_record(_ROW, struct.pack("<IIH3xIII", row, 0, 300, 1, 0, last_column)))
        parts.append(_cell(column, cell))
    return b"".join([*parts, _record(_END_DATA), _record(_END_SHEET)])


def _cell(column: int, cell: Any) -> bytes:
    head = struct.pack("<II", column, 0)
    if cell is None:
        return _record(_BLANK, head)
    if isinstance(cell, bool):
        return _record(_BOOL, head + bytes([cell]))
    if isinstance(cell, int | float):
        return _record(_REAL, head + struct.pack("<d", cell))
    if cell in _ERRORS:
        return _record(_ERROR, head + bytes([_ERRORS[cell]]))
    return _record(_STRING, head + _wide(cell))


def _wide(text: str) -> bytes:
    """XLWideString: the count of UTF-16 units, then the text."""
    encoded = text.encode("utf-16-le")
    return struct.pack("<I", len(encoded) // 2) + encoded


def _record(number: int, content: bytes = b"") -> bytes:
    """A record: type and size in groups of seven bits, the lowest first."""
    return _seven_bits(number) + _seven_bits(len(content)) + content


def _seven_bits(number: int) -> bytes:
    groups = bytearray()
    while True:
        number, group = number >> 7, number & 0x7F
        groups.append(group | 0x80 if number else group)
        if not number:
            return bytes(groups)
