"""Text of unknown origin, made safe to show in a cell: never live, never longer than a cell holds."""

import re

CELL_LIMIT = 32_767  # UTF-16 units in one cell of a workbook; Microsoft, 'Excel specifications and limits'
CUT_MARK = " [cut here; whole in the store]"

# C0 and C1 controls but tab and line feed, lone surrogates, and the two noncharacters that XML 1.0 forbids.
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff]")
_LIVE = ("=", "+", "-", "@", "\t")
_NUMBER = re.compile(r"-?\d+(\.\d+)?([eE][+-]?\d+)?\Z")


def clean_text(text: str) -> str:
    """The text without control characters, cut to what a cell holds."""
    if len(text) <= CELL_LIMIT // 2 and text.isprintable():
        return text
    text = _CONTROL.sub("", text.replace("\r\n", "\n").replace("\r", "\n"))
    if len(text) <= CELL_LIMIT // 2 or _utf16_units(text) <= CELL_LIMIT:
        return text
    room = 2 * (CELL_LIMIT - len(CUT_MARK))
    return text.encode("utf-16-le")[:room].decode("utf-16-le", errors="ignore") + CUT_MARK


def csv_text(text: str) -> str:
    """The text with an apostrophe before what a spreadsheet program would take for a formula."""
    text = clean_text(text)
    if text.startswith(_LIVE) and not is_number(text):
        return "'" + text
    return text


def is_number(text: str) -> bool:
    """Whether the text is a plain decimal number, so that it can be written as one."""
    return _NUMBER.match(text) is not None


def _utf16_units(text: str) -> int:
    return len(text.encode("utf-16-le")) // 2
