"""Finding the station in the names of buses: the letters that the buses of one transformer have in common."""

from collections import defaultdict
from dataclasses import dataclass

from groundcheck.ingest.mapping.feeds import Feed, Layout, feed_from_headings
from groundcheck.ingest.mapping.headings import match_heading, normalize
from groundcheck.ingest.sheets import Sheet, cell_text, is_blank
from groundcheck.ingest.tables.header_row import Region

_LENGTHS = range(8, 1, -1)
_AGREE = 0.95
_MOST_CONTAINERS = 60


@dataclass(frozen=True)
class StationCode:
    """How a station is read from a bus's name, and what speaks for it."""

    heading: str
    pattern: str
    within: str | None
    why: str


def find_station_code(sheet: Sheet, region: Region, feed: Feed, containers: frozenset[str]) -> StationCode | None:
    """The longest beginning that the names of both buses share in nearly all rows; None if they share none."""
    buses = _bus_columns(feed)
    rows = _rows(sheet, region, buses)
    if len(buses) < 2 or not rows:
        return None
    for length in _LENGTHS:
        alike = sum(len({name[:length] for name in row}) == 1 for row in rows)
        if alike >= _AGREE * len(rows) and all(len(name) > length for row in rows for name in row):
            break
    else:
        return None
    names = [region.headings[column] for column in buses]
    within = next((h for h in region.headings.values() if normalize(h) in containers), None)
    why = f"{alike / len(rows):.2f}: first {length} letters of {names[0]} and {names[1]} agree "
    why += f"in {alike:,} of {len(rows):,} rows"
    if within is not None:
        why += f"; a code repeats from one {within} to another"
    return StationCode(names[1], f"^(.{{{length}}})", within, why)


def find_containers(tables: list[tuple[Sheet, Layout]]) -> frozenset[str]:
    """
    Headings within which station codes are unique, where codes alone are not.

    The sign: rows in use name the same buses, and differ in that column. Of several, the one with fewest values.
    """
    found: set[str] = set()
    for sheet, layout in tables:
        feed, _ = feed_from_headings(layout.region.headings, "transformer")
        buses = _bus_columns(feed)
        if layout.feeds or len(buses) < 2:
            continue
        free = [c for c, h in layout.region.headings.items() if match_heading(h, "transformer").field is None]
        status = feed.fields["status"].columns[0] if "status" in feed.fields else None
        groups = defaultdict(list)
        for index in layout.region.body:
            row = sheet.rows[index]
            cells = [cell_text(row[c]) if c < len(row) else None for c in range(max(layout.region.headings) + 1)]
            if all(cells[c] for c in buses) and not (status is not None and _is_gone(cells[status])):
                groups[tuple(cells[c] for c in buses)].append(cells)
        repeated = [rows for rows in groups.values() if len(rows) > 1]
        fitting = {}
        for column in free:
            values = {row[column] for rows in groups.values() for row in rows}
            apart = all(len({row[column] for row in rows}) == len(rows) for rows in repeated)
            if repeated and apart and None not in values and 1 < len(values) <= _MOST_CONTAINERS:
                fitting[layout.region.headings[column]] = len(values)
        if fitting:
            found.add(normalize(min(fitting, key=lambda heading: fitting[heading])))
    return frozenset(found)


def _is_gone(status: str | None) -> bool:
    return (status or "").strip().casefold() in ("removed", "decommissioned", "retired", "scrapped", "spare", "planned")


def _bus_columns(feed: Feed) -> list[int]:
    return [feed.fields[name].columns[0] for name in ("hv_bus", "lv_bus") if name in feed.fields]


def _rows(sheet: Sheet, region: Region, columns: list[int]) -> list[list[str]]:
    rows = [sheet.rows[index] for index in region.body]
    filled = [row for row in rows if all(c < len(row) and not is_blank(row[c]) for c in columns)]
    return [[cell_text(row[c]) or "" for c in columns] for row in filled]
