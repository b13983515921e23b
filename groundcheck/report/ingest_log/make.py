"""The whole log."""

from collections.abc import Sequence
from pathlib import Path

from groundcheck.report.annotated import LOST_ON_COPYING
from groundcheck.report.cautions import CAUTION_LINE
from groundcheck.report.ingest_log.cells import tell_noted, tell_questions, tell_unused
from groundcheck.report.ingest_log.files import tell_files, tell_skipped
from groundcheck.report.ingest_log.page import Page
from groundcheck.report.ingest_log.sheets import tell_sheets
from groundcheck.report.overview import counted, reading
from groundcheck.report.rows import fetch
from groundcheck.store import Store


def write_ingest_log(store: Store, path: Path, copies: Sequence[tuple[str, str]] | None = None) -> None:
    """Write ingest_log.txt; `copies` tells of each file what became of its marked copy, None if none was asked for."""
    page = Page()
    run = fetch(store, "SELECT made_at, version FROM audit.run ORDER BY run DESC LIMIT 1")
    made_at, version = run[0] if run else (None, None)
    page.line("What was read, and what was made of it")
    page.line(f"Audit made at {made_at or 'a time not recorded'}, groundcheck {version or 'of unknown version'}.")
    page.gap()
    _totals(page, store)
    tell_files(page, store)
    tell_skipped(page, store)
    tell_questions(page, store)
    tell_sheets(page, store)
    tell_unused(page, store)
    tell_noted(page, store)
    _copies(page, copies)
    page.gap()
    page.line(CAUTION_LINE)
    path.write_text(page.text(), encoding="utf-8")


def _totals(page: Page, store: Store) -> None:
    read = reading(store)
    page.line(
        f"{counted(read.files, 'file')} with {counted(read.sheets, 'sheet')} and {counted(read.rows_read, 'row')} "
        f"gave {counted(read.stations, 'substation')} and {counted(read.assets, 'other asset')}. "
        f"{counted(read.unreadable, 'file')} could not be read, {counted(read.rows_quarantined, 'row')} in quarantine, "
        f"{counted(read.unread_cells, 'cell')} not read, {counted(read.questions, 'question')} open."
    )


def _copies(page: Page, copies: Sequence[tuple[str, str]] | None) -> None:
    page.heading("Marked copies of the sources")
    if copies is None:
        page.line("None were asked for; the option --annotate of groundcheck audit makes them.", 1)
        return
    page.line(LOST_ON_COPYING, 1)
    page.facts([(file, told) for file, told in copies], 1)
