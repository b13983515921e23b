"""
What calamine does not tell of an .xlsx sheet: hidden and struck rows, formulas without results, errors, extent.

Plain searches of bytes decide whether a block of rows holds any of it; only such a block is looked at closely.
"""

import html
import re
from dataclasses import dataclass, field
from typing import IO

from openpyxl.formula.tokenizer import TokenizerError
from openpyxl.formula.translate import Translator, TranslatorError

from groundcheck.ingest.readers.sheet_xml import Block, column_number, read_blocks
from groundcheck.ingest.sheets import Position, cell_name, column_letter

_TAG = rb"<(?:\w+:)?"
_ROW = re.compile(_TAG + rb"row\b([^>]*)>")
_WHOLE_ROW = re.compile(_TAG + rb"row\b([^>]*[^/>])>(.*?)</(?:\w+:)?row>", re.S)
_FILLED = re.compile(_TAG + rb"c\b([^>]*[^/>])>(?!</)")
_COLUMN = re.compile(_TAG + rb"col\b([^>]*)>")
# A cell whose formula is followed by no value, an empty one, or nought.
_FORMULA = re.compile(
    _TAG + rb"c\b([^>]*[^/>])>\s*" + _TAG + rb"f\b(?:([^>]*)/>|([^>]*)>([^<]*)</(?:\w+:)?f>)\s*"
    rb"(" + _TAG + rb"v\s*/>|" + _TAG + rb"v>(?:\s*|0)</(?:\w+:)?v>)?\s*</(?:\w+:)?c>"
)
_SHARED = re.compile(
    _TAG + rb"c\b([^>]*[^/>])>\s*" + _TAG + rb"f\b([^>]*\bt=[\"']shared[\"'][^>]*[^/>])>([^<]+)</(?:\w+:)?f>"
)
_NAME = re.compile(rb"([A-Z]{1,3})(\d{1,7})")
_SAMPLED = 8  # one block in so many has its cells counted


@dataclass
class Marks:
    """What one sheet holds beside its values; positions count from 0."""

    hidden_rows: set[int] = field(default_factory=set)
    hidden_columns: list[range] = field(default_factory=list)
    struck_rows: set[int] = field(default_factory=set)
    uncomputed: dict[Position, str] = field(default_factory=dict)
    errors: bool = False
    # The grid as declared; None where a cell stands beyond it, or nothing is declared.
    declared: tuple[int, int] | None = None
    cells: int = 0
    # Of the first filled cell in the file, and of the last one, which need not be the lowest.
    first_row: int | None = None
    last_row: int = 0


def read_marks(stream: IO[bytes], struck_styles: frozenset[int], recalculated: bool) -> Marks:
    """
    Read the marks of a sheet.

    `struck_styles` are the cell styles whose font is struck through. In a workbook that asks to be `recalculated` when
    it is opened, a formula whose stored result is nought was never computed: such is what libraries write.
    """
    marks = Marks()
    styles = b"|".join(str(style).encode() for style in sorted(struck_styles))
    struck = re.compile(rb"\bs=[\"'](?:" + styles + rb")[\"']") if styles else None
    shared: dict[bytes, tuple[str, str]] = {}
    beyond: re.Pattern[bytes] | None = None
    counted: list[int] = []
    number, quote = 0, b'"'
    for block in read_blocks(stream):
        content = block.content
        if block.kind == "head":
            _read_head(content, marks)
            quote = b"'" if re.search(rb"worksheet\b[^>]*='", content) else b'"'
            beyond = _beyond(*marks.declared, quote) if marks.declared else None
        if block.kind != "rows":
            continue
        number += 1
        if number % _SAMPLED == 1:
            counted.append(content.count(b"</" + block.prefix + b"c>"))
        if b" hidden=" + quote in content:
            _read_hidden_rows(content, marks)
        # One byte is found ten times as fast as two, and most sheets hold neither letter f nor number sign.
        if b"f" in content and b"<" + block.prefix + b"f" in content:
            _read_formulas(content, marks, shared, recalculated)
        if struck is not None and struck.search(content):
            _read_struck_rows(content, marks, struck)
        if not marks.errors:
            marks.errors = b"#" in content and b" t=" + quote + b"e" + quote in content
        if marks.declared and beyond and beyond.search(content):
            marks.declared = None
        first, last = _outer_rows(block)
        if marks.first_row is None:
            marks.first_row = first
        marks.last_row = marks.last_row if last is None else last + 1
    marks.cells = sum(counted) * number // max(len(counted), 1)
    return marks


def attribute(tag: bytes, name: bytes) -> bytes | None:
    """The value of an attribute of a tag."""
    found = re.search(rb"(?<![\w:])" + name + rb"\s*=\s*(?:\"([^\"]*)\"|'([^']*)')", tag)
    return None if found is None else found[1] if found[1] is not None else found[2]


