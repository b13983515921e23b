"""The sheet Changes: what became of each finding since the audit before, and why."""

from groundcheck.report.field_names import kind_in_words
from groundcheck.report.rows import fetch
from groundcheck.report.workbook.table_sheet import Field, TableSheet
from groundcheck.store import Store

_FIELDS = (
    Field("change", 11),
    Field("severity", 9, "severity"),
    Field("district", 14, "wrap"),
    Field("substation", 14, "wrap"),
    Field("asset kind", 18, "wrap"),
    Field("asset", 16, "wrap"),
    Field("what is wrong", 52, "wrap"),
    Field("what was wrong before", 52, "wrap"),
    Field("how the question ends now", 30, "wrap"),
    Field("why", 60, "wrap"),
    Field("rule", 30, "wrap"),
    Field("finding", 13),
)


def changes_sheet(store: Store) -> TableSheet:
    """Every finding of this audit and of the one before, that which is new or worse first."""
    query = """
        SELECT change, coalesce(severity, severity_before), district, substation, asset_kind, asset, message,
               message_before, now, why, rule, finding
        FROM audit.change ORDER BY rowid
    """
    rows = [
        (*row[:4], kind_in_words(row[4]), row[5], row[6], None if row[7] == row[6] else row[7], *row[8:])
        for row in fetch(store, query)
    ]
    about = "what became of each finding since the audit before, and why"
    empty = "The store holds no earlier audit to compare with; keep one with --store."
    return TableSheet("Changes", about, _FIELDS, rows, empty, frozen_columns=1)
