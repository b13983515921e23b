"""What is to be said of single cells of the sources: findings, unread cells, quarantine, contradictions, questions."""

from collections.abc import Iterator
from dataclasses import dataclass

from groundcheck.report.annotated.places import NOWHERE, Places, mentioned_cells
from groundcheck.report.field_names import field_in_words, kind_in_words
from groundcheck.report.rows import fetch, severity_order
from groundcheck.schema.stages.raw import QUARANTINE_REASONS, QUESTION_SUBJECTS
from groundcheck.store import Store

# Kinds of note that no severity grades, all marked alike.
RECORD = "record"


@dataclass(frozen=True)
class Note:
    """A sentence about one cell, and how it is graded: high, medium, low, or record."""

    grade: str
    text: str


@dataclass
class Notes:
    """The notes by file, sheet and cell, and by file how many have no cell to stand at."""

    placed: dict[str, dict[str, dict[str, list[Note]]]]
    homeless: dict[str, int]


def gather_notes(store: Store) -> Notes:
    """All notes, the gravest of a cell first."""
    notes = Notes({}, {})
    places = Places(store)
    for source in (
        _findings(store),
        _quarantined(store, places),
        _unread(store, places),
        _contradictions(store, places),
    ):
        for file, sheet, cell, note in source:
            _put(notes, file, sheet, cell, note)
    for file, sheet, cell, note in _questions(store):
        _put(notes, file, sheet, cell, note)
    return notes


def _put(notes: Notes, file: str | None, sheet: str | None, cell: str | None, note: Note) -> None:
    if not file:
        return
    if not sheet or not cell:
        notes.homeless[file] = notes.homeless.get(file, 0) + 1
        return
    there = notes.placed.setdefault(file, {}).setdefault(sheet, {}).setdefault(cell, [])
    if note not in there:
        there.append(note)


Told = Iterator[tuple[str | None, str | None, str | None, Note]]


def _findings(store: Store) -> Told:
    query = f"""
        SELECT source_file, sheet, cell, severity, finding, rule, message, waiver FROM audit.finding
        ORDER BY {severity_order("severity")}, rule, finding
    """
    for file, sheet, cell, severity, finding, rule, message, waiver in fetch(store, query):
        accepted = f" {waiver[0].upper()}{waiver[1:]}." if waiver else ""
        yield file, sheet, cell, Note(severity, f"Finding {finding}, {severity}: {message}. Rule {rule}.{accepted}")


def _quarantined(store: Store, places: Places) -> Told:
    query = """
        SELECT file, sheet, cell, "row", reason, found, expected FROM raw.quarantine
        ORDER BY file, sheet, "row", reason
    """
    for file, sheet, cell, row, reason, found, expected in fetch(store, query):
        told = QUARANTINE_REASONS.get(reason, reason)
        text = f"Row in quarantine, used for nothing: {told}.{_found(found)}{_expected(expected)}"
        yield file, sheet, cell or places.first_cell(file, sheet, row), Note(RECORD, text)


def _unread(store: Store, places: Places) -> Told:
    query = """
        SELECT file, sheet, cell, "row", target_table, field, found, expected FROM raw.unread_cell
        ORDER BY file, sheet, "row", cell, target_table, field
    """
    for file, sheet, cell, row, table, field, found, expected in fetch(store, query):
        what = f"{kind_in_words(table)}, {field_in_words(table, field)}"
        text = f"Not read, and blank in the study ({what}).{_found(found)}{_expected(expected)}"
        yield file, sheet, cell or places.first_cell(file, sheet, row), Note(RECORD, text)


def _contradictions(store: Store, places: Places) -> Told:
    query = """
        SELECT substation, asset_kind, asset, field, value_a, raw_row_a, value_b, raw_row_b
        FROM inventory.contradiction ORDER BY ALL
    """
    cells = mentioned_cells(store, places)
    for station, kind, asset, field, value_a, row_a, value_b, row_b in fetch(store, query):
        what = f"{field_in_words(kind, field)} of {kind_in_words(kind)} {asset}, {station}"
        for value, row, other, other_row in ((value_a, row_a, value_b, row_b), (value_b, row_b, value_a, row_a)):
            file, sheet, cell = cells.get((row, kind, field), NOWHERE)
            elsewhere = " · ".join(part for part in cells.get((other_row, kind, field), NOWHERE) if part)
            text = f"Contradiction: {what} is {value} here and {other} in {elsewhere or 'another place'}."
            yield file, sheet, cell, Note(RECORD, text)


def _questions(store: Store) -> Told:
    query = """
        SELECT file, sheet, cell, question, subject, found, candidates, cells FROM raw.question ORDER BY question
    """
    for file, sheet, cell, number, subject, found, candidates, cells in fetch(store, query):
        asked = QUESTION_SUBJECTS.get(subject, subject)
        waiting = f" {cells:,} cells wait for the answer." if cells and cells > 1 else ""
        text = f"Question {number}: {asked}.{_found(found)} It can be: {candidates or 'not known'}.{waiting}"
        yield file, sheet, cell, Note(RECORD, text)


def _found(found: str | None) -> str:
    return f" Found: '{found}'." if found else ""


def _expected(expected: str | None) -> str:
    return f" Expected: {expected.rstrip('.')}." if expected else ""
