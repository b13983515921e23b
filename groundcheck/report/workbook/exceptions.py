"""The sheet Exceptions: the findings."""

from groundcheck.report.field_names import kind_in_words
from groundcheck.report.overview import outcomes
from groundcheck.report.rows import fetch, severity_order
from groundcheck.report.workbook.source_rows import SourceRows
from groundcheck.report.workbook.table_sheet import Field, TableSheet
from groundcheck.store import Store

FIELDS = (
    Field("finding", 11, "wrap"),
    Field("severity", 8.5, "severity"),
    Field("district", 11, "wrap"),
    Field("substation", 11, "wrap"),
    Field("asset kind", 12, "wrap"),
    Field("asset", 10, "wrap"),
    Field("what is wrong", 36, "wrap"),
    Field("actual", 11, "value"),
    Field("required", 11, "value"),
    Field("unit", 7, "wrap"),
    Field("firm or marginal", 9),
    Field("provisional", 10),
    Field("source", 30, "wrap"),
    Field("working", 44, "wrap"),
    Field("remedy", 34, "wrap"),
    Field("caution", 28, "wrap"),
    Field("rule", 20, "wrap"),
    Field("basis", 34, "wrap"),
    Field("status", 7),
)
_QUERY = f"""
    SELECT finding, severity, district, substation, asset_kind, asset, message, actual, required, unit, robustness,
           provisional, source_file, sheet, cell, working, remedy, caution, rule, basis, status
    FROM audit.finding
    ORDER BY {severity_order("severity")}, district, substation, asset, rule, finding
"""


def exceptions_sheet(store: Store, sources: SourceRows) -> TableSheet:
    """All findings by severity, district, station, asset; each source leads to its row."""
    rows = [
        (*row[:4], kind_in_words(row[4]), *row[5:12], sources.link(*row[12:15]), *row[15:])
        for row in fetch(store, _QUERY)
    ]
    return TableSheet(
        name="Exceptions",
        about="every finding, with its numbers, its cell and its remedy",
        fields=FIELDS,
        rows=rows,
        empty=outcomes(store).verdict,
        frozen_columns=2,
        whole_in="findings.csv",
    )
