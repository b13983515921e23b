"""Turns the text of one cell into a typed value of one column; imports schema and nothing else of the project."""

from groundcheck.ingest.values.cell import ReadColumn, read_cell, read_column
from groundcheck.ingest.values.heading import heading_unit
from groundcheck.ingest.values.reading import Problem, Reading
from groundcheck.ingest.values.units import converts, known_unit

__all__ = [
    "Problem",
    "ReadColumn",
    "Reading",
    "converts",
    "heading_unit",
    "known_unit",
    "read_cell",
    "read_column",
]
