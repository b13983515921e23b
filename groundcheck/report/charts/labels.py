"""Names of unknown origin as they stand in a chart: one line, no control characters, cut to the room there is."""

import re

from groundcheck.report.cell_text import clean_text

_TO_THE_LEFT = re.compile("[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufeff]")
_ONWARD = "\u200e"  # keeps what follows a name that runs to the left from being drawn before it
# Marks that turn the direction of what follows them, and so would mirror the words that a chart adds.
_TURNS = re.compile("[\u200e\u200f\u202a-\u202e\u2066-\u2069]")


def label(text: str | None, limit: int = 80) -> str:
    """The text on one line, cut to `limit` characters."""
    line = _TURNS.sub("", " ".join(clean_text(text or "").split()))
    return line if len(line) <= limit else line[: limit - 1].rstrip() + "…"


def led(name: str, rest: str) -> str:
    """A name and what is said of it, in this order whichever way the name runs."""
    return name + (_ONWARD if _TO_THE_LEFT.search(name) else "") + rest


def value(text: str | None) -> str | None:
    """The text as the other reports hold it, to filter by; None if there is none."""
    return clean_text(text) if text else None


def listed(parts: list[str]) -> str:
    """'a', 'a and b', 'a, b and c'."""
    return parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} and {parts[-1]}" if parts else ""
