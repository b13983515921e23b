"""What each file was read as, and which were passed over."""

from groundcheck.report.ingest_log.page import Page, listed
from groundcheck.report.overview import counted
from groundcheck.report.rows import fetch
from groundcheck.store import Store


def tell_files(page: Page, store: Store) -> None:
    """A paragraph a file."""
    query = """
        SELECT f.file, f.size, f.reader, f.problem, f.copy_of, f.path, count(a.sheet)
        FROM raw.file f LEFT JOIN raw.account a USING (file) GROUP BY ALL ORDER BY f.file
    """
    page.heading("Files")
    rows = fetch(store, query)
    for file, size, reader, problem, copy_of, path, sheets in rows:
        page.line(f"{file} ({_size(size)})", 1)
        if problem:
            page.line(f"Could not be read: {problem}.", 2)
        elif copy_of:
            page.line(f"Has the same content as {copy_of}, which was read in its place.", 2)
        else:
            inside = f"; {counted(sheets, 'sheet')}" if sheets else ""
            page.line(f"Read as: {reader or 'not recorded'}{inside}.", 2)
        if path:
            page.line(f"Found at: {path}", 2)
    if not rows:
        page.line("No file was read.", 1)


def tell_skipped(page: Page, store: Store) -> None:
    """Files that were passed over, counted by reason."""
    query = "SELECT reason, count(*), list(file ORDER BY file) FROM raw.skipped GROUP BY reason ORDER BY 2 DESC, reason"
    rows = fetch(store, query)
    page.heading("Files passed over")
    for reason, number, files in rows:
        page.line(f"{counted(number, 'file')}: {reason or 'no reason recorded'} ({listed(files, 5)}).", 1)
    if not rows:
        page.line("None.", 1)


def _size(size: int | None) -> str:
    if size is None:
        return "size not known"
    if size < 1_000:
        return counted(size, "byte")
    return f"{size / 1_000:,.0f} kB"
