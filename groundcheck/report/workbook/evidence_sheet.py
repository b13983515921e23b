"""The cells behind every finding."""

from groundcheck.report.field_names import field_in_words, kind_in_words
from groundcheck.report.rows import fetch
from groundcheck.report.workbook.record_sheets import cell_link
from groundcheck.report.workbook.source_rows import SourceRows
from groundcheck.report.workbook.table_sheet import Field, TableSheet
from groundcheck.store import Store


def evidence_sheet(store: Store, sources: SourceRows) -> TableSheet:
    """Each input of each finding, and what the computed ones come from."""
    query = """
        SELECT e.finding, f.rule, f.substation, f.asset, e.role, e.computed, e.input, e.asset AS of_asset, e.value,
               e.unit, e.source_file, e.sheet, e.cell, e.found
        FROM audit.evidence e JOIN audit.finding f USING (finding)
        ORDER BY f.substation, f.asset, f.rule, e.finding, e.position, e.input, e.asset, e.cell
    """
    rows = []
    for *head, role, computed, name, of_asset, value, unit, file, sheet, cell, found in fetch(store, query):
        table, _, column = name.partition(".")
        part = "computed" if computed else "read by the rule" if role == "input" else "behind the computed"
        place = cell_link(sources, file, sheet, cell)
        rows.append(
            (
                *(*head, part, kind_in_words(table), of_asset, field_in_words(table, column)),
                *(value, unit, file, sheet, place, found),
            )
        )
    fields = (
        Field("finding", 13),
        Field("rule", 32, "wrap"),
        Field("substation", 14),
        Field("asset", 18, "wrap"),
        Field("part in it", 18),
        Field("record of", 20),
        Field("tag", 18, "wrap"),
        Field("field", 30, "wrap"),
        Field("value used", 16, "wrap"),
        Field("unit", 8),
        Field("file", 28, "wrap"),
        Field("sheet", 20, "wrap"),
        Field("cell", 8),
        Field("text found there", 30, "wrap"),
    )
    about = "the cells behind every finding: what its rule reads, and what the computed numbers come from"
    return TableSheet("Evidence", about, fields, rows, "There is no finding, and so no evidence.")
