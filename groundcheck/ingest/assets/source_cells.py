"""From a row of the store back to the column of its sheet that gave a field."""

from bisect import bisect_left

from groundcheck.ingest.tables.records import Records


def column_in_row(records: list[Records], table: str, field: str, raw_row: int) -> int | None:
    """The column of the sheet that gives a field of a table in a row; None if none does."""
    for part in records:
        if part.feed.table == table and part.rows and part.raw_rows[0] <= raw_row <= part.raw_rows[-1]:
            place = bisect_left(part.raw_rows, raw_row)
            if part.raw_rows[place] == raw_row and part.column_of(field) is not None:
                return part.column_of(field)
    return None
