"""Questions about whole tables: what one is about, and which station its rows belong to."""

from groundcheck.ingest.book import Book
from groundcheck.ingest.mapping.feeds import Layout
from groundcheck.ingest.sheets import Sheet
from groundcheck.ingest.toml_text import quoted
from groundcheck.nearest import nearest_few
from groundcheck.schema import INVENTORY_TABLES

_SHOWN = 6  # headings


def ask_about_table(sheet: Sheet, layout: Layout, records: int, book: Book) -> None:
    """Ask what a table with records is about if nothing says so, and whose it is if no column does."""
    region = layout.region
    if sheet.table is not None:
        return
    first = sheet.cell_name(region.heading_rows[-1], region.columns.start)
    if region.aside and not sheet.turned:
        cells = region.body.stop - region.body.start
        _ask(sheet, region.aside, sheet.cell_name(region.heading_rows[-1], min(region.aside)), cells, book)
    if not records:
        return
    if not layout.feeds:
        _ask(sheet, region.headings, first, records, book)
        return
    lacks = [f for f in layout.feeds if f.primary and "substation" not in f.fields and "substation" not in f.constants]
    if lacks and all(feed.entry is None for feed in lacks):
        found = f"no column gives the station of this table; its sheet is named {sheet.name}"
        answer = f"constants = {{ substation = {quoted(sheet.name.strip())} }}"
        book.ask("station", found, [sheet.name.strip()], sheet=sheet, cell=first, cells=records, answer=answer)


def _ask(sheet: Sheet, headings: dict[int, str], cell: str, cells: int, book: Book) -> None:
    texts = list(headings.values())
    found = ", ".join(texts[:_SHOWN]) + (f" and {len(texts) - _SHOWN} more" if len(texts) > _SHOWN else "")
    near = nearest_few(" ".join(texts), INVENTORY_TABLES)
    book.ask("table", found, near, sheet=sheet, cell=cell, cells=cells, answer=f"table = {quoted(near[0])}")
