"""The sheet Exceptions: the findings, with cells beside each in which a person says what is to become of it."""

from datetime import date
from typing import Any

from groundcheck.report.field_names import kind_in_words
from groundcheck.report.overview import outcomes
from groundcheck.report.rows import fetch, severity_order
from groundcheck.report.workbook.source_rows import SourceRows
from groundcheck.report.workbook.table_sheet import Field, TableSheet
from groundcheck.store import Store
from groundcheck.waivers.apply import gathered_in
from groundcheck.waivers.gather import Gathered
from groundcheck.waivers.marks import AS_WRITTEN, EXCEPTIONS_SHEET, FINDING, Cells, cells_of_waiver, row_mark
from groundcheck.waivers.waiver import DISPOSITIONS

_DISPOSITION = {
    "validate": "list",
    "source": list(DISPOSITIONS),
    "error_title": "Not in the list",
    "error_message": "Choose open, accepted, corrected or disputed.",
    "input_title": "Disposition",
    "input_message": "accepted needs a name, a date and the reason as remark.",
}
_UNTIL = {
    "validate": "date",
    "criteria": ">=",
    "value": date(2000, 1, 1),
    "error_title": "No date",
    "error_message": "Write a date: year, month, day, such as 2027-03-31.",
    "input_title": "Until",
    "input_message": "Last day on which the finding is accepted, such as 2027-03-31.",
}
FIELDS = (
    Field(FINDING, 11, "wrap"),
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
    Field("source", 42, "wrap"),
    Field("working", 44, "wrap"),
    Field("remedy", 34, "wrap"),
    Field("caution", 28, "wrap"),
    Field("rule", 20, "wrap"),
    Field("basis", 34, "wrap"),
    Field("status", 7),
    Field("waiver", 26, "wrap"),
    Field("disposition", 12, "answer", allowed=_DISPOSITION),
    Field("by", 16, "answer"),
    Field("until", 11, "answer_date", allowed=_UNTIL),
    Field("remark", 36, "answer"),
    Field(AS_WRITTEN, 12, hidden=True),
)
_COLUMNS = (
    "finding, severity, district, substation, asset_kind, asset, message, actual, required, unit, robustness, "
    "provisional, source_file, sheet, cell, working, remedy, caution, rule, basis, status, waiver, "
    "item, actual_value, required_value"
)
_QUERY = f"""
    SELECT {_COLUMNS} FROM audit.finding
    ORDER BY status = 'waived', {severity_order("severity")}, district, substation, asset, rule, finding
"""


def exceptions_sheet(store: Store, sources: SourceRows) -> TableSheet:
    """All findings, open ones first, by severity, district, station, asset; each source leads to its row."""
    gathered = gathered_in(store)
    rows, faint = [], set()
    for number, found in enumerate(fetch(store, _QUERY)):
        finding = dict(zip(_COLUMNS.split(", "), found, strict=True))
        if finding["status"] == "waived":
            faint.add(number)
        told = _told(finding, gathered)
        rows.append(
            (
                *(*found[:4], kind_in_words(found[4]), *found[5:12], sources.link(*found[12:15]), *found[15:22]),
                *(told.disposition, told.by, told.until, told.remark),
                row_mark(finding, told, _overruled(finding["finding"], gathered)),
            )
        )
    return TableSheet(
        name=EXCEPTIONS_SHEET,
        about="every finding, with its numbers, its cell and its remedy; say there what is to become of it",
        fields=FIELDS,
        rows=rows,
        empty=outcomes(store).verdict,
        frozen_columns=2,
        whole_in="findings.csv",
        faint=frozenset(faint),
    )


def _told(finding: dict[str, Any], gathered: Gathered) -> Cells:
    """What is said of a finding so far; a waiver that no longer holds leaves it open."""
    waiver = gathered.waivers.get(finding["finding"])
    if waiver is not None and finding["status"] == "waived":
        return cells_of_waiver(waiver)
    said = gathered.dispositions.get(finding["finding"])
    return Cells(said.disposition, said.by, said.until, said.remark) if said else Cells()


def _overruled(finding: str, gathered: Gathered) -> tuple[str, ...]:
    waiver, said = gathered.waivers.get(finding), gathered.dispositions.get(finding)
    return waiver.over if waiver else said.over if said else ()
