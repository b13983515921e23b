"""Headings that may stand for one fact or for several: the cells decide, and where they do not, a person is asked."""

from dataclasses import dataclass
from typing import Any

from groundcheck.ingest.mapping.compounds import find_compounds, named
from groundcheck.ingest.mapping.feeds import Feed, Layout, Source, part_sources
from groundcheck.ingest.mapping.headings import Match, normalize, table_columns
from groundcheck.ingest.sheets import Sheet, is_blank
from groundcheck.ingest.tables.part_fields import read_part_fields
from groundcheck.ingest.values import read_column
from groundcheck.schema.compounds import Compound


@dataclass(frozen=True)
class _Doubt:
    """A field that a heading feeds by itself, under which a cell may also hold several facts."""

    name: str
    source: Source
    heading: str
    compound: Compound


def settle_compounds(sheet: Sheet, layout: Layout) -> None:
    """
    Read a column part by part where its cells hold several facts, such as '400 A / 10 s' under 'Rating'.

    Where that would change what other cells of the column mean, the heading is ambiguous and feeds nothing.
    """
    for feed in layout.feeds:
        for doubt in _doubts(feed, layout.region.headings):
            _settle(sheet, layout, feed, doubt)


def _doubts(feed: Feed, headings: dict[int, str]) -> list[_Doubt]:
    found = []
    for name, source in feed.fields.items():
        if source.kind != "heading" or source.how != "alias":
            continue
        heading = headings[source.columns[0]]
        compounds = find_compounds(heading, feed.table) or _after_device(feed, heading)
        if len(compounds) == 1:
            found.append(_Doubt(name, source, heading, compounds[0]))
    return found


def _after_device(feed: Feed, heading: str) -> tuple[Compound, ...]:
    """The compounds of a heading such as 'NER rating', which names the device on a sheet of another asset."""
    if feed.beside is None:
        return ()
    words = normalize(heading).split()
    return next((found for i in range(1, len(words)) if (found := find_compounds(" ".join(words[i:]), feed.table))), ())


def _settle(sheet: Sheet, layout: Layout, feed: Feed, doubt: _Doubt) -> None:
    column = doubt.source.columns[0]
    fields = [name for name in doubt.compound.fields if name]
    if any(name in feed.fields for name in fields if name != doubt.name):
        return
    gains, conflicts = _compare(_distinct(sheet, layout, column), doubt, feed.table, layout, sheet)
    if not gains:
        return
    del feed.fields[doubt.name]
    if conflicts:
        layout.left[column] = Match(None, "ambiguous", 0.0, None, (doubt.name, named(doubt.compound)))
    else:
        feed.fields |= part_sources(doubt.compound, column, doubt.heading, fields)


def _distinct(sheet: Sheet, layout: Layout, column: int) -> list[Any]:
    """The distinct filled cells under a heading; none in a frame, whose columns are of one kind."""
    if sheet.table is not None or column >= sheet.width:
        return []
    body = layout.region.body
    return [cell for cell in dict.fromkeys(sheet.columns[column][body.start : body.stop]) if not is_blank(cell)]


def _compare(cells: list[Any], doubt: _Doubt, table: str, layout: Layout, sheet: Sheet) -> tuple[int, int]:
    """In how many cells parts give what the heading alone does not, and in how many they change what it gives."""
    if not any(isinstance(cell, str) for cell in cells):
        return 0, 0
    habits = layout.habits
    comma = sheet.decimal_comma if habits.decimal_comma is None else habits.decimal_comma
    facts = table_columns(table)[doubt.name]
    plain = read_column(cells, facts, unit=doubt.source.unit, decimal_comma=comma, frequency=habits.frequency).values
    names = [name for name in doubt.compound.fields if name]
    sources = part_sources(doubt.compound, doubt.source.columns[0], doubt.heading, names)
    parts = read_part_fields(table, sources, cells, comma, habits)
    gains = conflicts = 0
    for index, value in enumerate(plain):
        given = {name: parts[name].values[index] for name in names}
        if value is None:
            gains += any(part is not None for part in given.values())
        else:
            conflicts += given.get(doubt.name) != value
    return gains, conflicts
