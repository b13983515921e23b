"""Which columns of a table in a sheet feed which fields of which canonical tables."""

from dataclasses import dataclass, field
from typing import Any

from groundcheck.ingest.mapping.column_map import SheetMap
from groundcheck.ingest.mapping.headings import Match, match_heading, normalize, table_columns
from groundcheck.ingest.tables.header_row import Region
from groundcheck.schema import INVENTORY_TABLES


@dataclass(frozen=True)
class Source:
    """Where one field comes from: the columns of the sheet, and how they make the field."""

    kind: str
    columns: tuple[int, ...]
    unit: str | None = None
    how: str = "alias"
    certainty: float = 1.0
    detail: str = ""


@dataclass
class Feed:
    """One canonical asset that each row of a region describes."""

    table: str
    fields: dict[str, Source]
    primary: bool = True
    part: int = 1
    entry: SheetMap | None = None
    constants: dict[str, Any] = field(default_factory=dict)
    winding: str | None = None
    beside: str | None = None

    @property
    def columns(self) -> set[int]:
        """Every column that feeds it."""
        return {column for source in self.fields.values() for column in source.columns}


@dataclass
class Layout:
    """A region with its feeds; `problem` says why it has no primary one, `left` what became of other headings."""

    region: Region
    feeds: list[Feed]
    left: dict[int, Match] = field(default_factory=dict)
    problem: str | None = None


def feed_from_headings(headings: dict[int, str], table: str, exact: bool = False) -> tuple[Feed, dict[int, Match]]:
    """
    Match headings with one table's fields, one column a field.

    Returns the feed, and for each column that feeds nothing what it might have been. With `exact`, only headings
    that are names or aliases count.
    """
    matches = {column: match_heading(heading, table) for column, heading in headings.items()}
    rivals: dict[str, list[int]] = {}
    left: dict[int, Match] = {}
    for column, match in matches.items():
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
    return Feed(table, fields), left


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


def feed_from_map(entry: SheetMap, headings: dict[int, str]) -> tuple[Feed, dict[int, Match]]:
    """The feed that a column map asks for; what it does not name is found by heading."""
    assert entry.table is not None
    where = {normalize(heading): column for column, heading in reversed(headings.items())}
    named: dict[str, Source] = {}
    taken: set[int] = set()
    for name, source in entry.fields.items():
        columns = tuple(where[normalize(heading)] for heading in source.headings)
        unit = match_heading(headings[columns[0]], entry.table).unit if source.kind in ("heading", "rx") else None
        named[name] = Source(source.kind, columns, unit, "map", 1.0, source.detail)
        if source.kind in ("heading", "rx"):
            taken.update(columns)
    rest = {column: heading for column, heading in headings.items() if column not in taken}
    feed, left = feed_from_headings(rest, entry.table)
    own = {key: value for key, value in entry.constants.items() if key in table_columns(entry.table)}
    kept = {name: source for name, source in feed.fields.items() if name not in named and name not in own}
    feed.fields = {name: _with_unit(source, headings, entry) for name, source in (named | kept).items()}
    feed.entry, feed.constants = entry, own
    impedance = feed.fields.get("impedance")
    if impedance and impedance.kind == "rx" and len(impedance.columns) > 1 and "x_over_r" not in feed.fields:
        feed.fields["x_over_r"] = Source("ratio", impedance.columns[1:], impedance.unit, "map")
    used = {c for s in feed.fields.values() if s.kind not in ("join", "pattern") for c in s.columns}
    return feed, {column: match for column, match in left.items() if column not in used}


def _with_unit(source: Source, headings: dict[int, str], entry: SheetMap) -> Source:
    unit = entry.units.get(normalize(headings[source.columns[0]]), source.unit)
    return Source(source.kind, source.columns, unit, source.how, source.certainty, source.detail)


def missing_headings(entry: SheetMap, headings: dict[int, str]) -> list[str]:
    """The headings that the entry names and the region lacks."""
    present = {normalize(heading) for heading in headings.values()}
    return sorted(heading for heading in entry.named_headings() if heading not in present)


def lacks_tag(feed: Feed) -> bool:
    """Whether nothing feeds the column that identifies the table's assets."""
    tag = INVENTORY_TABLES[feed.table].asset_column()
    return tag not in feed.fields and tag not in feed.constants
