"""Cells that deserve a look, rows and cells that could not be used, and what a person is asked."""

from groundcheck.report.ingest_log.page import Page, listed
from groundcheck.report.overview import counted
from groundcheck.report.rows import fetch
from groundcheck.schema.stages.raw import QUARANTINE_REASONS, QUESTION_SUBJECTS
from groundcheck.store import Store

MOST_NOTES = 40  # different notes shown; exceptions.xlsx has all
FIRST_CELLS = 4


def tell_noted(page: Page, store: Store) -> None:
    """Cells that were used, but not quite as written, by what is to be said of them."""
    query = f"""
        SELECT note, count(*) AS cells,
               list(concat_ws(' · ', file, sheet, cell) ORDER BY file, sheet, "row", cell)[:{FIRST_CELLS}]
        FROM raw.noted_cell GROUP BY note ORDER BY cells DESC, note
    """
    page.heading("Cells read, but not quite as written")
    rows = fetch(store, query)
    for note, cells, first in rows[:MOST_NOTES]:
        page.line(f"{counted(cells, 'cell')}: {note or 'no note'}.", 1)
        page.line(f"{'first ' if cells > len(first) else ''}{'; '.join(first)}", 2)
    if len(rows) > MOST_NOTES:
        rest = sum(cells for _, cells, _ in rows[MOST_NOTES:])
        more = f"{counted(rest, 'cell')} with {counted(len(rows) - MOST_NOTES, 'other note')}"
        page.line(f"And {more}: sheet Noted cells of exceptions.xlsx.", 1)
    if not rows:
        page.line("None.", 1)


def tell_unused(page: Page, store: Store) -> None:
    """Rows in quarantine by reason, and cells that could not be read by field."""
    page.heading("Rows in quarantine and cells that could not be read")
    waiting = fetch(store, "SELECT reason, count(*) FROM raw.quarantine GROUP BY reason ORDER BY 2 DESC, reason")
    for reason, rows in waiting:
        page.line(f"{counted(rows, 'row')} in quarantine: {QUARANTINE_REASONS.get(reason, reason)}.", 1)
    fields = fetch(
        store,
        "SELECT target_table, field, count(*) FROM raw.unread_cell GROUP BY ALL ORDER BY 3 DESC, target_table, field",
    )
    if fields:
        total = sum(cells for _, _, cells in fields)
        told = [f"{table}.{field} ({cells:,})".replace("_", " ").replace(".", " ", 1) for table, field, cells in fields]
        page.line(f"{counted(total, 'cell')} could not be read and left blank: {listed(told)}.", 1)
    if waiting or fields:
        page.line("Each is listed with its cell on the sheets Quarantine and Unread cells of exceptions.xlsx.", 1)
    else:
        page.line("None.", 1)


def tell_questions(page: Page, store: Store) -> None:
    """What must be settled, and the line of the column map that settles it."""
    query = """
        SELECT question, subject, file, sheet, cell, found, candidates, cells, answer FROM raw.question
        ORDER BY question
    """
    page.heading("Questions")
    rows = fetch(store, query)
    for number, subject, file, sheet, cell, found, candidates, cells, answer in rows:
        where = " · ".join(part for part in (file, sheet, cell) if part)
        page.line(f"{number}. Open: {QUESTION_SUBJECTS.get(subject, subject)}. Found '{found}'.", 1)
        facts = [("where", where), ("can be", candidates or "not known")]
        facts += [("waiting", counted(cells, "cell"))] if cells else []
        page.facts(facts + ([("settled by", f"{answer} in the column map")] if answer else []), 2)
    if not rows:
        page.line("No question is open.", 1)
