"""The sheet Changes: what became of each finding since the audit before, and why."""

from typing import Any

from groundcheck.report.field_names import kind_in_words
from groundcheck.report.workbook.table_sheet import Field, TableSheet, rows_of
from groundcheck.store import Store

_FIELDS = (
    Field("change", 11),
    Field("severity", 9, "severity"),
    Field("district", 12, "wrap"),
    Field("substation", 12, "wrap"),
    Field("asset kind", 14, "wrap"),
    Field("asset", 12, "wrap"),
    Field("what is wrong", 44, "wrap"),
    Field("what was wrong before", 44, "wrap"),
    Field("how the question ends now", 24, "wrap"),
    Field("why", 46, "wrap"),
    Field("rule", 24, "wrap"),
    Field("finding", 12),
)


def changes_sheet(store: Store) -> TableSheet:
    """Every finding of this audit and of the one before, that which is new or worse first."""
    query = """
        SELECT change, coalesce(severity, severity_before), district, substation, asset_kind, asset, message,
               message_before, now, why, rule, finding
        FROM audit.change ORDER BY rowid
    """

    def row(*cells: Any) -> tuple[Any, ...]:
        before = None if cells[7] == cells[6] else cells[7]
        return (*cells[:4], kind_in_words(cells[4]), *cells[5:7], before, *cells[8:])

    about = "what became of each finding since the audit before, and why"
    empty = "The store holds no earlier audit to compare with; keep one with --store."
    return TableSheet("Changes", about, _FIELDS, empty=empty, frozen_columns=1, **rows_of(store, query, row))
