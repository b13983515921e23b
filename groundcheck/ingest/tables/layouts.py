"""From sheets to records: every row entered in the book with its use, every heading with what became of it."""

from dataclasses import dataclass, field
from typing import Any

import numpy as np

from groundcheck.ingest.answers.forms import Form, find_forms
from groundcheck.ingest.answers.reading import Answer, read_answers
from groundcheck.ingest.book import Book
from groundcheck.ingest.mapping.column_map import ColumnMap
from groundcheck.ingest.mapping.feeds import Layout
from groundcheck.ingest.sheets import Sheet, is_blank
from groundcheck.ingest.tables.column_rows import column_rows
from groundcheck.ingest.tables.compound_headings import settle_compounds
from groundcheck.ingest.tables.header_row import find_regions
from groundcheck.ingest.tables.heading_questions import ask_about_headings
from groundcheck.ingest.tables.held_rows import hold_rows
from groundcheck.ingest.tables.hidden_parts import hidden_remark
from groundcheck.ingest.tables.map_use import LEFT_OUT, check_map_used, left_out
from groundcheck.ingest.tables.merged_cells import carry_merged, note_carried
from groundcheck.ingest.tables.records import Records, read_records
from groundcheck.ingest.tables.row_kinds import row_kinds
from groundcheck.ingest.tables.station_titles import note_titles
from groundcheck.ingest.tables.table_choice import choose_tables
from groundcheck.ingest.tables.table_questions import ask_about_table
from groundcheck.ingest.tables.told_heading_row import told_regions
from groundcheck.ingest.tables.turned import turn_sheet
from groundcheck.ingest.tables.writing_habits import ask_about_habits, settle_habits


@dataclass
class Reading:
    """All that the sheets gave: records by feed, the book of rows, the columns, and remarks by sheet."""

    book: Book = field(default_factory=Book)
    records: list[Records] = field(default_factory=list)
    columns: list[dict[str, Any]] = field(default_factory=list)
    remarks: dict[tuple[str, str], str] = field(default_factory=dict)
    layouts: list[tuple[Sheet, Layout]] = field(default_factory=list)
    answers: list[Answer] = field(default_factory=list)


def read_sheets(sheets: list[Sheet], column_map: ColumnMap, book: Book | None = None) -> Reading:
    """
    Read every sheet and enter its rows in the book.

    Raises
    ------
    ColumnMapError
        An entry of the map fits no sheet.
    """
    reading = Reading(book or Book())
    forms = find_forms(sheets)
    laid = [_lay_out(sheet, forms.get((sheet.file, sheet.name)), column_map, reading) for sheet in sheets]
    settle_habits(reading.layouts)
    for outlay in laid:
        if outlay.form is not None:
            _read_form(outlay.sheet, outlay.form, column_map, reading)
        else:
            _enter_rows(outlay.sheet, outlay.layouts, reading)
    check_map_used(column_map, sheets, reading.layouts)
    ask_about_habits(reading.records, reading.book)
    return reading


@dataclass
class _Outlay:
    """A sheet with its tables, or with the form of an answer; neither where it is left out."""

    sheet: Sheet
    layouts: list[Layout] = field(default_factory=list)
    form: Form | None = None


def _lay_out(sheet: Sheet, form: Form | None, column_map: ColumnMap, reading: Reading) -> _Outlay:
    """Find the tables of a sheet and what feeds what; no row is entered yet."""
    sheet.drop_trailing_blanks()
    if form is not None and not left_out(sheet, [], column_map):
        return _Outlay(sheet, form=form)
    entries = column_map.for_sheet(sheet)
    extra = frozenset(h for entry in entries for h in entry.named_headings())
    turn_sheet(sheet, next((entry.turned for entry in entries if entry.turned is not None), None))
    regions = told_regions(sheet, column_map) or find_regions(sheet, extra)
    if left_out(sheet, regions, column_map):
        reading.remarks[sheet.file, sheet.name] = LEFT_OUT
        return _Outlay(sheet)
    layouts = [choose_tables(region, sheet, column_map) for region in regions]
    reading.layouts += [(sheet, layout) for layout in layouts]
    for layout in layouts:
        layout.habits = column_map.habits(sheet, layout.region.headings)
        settle_compounds(sheet, layout)
        reading.columns += column_rows(sheet, layout)
        ask_about_headings(sheet, layout, reading.book)
    remark = sheet.remark or ("an empty sheet" if not sheet.rows else None)
    if sheet.rows and not layouts:
        remark = "no row holds headings of any canonical table, so its rows are kept as notes"
    problems = [layout.problem for layout in layouts if layout.problem]
    remark = "; ".join(filter(None, [remark, *problems, hidden_remark(sheet)])) or None
    if remark:
        reading.remarks[sheet.file, sheet.name] = remark
    return _Outlay(sheet, layouts)


