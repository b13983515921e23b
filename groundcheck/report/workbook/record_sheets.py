"""The sheets on the record itself: quarantine, unread cells, headings, account, contradictions, references."""

from typing import Any

from groundcheck.report.field_names import field_in_words, kind_in_words
from groundcheck.report.workbook.source_rows import SourceRows
from groundcheck.report.workbook.table_sheet import Field, TableSheet, rows_of
from groundcheck.schema.stages.raw import QUARANTINE_REASONS
from groundcheck.store import Store

_PLACE = (Field("file", 30, "wrap"), Field("sheet", 20, "wrap"))


def quarantine_sheet(store: Store, sources: SourceRows) -> TableSheet:
    """Rows that can't be used, with the reason."""
    query = """
        SELECT file, sheet, "row", cell, target_table, reason, found, expected FROM raw.quarantine
        ORDER BY file, sheet, "row", target_table, reason, cell
    """

    def row(file: str, sheet: str, number: int, cell: str, table: str, reason: str, *rest: Any) -> tuple[Any, ...]:
        words = QUARANTINE_REASONS.get(reason, reason)
        return file, sheet, number, sources.cell_link(file, sheet, cell), kind_in_words(table), words, *rest

    fields = (
        *_PLACE,
        Field("row", 8, "number"),
        Field("cell", 8),
        Field("would have fed", 20),
        Field("reason", 44, "wrap"),
        Field("found", 36, "wrap"),
        Field("expected, and what to do", 60, "wrap"),
    )
    about = "rows that can't be used until they are corrected, each with its reason"
    empty = "No row waits in quarantine."
    return TableSheet("Quarantine", about, fields, empty=empty, **rows_of(store, query, row))


def unread_cells_sheet(store: Store) -> TableSheet:
    """Cells whose text could not be used."""
    query = """
        SELECT file, sheet, cell, target_table, field, found, expected FROM raw.unread_cell
        ORDER BY file, sheet, "row", cell, target_table, field
    """

    def row(file: str, sheet: str, cell: str, table: str, field: str, *rest: Any) -> tuple[Any, ...]:
        return file, sheet, cell, kind_in_words(table), field_in_words(table, field), *rest

    fields = (
        *_PLACE,
        Field("cell", 8),
        Field("asset kind", 20),
        Field("field left blank", 30, "wrap"),
        Field("found", 40, "wrap"),
        Field("expected", 70, "wrap"),
    )
    about = "cells whose text could not be read; the field counts as not on record"
    empty = "Every cell that feeds a field could be read."
    return TableSheet("Unread cells", about, fields, empty=empty, **rows_of(store, query, row))


def headings_sheet(store: Store) -> TableSheet:
    """What was made of each heading."""
    query = """
        SELECT file, sheet, region, column_letter, heading, target_table, part, field, unit, how, certainty, candidates
        FROM raw.column_map
        ORDER BY file, sheet, region, length(column_letter), column_letter, target_table, part, field
    """

    def row(*cells: Any) -> tuple[Any, ...]:
        return (*cells[:5], kind_in_words(cells[5]), cells[6], field_in_words(cells[5], cells[7]), *cells[8:])

    fields = (
        *_PLACE,
        Field("table in sheet", 8, "number"),
        Field("column", 8),
        Field("heading as written", 34, "wrap"),
        Field("feeds", 24),
        Field("part", 6, "number"),
        Field("field", 28, "wrap"),
        Field("unit of a bare number", 10),
        Field("how it was decided", 16),
        Field("certainty", 9, "percent"),
        Field("could also be", 44, "wrap"),
    )
    about = "which column fed which field, how that was decided, and what was not mapped"
    empty = "No sheet had headings that were recognized."
    return TableSheet("Headings", about, fields, empty=empty, **rows_of(store, query, row))


def account_sheet(store: Store) -> TableSheet:
    """The reconciliation of rows, a line a sheet, and the files that could not be read; blank: not known."""
    query = """
        SELECT file, sheet, rows_read, rows_used, rows_quarantined, heading_rows, note_rows, blank_rows,
               rows_read = rows_used + rows_quarantined + heading_rows + note_rows + blank_rows AS balanced,
               hidden, hidden_rows, hidden_columns, struck_rows, turned, remark
        FROM raw.account
        UNION ALL BY NAME
        SELECT file, coalesce('not read: ' || problem, 'not read: same content as ' || copy_of) AS remark
        FROM raw.file WHERE problem IS NOT NULL OR copy_of IS NOT NULL
        ORDER BY file, sheet
    """
    fields = (
        Field("file", 34, "wrap"),
        Field("sheet", 20, "wrap"),
        *(
            Field(head, 11, "count")
            for head in ("rows read", "rows used", "rows quarantined", "heading rows", "note rows", "blank rows")
        ),
        Field("adds up", 9),
        Field("hidden", 8),
        *(Field(head, 9, "count") for head in ("hidden rows", "hidden columns", "struck rows")),
        Field("turned", 8),
        Field("remark", 60, "wrap"),
    )
    about = "every row of every sheet, accounted for"
    return TableSheet("Account", about, fields, empty="No file was read.", **rows_of(store, query))


def contradictions_sheet(store: Store) -> TableSheet:
    """Facts that are on record with two values."""
    query = """
        SELECT c.substation, c.asset_kind, c.asset, c.field, c.value_a, a.file, a.sheet, a."row",
               c.value_b, b.file, b.sheet, b."row"
        FROM inventory.contradiction c
        LEFT JOIN raw.row a ON a.raw_row = c.raw_row_a
        LEFT JOIN raw.row b ON b.raw_row = c.raw_row_b
        ORDER BY ALL
    """

    def row(station: str, kind: str, asset: str, field: str, *rest: Any) -> tuple[Any, ...]:
        return station, kind_in_words(kind), asset, field_in_words(kind, field), *rest

    fields = (
        Field("substation", 16),
        Field("asset kind", 18),
        Field("asset", 16, "wrap"),
        Field("field", 28, "wrap"),
        Field("one value", 20, "value"),
        *_PLACE,
        Field("row", 8, "number"),
        Field("other value", 20, "value"),
        *_PLACE,
        Field("row", 8, "number"),
    )
    about = "facts that are on record with two values"
    empty = "No fact is on record with two values."
    return TableSheet("Contradictions", about, fields, empty=empty, **rows_of(store, query, row))


def references_sheet(store: Store) -> TableSheet:
    """Mentions of assets that are not on record."""
    query = """
        SELECT substation, asset_kind, asset, field, written, nearest FROM inventory.reference
        WHERE target IS NULL ORDER BY substation, asset_kind, asset, field, position
    """

    def row(station: str, kind: str, asset: str, field: str, *rest: Any) -> tuple[Any, ...]:
        return station, kind_in_words(kind), asset, field_in_words(kind, field), *rest

    fields = (
        Field("substation", 18),
        Field("asset kind", 20),
        Field("asset", 20, "wrap"),
        Field("field", 30, "wrap"),
        Field("written", 40, "wrap"),
        Field("nearest tags on record", 60, "wrap"),
    )
    about = "assets that are mentioned but not on record"
    empty = "Every asset that is mentioned is on record."
    return TableSheet("References", about, fields, empty=empty, **rows_of(store, query, row))
