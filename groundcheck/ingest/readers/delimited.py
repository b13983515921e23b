"""Reading delimited text: encoding, delimiter and decimal mark are found, and said."""

import csv
import io
import re
from pathlib import PurePath
from typing import Literal

from groundcheck.ingest.readers.decimal_mark import writes_decimal_commas
from groundcheck.ingest.readers.delimiter import find_delimiter
from groundcheck.ingest.readers.encodings import decode
from groundcheck.ingest.readers.strays import set_apart
from groundcheck.ingest.sheets import Sheet, SourceFile

_TEXT_NAMES = (".csv", ".tsv", ".txt")
# Ends the text; that it comes back as a row of its own proves that no quotation mark is left open.
_END = "end of the text 8f0d"
_LOOKED_AT = 5000  # rows by which the decimal mark is decided
# Control characters of ASCII that no text holds; tab, line ends and the old mark for the end of a file it may.
_CONTROL = re.compile("[\x01-\x08\x0b\x0e-\x19\x1b-\x1f]")
# More than any field of a file that is read; the most that fits where a C long has 32 bits.
_FIELD_LIMIT = (1 << 31) - 1


def read_delimited(content: bytes, kind: str, source: SourceFile) -> None:
    """Fill the source with the one sheet of a delimited text, or with the reason why it has none."""
    decoded = decode(content)
    text = decoded.text.removeprefix("\ufeff").rstrip("\x1a")
    source.problem = _not_a_text(text)
    if source.problem:
        return
    named_as_text = source.file.lower().endswith(_TEXT_NAMES)
    delimiter = find_delimiter(text)
    if delimiter is None and not named_as_text:
        source.problem = "plain text without columns, not a table: name a workbook or a .csv file"
        return
    rows, open_mark = _split(text, delimiter or ",")
    decimal_comma = writes_decimal_commas(rows[:_LOOKED_AT])
    said = [
        f"csv, {decoded.encoding}",
        {None: "one column", "\t": "delimiter tab"}.get(delimiter, f"delimiter {delimiter}"),
        "decimal comma" if decimal_comma else "",
        f"quotation mark left open in row {open_mark}, all taken as text" if open_mark else "",
    ]
    source.reader = ", ".join(filter(None, said))
    sheet = Sheet(source.file, PurePath(source.file).stem, list(rows), decimal_comma=decimal_comma, ragged=True)
    set_apart(sheet)
    source.sheets.append(sheet)


def _not_a_text(text: str) -> str | None:
    if not text.strip():
        return "empty file"
    if "\x00" in text:
        return "not text: it holds null bytes; export it again as .csv"
    control = _CONTROL.search(text)
    if control:
        return f"not text: it holds the control character {ord(control[0])}; export it again as .xlsx or .csv"
    return None


def _split(text: str, delimiter: str) -> tuple[list[list[str]], int | None]:
    """The rows, and the number of the row in which a quotation mark is left open, if one is."""
    end = "" if text.endswith(("\n", "\r")) else "\n"
    rows = _parse(text + end + _END, delimiter, csv.QUOTE_MINIMAL)
    if rows[-1] == [_END]:
        return rows[:-1], None
    return _parse(text, delimiter, csv.QUOTE_NONE), len(rows)


def _parse(text: str, delimiter: str, quoting: Literal[0, 3]) -> list[list[str]]:
    limit = csv.field_size_limit(_FIELD_LIMIT)
    try:
        return list(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, quoting=quoting))
    finally:
        csv.field_size_limit(limit)
