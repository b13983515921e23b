"""The nearest name on record to one that is not."""

from collections.abc import Iterable

from rapidfuzz import fuzz, process


def nearest(name: str, known: Iterable[str]) -> str:
    """The known name that is most like the one given; empty if none is known."""
    return ", ".join(nearest_few(name, known, limit=1))


def nearest_few(name: str, known: Iterable[str], limit: int = 3, at_least: float = 0.0) -> list[str]:
    """The known names most like the one given, best first."""
    found = process.extract(
        name, list(known), scorer=fuzz.ratio, processor=str.casefold, limit=limit, score_cutoff=at_least
    )
    return [str(match) for match, _, _ in found]
