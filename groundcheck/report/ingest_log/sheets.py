"""What each sheet held: its rows in one line, what of it is hidden or struck through, its tables and their headings."""

from typing import Any

from groundcheck.report.field_names import kind_in_words
from groundcheck.report.ingest_log.page import Page, listed
from groundcheck.report.overview import counted
from groundcheck.report.rows import fetch
from groundcheck.store import Store

Heading = tuple[Any, ...]  # region, column, heading, table, part, field, how, certainty, candidates


def tell_sheets(page: Page, store: Store) -> None:
    """A paragraph a sheet."""
    page.heading("Sheets")
    query = """
        SELECT file, sheet, rows_read, rows_used, rows_quarantined, heading_rows, note_rows, blank_rows,
               hidden, hidden_rows, hidden_columns, struck_rows, turned, remark
        FROM raw.account ORDER BY file, sheet
    """
    headings = _headings(store)
    rows = fetch(store, query)
    for file, sheet, *counts, hidden, hidden_rows, hidden_columns, struck, turned, remark in rows:
        page.line(f"{file}, sheet '{sheet}'", 1)
        page.line(_account(*(int(count or 0) for count in counts)), 2)
        for sentence in _state(hidden, hidden_rows, hidden_columns, struck, turned):
            page.line(sentence, 2)
        if remark:
            page.line(f"Remark: {remark}.", 2)
        tables: dict[Any, list[Heading]] = {}
        for heading in headings.get((file, sheet), []):
            tables.setdefault(heading[0], []).append(heading)
        for region, columns in tables.items():
            _tell_table(page, region, columns)
        page.gap()
    if not rows:
        page.line("No sheet was read.", 1)


def _account(read: int, used: int, quarantined: int, headings: int, notes: int, blank: int) -> str:
    parts = [f"{number:,} {what}" for number, what in ((used, "used"), (quarantined, "in quarantine")) if number]
    parts += [counted(number, what) for number, what in ((headings, "heading"), (notes, "note")) if number]
    told = ", ".join(parts + ([f"{blank:,} blank"] if blank else []))
    return f"{counted(read, 'row')} read: {told}." if read else "No rows."


def _state(
    hidden: bool | None, rows: int | None, columns: int | None, struck: int | None, turned: bool | None
) -> list[str]:
    told = []
    if hidden:
        told.append("The sheet is hidden; it was read.")
    parts = [counted(number, f"hidden {name}") for number, name in ((rows, "row"), (columns, "column")) if number]
    if parts:
        told.append(f"Read too: {' and '.join(parts)}.")
    if struck:
        told.append(f"{counted(struck, 'row')} struck through; read as the others are.")
    if turned:
        told.append("It has a column an asset: its columns are counted as rows here.")
    return told


def _headings(store: Store) -> dict[tuple[str, str], list[Heading]]:
    query = """
        SELECT file, sheet, region, column_letter, heading, target_table, part, field, how, certainty, candidates
        FROM raw.column_map
        ORDER BY file, sheet, region, length(column_letter), column_letter, target_table, part, field
    """
    found: dict[tuple[str, str], list[Heading]] = {}
    for file, sheet, *heading in fetch(store, query):
        found.setdefault((file, sheet), []).append(tuple(heading))
    return found


def _tell_table(page: Page, region: int | None, columns: list[Heading]) -> None:
    fed = sorted({kind_in_words(table) for _, _, _, table, *_ in columns if table})
    page.line(f"Table {region or 1}: {'feeds ' + listed(fed) if fed else 'feeds no canonical table'}.", 2)
    by_how: dict[str, list[str]] = {}
    for _, column, heading, table, _, field, how, certainty, candidates in columns:
        by_how.setdefault(how or "unmapped", []).append(
            _told(column, heading, table, field, how, certainty, candidates, several=len(fed) > 1)
        )
    order = {name: place for place, name in enumerate(("alias", "map", "close match", "unmapped", "ambiguous"))}
    words = {"alias": "by alias", "map": "by the column map", "unmapped": "not mapped"}
    page.facts(
        [
            (f"{words.get(how, how)} ({len(told):,})", listed(list(dict.fromkeys(told)), 60))
            for how, told in sorted(by_how.items(), key=lambda item: (order.get(item[0], len(order)), item[0]))
        ],
        3,
    )


def _told(
    column: str | None,
    heading: str | None,
    table: str | None,
    field: str | None,
    how: str | None,
    certainty: float | None,
    candidates: str | None,
    *,
    several: bool,
) -> str:
    """One heading: as written, and the field that it feeds where that is not the same word."""
    name = f"'{heading}'" if heading else f"column {column}"
    if field:
        what = field.replace("_", " ")
        what = f"{kind_in_words(table)} {what}" if several and what != kind_in_words(table) else what
        sure = f" ({certainty:.0%})" if how == "close match" and certainty is not None else ""
        return f"{name} = {what}{sure}"
    return f"{name} (could be: {candidates})" if candidates else name
