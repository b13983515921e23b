"""The cells behind every finding."""

from typing import Any

from groundcheck.report.field_names import field_in_words, kind_in_words
from groundcheck.report.rows import fetch, severity_order, stream
from groundcheck.report.workbook import table_sheet
from groundcheck.report.workbook.source_rows import SourceRows
from groundcheck.report.workbook.table_sheet import Field, TableSheet
from groundcheck.store import Store

_FIELDS = (
    Field("finding", 12, "wrap"),
    Field("rule", 32, "wrap"),
    Field("substation", 14, "wrap"),
    Field("asset", 16, "wrap"),
    Field("part in it", 18),
    Field("record of", 18, "wrap"),
    Field("tag", 18, "wrap"),
    Field("field", 28, "wrap"),
    Field("value used", 16, "wrap"),
    Field("unit", 8, "wrap"),
    Field("file", 26, "wrap"),
    Field("sheet", 18, "wrap"),
    Field("cell", 8),
    Field("text found there", 26, "wrap"),
)
INPUTS_SHOWN = 2 * table_sheet.ROWS_SHOWN
_ABOUT = "the cells behind every finding: what its rule reads, and what the computed numbers come from"


def evidence_shown(store: Store) -> str:
    """The condition on the evidence that the sheet holds: all of it, or what the rules read where that is too much."""
    ((rows,),) = fetch(store, "SELECT count(*) FROM audit.evidence")
    return "TRUE" if rows <= table_sheet.ROWS_SHOWN else "role = 'input'"


def evidence_sheet(store: Store, sources: SourceRows) -> TableSheet:
    """Each input of each finding in the order of Exceptions, and what the computed ones come from."""
    shown = evidence_shown(store)
    ((count, whole),) = fetch(store, f"SELECT count(*) FILTER ({shown}), count(*) FROM audit.evidence")
    query = f"""
        SELECT e.finding, f.rule, f.substation, f.asset, e.role, e.computed, e.input, e.asset AS of_asset, e.value,
               e.unit, e.source_file, e.sheet, e.cell, e.found
        FROM audit.evidence e JOIN audit.finding f USING (finding)
        WHERE {shown}
        ORDER BY f.status = 'waived', {severity_order("f.severity")}, f.district, f.substation, f.asset, f.rule,
                 e.finding, e.position, e.input, e.asset, e.cell
        LIMIT {INPUTS_SHOWN}
    """

    def row(*cells: Any) -> tuple[Any, ...]:
        *head, role, computed, name, of_asset, value, unit, file, sheet, cell, found = cells
        table, _, column = name.partition(".")
        part = "computed" if computed else "read by the rule" if role == "input" else "behind the computed"
        place = sources.cell_link(file, sheet, cell)
        words = field_in_words(table, column)
        return (*head, part, kind_in_words(table), of_asset, words, value, unit, file, sheet, place, found)

    more = None
    if count < whole:
        more = (
            f"Only what the rules read themselves is shown; {whole - count:,} rows are behind the computed numbers. "
            "The whole evidence of a finding: groundcheck finding IDENTITY --store FILE; of all: groundcheck data."
        )
    return TableSheet(
        name="Evidence",
        about=_ABOUT,
        fields=_FIELDS,
        rows=(row(*cells) for cells in stream(store, query)),
        empty="There is no finding, and so no evidence.",
        whole_in="audit.evidence of the store",
        count=count,
        limit=INPUTS_SHOWN,
        more=more,
    )
