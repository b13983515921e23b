"""From a heading to a field: by name, by alias, by close match, or not at all; never a silent guess."""

import re
from dataclasses import dataclass
from functools import cache

from rapidfuzz import fuzz, process
from rapidfuzz.distance import OSA

from groundcheck.ingest.mapping.compounds import tables_with
from groundcheck.ingest.values import converts, heading_unit, known_unit
from groundcheck.schema import INVENTORY_TABLES, Column

# A close match must be this like an alias, and this far ahead of the next field (per cent of likeness).
CLOSE = 88.0
AHEAD = 6.0
_CANDIDATE = 72.0
_MISSPELLED = 80.0
_SLIP = CLOSE  # likeness of two headings that differ by one slip in one word
_LONG = 5  # letters of a word in which one slip leaves no doubt
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
_HYPHENATED = re.compile(r"(\w)(?:-[ \t]*[\r\n]+\s*|\u00ad)(?=[a-zA-Z])")  # a word broken at the end of a line
_NUMBER = re.compile(r"\A(?:[(\[]\d{1,2}[)\]]|\d{1,2}\)|\d{1,2} (?=\D{2}))\s*")  # of the column, before its heading
_RATED = frozenset({"rated", "rtd", "nominal", "nameplate", "name plate", "rating", "ratings", "nom"})
_BLANKS = re.compile(r"[\s_]+")
_LAST_WORD = re.compile(r"[\s,;:]+(\S+)\Z")


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
    heading = _HYPHENATED.sub(r"\1", heading)
    text, unit = heading_unit(heading)
    whole = normalize(heading)
    # The unit's word alone is taken off where the rest holds marks that count, as in "xd'', pu".
    word = _LAST_WORD.search(whole)
    marked = whole[: word.start()] if word and unit and known_unit(word[1]) == unit else ""
    readings = [whole, normalize(_BRACKETED.sub(" ", heading)), marked, normalize(text)]
    readings += [_NUMBER.sub("", reading) for reading in readings]
    return tuple((reading, unit) for reading in dict.fromkeys(readings) if reading)


@cache
def known_in(heading: str) -> frozenset[str]:
    """The tables of which the heading is a name or an alias, or gives several fields."""
    readings = [reading for reading, _ in spellings(heading)]
    plain = frozenset(table for table in INVENTORY_TABLES if any(r in aliases(table) for r in readings))
    return plain | tables_with(heading) | {table for table in INVENTORY_TABLES if _rated_field(heading, table)}


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
        if reading == normalize(heading):  # the whole is an alias, and 'km' in 'x0 per km' a word of it
            return Match(field, "alias", 1.0)
        misfits.append(field)
    rated = _rated_field(heading, table)
    if rated is not None:
        return Match(rated, "alias", 1.0, unit)
    return _close_match(heading, table, unit, tuple(misfits))


@cache
def _rated_field(heading: str, table: str) -> str | None:
    """The one field that a heading such as 'Rated kV' gives: the rated quantity that takes the unit."""
    unit = spellings(heading)[0][1] if spellings(heading) else None
    if unit is None or not any(reading in _RATED for reading, _ in spellings(heading)):
        return None
    rated = {name: column for name, column in table_columns(table).items() if name.startswith(("rated_", "nominal_"))}
    fitting = [name for name, column in rated.items() if column.kind == "quantity" and converts(unit, column)]
    return fitting[0] if len(fitting) == 1 else None


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
                    likeness = max(likeness, _SLIP) if _is_one_slip(reading, alias) else likeness
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


def _is_one_slip(reading: str, alias: str) -> bool:
    """Whether two headings differ in one long word, by one letter more, less, other or two swapped."""
    ours, theirs = reading.split(), alias.split()
    if len(ours) != len(theirs):
        return False
    differing = [(one, other) for one, other in zip(ours, theirs, strict=True) if one != other]
    return len(differing) == 1 and all(
        min(len(one), len(other)) >= _LONG and OSA.distance(one, other, score_cutoff=1) == 1 for one, other in differing
    )


def _is_guard(word: str) -> bool:
    return word in _GUARDS or any(letter.isdigit() for letter in word)


def _is_slip(word: str, others: set[str]) -> bool:
    """Whether one of the other words is this one misspelled."""
    return len(word) >= _SHORTEST and any(
        not _is_guard(other) and fuzz.ratio(word, other) >= _MISSPELLED for other in others
    )
