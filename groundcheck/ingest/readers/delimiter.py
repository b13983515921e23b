"""The delimiter of a text: the one by which most of its lines fall into the same number of cells."""

import csv
import io
import re
from collections import Counter

DELIMITERS = ",;\t|"
_LINES = 100
_SAMPLE = 1 << 18
_NUMBER = re.compile(r"\s*[-+]?[\d.,]+\s*\D{0,6}")
_TORN = {
    delimiter: re.compile(f"[{re.escape(DELIMITERS.replace(delimiter, ''))}](?=\\S)|^[,;|]|\t")
    for delimiter in DELIMITERS
}
_TORN["\t"] = re.compile(r"[,;|](?=\S)|^[,;|]")


def find_delimiter(text: str) -> str | None:
    """
    The delimiter; None if the text has none that its lines agree on.

    Titles above a table and notes below it have other numbers of cells, so the largest block of lines of one length
    decides: its lines times the cells that the delimiter adds to each.
    """
    if text[:4].lower() == "sep=" and text[4:5] in tuple(DELIMITERS):
        return text[4]
    sample = text[:_SAMPLE]
    scores = {delimiter: _agreement(sample, delimiter) for delimiter in DELIMITERS}
    best = max(DELIMITERS, key=lambda delimiter: scores[delimiter])
    return best if scores[best] > 0 else None


def _agreement(sample: str, delimiter: str) -> float:
    widths: list[int] = []
    sound: Counter[int] = Counter()
    try:
        for row in csv.reader(io.StringIO(sample, newline=""), delimiter=delimiter):
            if any(cell.strip() for cell in row):
                widths.append(len(row))
                sound[len(row)] += _sound_cells(row, delimiter)
            if len(widths) == _LINES:
                break
    except csv.Error:
        return 0.0
    if not widths:
        return 0.0
    counts = Counter(widths)
    # The share of lines of one width, and how many of their cells read as whole words, numbers or blanks.
    return max(
        count / len(widths) * (1 - 1 / width) * (sound[width] / (count * width)) for width, count in counts.items()
    )


def _sound_cells(row: list[str], delimiter: str) -> int:
    """
    Cells that hold no other delimiter, but a decimal comma or the punctuation of a sentence.

    A cell that begins with a blank does not count: so do the parts of a sentence between its commas.
    """
    torn = _TORN[delimiter]
    return sum(
        not cell.startswith(" ") and (torn.search(cell) is None or _NUMBER.fullmatch(cell) is not None) for cell in row
    )
