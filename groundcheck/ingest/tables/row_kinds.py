"""What each row of a region is: a record, a repeated heading, a note, or blank."""

import re
from typing import Any

from groundcheck.ingest.mapping.feeds import Feed
from groundcheck.ingest.sheets import Sheet, is_blank
from groundcheck.ingest.tables.header_row import Region

_TOTAL = re.compile(r"\s*(grand |sub-?)?totals?\b", re.IGNORECASE)
_NOTE = re.compile(
    r"\s*(notes?|remarks?|source|prepared by|checked by|issued|revision|rev\b|legend|key:|end of|page \d|\*)",
    re.IGNORECASE,
)
_NARROW = 3  # columns: in a table this narrow a single filled cell may be a record, unless a blank row parts it off
_FEW = 3  # filled cells: more than these are no note
_WORDS = 40  # letters: a single longer text is a note, not a name


def row_kinds(sheet: Sheet, region: Region, columns: range | None, feeds: list[Feed]) -> list[str]:
    """
    The kind of each row of the region's body: record, heading, note or blank.

    `columns` limits the look to the region's own columns, where another table stands beside it.
    """
    mapped = sorted({column for feed in feeds for column in feed.columns}) or list(region.headings)
    lone = _lone_column(feeds)
    wide = len(region.headings) > _NARROW
    kinds = []
    for index in region.body:
        row = sheet.rows[index]
        cells = row if columns is None else row[columns.start : columns.stop]
        if index in region.repeats:
            kinds.append("heading")
            continue
        filled = [cell for cell in cells if not (cell is None or cell == "" or is_blank(cell))]
        if not filled:
            kinds.append("blank")
            continue
        says_nothing = not any(c < len(row) and not is_blank(row[c]) for c in mapped)
        apart = wide or kinds[-1:] == ["blank"]
        alone = len(filled) == 1 and apart and not _is_lone_record(filled[0], row, lone)
        kinds.append("note" if says_nothing or alone or _reads_as_note(filled) else "record")
    return kinds


def _reads_as_note(filled: list[Any]) -> bool:
    first = filled[0]
    if type(first) is not str:
        return False
    return bool(_TOTAL.match(first)) or (len(filled) <= _FEW and bool(_NOTE.match(first)))


def _lone_column(feeds: list[Feed]) -> int | None:
    """The column that alone makes a record: the code on a sheet of stations."""
    primary = next((feed for feed in feeds if feed.primary), None)
    if primary is None or primary.table != "substation" or "substation" not in primary.fields:
        return None
    return primary.fields["substation"].columns[0]


def _is_lone_record(cell: Any, row: list[Any], lone: int | None) -> bool:
    return lone is not None and lone < len(row) and not is_blank(row[lone]) and len(str(cell)) <= _WORDS


def carry_merged(sheet: Sheet, region: Region) -> dict[int, list[Any]]:
    """The rows of the body that a merged range reaches into from above, with the range's value filled in."""
    carried: dict[int, list[Any]] = {}
    for (top, left), (bottom, right) in sheet.merged:
        if bottom == top or top not in region.body or is_blank(_cell(sheet.rows[top], left)):
            continue
        value = sheet.rows[top][left]
        for index in range(top + 1, min(bottom + 1, region.body.stop)):
            row = carried.setdefault(index, list(sheet.rows[index]))
            row.extend([None] * (right + 1 - len(row)))
            for column in range(left, right + 1):
                row[column] = value if is_blank(row[column]) else row[column]
    return carried


def _cell(row: list[Any], column: int) -> Any:
    return row[column] if column < len(row) else None
