"""Sheets of a data request that came back, recognized by their headings whatever else was changed."""

from collections.abc import Iterable
from dataclasses import dataclass

from groundcheck.ingest.mapping.headings import normalize
from groundcheck.ingest.sheets import Sheet, cell_text, is_blank

# What an answer can't be without; 'unit' and the others may be gone.
ASKED = ("station", "kind of asset", "asset", "field", "value")
UNIT = "unit"
_SEARCHED = 20  # rows: a person may have put lines of their own above the headings
_BESIDE = {
    "question": "a question is settled in the column map: put the line of each answer there",
    "what is not on record": "records to add are entered in a register, with the other assets of their kind",
}
_QUESTIONS = frozenset({"question", "about", "what was found"})
_RECORDS = frozenset({"kind of asset", "asset", "what is not on record"})
_FRONT, _WORDS = "what to do", "words"


@dataclass(frozen=True)
class Form:
    """A sheet of a data request: where its headings stand, and the column of each that is read; none: no answers."""

    heading_row: int
    columns: dict[str, int]
    remark: str = ""


def find_forms(sheets: Iterable[Sheet]) -> dict[tuple[str, str], Form]:
    """The sheets of data requests, by file and name; the sheet that explains a workbook of them is one too."""
    listed = [sheet for sheet in sheets if sheet.table is None]
    found = {(sheet.file, sheet.name): form for sheet in listed if (form := _find_form(sheet)) is not None}
    files = {file for file, _ in found}
    for sheet in listed:
        if sheet.file in files and normalize(sheet.name) in (_FRONT, _WORDS):
            found.setdefault((sheet.file, sheet.name), Form(-1, {}, "explains the data request, and holds no answers"))
    return found


def _find_form(sheet: Sheet) -> Form | None:
    for index, row in enumerate(sheet.rows[:_SEARCHED]):
        headings: dict[str, int] = {}
        for column, cell in enumerate(row):
            if isinstance(cell, str) and not is_blank(cell):
                headings.setdefault(normalize(cell), column)
        if all(name in headings for name in ASKED):
            return Form(index, {name: headings[name] for name in (*ASKED, UNIT) if name in headings})
        if headings.keys() >= _QUESTIONS:
            return Form(index, {}, _BESIDE["question"])
        if headings.keys() >= _RECORDS:
            return Form(index, {}, _BESIDE["what is not on record"])
    return None


def repeats_headings(sheet: Sheet, form: Form, index: int) -> bool:
    """Whether a row is the headings once more, as where several sheets were copied into one."""
    row = sheet.rows[index]
    return all(c < len(row) and normalize(cell_text(row[c]) or "") == name for name, c in form.columns.items())
