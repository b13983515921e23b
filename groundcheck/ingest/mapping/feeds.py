"""Which columns of a table in a sheet feed which fields of which canonical tables."""

from dataclasses import dataclass, field, replace
from typing import Any

from groundcheck.ingest.mapping.column_map import FieldSource, ReadingHabits, SheetMap
from groundcheck.ingest.mapping.compounds import find_compounds, named, part_units
from groundcheck.ingest.mapping.headings import Match, fits_unit, match_heading, normalize, table_columns
from groundcheck.ingest.sheets import column_letter
from groundcheck.ingest.tables.header_row import Region
from groundcheck.schema import INVENTORY_TABLES
from groundcheck.schema.compounds import Compound


@dataclass(frozen=True)
class Source:
    """
    Where one field comes from: the columns of the sheet, and how they make the field.

    The detail is what joins the cells, or the pattern. The parts are the fields of each part of a cell, in order;
    None is a part that feeds nothing.
    """

    kind: str
    columns: tuple[int, ...]
    unit: str | None = None
    how: str = "alias"
    certainty: float = 1.0
    detail: str = ""
    parts: tuple[str | None, ...] = ()


@dataclass
class Feed:
    """
    One canonical asset that each row of a region describes.

    `rows` are the rows that it takes, None for all; `words` says by field what the words of its column mean.
    """

    table: str
    fields: dict[str, Source]
    primary: bool = True
    part: int = 1
    entry: SheetMap | None = None
    constants: dict[str, Any] = field(default_factory=dict)
    winding: str | None = None
    beside: str | None = None
    rows: frozenset[int] | None = None
    words: dict[str, dict[str, str]] = field(default_factory=dict)

    @property
    def columns(self) -> set[int]:
        """Every column that feeds it."""
        return {column for source in self.fields.values() for column in source.columns}


@dataclass
class Kinds:
    """
    The column of a mixed register that names each row's kind of equipment, and the rows of each table.

    `fields` holds what the words settle, by table and word; `unknown` the rows of each word that names no table.
    """

    column: int
    rows: dict[str, frozenset[int]] = field(default_factory=dict)
    fields: dict[tuple[str, str], dict[str, str]] = field(default_factory=dict)
    unknown: dict[str, list[int]] = field(default_factory=dict)


@dataclass
class Layout:
    """
    A region with its feeds, and how its cells are written.

    `problem` says why it has no primary feed, `left` what became of other headings.
    """

    region: Region
    feeds: list[Feed]
    left: dict[int, Match] = field(default_factory=dict)
    problem: str | None = None
    habits: ReadingHabits = field(default_factory=ReadingHabits)
    kinds: Kinds | None = None


def feed_from_headings(headings: dict[int, str], table: str, exact: bool = False) -> tuple[Feed, dict[int, Match]]:
    """
    Match headings with one table's fields, one column a field.

    Returns the feed, and for each column that feeds nothing what it might have been. With `exact`, only headings
    that are names or aliases count.
    """
    matches = {column: match_heading(heading, table) for column, heading in headings.items()}
    compounds = {
        column: found
        for column, match in matches.items()
        if match.how != "alias" and (found := find_compounds(headings[column], table))
    }
    rivals: dict[str, list[int]] = {}
    left: dict[int, Match] = {}
    for column, match in matches.items():
        if column in compounds:
            continue
        if match.field is None or (exact and match.how != "alias"):
            left[column] = match if match.field is None else Match(None, "unmapped", 0.0, match.unit, (match.field,))
        else:
            rivals.setdefault(match.field, []).append(column)
    fields: dict[str, Source] = {}
    for name, columns in rivals.items():
        winner = _winner(name, columns, headings, matches)
        for column in columns:
            if column == winner:
                match = matches[column]
                fields[name] = Source("heading", (column,), match.unit, match.how, match.certainty)
            else:
                how = "ambiguous" if winner is None else "unmapped"
                left[column] = Match(None, how, 0.0, matches[column].unit, (name,))
    feed = Feed(table, fields)
    _add_parts(feed, left, compounds, headings)
    return feed, left


def _add_parts(
    feed: Feed, left: dict[int, Match], compounds: dict[int, tuple[Compound, ...]], headings: dict[int, str]
) -> None:
    """Feed the fields that nothing else feeds from the parts of compound headings; what is not certain is left."""
    claims: dict[str, int] = {}
    for found in compounds.values():
        for name in {name for compound in found for name in compound.fields if name}:
            claims[name] = claims.get(name, 0) + 1
    for column, found in compounds.items():
        free = [name for compound in found for name in compound.fields if name and name not in feed.fields]
        if len(found) > 1 or any(claims[name] > 1 for name in free):
            left[column] = Match(None, "ambiguous", 0.0, None, tuple(named(compound) for compound in found))
        elif free:
            feed.fields |= part_sources(found[0], column, headings[column], free)
        else:
            left[column] = Match(None, "unmapped", 0.0, None, (named(found[0]),))


