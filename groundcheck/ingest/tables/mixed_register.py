"""A register of all kinds of equipment in one table: a column names the kind, and each row goes to its own table."""

from dataclasses import replace

from groundcheck.ingest.mapping.column_map import ColumnMap, SheetMap
from groundcheck.ingest.mapping.feeds import (
    Feed,
    Kinds,
    Layout,
    Source,
    feed_from_headings,
    feed_from_map,
    lacks_tag,
    missing_headings,
)
from groundcheck.ingest.mapping.headings import Match, normalize, spellings, table_columns
from groundcheck.ingest.sheets import Sheet, cell_text
from groundcheck.ingest.tables.header_row import Region
from groundcheck.ingest.values import read_column
from groundcheck.schema import INVENTORY_TABLES
from groundcheck.schema.equipment_words import KIND_HEADINGS, TAG_HEADINGS, equipment_kind

_MOSTLY = 0.5  # share of the rows whose word for the kind must be known
_ABOUT_OTHERS = ("bond", "inspection")  # tables whose rows name the kind of another asset


def deal_register(region: Region, sheet: Sheet, column_map: ColumnMap, plain: Layout) -> Layout | None:
    """
    The layout of a mixed register, one feed a table that its words name; None for a table about one thing.

    `plain` is what the headings alone make of the region. The column map may say which column names the kind.
    """
    entries = [entry for entry in column_map.for_sheet(sheet) if entry.kinds_column is not None]
    told = next((entry for entry in entries if not missing_headings(entry, region.headings)), None)
    if sheet.table is not None or region.unknown:
        return None
    if told is None:
        mapped = bool(plain.feeds) and plain.feeds[0].entry is not None
        column = None if mapped else _kind_column(region, sheet, plain)
    else:
        told.used = True
        column = _column_under(region, told.kinds_column or "")
    if column is None:
        return None
    kinds = _sort(region, sheet, column, told.kinds if told else {})
    layout = Layout(region, [], kinds=kinds)
    lefts = {}
    for table in INVENTORY_TABLES:
        if table in kinds.rows:
            feed, lefts[table] = _feed(region, table, kinds, told)
            layout.feeds.append(feed)
    if not layout.feeds or (told is None and all(map(lacks_tag, layout.feeds))):
        return None
    _leave(layout, lefts)
    return layout


def _column_under(region: Region, heading: str) -> int | None:
    return next((c for c, text in sorted(region.headings.items()) if normalize(text) == normalize(heading)), None)


def _kind_column(region: Region, sheet: Sheet, plain: Layout) -> int | None:
    """The column whose words name canonical tables, if the table is not plainly about one of them."""
    complete = _is_complete(plain)
    if complete and plain.feeds[0].table in _ABOUT_OTHERS:
        return None
    best: tuple[float, int] | None = None
    for column, heading in region.headings.items():
        if not any(reading in KIND_HEADINGS for reading, _ in spellings(heading)):
            continue
        counts = {word: len(rows) for word, rows in _rows_by_word(region, sheet, column).items() if word}
        kinds = {word: kind for word in counts if (kind := equipment_kind(word)) is not None}
        tables = {kind.table for kind in kinds.values()}
        known = sum(counts[word] for word in kinds)
        if not tables or known < _MOSTLY * sum(counts.values()) or _accepted(plain, column, counts) >= known:
            continue
        if (
            complete
            and sum(counts[w] for w, kind in kinds.items() if kind.table == plain.feeds[0].table) >= _MOSTLY * known
        ):
            continue
        if len(tables) == 1 and plain.feeds and (plain.feeds[0].table in tables or column not in _choices(plain)):
            continue
        best = max(best or (0.0, 0), (float(known), -column))
    return None if best is None else -best[1]


def _is_complete(plain: Layout) -> bool:
    """Whether the headings give all that the table requires which they fit best."""
    if not plain.feeds:
        return False
    feed = plain.feeds[0]
    return all(name in feed.fields for name, column in table_columns(feed.table).items() if column.required)


def _choices(plain: Layout) -> set[int]:
    """The columns that feed a field with a vocabulary."""
    feed = plain.feeds[0]
    columns = table_columns(feed.table)
    return {source.columns[0] for name, source in feed.fields.items() if columns[name].kind == "choice"}


