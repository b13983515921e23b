"""Reading .csv files: encoding, delimiter and decimal mark are found, and said."""

import csv
import io
import re
from pathlib import Path

from groundcheck.ingest.sheets import Sheet, SourceFile

_DELIMITERS = ",;\t|"
_DECIMAL_COMMA = re.compile(r"\s*[-+]?\d+,\d+(\s*[^\d\s,.]\S*)?\s*")
_DECIMAL_POINT = re.compile(r"\s*[-+]?\d*\.\d+(\s*[^\d\s,.]\S*)?\s*")


def read_delimited(path: Path, source: SourceFile) -> None:
    """Fill the source with the one sheet of a .csv file, or with the reason why it has none."""
    content = path.read_bytes()
    if not content.strip():
        source.problem = "empty file"
        return
    encoding, text = _decode(content)
    if "\x00" in text:
        source.problem = "not text: it holds null bytes"
        return
    delimiter = _find_delimiter(text)
    try:
        rows: list[list[str]] = list(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter))
    except csv.Error as error:
        source.problem = f"not a delimited file ({error})"
        return
    decimal_comma = delimiter != "," and _writes_decimal_commas(rows)
    shown = {"\t": "tab"}.get(delimiter, delimiter)
    source.reader = f"csv, {encoding}, delimiter {shown}" + (", decimal comma" if decimal_comma else "")
    source.sheets.append(Sheet(source.file, path.stem, list(rows), decimal_comma=decimal_comma, ragged=True))


def _decode(content: bytes) -> tuple[str, str]:
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        return "utf-16", content.decode("utf-16", errors="replace")
    try:
        return "utf-8", content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return "cp1252", content.decode("cp1252", errors="replace")


def _find_delimiter(text: str) -> str:
    sample = "\n".join(text[:65536].splitlines()[:50])
    try:
        return csv.Sniffer().sniff(sample, delimiters=_DELIMITERS).delimiter
    except csv.Error:
        return max(_DELIMITERS, key=sample.count)


def _writes_decimal_commas(rows: list[list[str]]) -> bool:
    """Whether numbers carry a decimal comma and none a decimal point."""
    comma = False
    for row in rows[:2000]:
        for cell in row:
            if "," in cell and _DECIMAL_COMMA.fullmatch(cell):
                comma = True
            elif "." in cell and _DECIMAL_POINT.fullmatch(cell):
                return False
    return comma
