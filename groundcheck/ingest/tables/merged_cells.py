"""Merged ranges that reach down over several rows: their value holds for each of the rows, and is said to."""

from collections.abc import Sequence
from typing import Any

from groundcheck.ingest.book import Book
from groundcheck.ingest.mapping.feeds import Feed
from groundcheck.ingest.sheets import Position, Sheet, cell_name, is_blank
from groundcheck.ingest.tables.header_row import Region


def carry_merged(sheet: Sheet, region: Region) -> dict[int, list[Any]]:
    """The rows of the body that a merged range reaches into from above, with the range's value filled in."""
    carried: dict[int, list[Any]] = {}
    for (top, left), (bottom, _) in _tall_ranges(sheet, region):
        value = sheet.rows[top][left]
        for index in range(top + 1, min(bottom + 1, region.body.stop)):
            row = carried.setdefault(index, list(sheet.rows[index]))
            row.extend([None] * (left + 1 - len(row)))
            row[left] = value if is_blank(row[left]) else row[left]
    for index, station in region.stations.items():  # from titles, in a column behind the last
        row = carried.setdefault(index, list(sheet.rows[index]))
        row.extend([None] * (sheet.width + 1 - len(row)))
        row[sheet.width] = station
    return carried


def note_carried(sheet: Sheet, region: Region, feeds: list[Feed], numbers: Sequence[int], book: Book) -> None:
    """Note each merged range whose value feeds a field of the rows under its first; `numbers` are those of the body."""
    for (top, left), (bottom, right) in _tall_ranges(sheet, region):
        fed = [(feed.table, name) for feed in feeds for name, source in feed.fields.items() if left in source.columns]
        last = min(bottom, region.body.stop - 1)
        if not fed or last == top:
            continue
        (table, name), value = fed[0], sheet.rows[top][left]
        cells = f"{cell_name(top, left, sheet.turned)}:{cell_name(bottom, right, sheet.turned)}"
        book.note(
            numbers[top - region.body.start], left, table, name, value, "carried down from a merged range", cell=cells
        )


def _tall_ranges(sheet: Sheet, region: Region) -> list[tuple[Position, Position]]:
    return [
        ((top, left), (bottom, right))
        for (top, left), (bottom, right) in sheet.merged
        if bottom > top and top in region.body and left < sheet.width and sheet.filled[top, left]
    ]
