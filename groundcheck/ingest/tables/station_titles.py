"""A title such as 'Substation: Ash Lane' above rows that have no station of their own."""

import re
from typing import Any

import numpy as np

from groundcheck.ingest.book import Book
from groundcheck.ingest.mapping.feeds import Feed, Layout, Source
from groundcheck.ingest.sheets import Sheet, is_blank

_LABEL = (
    r"(?:(?:electrical )?(?:sub-?\s?station|station|s/s|site|stn|switching station)(?: name| code| id)?"
    r"|name of (?:sub-?\s?station|station|site))"
)
_IN_ONE = re.compile(rf"\s*{_LABEL}\s*(?:[:=]|\s[-–—]\s)\s*(\S.*?)\s*", re.I | re.S)
_BEFORE = re.compile(rf"\s*{_LABEL}\s*[:=]?\s*", re.I)
_ABOVE = 30  # rows above the headings that may hold the title
_MOST = 6  # filled cells of a row with a title


def give_station(layout: Layout, sheet: Sheet) -> None:
    """Feed the station from the titles above the rows, where the table has no column for it and no map gives it."""
    region = layout.region
    if sheet.table is not None or not layout.feeds:
        return
    lacking = [f for f in layout.feeds if "substation" not in f.fields and "substation" not in f.constants]
    if not any(feed.primary and feed.table != "substation" for feed in lacking):
        return
    first = max(region.heading_rows[0] - _ABOVE, 0)
    few = sheet.filled.sum(axis=1)
    likely = [row for row in np.flatnonzero((few > 0) & (few <= _MOST)).tolist() if first <= row < region.body.stop]
    region.titles = [title for row in likely if row not in region.heading_rows and (title := _title(sheet, row))]
    region.titles = _since_last_table(region.titles, region.heading_rows[0])
    if sheet.turned:
        region.titles = _in_headings(sheet, region.heading_rows[0]) or region.titles
    if not region.titles:
        return
    region.notes |= {row for row, _, _ in region.titles if row in region.body}
    region.stations = _by_row(region.titles, region.body)
    for feed in lacking:
        feed.fields["substation"] = Source("heading", (sheet.width,), how="title")
    row, column, _ = region.titles[0]
    region.headings[sheet.width] = str(sheet.rows[row][column]).strip()


def _title(sheet: Sheet, row: int) -> tuple[int, int, str] | None:
    """Row, column and text of the cell that names a station."""
    cells: list[Any] = sheet.rows[row]
    filled = [(column, cell) for column, cell in enumerate(cells) if not is_blank(cell)]
    for place, (column, cell) in enumerate(filled):
        if not isinstance(cell, str):
            continue
        whole = _IN_ONE.fullmatch(cell)
        if whole:
            return row, column, whole[1]
        if _BEFORE.fullmatch(cell) and place + 1 < len(filled) and len(filled) <= _MOST:
            value = filled[place + 1]
            if not (isinstance(value[1], str) and value[1].rstrip().endswith(":")):
                return row, value[0], str(value[1]).strip()
    return None


def _in_headings(sheet: Sheet, row: int) -> list[tuple[int, int, str]]:
    """On a turned sheet a title stands in the row of the labels."""
    found = []
    for column, cell in enumerate(sheet.rows[row]):
        whole = _IN_ONE.fullmatch(cell) if isinstance(cell, str) else None
        found += [(row, column, whole[1])] if whole else []
    return found


def _since_last_table(titles: list[tuple[int, int, str]], heading: int) -> list[tuple[int, int, str]]:
    """Of the titles above the headings, the last; and all below."""
    above = [title for title in titles if title[0] < heading]
    return above[-1:] + [title for title in titles if title[0] > heading]


def _by_row(titles: list[tuple[int, int, str]], body: range) -> dict[int, str]:
    """The station of each row: that of the last title above it."""
    stations: dict[int, str] = {}
    for (row, _, station), after in zip(titles, [*(t[0] for t in titles[1:]), body.stop], strict=True):
        stations |= dict.fromkeys(range(max(row, body.start), min(after, body.stop)), station)
    return stations


def note_titles(sheet: Sheet, layout: Layout, book: Book) -> None:
    """Name the cell of each title that gave a station."""
    fed = next((feed for feed in layout.feeds if _from_title(feed)), None)
    if fed is None:
        return
    for row, column, station in layout.region.titles:
        block = next(block for block in reversed(book.blocks) if block.sheet is sheet and row in block.rows)
        raw_row = block.first + block.rows.index(row)
        note = "a title gives the station of the rows below it, which have none of their own"
        book.note(raw_row, column, fed.table, "substation", station, note)


def _from_title(feed: Feed) -> bool:
    return "substation" in feed.fields and feed.fields["substation"].how == "title"
