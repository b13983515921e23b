"""The sheet Summary: what was read, what was found, what was not checked, and where to look."""

from collections.abc import Sequence
from typing import Any

from xlsxwriter.worksheet import Worksheet

from groundcheck.report import overview
from groundcheck.report.cautions import CAUTIONS
from groundcheck.report.rows import fetch
from groundcheck.report.workbook.cells import Link, set_height, write_text, write_value
from groundcheck.report.workbook.looks import Looks
from groundcheck.report.workbook.page import set_page
from groundcheck.report.workbook.table_sheet import TableSheet
from groundcheck.report.workbook.waivers_sheet import STATES
from groundcheck.store import Store

NAME = "Summary"
_WIDTHS = (38.0, 12.0, 60.0, 14.0, 14.0, 14.0, 14.0)
_WIDE = sum(_WIDTHS)


class _Page:
    """The sheet being filled, block under block."""

    def __init__(self, sheet: Worksheet, looks: Looks) -> None:
        self.sheet = sheet
        self.looks = looks
        self.row = 0

    def line(self, text: str, look: str) -> None:
        write_text(self.sheet, self.row, 0, text, self.looks[look])
        self.row += 1

    def wide(self, text: str, look: str = "sentence") -> None:
        """A sentence over the whole width; a merged cell does not grow by itself, so its height is set here."""
        set_height(self.sheet, self.row, (text,), (_WIDE,))
        self.sheet.merge_range(self.row, 0, self.row, 6, "", self.looks[look])
        write_text(self.sheet, self.row, 0, text, self.looks[look])
        self.row += 1

    def heading(self, text: str) -> None:
        self.row += 1
        for column in range(7):
            self.sheet.write_blank(self.row, column, None, self.looks["heading"])
        self.line(text, "heading")

    def heads(self, words: Sequence[str], numbers: Sequence[str]) -> None:
        for column, head in enumerate((*words, *numbers)):
            look = "head" if column < len(words) else "head_right"
            self.sheet.write_string(self.row, column, head, self.looks[look])
        self.row += 1

    def values(self, values: Sequence[Any], *, strong: bool = False) -> None:
        set_height(self.sheet, self.row, values, _WIDTHS)
        for column, value in enumerate(values):
            number = isinstance(value, int) and not isinstance(value, bool)
            look = "count" if number else "severity" if value in ("high", "medium", "low") else "wrap"
            if strong:
                look = "strong_count" if number else "strong"
            write_value(self.sheet, self.looks, self.row, column, value, look)
        self.row += 1

    def count(self, name: str | Link, number: int, note: str | None) -> None:
        """A number with a remark, which runs on over the empty cells beside it."""
        write_value(self.sheet, self.looks, self.row, 0, name, "text")
        write_value(self.sheet, self.looks, self.row, 1, number, "count")
        write_text(self.sheet, self.row, 2, note or "", self.looks["column"])
        self.row += 1


def write_summary(store: Store, sheet: Worksheet, looks: Looks, tables: Sequence[TableSheet]) -> None:
    """Fill the first sheet."""
    set_page(sheet, 6, _WIDTHS)
    sheet.hide_gridlines(2)
    for column, width in enumerate(_WIDTHS):
        sheet.set_column(column, column, width, looks["column"])
    sheet.set_row(0, 22)
    page = _Page(sheet, looks)
    page.line("Exceptions in the grounding records of the fleet", "title")
    run = fetch(store, "SELECT made_at, version, method, as_of FROM audit.run ORDER BY run DESC LIMIT 1")
    made_at, version, method, as_of = run[0] if run else (None, None, None, None)
    day = f", as of {as_of}" if as_of else ""
    page.line(
        f"made at {made_at or 'a time not recorded'}{day}, groundcheck {version or 'of unknown version'}", "quiet"
    )
    page.wide(overview.outcomes(store).verdict, "strong")
    page.wide(f"Method: {method or 'not recorded'}.", "quiet")
    _read(page, store)
    _found(page, store)
    _outcomes(page, store)
    _rules(page, store)
    page.heading("Sheets of this workbook")
    for table in tables:
        quoted = table.name.replace("'", "''")
        page.count(Link(table.name, f"'{quoted}'!A1"), table.size, table.about)
        if table.left_out:
            page.wide(f"{table.name}: {table.left_out}", "quiet_wide")
    page.heading("Cautions")
    for caution in CAUTIONS:
        page.wide(caution)


def _read(page: _Page, store: Store) -> None:
    read = overview.reading(store)
    page.heading("What was read")
    lines = (
        ("files read", read.files, None),
        ("files with the content of another", read.copies, None),
        ("files that could not be read", read.unreadable, None),
        ("sheets", read.sheets, None),
        ("rows read", read.rows_read, "the sum of the next five"),
        ("rows used", read.rows_used, "feed the inventory"),
        ("rows quarantined", read.rows_quarantined, "wait for a correction, feed nothing; sheet Quarantine"),
        ("heading rows", read.heading_rows, None),
        ("title, note and total rows", read.note_rows, None),
        ("blank rows", read.blank_rows, None),
        ("cells that could not be read", read.unread_cells, "left blank; sheet Unread cells"),
        ("cells read, but not quite as written", read.noted_cells, "used; sheet Noted cells"),
        ("open questions", read.questions, "nothing is chosen until they are answered; sheet Questions"),
        ("substations", read.stations, None),
        ("other assets in service", read.assets, None),
    )
    for name, number, note in lines:
        page.count(name, number, note)
    for file, problem in overview.unreadable_files(store):
        page.wide(f"{file}: {problem}", "warning")


def _found(page: _Page, store: Store) -> None:
    page.heading("Open findings by district and severity")
    page.heads(("district",), ("substations", "", "high", "medium", "low", "all"))
    rows = overview.findings_by_district(store)
    for district, stations, *counts, waived in rows:
        page.values((district, stations, _apart(waived), *counts))
    *totals, waived = [sum(int(row[column]) for row in rows) for column in range(1, 7)]
    page.values(("all districts", totals[0], _apart(waived), *totals[1:]), strong=True)
    states = overview.waivers_by_state(store)
    if states:
        listed = ", ".join(f"{states[state]:,} {words}" for state, words in STATES.items() if state in states)
        page.wide(f"Waivers: {listed}; sheet Waivers.")


def _apart(waived: int) -> str | None:
    """Waived findings, which no other number of the line counts."""
    return f"{waived:,} more waived" if waived else None


def _outcomes(page: _Page, store: Store) -> None:
    total = overview.outcomes(store)
    page.heading("How the checks ended")
    page.count("satisfied", total.satisfied, "the record meets the rule")
    page.count("exception", total.exceptions, "it does not: sheet Exceptions")
    missing = "a field is not on record: sheets Not assessable, Fields to ask for"
    page.count("not assessable", total.not_assessable, missing)
    page.count("not applicable", total.not_applicable, "the rule does not ask about this asset")


def _rules(page: _Page, store: Store) -> None:
    page.heading("Findings by rule")
    page.heads(("rule", "severity", "the defect"), ("exceptions", "satisfied", "not assessable", "not applicable"))
    for *row, problem in overview.rule_counts(store):
        if problem:
            page.wide(f"{row[0]}: refused, not run: {problem}", "warning")
        else:
            page.values(row)
