"""From a heading to a field: by name, by alias, by close match, or not at all; never a silent guess."""

import re
from dataclasses import dataclass
from functools import cache

from rapidfuzz import fuzz, process

from groundcheck.ingest.values import converts, heading_unit
from groundcheck.schema import INVENTORY_TABLES, Column

# A close match must be this like an alias, and this far ahead of the next field (per cent of likeness).
CLOSE = 88.0
AHEAD = 6.0
_CANDIDATE = 72.0
_MISSPELLED = 80.0
_SHORTEST = 4  # letters: shorter headings are never matched by likeness

# Words that tell two quantities apart: a close match never changes one of them.
_GUARDS = frozenset(
    {
        *("hv", "lv", "tv", "ct", "vt", "min", "max", "primary", "secondary", "tertiary", "from", "to", "a", "b", "r"),
        *("x", "z", "1ph", "3ph", "voltage", "current", "power", "rated", "no", "ground", "line", "neutral", "bus"),
        *("resistance", "reactance", "time"),
    }
)
_BRACKETED = re.compile(r"[(\[{].*?[)\]}]")
_DOT = re.compile(r"\.(?!\d)")
_BLANKS = re.compile(r"[\s_]+")


@dataclass(frozen=True)
class Match:
    """What a heading is, within one table."""

    field: str | None
    how: str
    certainty: float
    unit: str | None = None
    candidates: tuple[str, ...] = ()


def normalize(heading: str) -> str:
    """A heading without case, underscores, line breaks, stray blanks and full stops."""
    return _BLANKS.sub(" ", _DOT.sub("", heading.casefold())).strip(" :*#-\u00a0")


@cache
def table_columns(table: str) -> dict[str, Column]:
    """The columns of a canonical table."""
    return INVENTORY_TABLES[table].columns()


@cache
def aliases(table: str) -> dict[str, str]:
    """Every accepted heading of a table, normalized, with its field; the field's own name first."""
    found: dict[str, str] = {}
    for column in table_columns(table).values():
        found.setdefault(normalize(column.name), column.name)
    for column in table_columns(table).values():
        for alias in column.aliases:
            found.setdefault(normalize(alias), column.name)
    return found


@cache
def spellings(heading: str) -> tuple[tuple[str, str | None], ...]:
    """The readings of a heading to look up, each with the unit it leaves: whole, without brackets, without unit."""
    text, unit = heading_unit(heading)
    whole = normalize(heading)
    readings = [whole, normalize(_BRACKETED.sub(" ", heading)), normalize(text)]
    return tuple((reading, unit) for reading in dict.fromkeys(readings) if reading)


@cache
def known_in(heading: str) -> frozenset[str]:
    """The tables of which the heading is a name or an alias."""
    readings = [reading for reading, _ in spellings(heading)]
    return frozenset(table for table in INVENTORY_TABLES if any(r in aliases(table) for r in readings))


@cache
def fits_unit(table: str, field: str, unit: str | None) -> bool:
    """Whether a number in that unit can be the field's."""
    column = table_columns(table)[field]
    return unit is None or column.kind not in ("quantity", "size") or converts(unit, column)


@cache
def match_heading(heading: str, table: str) -> Match:
    """What a heading is within one table."""
    known = aliases(table)
    misfits = []
    unit = spellings(heading)[0][1] if spellings(heading) else None
    for reading, _ in spellings(heading):
        field = known.get(reading)
        if field is None:
            continue
        if fits_unit(table, field, unit):
            return Match(field, "alias", 1.0, unit)
        misfits.append(field)
    return _close_match(heading, table, unit, tuple(misfits))


def _close_match(heading: str, table: str, unit: str | None, misfits: tuple[str, ...]) -> Match:
    best: dict[str, float] = {}
    known = aliases(table)
    for reading, _ in spellings(heading):
        for scorer in (fuzz.ratio, fuzz.token_sort_ratio) if len(reading) >= _SHORTEST else ():
            for alias, likeness, _ in process.extract(
                reading, list(known), scorer=scorer, score_cutoff=_CANDIDATE, limit=None
            ):
                field = known[alias]
                if len(alias) >= _SHORTEST and fits_unit(table, field, unit) and _same_guards(reading, alias):
                    best[field] = max(best.get(field, 0.0), likeness)
    ranked = sorted(best.items(), key=lambda item: -item[1])
    if ranked and ranked[0][1] >= CLOSE:
        second = ranked[1][1] if len(ranked) > 1 else 0.0
        if ranked[0][1] - second >= AHEAD:
            return Match(ranked[0][0], "close match", round(ranked[0][1] / 100, 2), unit)
        close = tuple(field for field, likeness in ranked if ranked[0][1] - likeness < AHEAD)
        return Match(None, "ambiguous", 0.0, unit, close)
    part_of = sorted(_fields_with_words(heading, table, unit))
    if len(part_of) > 1:
        return Match(None, "ambiguous", 0.0, unit, tuple(part_of))
    return Match(None, "unmapped", 0.0, unit, (*misfits, *(field for field, _ in ranked[:3])))


def _fields_with_words(heading: str, table: str, unit: str | None) -> set[str]:
    """The fields of which a heading gives a part of the words, such as 'Voltage' beside HV and LV voltages."""
    found = set()
    for reading, _ in spellings(heading):
        words = frozenset(reading.split())
        for alias_words, field in _alias_words(table) if len(reading) > 2 else ():
            if words < alias_words and fits_unit(table, field, unit):
                found.add(field)
    return found


@cache
def _alias_words(table: str) -> tuple[tuple[frozenset[str], str], ...]:
    return tuple((frozenset(alias.split()), field) for alias, field in aliases(table).items())


def _same_guards(reading: str, alias: str) -> bool:
    """Whether two headings agree in their numbers and in the words that tell quantities apart, but for a slip."""
    ours, theirs = set(reading.split()), set(alias.split())
    pairs = [(word, theirs - ours) for word in ours - theirs] + [(word, ours - theirs) for word in theirs - ours]
    return all(_is_slip(word, others) or not _is_guard(word) for word, others in pairs)


def _is_guard(word: str) -> bool:
    return word in _GUARDS or any(letter.isdigit() for letter in word)


def _is_slip(word: str, others: set[str]) -> bool:
    """Whether one of the other words is this one misspelled."""
    return len(word) >= _SHORTEST and any(
        not _is_guard(other) and fuzz.ratio(word, other) >= _MISSPELLED for other in others
    )
