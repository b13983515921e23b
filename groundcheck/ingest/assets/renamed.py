"""Names that are read as another: the first cell in use of each, in each sheet, is noted when all rows are settled."""

from dataclasses import dataclass

from groundcheck.ingest.book import Book
from groundcheck.ingest.tables.records import Records


@dataclass(frozen=True)
class Renamed:
    """Some records in which a name was replaced: the field, the name's key, the rows, what it is read as, and why."""

    part: Records
    field: str
    key: str
    raw_rows: list[int]
    read_as: str
    why: str


def note_renamed(renamed: list[Renamed], book: Book) -> None:
    """Note the first cell in use of each name in each sheet."""
    noted: set[tuple[str, ...]] = set()
    for one in renamed:
        place = one.part.sheet.file, one.part.sheet.name, one.key
        used = next((row for row in one.raw_rows if row not in book.quarantined), None)
        if used is not None and place not in noted:
            noted.add(place)
            table, column = one.part.feed.table, one.part.column_of(one.field)
            book.note(used, column, table, one.field, one.read_as, one.why)
