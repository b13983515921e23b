"""What each row of a region is: a record, a repeated heading, a note, or blank."""

import numpy as np
import pyarrow as pa
import pyarrow.compute as pc
from numpy.typing import NDArray

from groundcheck.ingest.mapping.feeds import Feed
from groundcheck.ingest.sheets import Sheet
from groundcheck.ingest.tables.header_row import Region
from groundcheck.ingest.tables.note_words import NOTE, TOTAL
from groundcheck.schema import INVENTORY_TABLES

_NARROW = 3  # columns: in a table this narrow a single filled cell may be a record, unless a blank row parts it off
_FEW = 3  # filled cells: more than these are no note
_WORDS = 40  # letters: a single longer text is a note, not a name

Mask = NDArray[np.bool_]


def row_kinds(sheet: Sheet, region: Region, columns: range | None, feeds: list[Feed]) -> list[str]:
    """
    The kind of each row of the region's body: record, heading, note or blank.

    `columns` limits the look to the region's own columns, where another table stands beside it.
    """
    body = sheet.filled[region.body.start : region.body.stop]
    span = range(sheet.width) if columns is None else range(columns.start, min(columns.stop, sheet.width))
    own = [column for column in span if column not in region.aside]
    filled = body[:, own].sum(axis=1)
    blank = np.asarray(~body[:, span.start : span.stop].any(axis=1))
    mapped = {column for feed in feeds for column in feed.columns} or set(region.headings)
    says_nothing = ~body[:, sorted(column for column in mapped if column < sheet.width)].any(axis=1)
    apart = np.ones(len(body), dtype=bool)
    if sum(column < sheet.width for column in region.headings) <= _NARROW:
        apart[:1], apart[1:] = False, blank[:-1]
    note = says_nothing | _notes(sheet, region, body, own, filled, feeds)
    for row in np.flatnonzero((filled == 1) & ~note).tolist():
        if apart[row] or (row and note[row - 1]):
            note[row] = not _is_lone_record(sheet, region.body[row], _lone_column(feeds))
    numbers = np.arange(region.body.start, region.body.stop)
    note |= np.isin(numbers, list(region.notes))
    heading = np.isin(numbers, list(region.repeats))
    kinds: list[str] = np.select([heading, blank, note], ["heading", "blank", "note"], "record").tolist()
    return kinds


def _notes(
    sheet: Sheet, region: Region, body: Mask, own: list[int], filled: NDArray[np.int64], feeds: list[Feed]
) -> Mask:
    """The rows that begin as a total does, or that are short and begin as a note does."""
    found = np.zeros(len(body), dtype=bool)
    if not own:
        return found
    few = filled <= _FEW
    tags = _tag_columns(feeds)
    untagged = ~body[:, tags].any(axis=1) if tags else few
    first = np.where(filled > 0, body[:, own].argmax(axis=1), -1)
    for place in np.unique(first[first >= 0]).tolist():
        texts = sheet.text_column(own[place]).slice(region.body.start, len(body))
        here = first == place
        found |= here & _matches(texts, TOTAL) & (untagged | few)
        found |= here & _matches(texts, NOTE) & few
    return found


def _matches(texts: pa.StringArray, pattern: str) -> Mask:
    return np.asarray(pc.fill_null(pc.match_substring_regex(texts, pattern, ignore_case=True), False))


def _tag_columns(feeds: list[Feed]) -> list[int]:
    """The columns that hold the tags of the rows' own assets."""
    tags = [feed.fields.get(INVENTORY_TABLES[feed.table].asset_column()) for feed in feeds if feed.primary]
    return sorted({source.columns[0] for source in tags if source is not None})


def _lone_column(feeds: list[Feed]) -> int | None:
    """The column that alone makes a record: the code on a sheet of stations."""
    primary = next((feed for feed in feeds if feed.primary), None)
    if primary is None or primary.table != "substation" or "substation" not in primary.fields:
        return None
    return primary.fields["substation"].columns[0]


def _is_lone_record(sheet: Sheet, row: int, lone: int | None) -> bool:
    return lone is not None and bool(sheet.filled[row, lone]) and len(str(sheet.rows[row][lone])) <= _WORDS
