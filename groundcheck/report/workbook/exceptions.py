"""The sheet Exceptions: the findings, with cells beside each in which a person says what is to become of it."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from typing import Any

from groundcheck.own_files import WORKBOOK_SHEETS
from groundcheck.report.field_names import kind_in_words
from groundcheck.report.overview import outcomes
from groundcheck.report.rows import fetch, severity_order, stream
from groundcheck.report.sheet_names import distinct_sheet_names
from groundcheck.report.workbook import table_sheet
from groundcheck.report.workbook.looks import FILLED_IN, PAST
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
# What a reviewer needs on paper first, within one A3 page; the rest stands aside.
FIELDS = (
    Field(FINDING, 12, "wrap"),
    Field("severity", 9, "severity"),
    Field("district", 12, "wrap"),
    Field("substation", 12, "wrap"),
    Field("asset", 12, "wrap"),
    Field("what is wrong", 42, "wrap"),
    Field("actual", 11, "value"),
    Field("required", 11, "value"),
    Field("unit", 6, "wrap"),
    Field("source", 22, "wrap"),
    Field("cell", 7, "wrap"),
    Field("remedy", 36, "wrap"),
    Field("disposition", 12, "answer", allowed=_DISPOSITION),
    Field("by", 14, "answer"),
    Field("until", 11, "answer_date", allowed=_UNTIL),
    Field("remark", 30, "answer"),
    Field("asset kind", 14, "wrap", aside=True),
    Field("firm or marginal", 10, aside=True),
    Field("provisional", 11, aside=True),
    Field("status", 8, aside=True),
    Field("waiver", 44, "wrap", aside=True),
    Field("working", 70, "wrap", aside=True),
    Field("caution", 60, "wrap", aside=True),
    Field("rule", 26, "wrap", aside=True),
    Field("basis", 60, "wrap", aside=True),
    Field(AS_WRITTEN, 12, hidden=True),
)
_SAID = 'AND({disposition}<>"",{disposition}<>"open")'
_OVER = "AND(ISNUMBER({until}),{until}<TODAY())"
_TINTS: tuple[tuple[str, str, Mapping[str, Any]], ...] = (
    *((_SAID, head, FILLED_IN) for head in ("disposition", "by", "remark")),
    (_OVER, "until", PAST),
    (f"AND({_SAID},NOT({_OVER}))", "until", FILLED_IN),
)
DISTRICT_SHEETS = 150  # each is a file held open while the workbook is made
_NO_DISTRICT = "No district on record"
_COLUMNS = (
    "finding, severity, district, substation, asset, message, actual, required, unit, source_file, sheet, cell, "
    "remedy, asset_kind, robustness, provisional, status, waiver, working, caution, rule, basis, item, actual_value, "
    "required_value"
)
_QUERY = f"""
    SELECT {_COLUMNS} FROM audit.finding
    ORDER BY status = 'waived', {severity_order("severity")}, district, substation, asset, rule, finding
"""


def exceptions_sheet(store: Store, sources: SourceRows) -> TableSheet:
    """All findings, open ones first, by severity, district, station, asset; each source leads to its row."""
    ((count,),) = fetch(store, "SELECT count(*) FROM audit.finding")
    return TableSheet(
        name=EXCEPTIONS_SHEET,
        about="every finding, with its numbers, its cell and its remedy; say there what is to become of it",
        fields=FIELDS,
        rows=_rows(store, sources),
        empty=outcomes(store).verdict,
        frozen_columns=2,
        whole_in="findings.csv",
        count=count,
        limit=table_sheet.ROW_LIMIT,
        faint_where='{status}="waived"',
        tints=_TINTS,
    )


def district_sheets(store: Store) -> dict[str | None, TableSheet]:
    """A sheet for the findings of each district, by district; of too many districts, those with most findings."""
    query = """
        SELECT district, count(*) FROM (SELECT nullif(trim(district), '') AS district FROM audit.finding)
        GROUP BY ALL ORDER BY district NULLS LAST
    """
    counts = dict(fetch(store, query))
    chosen = sorted(counts, key=lambda district: -counts[district])[:DISTRICT_SHEETS]
    districts = [district for district in counts if district in chosen]
    names = distinct_sheet_names([district or _NO_DISTRICT for district in districts], taken=WORKBOOK_SHEETS)
    left = len(counts) - len(districts)
    more = f"{left:,} more districts have no sheet of their own; the sheet Exceptions holds all." if left else None
    return {
        district: TableSheet(
            name=name,
            about="the findings of the district again; fill them in here or on Exceptions, not on both",
            fields=FIELDS,
            rows=(),
            empty="",
            frozen_columns=2,
            whole_in="findings.csv",
            count=counts[district],
            limit=table_sheet.ROW_LIMIT,
            more=more if district == districts[-1] else None,
            faint_where='{status}="waived"',
            tints=_TINTS,
        )
        for district, name in zip(districts, names, strict=True)
    }


def district_of(row: Sequence[Any]) -> str | None:
    """The district of a row of the sheet, as district_sheets names it."""
    return (row[2] or "").strip(" ") or None


def _rows(store: Store, sources: SourceRows) -> Iterator[tuple[Any, ...]]:
    gathered = gathered_in(store)
    names = _COLUMNS.split(", ")
    for found in stream(store, _QUERY):
        finding = dict(zip(names, found, strict=True))
        told = _told(finding, gathered)
        yield (
            *(*found[:9], _source(*found[9:11]), sources.cell_link(*found[9:12]), found[12]),
            *(told.disposition, told.by, told.until, told.remark),
            *(kind_in_words(found[13]), *found[14:22]),
            row_mark(finding, told, _overruled(finding["finding"], gathered)),
        )


def _source(file: str | None, sheet: str | None) -> str | None:
    return " · ".join(part for part in (file, sheet) if part) or None


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
