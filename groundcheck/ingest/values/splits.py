"""The ways in which one text may be several values, the surest first."""

import re
from collections.abc import Iterator

from groundcheck.ingest.values.root_three import MARK

_LINE_BREAKS = re.compile(r"\s*[\r\n]+\s*")
_BRACKETS = str.maketrans("()[]", "    ")

# Between words a dash or a slash may belong to the word, so each mark is tried alone.
_BETWEEN_WORDS = tuple(
    re.compile(pattern)
    for pattern in (r"\s*;\s*", r"\s*\|\s*", r"\s+/\s+", r"\s*/\s*", r"\s+[-\u2010-\u2015]\s+", r"\s*,\s*", r"\s*:\s+")
)

_HARD = (
    rf"[;|@]|/(?=\s*[-\d.,(?c])|(?<=[a-zΩ%]),|,(?=\s)|(?<=\s)[-\u2010-\u2015](?=\s)"
    rf"|(?<=[\w.%Ω){MARK}])[-\u2010-\u2015](?=\s?\d)|\bfor\b|(?<=[aAΩ%])\s?x(?=\s?\d)"
)
_BETWEEN_NUMBERS = (
    re.compile(rf"\s*(?:{_HARD})\s*", re.I),
    re.compile(rf"\s*(?:{_HARD}|:)\s*", re.I),
)
_ALSO_AT_UNITS = re.compile(rf"\s*(?:{_HARD}|:)\s*|(?<=[a-zΩ%.]) +(?=\d|cont)", re.I)


def on_one_line(cell: str) -> str:
    """A text whose line breaks are semicolons."""
    return _LINE_BREAKS.sub("; ", cell.strip())


def splits(text: str, *, words: bool) -> Iterator[list[str]]:
    """The pieces of a tidy text, way by way."""
    if words:
        yield from (mark.split(text) for mark in _BETWEEN_WORDS if mark.search(text))
    yield from (marks.split(text) for marks in _BETWEEN_NUMBERS)
    yield _ALSO_AT_UNITS.split(" ".join(text.translate(_BRACKETS).split()))
