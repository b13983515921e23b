"""The known name that a mistyped one most resembles."""

from collections.abc import Iterable

from rapidfuzz import process


def nearest_name(name: str, known: Iterable[str]) -> str | None:
    """The nearest of the known names; None if there are none."""
    best = process.extractOne(name, list(known))
    return str(best[0]) if best else None
