"""Which headings feed several fields of a table from the parts of each cell."""

import re
from functools import cache

from groundcheck.ingest.values import converts, heading_unit, known_unit
from groundcheck.schema import INVENTORY_TABLES
from groundcheck.schema.compounds import COMPOUNDS, Compound

_BRACKET = re.compile(r"[(\[{]([^()\[\]{}]*)[)\]}]\s*\Z")


@cache
def find_compounds(heading: str, table: str) -> tuple[Compound, ...]:
    """The compounds of a table that a heading may be; more than one where it does not say which."""
    words, units = _words_and_units(heading)
    return tuple(
        compound
        for compound in COMPOUNDS
        if compound.table == table
        and any(words == known and (units or not needs_unit) for known, needs_unit in _known(compound))
        and (not units or any(part_units(heading, compound)))
    )


@cache
def tables_with(heading: str) -> frozenset[str]:
    """The tables of which the heading is a compound."""
    return frozenset(compound.table for compound in COMPOUNDS if find_compounds(heading, compound.table))


def part_units(heading: str, compound: Compound) -> tuple[str | None, ...]:
    """The unit that the heading gives each part: one for all that it fits, or one a part, as in 'Rating (A/s)'."""
    _, units = _words_and_units(heading)
    count = len(compound.fields)
    each = units if len(units) == count else units * count if len(units) == 1 else (None,) * count
    columns = INVENTORY_TABLES[compound.table].columns()
    pairs = zip(compound.fields, each, strict=True)
    return tuple(unit if name and unit and converts(unit, columns[name]) else None for name, unit in pairs)


def named(compound: Compound) -> str:
    """The fields of a compound, as one candidate."""
    return " + ".join(name for name in compound.fields if name)


@cache
def _words_and_units(heading: str) -> tuple[str, tuple[str, ...]]:
    words, unit = heading_unit(heading)
    bracket = _BRACKET.search(heading)
    if unit is None and bracket and "/" in bracket[1]:
        units = [known_unit(part) for part in bracket[1].split("/")]
        if all(units):
            return heading_unit(heading[: bracket.start()])[0], tuple(map(str, units))
    return words, (unit,) if unit else ()


@cache
def _known(compound: Compound) -> tuple[tuple[str, bool], ...]:
    read = [heading_unit(heading) for heading in compound.headings]
    return tuple((words, unit is not None) for words, unit in read)
