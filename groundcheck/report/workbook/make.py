"""The whole workbook, sheet by sheet."""

from datetime import datetime
from pathlib import Path

from xlsxwriter import Workbook

from groundcheck.own_files import REPORT
from groundcheck.report.workbook import method, record_sheets, summary
from groundcheck.report.workbook.changes_sheet import changes_sheet
from groundcheck.report.workbook.evidence_sheet import evidence_sheet, evidence_shown
from groundcheck.report.workbook.exceptions import district_of, district_sheets, exceptions_sheet
from groundcheck.report.workbook.looks import Looks
from groundcheck.report.workbook.not_assessable import fields_to_ask_for_sheet, not_assessable_sheet
from groundcheck.report.workbook.question_sheets import noted_cells_sheet, questions_sheet
from groundcheck.report.workbook.quick_sheet import QuickSheet
from groundcheck.report.workbook.rules_sheet import rules_sheet
from groundcheck.report.workbook.source_rows import NAME as SOURCE_ROWS
from groundcheck.report.workbook.source_rows import SourceRows
from groundcheck.report.workbook.study_sheets import assumptions_sheet, left_out_sheet
from groundcheck.report.workbook.table_sheet import TableSheet, TableWriter, write_table_sheet
from groundcheck.report.workbook.waivers_sheet import waivers_sheet
from groundcheck.store import Store

# Fixed, so that two equal audits give equal files; the summary alone tells when it was made.
_CREATED = datetime(1980, 1, 1)


def write_workbook(store: Store, path: Path, *, sheet_by_district: bool = False) -> None:
    """Write exceptions.xlsx; the folder of `path` must be there."""
    sources = SourceRows(store, evidence_shown(store))
    exceptions = exceptions_sheet(store, sources)
    districts = district_sheets(store) if sheet_by_district else {}
    others = [
        waivers_sheet(store),
        changes_sheet(store),
        evidence_sheet(store, sources),
        not_assessable_sheet(store),
        fields_to_ask_for_sheet(store),
        questions_sheet(store),
        record_sheets.quarantine_sheet(store, sources),
        record_sheets.unread_cells_sheet(store),
        noted_cells_sheet(store),
        record_sheets.contradictions_sheet(store),
        record_sheets.references_sheet(store),
        record_sheets.headings_sheet(store),
        record_sheets.account_sheet(store),
        assumptions_sheet(store),
        left_out_sheet(store),
        rules_sheet(store),
    ]
    tables = [exceptions, *districts.values(), *others]
    with Workbook(str(path), {"constant_memory": True, "tmpdir": str(path.parent)}) as book:
        book.set_properties({"title": "Exceptions in the grounding records", "created": _CREATED, "category": REPORT})
        looks = Looks(book)
        names = [summary.NAME, *(table.name for table in tables), SOURCE_ROWS, method.NAME]
        sheets = {name: book.add_worksheet(name, QuickSheet) for name in names}
        summary.write_summary(store, sheets[summary.NAME], looks, tables)
        _write_findings(sheets, looks, exceptions, districts)
        for table in others:
            write_table_sheet(sheets[table.name], looks, table)
        sources.write(sheets[SOURCE_ROWS], looks)
        method.write_method(store, sheets[method.NAME], looks)
        sheets[summary.NAME].activate()


def _write_findings(
    sheets: dict[str, QuickSheet], looks: Looks, exceptions: TableSheet, districts: dict[str | None, TableSheet]
) -> None:
    """Each finding on the sheet of all, and on that of its district if there are such sheets."""
    whole = TableWriter(sheets[exceptions.name], looks, exceptions)
    parts = {name: TableWriter(sheets[table.name], looks, table) for name, table in districts.items()}
    for row in exceptions.rows:
        part = parts.get(district_of(row)) if parts else None
        for writer in (whole, part):
            if writer is not None and not writer.is_full:
                writer.put(row)
    for writer in (whole, *parts.values()):
        writer.close()