def is_true(value: bytes | None) -> bool:
    """Whether an attribute of XML schema's boolean type is set."""
    return value in (b"1", b"true", b"on")


def position(tag: bytes) -> Position | None:
    """Where the tag of a cell says that it stands; None if it does not."""
    found = _NAME.fullmatch(attribute(tag, b"r") or b"")
    return (int(found[2]) - 1, column_number(found[1])) if found else None


def _read_head(head: bytes, marks: Marks) -> None:
    dimension = re.search(_TAG + rb"dimension\b([^>]*)>", head)
    if dimension:
        corner = _NAME.fullmatch((attribute(dimension[1], b"ref") or b"").rpartition(b":")[2])
        marks.declared = (int(corner[2]), column_number(corner[1]) + 1) if corner else None
    for column in _COLUMN.finditer(head):
        first, last = attribute(column[1], b"min") or b"", attribute(column[1], b"max") or b""
        if is_true(attribute(column[1], b"hidden")) and first.isdigit() and last.isdigit():
            marks.hidden_columns.append(range(int(first) - 1, int(last)))


def _beyond(height: int, width: int, quote: bytes) -> re.Pattern[bytes]:
    """Finds a cell in a column beyond the first `width`, or in a row of more digits than `height` has, or in row 0."""
    letters = column_letter(width - 1)
    far_down = f"0|[0-9]{{{len(str(height)) + 1}}}"
    after = [
        letters[:place] + f"[{chr(ord(letter) + 1)}-Za-z]" + "[A-Za-z]" * (len(letters) - place - 1)
        for place, letter in enumerate(letters)
        if letter < "Z"
    ]
    # Kept in one branch: an engine that backtracks tries each branch at each of a million cells.
    name = f"[A-Za-z]|{far_down}"
    for _ in letters[1:]:
        name = f"[A-Za-z](?:{name})|{far_down}"
    return re.compile(b" r=" + quote + "(?:{})".format("|".join([*after, f"[A-Za-z](?:{name})"])).encode())


def _outer_rows(block: Block) -> tuple[int | None, int | None]:
    """The rows, from 0, of the first and the last filled cell of a block; None if it has none."""
    first = _FILLED.search(block.content)
    if first is None:
        return None, None
    content, end = block.content, len(block.content)
    while (end := content.rfind(b"<" + block.prefix + b"c ", 0, end)) >= 0:
        last = _FILLED.match(content, end)
        if last:
            return _row_of(content, first), _row_of(content, last)
    return None, None


def _row_of(content: bytes, cell: re.Match[bytes]) -> int | None:
    """The row that a cell names, or else that its row bears."""
    where = position(cell[1])
    if where is not None:
        return where[0]
    rows = list(_ROW.finditer(content, 0, cell.start()))
    bears = attribute(rows[-1][1], b"r") if rows else None
    return int(bears) - 1 if bears and bears.isdigit() and len(bears) < 8 else None


def _read_hidden_rows(content: bytes, marks: Marks) -> None:
    for row in _ROW.finditer(content):
        bears = attribute(row[1], b"r")
        if bears and bears.isdigit() and is_true(attribute(row[1], b"hidden")):
            marks.hidden_rows.add(int(bears) - 1)


def _read_struck_rows(content: bytes, marks: Marks, struck: re.Pattern[bytes]) -> None:
    for row in _WHOLE_ROW.finditer(content):
        bears = attribute(row[1], b"r")
        tags = _FILLED.findall(row[2])
        if bears and bears.isdigit() and tags and all(map(struck.search, tags)):
            marks.struck_rows.add(int(bears) - 1)


def _read_formulas(content: bytes, marks: Marks, shared: dict[bytes, tuple[str, str]], recalculated: bool) -> None:
    if b"shared" in content:
        for cell, formula, text in _SHARED.findall(content):
            where = position(cell)
            if where:
                shared[attribute(formula, b"si") or b""] = (cell_name(*where), "=" + _text(text))
    for cell, childs, _, text, value in _FORMULA.findall(content):
        where = position(cell)
        # A text formula that stores an empty text has a result: a blank.
        blank_text = value and attribute(cell, b"t") == b"str"
        if where is None or blank_text or (b"0" in value and not recalculated):
            continue
        formula = "=" + _text(text)
        if not text.strip():
            origin, master = shared.get(attribute(childs, b"si") or b"", ("", "="))
            formula = _translated(master, origin, cell_name(*where)) if origin else master
        marks.uncomputed[where] = formula


def _translated(formula: str, origin: str, here: str) -> str:
    """A shared formula as it reads in another cell; as it is written where that cannot be told."""
    try:
        return str(Translator(formula, origin).translate_formula(here))
    except (TokenizerError, TranslatorError, ValueError):
        return formula


def _text(content: bytes) -> str:
    return html.unescape(content.decode("utf-8", errors="replace"))
