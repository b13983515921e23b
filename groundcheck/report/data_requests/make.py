"""The whole workbook: a sheet a district, the questions, the records to add, and a front sheet that explains them."""

from datetime import datetime
from itertools import groupby
from pathlib import Path

from xlsxwriter import Workbook

from groundcheck.report.data_requests import front
from groundcheck.report.data_requests.form import ANSWER, Form, parts_of, write_form
from groundcheck.report.data_requests.questions import open_questions
from groundcheck.report.data_requests.wanted import Wanted, wanted_fields
from groundcheck.report.field_names import kind_in_words
from groundcheck.report.rows import fetch
from groundcheck.report.sheet_names import distinct_sheet_names
from groundcheck.report.workbook.looks import Looks
from groundcheck.report.workbook.table_sheet import Field
from groundcheck.schema.column_help import cell_help
from groundcheck.schema.drop_downs import WORDS_SHEET, DropDowns, words_of
from groundcheck.store import Store

QUESTIONS, RECORDS = "Questions", "Records to add"
# Fixed, so that two equal audits give equal files; the front sheet alone tells when the audit was made.
_CREATED = datetime(1980, 1, 1)
# These headings are read back when the workbook is returned as an input.
REQUEST_FIELDS = (
    Field("station", 9, "wrap"),
    Field("kind of asset", 13, "wrap"),
    Field("asset", 11, "wrap"),
    Field("field", 15, "wrap"),
    Field("value", 16, ANSWER),
    Field("unit", 7, "wrap"),
    Field("source of the value", 16, ANSWER),
    Field("checks waiting", 8, "count"),
    Field("what to write", 44, "wrap"),
    Field("where it is missing", 26, "wrap"),
)
_QUESTION_FIELDS = (
    Field("district", 14, "wrap"),
    Field("question", 9, "count"),
    Field("about", 24, "wrap"),
    Field("what was found", 28, "wrap"),
    Field("what it can be", 30, "wrap"),
    Field("file", 24, "wrap"),
    Field("sheet", 16, "wrap"),
    Field("cell", 8, "wrap"),
    Field("cells waiting", 8, "count"),
    Field("answer", 26, ANSWER),
    Field("line of the column map that settles it", 30, "wrap"),
)
_RECORD_FIELDS = (
    Field("district", 14, "wrap"),
    Field("station", 14, "wrap"),
    Field("kind of asset", 20, "wrap"),
    Field("asset", 16, "wrap"),
    Field("what is not on record", 50, "wrap"),
    Field("checks waiting", 10, "count"),
    Field("where it was named", 40, "wrap"),
)


def write_data_requests(store: Store, path: Path) -> None:
    """Write data_requests.xlsx; the folder of `path` must be there."""
    wanted = wanted_fields(store)
    cells = [each for each in wanted if each.column is not None and each.on_record]
    records = [each for each in wanted if each.column is None or not each.on_record]
    districts = [_district(name, list(group)) for name, group in groupby(cells, key=lambda each: each.district)]
    parts = [part for form in districts for part in parts_of(form)]
    others = [part for form in (_questions(store), _records(records)) for part in parts_of(form)]
    names = distinct_sheet_names((part.title for part in parts), (front.NAME, WORDS_SHEET, QUESTIONS, RECORDS))
    names += distinct_sheet_names((part.title for part in others), (front.NAME, WORDS_SHEET, *names))
    run = fetch(store, "SELECT made_at FROM audit.run ORDER BY run DESC LIMIT 1")
    with Workbook(str(path), {"constant_memory": True, "tmpdir": str(path.parent)}) as book:
        book.set_properties({"title": "Data requests", "created": _CREATED})
        looks, drop_downs = Looks(book), DropDowns()
        first = book.add_worksheet(front.NAME)
        sheets = [book.add_worksheet(name) for name in names]
        listed = [(name, len(part.rows), part.about) for name, part in zip(names, parts + others, strict=True)]
        front.write_front(first, looks, run[0][0] if run else None, listed)
        for sheet, part in zip(sheets, parts + others, strict=True):
            write_form(sheet, looks, part, drop_downs)
        drop_downs.write(book.add_worksheet(WORDS_SHEET), looks["text"])
        first.activate()


def _district(name: str, wanted: list[Wanted]) -> Form:
    rows, words = [], []
    for each in wanted:
        assert each.column is not None
        kind, field = kind_in_words(each.kind), each.field.replace("_", " ")
        asked = (each.station, kind, each.asset, field, None, each.column.unit, None, each.checks)
        rows.append((*asked, cell_help(each.column), each.place))
        words.append(words_of(each.column))
    return Form(name, "cells to fill in", REQUEST_FIELDS, rows, words)


def _questions(store: Store) -> Form:
    rows = [(*row[:9], None, row[9]) for row in open_questions(store)]
    about = "what must be settled before the records can be read as they are meant"
    return Form(QUESTIONS, about, _QUESTION_FIELDS, rows, empty="No question is open.")


def _records(wanted: list[Wanted]) -> Form:
    rows = [
        (
            *(each.district, each.station, kind_in_words(each.kind), each.asset),
            *(each.missing_record, each.checks, each.place),
        )
        for each in wanted
    ]
    about = "assets that are not on record, and so have no cell to fill in"
    return Form(RECORDS, about, _RECORD_FIELDS, rows, empty="No check waits for a record that is not there.")
