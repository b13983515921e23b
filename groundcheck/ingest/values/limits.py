"""A number against the physical limits of its column."""

from groundcheck.ingest.values.reading import Problem, Reading
from groundcheck.ingest.values.wanted import wanted
from groundcheck.schema import Column


def within_limits(value: float | int, column: Column) -> Reading:
    """The number, or the limits that it is outside of; a zero that cannot be is called suspect."""
    if (
        (column.gt is not None and not value > column.gt)
        or (column.ge is not None and not value >= column.ge)
        or (column.le is not None and not value <= column.le)
    ):
        suspect = "; a zero here is suspect" if value == 0 else ""
        return Reading(None, Problem("outside_limits", wanted(column) + suspect))
    return Reading(value)
