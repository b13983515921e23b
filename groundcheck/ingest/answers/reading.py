"""The rows of a data request that came back: each value read for its column, each row entered with its use."""

from dataclasses import dataclass, replace
from dataclasses import field as made_field
from typing import Any

from groundcheck.ingest.answers.answered_value import Refused, column_asked, read_value
from groundcheck.ingest.answers.forms import Form, repeats_headings
from groundcheck.ingest.book import Book
from groundcheck.ingest.mapping.column_map import ReadingHabits
from groundcheck.ingest.mapping.headings import table_columns
from groundcheck.ingest.sheets import Sheet, cell_text, is_blank
from groundcheck.ingest.values import Reading
from groundcheck.ingest.values.reading import Value
from groundcheck.schema import Column

_TAGS = ("station", "asset")


@dataclass
class Answer:
    """One value that a person gave for one field of one asset; `record_rows` are rows of the asset's own record."""

    station: str
    kind: str
    asset: str
    field: str
    value: Value
    raw_row: int
    column: int
    asset_column: int
    record_rows: set[int] = made_field(default_factory=set)
    filled: bool = False


@dataclass(frozen=True)
class _Row:
    """What one row says: the column of the table asked about, and its value; or why it is no answer."""

    kind: str | None = None
    column: Column | None = None
    reading: Reading | None = None
    refused: Refused | None = None


def read_answers(sheet: Sheet, form: Form, habits: ReadingHabits, book: Book) -> tuple[list[Answer], str]:
    """Enter every row of the sheet in the book; gives the answers, and what is to be said of the sheet."""
    if not form.columns:
        uses = ["note" if row.any() else "blank" for row in sheet.filled]
        book.enter(sheet, range(len(sheet.rows)), None, uses)
        return [], f"part of a data request: {form.remark}; its rows are kept as notes"
    rows = {index: _read_row(sheet, form, index, habits) for index in _given(sheet, form)}
    rows = {index: row for index, row in rows.items() if row.refused or _says_something(row.reading)}
    uses = [_use(sheet, form, index, index in rows) for index in range(len(sheet.rows))]
    without = sum(use == "note" for use in uses[form.heading_row :])
    numbers = book.enter(sheet, range(len(sheet.rows)), 1, uses)
    answers = [
        answer for index, row in rows.items() for answer in _answers(sheet, form, index, numbers[index], row, book)
    ]
    return answers, f"a data request that came back: {len(rows)} with a value, {without} without"


def _given(sheet: Sheet, form: Form) -> list[int]:
    """The rows under the headings that have a value."""
    column = form.columns["value"]
    below = range(form.heading_row + 1, len(sheet.rows))
    return [index for index in below if sheet.filled[index, column] and not repeats_headings(sheet, form, index)]


def _use(sheet: Sheet, form: Form, index: int, given: bool) -> str:
    if not sheet.filled[index].any():
        return "blank"
    if index == form.heading_row or (index > form.heading_row and repeats_headings(sheet, form, index)):
        return "heading"
    return "inventory" if given else "note"


def _cell(sheet: Sheet, form: Form, index: int, name: str) -> Any:
    column = form.columns.get(name)
    row = sheet.rows[index]
    return None if column is None or column >= len(row) or is_blank(row[column]) else row[column]


def _text(sheet: Sheet, form: Form, index: int, name: str) -> str:
    return (cell_text(_cell(sheet, form, index, name)) or "").strip()


def _read_row(sheet: Sheet, form: Form, index: int, habits: ReadingHabits) -> _Row:
    kind, name = (_text(sheet, form, index, heading) for heading in ("kind of asset", "field"))
    told = column_asked(kind, name)
    if isinstance(told, Refused):
        return _Row(refused=told)
    table, column = told
    missing = next((heading for heading in _TAGS if not _text(sheet, form, index, heading)), None)
    if missing is not None:
        expected = f"the {missing} that the value belongs to, as in the data request"
        return _Row(table, refused=Refused("key_missing", missing, expected))
    comma = sheet.decimal_comma if habits.decimal_comma is None else habits.decimal_comma
    unit = _text(sheet, form, index, "unit")
    reading = read_value(_cell(sheet, form, index, "value"), unit, column, replace(habits, decimal_comma=comma))
    return _Row(table, column, reading)


def _says_something(reading: Reading | None) -> bool:
    return reading is not None and (reading.value is not None or reading.problem is not None)


def _answers(sheet: Sheet, form: Form, index: int, raw_row: int, row: _Row, book: Book) -> list[Answer]:
    """The answers of one row: one as a rule; none if it was refused or can't be read; a size may tell a count too."""
    place = form.columns["value"]
    if row.refused is not None:
        at = form.columns[row.refused.heading]
        book.quarantine(raw_row, at, row.kind, row.refused.reason, row.refused.expected)
        return []
    assert row.kind is not None
    assert row.column is not None
    assert row.reading is not None
    if row.reading.problem is not None:
        book.leave_unread(raw_row, place, row.kind, row.column.name, row.reading.problem.expected)
        return []
    if row.reading.note is not None:
        book.note(raw_row, place, row.kind, row.column.name, row.reading.value, row.reading.note)
    said: dict[str, Value] = {row.column.name: row.reading.value}
    if row.reading.parallel is not None and "parallel" in table_columns(row.kind):
        said["parallel"] = row.reading.parallel
    station, asset = (_text(sheet, form, index, heading) for heading in _TAGS)
    return [
        Answer(station, row.kind, asset, name, value, raw_row, place, form.columns["asset"])
        for name, value in said.items()
    ]