def part_sources(compound: Compound, column: int, heading: str, wanted: list[str]) -> dict[str, Source]:
    """The sources of the wanted fields of a compound."""
    units = part_units(heading, compound)
    return {
        name: Source("part", (column,), unit, parts=compound.fields)
        for name, unit in zip(compound.fields, units, strict=True)
        if name in wanted
    }


def _winner(name: str, columns: list[int], headings: dict[int, str], matches: dict[int, Match]) -> int | None:
    """The column that feeds the field, where one of several clearly does."""
    best = max(matches[column].certainty for column in columns)
    columns = [column for column in columns if matches[column].certainty == best]
    own = [column for column in columns if normalize(headings[column]) == normalize(name)]
    if len(own) == 1:
        return own[0]
    if len(columns) > 1:
        # Beside a code, a name is the long form of the same thing.
        columns = [column for column in columns if not normalize(headings[column]).endswith("name")]
    return columns[0] if len(columns) == 1 else None


def feed_from_map(entry: SheetMap, headings: dict[int, str], table: str | None = None) -> tuple[Feed, dict[int, Match]]:
    """
    The feed that a column map asks for; what it does not name is found by heading.

    `table` is one of those that an entry for a mixed register names; the entry's fields of other tables are not its.
    """
    table = table or entry.table
    assert table is not None
    columns = table_columns(table)
    fields = {name: source for name, source in entry.fields.items() if name in columns}
    told: dict[str, Source] = {}
    taken: set[int] = set()
    for name, source in fields.items():
        places = _places(source, headings)
        unit = match_heading(headings[places[0]], table).unit if source.kind in ("heading", "rx", "part") else None
        detail = source.detail if source.kind in ("join", "pattern") else ""
        told[name] = Source(source.kind, places, unit, "map", 1.0, detail, _parts(source, fields))
        if source.kind in ("heading", "rx", "part"):
            taken.update(places)
    rest = {column: heading for column, heading in headings.items() if column not in taken}
    feed, left = feed_from_headings(rest, table)
    own = {key: value for key, value in entry.constants.items() if key in columns}
    kept = {name: source for name, source in feed.fields.items() if name not in told and name not in own}
    feed.fields = {name: _with_unit(source, name, headings, entry, table) for name, source in (told | kept).items()}
    feed.entry, feed.constants = entry, own
    impedance = feed.fields.get("impedance")
    if impedance and impedance.kind == "rx" and len(impedance.columns) > 1 and "x_over_r" not in feed.fields:
        feed.fields["x_over_r"] = Source("ratio", impedance.columns[1:], impedance.unit, "map")
    used = {c for s in feed.fields.values() if s.kind not in ("join", "pattern") for c in s.columns}
    return feed, {column: match for column, match in left.items() if column not in used}


def _places(source: FieldSource, headings: dict[int, str]) -> tuple[int, ...]:
    """The columns under the headings of a source: the first of each, unless the source names its column."""
    found = []
    for heading in source.headings:
        columns = [column for column, text in sorted(headings.items()) if normalize(text) == normalize(heading)]
        if source.kind == "heading" and source.detail:
            columns = [c for c in columns if source.detail in (column_letter(c), str(c + 1))]
        found += columns[:1]
    return tuple(found)


def _parts(source: FieldSource, fields: dict[str, FieldSource]) -> tuple[str | None, ...]:
    """The fields that the entry feeds from the parts of the same heading."""
    if source.kind != "part":
        return ()
    of = normalize(source.headings[0])
    numbered = {
        int(other.detail): name
        for name, other in fields.items()
        if other.kind == "part" and normalize(other.headings[0]) == of
    }
    return tuple(numbered.get(number) for number in range(1, max(numbered) + 1))


def _with_unit(source: Source, name: str, headings: dict[int, str], entry: SheetMap, table: str) -> Source:
    unit = entry.units.get(normalize(headings[source.columns[0]]), source.unit)
    if source.kind == "part" and not fits_unit(table, name, unit):
        unit = None  # it is the unit of another part
    return replace(source, unit=unit)


def missing_headings(entry: SheetMap, headings: dict[int, str]) -> list[str]:
    """The headings that the entry names and the region lacks."""
    present = {normalize(heading) for heading in headings.values()}
    missing = sorted(heading for heading in entry.named_headings() if heading not in present)
    misplaced = [
        f"{normalize(source.headings[0])}, column {source.detail}"
        for source in entry.fields.values()
        if source.kind == "heading" and source.detail and not _places(source, headings)
    ]
    return missing or misplaced


def lacks_tag(feed: Feed) -> bool:
    """Whether nothing feeds the column that identifies the table's assets."""
    tag = INVENTORY_TABLES[feed.table].asset_column()
    return tag not in feed.fields and tag not in feed.constants
