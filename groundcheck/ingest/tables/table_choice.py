"""Which canonical tables a region feeds: one primary, and others that its leftover headings describe."""

import re

from groundcheck.ingest.mapping.column_map import ColumnMap, SheetMap
from groundcheck.ingest.mapping.feeds import (
    Feed,
    Layout,
    Source,
    feed_from_headings,
    feed_from_map,
    lacks_tag,
    missing_headings,
)
from groundcheck.ingest.mapping.headings import Match, aliases, normalize, table_columns
from groundcheck.ingest.sheets import Sheet
from groundcheck.ingest.tables.device_headings import add_neutral_devices
from groundcheck.ingest.tables.header_row import Region
from groundcheck.ingest.tables.mixed_register import deal_register
from groundcheck.ingest.tables.station_titles import give_station
from groundcheck.schema import INVENTORY_TABLES
from groundcheck.schema.equipment_words import PLAIN_TAG_HEADINGS

_NAMED_BY_SHEET = 1.5
_WITHOUT_TAG = 2.0

# What a row of any sheet may say of its station beside its own subject.
_STATION_FIELDS = ("name", "district", "owner", "frequency")
_NEITHER_STATION_NOR_LENGTH = {"description", "area", "operator", "company", "division"}


def choose_tables(region: Region, sheet: Sheet, column_map: ColumnMap) -> Layout:
    """
    Decide what a region feeds; an entry of the column map that fits settles the matter.

    A register that mixes kinds of equipment feeds a table a kind. A title above gives the station where no column does.
    """
    layout = _choose(region, sheet, column_map)
    dealt = deal_register(region, sheet, column_map, layout)
    if dealt is not None:
        layout = dealt
        _add_station_feed(layout)
    give_station(layout, sheet)
    return layout


def _choose(region: Region, sheet: Sheet, column_map: ColumnMap) -> Layout:
    if sheet.table is not None:
        feed, left = _feed_from_names(region.headings, sheet.table)
        return Layout(region, [feed], left)
    entries = [entry for entry in column_map.for_sheet(sheet) if not missing_headings(entry, region.headings)]
    asked = [entry for entry in entries if entry.table is not None]
    if asked:
        for entry in asked:
            entry.used = True
        feed, left = feed_from_map(asked[0], region.headings)
        feeds = [feed]
        for entry in asked[1:]:
            other, _ = feed_from_map(entry, {c: h for c, h in region.headings.items() if c in left or _names(entry, h)})
            other.primary = False
            feeds.append(other)
            left = {column: match for column, match in left.items() if column not in other.columns}
        layout = Layout(region, feeds, left)
    elif region.unknown:
        return Layout(
            region, [], problem="a table whose headings fit no canonical table: name its table in a column map"
        )
    else:
        layout = _choose_primary(region, sheet)
    if layout.feeds:
        _add_station_feed(layout)
        add_neutral_devices(layout)
    return layout


def _names(entry: SheetMap, heading: str) -> bool:
    return normalize(heading) in entry.named_headings()


def _feed_from_names(headings: dict[int, str], table: str) -> tuple[Feed, dict[int, Match]]:
    """A frame's columns go by their canonical names; any other heading is matched as a sheet's is."""
    named = {column: heading for column, heading in headings.items() if heading in table_columns(table)}
    rest = {column: heading for column, heading in headings.items() if column not in named}
    feed, left = feed_from_headings(rest, table)
    exact = {heading: Source("heading", (column,)) for column, heading in named.items()}
    for name, source in feed.fields.items():
        if name in exact:
            left[source.columns[0]] = Match(None, "unmapped", 0.0, source.unit, (name,))
    return Feed(table, feed.fields | exact), left


def best_table(region: Region, sheet: Sheet) -> str:
    """The table that the headings fit best, whether or not one of them gives its tag."""
    return _rank(region, sheet)[0][1].table


def _rank(region: Region, sheet: Sheet) -> list[tuple[float, Feed, dict[int, Match]]]:
    named = _tables_named(f"{sheet.name} | {region.title} | {sheet.file.rsplit('/', 1)[-1].rsplit('.', 1)[0]}")
    ranked = []
    for table in INVENTORY_TABLES:
        feed, left = feed_from_headings(region.headings, table)
        _add_plain_tag(feed, left, region.headings)
        ranked.append((_score(feed) + (_NAMED_BY_SHEET if table in named else 0.0), feed, left))
    return sorted(ranked, key=lambda item: -item[0])