def _read_form(sheet: Sheet, form: Form, column_map: ColumnMap, reading: Reading) -> None:
    """A sheet of a data request that came back: what it holds are answers, not records."""
    habits = column_map.habits(sheet, {column: name for name, column in form.columns.items()})
    answers, remark = read_answers(sheet, form, habits, reading.book)
    reading.answers += answers
    reading.remarks[sheet.file, sheet.name] = "; ".join(filter(None, [sheet.remark, remark]))


def _enter_rows(sheet: Sheet, layouts: list[Layout], reading: Reading) -> None:
    """Enter the rows from top to bottom; where tables stand side by side, a row is entered once for each."""
    by_body: dict[int, list[Layout]] = {}
    for layout in layouts:
        by_body.setdefault(layout.region.heading_rows[0], []).append(layout)
    row = 0
    for start, beside in sorted(by_body.items()):
        _enter_outside(sheet, range(row, start), reading.book)
        bands = _bands(beside, sheet)
        for layout, columns in zip(beside, bands, strict=True):
            heads = layout.region.heading_rows
            reading.book.enter(sheet, heads, layout.region.number, ["heading"] * len(heads), columns)
            _enter_body(sheet, layout, columns, reading)
        row = beside[0].region.body.stop
    _enter_outside(sheet, range(row, len(sheet.rows)), reading.book)


def _enter_outside(sheet: Sheet, rows: range, book: Book) -> None:
    """Enter the rows that stand in no table."""
    if rows:
        filled = sheet.filled[rows.start : rows.stop].any(axis=1)
        book.enter(sheet, rows, None, np.where(filled, "note", "blank").tolist())


def _bands(beside: list[Layout], sheet: Sheet) -> list[range | None]:
    """The columns of each of several tables side by side; None for a table that has the sheet to itself."""
    if len(beside) == 1:
        return [None]
    starts = [0, *(layout.region.columns.start for layout in beside[1:])]
    width = max(sheet.width, starts[-1] + 1)
    return [range(start, end) for start, end in zip(starts, [*starts[1:], width], strict=True)]


def _enter_body(sheet: Sheet, layout: Layout, columns: range | None, reading: Reading) -> None:
    region = layout.region
    kinds = row_kinds(sheet, region, columns, layout.feeds)
    carried = carry_merged(sheet, region)
    uses = ["inventory" if kind == "record" else kind for kind in kinds]
    numbers = reading.book.enter(sheet, region.body, region.number, uses, columns)
    places = [place for place, kind in enumerate(kinds) if kind == "record"]
    if not layout.feeds or sheet.ragged:
        places = [
            place
            for place in places
            if not _in_quarantine(sheet, layout, region.body[place], numbers[place], reading.book)
        ]
    places = hold_rows(sheet, layout, places, numbers, reading.book)
    note_carried(sheet, region, layout.feeds, numbers, reading.book)
    note_titles(sheet, layout, reading.book)
    ask_about_table(sheet, layout, kinds.count("record"), reading.book)
    for feed in layout.feeds:
        chosen = [place for place in places if feed.rows is None or region.body[place] in feed.rows]
        rows = [region.body[place] for place in chosen]
        raw_rows = [numbers[place] for place in chosen]
        reading.records.append(read_records(sheet, region.number, feed, rows, carried, raw_rows, layout.habits))


def _in_quarantine(sheet: Sheet, layout: Layout, index: int, raw_row: int, book: Book) -> bool:
    """Quarantine a row that no table takes, or that has more cells than the heading row of its file."""
    if not layout.feeds:
        book.quarantine(raw_row, layout.region.columns.start, None, "no_table", layout.problem or "")
        return True
    width = layout.region.columns.stop
    row = sheet.rows[index]
    if sheet.ragged and len(row) > width and any(not is_blank(cell) for cell in row[width:]):
        over = next(i for i in range(width, len(row)) if not is_blank(row[i]))
        expected = f"at most {width} cells, as in the heading row; a delimiter may stand inside a text without quotes"
        book.quarantine(raw_row, over, layout.feeds[0].table, "too_many_cells", expected)
        return True
    return False
