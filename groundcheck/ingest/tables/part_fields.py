"""Fields that are parts of one cell, such as the current and the time of '400 A / 10 s'."""

from typing import Any

from groundcheck.ingest.mapping.column_map import ReadingHabits
from groundcheck.ingest.mapping.feeds import Source
from groundcheck.ingest.mapping.headings import table_columns
from groundcheck.ingest.values import ReadColumn
from groundcheck.schema import Column

_NOT_KEPT = Column("part", "text", "A part of the cell that no field holds.")


def read_part_fields(
    table: str, sources: dict[str, Source], cells: list[Any], decimal_comma: bool, habits: ReadingHabits
) -> dict[str, ReadColumn]:
    """The values of each field that the sources feed from the parts of one column of cells."""
    from groundcheck.ingest.values import read_parts_column

    parts = next(iter(sources.values())).parts
    known = [table_columns(table)[name] for name in parts if name]
    # A part that is not kept reads as the others do where these are alike.
    other = known[0] if len({(column.kind, column.unit) for column in known}) == 1 and len(known) > 1 else _NOT_KEPT
    columns = [table_columns(table)[name] if name else other for name in parts]
    units = [sources[name].unit if name in sources else None for name in parts]
    read = read_parts_column(cells, columns, units=units, decimal_comma=decimal_comma, frequency=habits.frequency)
    return {name: column for name, column in zip(parts, read, strict=True) if name in sources}
