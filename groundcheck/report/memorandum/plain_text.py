"""Text of a record on paper: nothing in it acts, and any word can be broken."""

import math
import re
from typing import Any

from groundcheck.report.cell_text import CUT_MARK, clean_text

DRAWING = "diagram"  # the key of an SVG, which is no text to be broken
BREAK = "\u2063"  # where a word may be broken; the template turns it into a space of no width
MANY_BREAK = "\u200b"  # the same in a text with many of them, which typst cannot turn; it breaks there by itself
MOST_LETTERS = 4_000  # of a text: a heading becomes a bookmark, and PDF/A admits no string beyond 32,767 bytes
MOST_BREAKS = 20  # of a text; typst refuses some 60 within one paragraph

# Marks that turn the direction of what follows, beyond their own field; a single right-to-left mark stays.
_TURNING = re.compile("[\u202a-\u202e\u2066-\u2069\u2063\u200b]")
_LONG = re.compile(r"\S{21,}")
_JOINT = re.compile(r"([_./\\:;,@&=?·-])(?=\S)")
_RUN = re.compile(rf"([^{BREAK}]{{16}})(?=[^{BREAK}])")


def on_paper(value: Any) -> Any:
    """A value of JSON, all text in it fit to be set; numbers without limit are words, what is no number is blank."""
    if isinstance(value, str):
        return paper_text(value)
    if isinstance(value, float) and not math.isfinite(value):
        return None if math.isnan(value) else "no limit"
    if isinstance(value, dict):
        return {name: inner if name == DRAWING else on_paper(inner) for name, inner in value.items()}
    if isinstance(value, (list, tuple)):
        return [on_paper(inner) for inner in value]
    if value is None or isinstance(value, (bool, int, float)):
        return value
    return paper_text(str(value))


def paper_text(text: str) -> str:
    """The text without controls, with a place to break in every long word."""
    text = clean_text(text).replace("\t", " ")
    if len(text) > MOST_LETTERS:
        text = text[: MOST_LETTERS - len(CUT_MARK)] + CUT_MARK
    if not text.isascii():
        text = _TURNING.sub("", text)
    broken = _LONG.sub(_breakable, text)
    return broken.replace(BREAK, MANY_BREAK) if broken.count(BREAK) > MOST_BREAKS else broken


def _breakable(word: re.Match[str]) -> str:
    return _RUN.sub(rf"\1{BREAK}", _JOINT.sub(rf"\1{BREAK}", word[0]))
