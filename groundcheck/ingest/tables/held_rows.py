"""Rows that wait because nobody knows what they are: of an unknown kind, or under a table that has ended."""

from collections.abc import Sequence

from groundcheck.ingest.book import Book
from groundcheck.ingest.mapping.feeds import Kinds, Layout
from groundcheck.ingest.sheets import Sheet, cell_text
from groundcheck.ingest.toml_text import quoted
from groundcheck.nearest import nearest
from groundcheck.schema import INVENTORY_TABLES


def hold_rows(sheet: Sheet, layout: Layout, places: list[int], numbers: Sequence[int], book: Book) -> list[int]:
    """
    Quarantine the records that no table can take, ask about them, and give the places of the others.

    A place counts from the first row of the region's body; `numbers` are those of its rows in the store.
    """
    region = layout.region
    if region.ended is not None:
        ended = [place for place in places if region.body[place] >= region.ended]
        for place in ended:
            expected = f"a record under its own headings: the headings in row {region.ended + 1} begin another table"
            book.quarantine(numbers[place], region.columns.start, None, "no_table", expected)
        if ended:
            cell = book.cell(numbers[ended[0]], region.columns.start)
            found = ", ".join(filter(None, (cell_text(c) for c in sheet.rows[region.body[ended[0]]])))
            book.ask("table", found, INVENTORY_TABLES, sheet=sheet, cell=cell, cells=len(ended))
        places = [place for place in places if region.body[place] < region.ended]
    return _hold_unknown(sheet, layout, layout.kinds, places, numbers, book) if layout.kinds else places


def _hold_unknown(
    sheet: Sheet, layout: Layout, kinds: Kinds, places: list[int], numbers: Sequence[int], book: Book
) -> list[int]:
    """One quarantine entry a row of unknown kind, one question a word."""
    records = set(places)
    start, heading = layout.region.body.start, layout.region.headings[kinds.column]
    held: set[int] = set()
    for word, rows in kinds.unknown.items():
        waiting = [row - start for row in rows if row - start in records]
        if not waiting:
            continue
        for place in waiting:
            expected = f"a kind of equipment that names a table, such as {', '.join(list(INVENTORY_TABLES)[4:9])}"
            expected += ", or an entry `kinds` of the column map that says which"
            book.quarantine(numbers[place], kinds.column, None, "unknown_word", expected)
        held.update(waiting)
        found = cell_text(sheet.columns[kinds.column][start + waiting[0]]) or ""
        near = nearest(word.replace(" ", "_"), INVENTORY_TABLES)
        book.ask(
            "equipment_kind",
            found.strip(),
            [near, *(table for table in INVENTORY_TABLES if table != near)],
            sheet=sheet,
            cell=book.cell(numbers[waiting[0]], kinds.column),
            cells=len(waiting),
            answer=_answer(heading, found.strip()) if word else None,
        )
    return [place for place in places if place not in held]


def _answer(heading: str, word: str) -> str:
    return f'kinds = {{ column = {quoted(heading)}, words = {{ {quoted(word)} = "" }} }}'
