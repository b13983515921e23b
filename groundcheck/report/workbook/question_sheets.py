"""The sheets Questions and Noted cells: what a person must settle, and what was read otherwise than it was written."""

from typing import Any

from groundcheck.report.field_names import field_in_words, kind_in_words
from groundcheck.report.workbook.table_sheet import Field, TableSheet, rows_of
from groundcheck.schema.stages.raw import QUESTION_SUBJECTS
from groundcheck.store import Store

_PLACE = (Field("file", 30, "wrap"), Field("sheet", 20, "wrap"), Field("cell", 10, "wrap"))


def questions_sheet(store: Store) -> TableSheet:
    """What must be settled; nothing is chosen meanwhile."""
    query = """
        SELECT question, subject, file, sheet, cell, found, candidates, cells, answer FROM raw.question
        ORDER BY question
    """

    def row(number: int, subject: str, *rest: Any) -> tuple[Any, ...]:
        return number, QUESTION_SUBJECTS.get(subject, subject), *rest

    fields = (
        Field("question", 9, "count"),
        Field("about", 30, "wrap"),
        *_PLACE,
        Field("found", 36, "wrap"),
        Field("can be", 44, "wrap"),
        Field("cells waiting", 9, "count"),
        Field("line of the column map that answers it", 60, "wrap"),
    )
    about = "what a person must settle; until then nothing is chosen, and the cells wait"
    return TableSheet("Questions", about, fields, empty="No question is open.", **rows_of(store, query, row))


def noted_cells_sheet(store: Store) -> TableSheet:
    """Cells that were used, but not quite as they were written."""
    query = """
        SELECT file, sheet, cell, target_table, field, found, read_as, tolerance, note FROM raw.noted_cell
        ORDER BY file, sheet, "row", cell, target_table, field
    """

    def row(file: str, sheet: str, cell: str, table: str, field: str, *rest: Any) -> tuple[Any, ...]:
        return file, sheet, cell, kind_in_words(table), field_in_words(table, field), *rest

    fields = (
        *_PLACE,
        Field("asset kind", 20),
        Field("field fed", 30, "wrap"),
        Field("found", 36, "wrap"),
        Field("read as", 24, "wrap_right"),
        Field("tolerance", 9, "percent"),
        Field("why it is worth a look", 60, "wrap"),
    )
    about = "cells that were used, but not quite as they were written, with what was made of them"
    empty = "Every cell that was used was read as it was written."
    return TableSheet("Noted cells", about, fields, empty=empty, **rows_of(store, query, row))
