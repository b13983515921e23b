"""How much a row of cells reads like the headings of one canonical table; misspelled ones count for less."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from typing import Any

from rapidfuzz import fuzz, process

from groundcheck.ingest.mapping.headings import aliases, known_in, normalize, spellings
from groundcheck.ingest.sheets import is_blank
from groundcheck.schema import INVENTORY_TABLES

_LONGEST = 80  # letters of a heading
_TEXT_SHARE = 0.9  # of the filled cells of a heading row
_LIKE = 80.0  # per cent of likeness from which a heading counts as misspelled
_MISSPELLED = 0.5  # what a misspelled heading counts for
_SHORTEST = 4  # letters: a shorter text is never taken for a misspelled heading
_MOSTLY = 0.6
_ABBREVIATION = 3  # letters: words no longer than this are often in capitals


@dataclass(frozen=True)
class Score:
    """Headings of the table that fits best, the misspelled ones by half, and their share of the filled cells."""

    hits: float = 0.0
    exact: int = 0
    share: float = 0.0
    table: str = ""

    @property
    def is_heading(self) -> bool:
        """Whether so many cells are headings that the row may be a heading row."""
        if self.exact >= 2:
            return self.share >= 0.25
        return (self.hits >= 2.0 and self.share >= _MOSTLY) or (self.hits >= 1.5 and self.share == 1.0)


NO_HEADING = Score()


def score_cells(cells: Iterable[Any], extra: frozenset[str] = frozenset()) -> Score:
    """Score cells as headings; `extra` holds headings, normalized, that a column map names."""
    filled = [cell for cell in cells if not is_blank(cell)]
    texts = [cell for cell in filled if type(cell) is str and len(cell.strip()) <= _LONGEST]
    if not texts or sum(not is_number(text) for text in texts) < _TEXT_SHARE * len(filled):
        return NO_HEADING
    named = {normalize(text): text for text in texts}
    told = len(named.keys() & extra)
    rest = [text for name, text in named.items() if name not in extra]
    exact = _count(known_in(text) for text in rest)
    close = _count(like_a_heading(text) for text in rest if not known_in(text))
    if not exact and not close:
        return Score(float(told), told, told / len(filled)) if told else NO_HEADING
    table = max(exact | close, key=lambda name: (exact.get(name, 0) + _MISSPELLED * close.get(name, 0), name))
    known, misspelled = told + exact.get(table, 0), close.get(table, 0)
    return Score(known + _MISSPELLED * misspelled, known, (known + misspelled) / len(filled), table)


def _count(tables: Iterable[frozenset[str]]) -> dict[str, int]:
    counts: dict[str, int] = {}
    for table in (table for named in tables for table in named):
        counts[table] = counts.get(table, 0) + 1
    return counts


@cache
def like_a_heading(text: str) -> frozenset[str]:
    """The tables that have a heading much like the text."""
    tables: set[str] = set()
    for reading, _ in spellings(text):
        if len(reading) >= _SHORTEST and not any(letter.isdigit() for letter in reading):
            alike = process.extract(reading, _long_aliases(), scorer=fuzz.ratio, score_cutoff=_LIKE, limit=None)
            tables |= {table for alias, _, _ in alike for table in _tables_of(alias)}
    return frozenset(tables)


@cache
def _long_aliases() -> tuple[str, ...]:
    return tuple(alias for alias in plain_aliases() if len(alias) >= _SHORTEST)


@cache
def _tables_of(alias: str) -> frozenset[str]:
    return frozenset(table for table in INVENTORY_TABLES if alias in aliases(table))


@cache
def plain_aliases() -> frozenset[str]:
    """All accepted headings."""
    return frozenset(alias for table in INVENTORY_TABLES for alias in aliases(table))


@cache
def written_aliases() -> frozenset[str]:
    """All accepted headings as people write them: in small letters, in capitals, with a capital, 'HV bus'."""
    written = set()
    for alias in plain_aliases():
        short = " ".join(word.upper() if len(word) <= _ABBREVIATION else word for word in alias.split())
        written |= {alias, alias.upper(), alias.title(), alias.capitalize(), short, short[:1].upper() + short[1:]}
    return frozenset(written)


def is_number(text: str) -> bool:
    """Whether a text is nothing but a number."""
    return text[:1] in "0123456789-+." and text.strip().lstrip("-+").replace(".", "", 1).replace(",", "").isdigit()
