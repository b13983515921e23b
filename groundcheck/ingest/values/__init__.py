"""Turns the text of a cell into typed values of one column or several; of the project it imports schema only."""

from groundcheck.ingest.values.cell import read_cell
from groundcheck.ingest.values.column_of_cells import ReadColumn, read_column
from groundcheck.ingest.values.day import day_order
from groundcheck.ingest.values.heading import heading_unit
from groundcheck.ingest.values.one_value import NEEDS_FREQUENCY
from groundcheck.ingest.values.parts import read_parts, read_parts_column
from groundcheck.ingest.values.reading import Problem, Reading
from groundcheck.ingest.values.units import converts, known_unit

__all__ = [
    "NEEDS_FREQUENCY",
    "Problem",
    "ReadColumn",
    "Reading",
    "converts",
    "day_order",
    "heading_unit",
    "known_unit",
    "read_cell",
    "read_column",
    "read_parts",
    "read_parts_column",
]