def _accepted(plain: Layout, column: int, counts: dict[str, int]) -> int:
    """The rows whose word the vocabulary of the field that the column feeds accepts."""
    for feed in plain.feeds[:1]:
        for name, source in feed.fields.items():
            facts = table_columns(feed.table)[name]
            if source.columns[0] == column and facts.kind == "choice":
                words = list(counts)
                unread = read_column(words, facts).problems
                return sum(counts[word] for index, word in enumerate(words) if index not in unread)
    return 0


def _rows_by_word(region: Region, sheet: Sheet, column: int) -> dict[str, list[int]]:
    """The rows of the body by the word in a column, without case; '' for a blank."""
    cells = sheet.columns[column][region.body.start : region.body.stop] if column < sheet.width else ()
    rows: dict[object, list[int]] = {}
    for index, cell in zip(region.body, cells, strict=False):
        rows.setdefault(cell, []).append(index)
    merged: dict[str, list[int]] = {}
    for cell, found in rows.items():
        merged.setdefault(" ".join((cell_text(cell) or "").split()).casefold(), []).extend(found)
    return merged


def _sort(region: Region, sheet: Sheet, column: int, told: dict[str, str]) -> Kinds:
    kinds = Kinds(column)
    rows: dict[str, list[int]] = {}
    for word, found in _rows_by_word(region, sheet, column).items():
        kind = equipment_kind(word)
        table = told.get(word, kind.table if kind else None)
        if table:
            rows.setdefault(table, []).extend(found)
            kinds.fields[table, word] = dict(kind.fields) if kind and kind.table == table else {}
        elif table == "":
            region.notes.update(found)
        else:
            kinds.unknown[word] = found
    kinds.rows = {table: frozenset(found) for table, found in rows.items()}
    return kinds


def _feed(region: Region, table: str, kinds: Kinds, told: SheetMap | None) -> tuple[Feed, dict[int, Match]]:
    """One table's feed: its headings, the tag of any kind of asset, and what the word for the kind settles."""
    tag = INVENTORY_TABLES[table].asset_column()
    headings = {column: heading for column, heading in region.headings.items() if column != kinds.column}
    settled = {tag} & (told.fields.keys() | told.constants.keys()) if told else set()
    tagged = None if settled or table == "substation" else _tag_column(headings)
    rest = {column: heading for column, heading in headings.items() if column != tagged}
    if told is not None:
        named = replace(told, kinds_column=None)  # its column is no source of a field
        feed, left = feed_from_map(named, rest if not _names(told, headings, tagged) else headings, table)
        feed.entry = told
    else:
        feed, left = feed_from_headings(rest, table)
    if tagged is not None and tagged not in feed.columns:
        feed.fields[tag] = Source("heading", (tagged,))
    feed.rows = kinds.rows[table]
    for name in {name for (of, _), fields in kinds.fields.items() if of == table for name in fields}:
        if name not in feed.fields and name not in feed.constants:
            feed.fields[name] = Source("heading", (kinds.column,))
            feed.words[name] = {
                word: fields.get(name, "") for (of, word), fields in kinds.fields.items() if of == table
            }
    return feed, left


def _names(told: SheetMap, headings: dict[int, str], column: int | None) -> bool:
    return column is not None and normalize(headings[column]) in told.named_headings()


def _tag_column(headings: dict[int, str]) -> int | None:
    """The column that holds the tag of an asset of any kind."""
    plain = {normalize(heading): column for column, heading in reversed(headings.items())}
    return next((plain[heading] for heading in TAG_HEADINGS if heading in plain), None)


def _leave(layout: Layout, lefts: dict[str, dict[int, Match]]) -> None:
    """What became of the headings that feed none of the tables."""
    fed = {column for feed in layout.feeds for column in feed.columns}
    for column in layout.region.headings.keys() - fed:
        found = [(table, left[column]) for table, left in lefts.items() if column in left]
        how = "ambiguous" if any(match.how == "ambiguous" for _, match in found) else "unmapped"
        candidates = dict.fromkeys(f"{table}.{name}" for table, match in found for name in match.candidates)
        layout.left[column] = Match(None, how, 0.0, None, tuple(candidates))
    if layout.kinds is not None and layout.kinds.column not in fed:
        layout.left[layout.kinds.column] = Match(None, "unmapped", 0.0, None, ("names the table of each row",))