def _add_plain_tag(feed: Feed, left: dict[int, Match], headings: dict[int, str]) -> None:
    """Take a heading such as 'Tag no' or 'Asset ID' for the tag, where no heading names the tag of the table's kind."""
    plain = [column for column in left if normalize(headings[column]) in PLAIN_TAG_HEADINGS]
    if lacks_tag(feed) and len(plain) == 1 and feed.table != "substation":
        feed.fields[INVENTORY_TABLES[feed.table].asset_column()] = Source("heading", (plain[0],))
        del left[plain[0]]


def _choose_primary(region: Region, sheet: Sheet) -> Layout:
    ranked = _rank(region, sheet)
    whole = next((item for item in ranked if item[1].table == "transformer" and _has_required(item[1])), None)
    if ranked[0][1].table == "neutral_device" and whole is not None:
        ranked.insert(0, whole)  # a device can be described in its transformer's row, never the other way round
    best_score, best, best_left = ranked[0]
    for score, feed, left in ranked:
        if not lacks_tag(feed):
            if lacks_tag(best) and best_score - score >= _WITHOUT_TAG:
                break
            return Layout(region, [feed], left)
    tag = table_columns(best.table)[INVENTORY_TABLES[best.table].asset_column()]
    return Layout(
        region,
        [],
        best_left | {column: Match(None, "unmapped", 0.0, None, (name,)) for name, column in _single(best)},
        f"most like the table {best.table}, but no heading gives its tag, such as "
        f"'{tag.aliases[0] if tag.aliases else tag.name}': rename the heading or name the column in a column map",
    )


def _has_required(feed: Feed) -> bool:
    return all(name in feed.fields for name, column in table_columns(feed.table).items() if column.required)


def _single(feed: Feed) -> list[tuple[str, int]]:
    return [(f"{feed.table}.{name}", source.columns[0]) for name, source in feed.fields.items()]


def _score(feed: Feed) -> float:
    """Matched headings, a close one for less, and the share of the required fields that are there."""
    required = [name for name, column in table_columns(feed.table).items() if column.required]
    found = sum(name in feed.fields for name in required)
    return sum(0.4 + 0.6 * s.certainty for s in feed.fields.values() if s.how == "alias") + (
        0.6 * sum(s.how != "alias" for s in feed.fields.values()) + 2.0 * found / len(required)
    )


def _tables_named(text: str) -> set[str]:
    """The tables that a sheet's name or title speaks of; the longest words win."""
    words = normalize(re.sub(r"[^\w/ ]", " ", text))
    found: dict[str, str] = {}
    for table, model in INVENTORY_TABLES.items():
        for word in (normalize(table), *map(normalize, table_columns(table)[model.asset_column()].aliases)):
            if len(word) >= 2 and re.search(rf"(?<!\w){re.escape(word)}(s|es)?(?!\w)", words):
                found[table] = max(found.get(table, ""), word, key=len)
    if not found:
        return set()
    longest = max(map(len, found.values()))
    return {table for table, word in found.items() if len(word) == longest}


def _add_station_feed(layout: Layout) -> None:
    """District, owner and name of the station, on a sheet about something else."""
    primary = layout.feeds[0]
    constants = {
        name: value
        for name, value in (primary.entry.constants.items() if primary.entry else ())
        if name in table_columns("substation") and name not in table_columns(primary.table)
    }
    station = primary.fields.get("substation")
    if primary.table == "substation" or station is None:
        return
    known = aliases("substation")
    fields: dict[str, Source] = {}
    for column in list(layout.left):
        heading = normalize(layout.region.headings[column])
        name = known.get(heading)
        if name == "substation" and heading.endswith("name"):
            name = "name"
        if name in _STATION_FIELDS and heading not in _NEITHER_STATION_NOR_LENGTH and name not in fields:
            fields[name] = Source("heading", (column,))
            del layout.left[column]
    if fields or constants:
        feed = Feed("substation", {"substation": station} | fields, primary=False, constants=constants)
        feed.entry = primary.entry
        layout.feeds.append(feed)
