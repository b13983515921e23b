"""What a store holds of its sources, and how it is brought up to date."""

from collections.abc import Iterable, Mapping
from importlib.metadata import version

import numpy as np
import pandas as pd
import pyarrow as pa

from groundcheck.ingest.book import Book
from groundcheck.ingest.mapping.column_map import ColumnMap
from groundcheck.ingest.raw_rows import row_table
from groundcheck.ingest.sheets import SourceFile
from groundcheck.ingest.tables.layouts import Reading
from groundcheck.schema import INVENTORY_TABLES, STAGES
from groundcheck.store import Store

_MAP_READER = "column map"


def holds(
    store: Store, named: set[tuple[str, str]], column_map: ColumnMap, skipped: Mapping[str, str] | None = None
) -> bool:
    """Whether the store was made of just these files and this map, and holds rows of inventory."""
    wanted = named | ({(column_map.name, column_map.sha256)} if column_map.name else set())
    held = _held(store)
    [(used,)] = store.connection.execute("SELECT coalesce(sum(rows_used), 0) FROM raw.account").fetchall()
    passed_over = dict(store.connection.execute("SELECT file, reason FROM raw.skipped").fetchall())
    same = set(held.items()) == wanted and passed_over == (skipped or {})
    return same and bool(used)


def book_for(store: Store, files: Iterable[SourceFile], column_map: ColumnMap) -> Book:
    """
    A book in which files that the store holds, unchanged, keep the numbers of their rows.

    Under another column map no row keeps its number: it may make other tables of the same rows.
    """
    wanted = {column_map.name: column_map.sha256} if column_map.name else {}
    maps = dict(
        store.connection.execute("SELECT file, sha256 FROM raw.file WHERE reader = $1", [_MAP_READER]).fetchall()
    )
    if maps != wanted:
        return Book()
    held = _held(store)
    same = [file.file for file in files if file.sha256 and held.get(file.file) == file.sha256]
    first = dict(store.connection.execute("SELECT file, min(raw_row) FROM raw.row GROUP BY file").fetchall())
    kept = {name: int(first[name]) for name in same if name in first}
    [(last,)] = store.connection.execute(
        "SELECT coalesce(max(raw_row), 0) FROM raw.row WHERE list_contains($1, file)", [list(kept)]
    ).fetchall()
    return Book(kept=kept, free=int(last) + 1)


def _held(store: Store) -> dict[str, str]:
    """The files that this version of the program read into the store, each with its hash."""
    rows = store.connection.execute(
        "SELECT file, coalesce(sha256, '') FROM raw.file WHERE read_by = $1", [version("groundcheck")]
    ).fetchall()
    return {str(name): str(digest) for name, digest in rows}


def replace_rows(store: Store, book: Book) -> None:
    """Put the rows of new and changed files in place of theirs; rows of files that are kept stay where they are."""
    changed = [block for block in book.blocks if block.sheet.file not in book.kept]
    store.connection.execute("DELETE FROM raw.row WHERE NOT list_contains($1, file)", [list(book.kept)])
    store.write("raw", "row", row_table(changed))


def _settle_uses(store: Store, book: Book) -> None:
    """Write the uses that came out otherwise than the store has them."""
    numbers = [np.arange(block.first, block.first + len(block.rows)) for block in book.blocks]
    if not numbers:
        return
    uses = pa.table({"raw_row": np.concatenate(numbers), "use": [use for block in book.blocks for use in block.uses]})
    store.connection.register("uses", uses)
    try:
        store.connection.execute(
            'UPDATE raw.row SET "use" = u."use" FROM uses u WHERE row.raw_row = u.raw_row AND row."use" <> u."use"'
        )
    finally:
        store.connection.unregister("uses")


def write_ingest(
    store: Store,
    files: list[SourceFile],
    skipped: dict[str, str],
    column_map: ColumnMap,
    reading: Reading,
    frames: dict[str, pd.DataFrame],
    references: pd.DataFrame,
    account: pd.DataFrame,
) -> None:
    """Write stages raw and inventory, but for the rows, which `replace_rows` has written."""
    book: Book = reading.book
    listed = [*files]
    if column_map.name:
        listed.append(SourceFile(column_map.name, column_map.sha256, column_map.size, _MAP_READER))
    file_frame = pd.DataFrame(
        [
            {
                "file": file.file,
                "sha256": file.sha256,
                "size": file.size,
                "reader": file.reader,
                "problem": file.problem,
                "copy_of": file.copy_of,
                "path": file.path,
                "read_by": version("groundcheck"),
            }
            for file in listed
        ]
    )
    _settle_uses(store, book)
    store.clear("raw", *(name for name in STAGES["raw"] if name != "row"))
    store.clear("inventory")
    store.write("raw", "file", file_frame)
    store.write("raw", "skipped", pd.DataFrame(list(skipped.items()), columns=["file", "reason"]))
    store.write("raw", "account", account)
    store.write("raw", "column_map", pd.DataFrame(reading.columns))
    store.write("raw", "unread_cell", pd.DataFrame(list(book.unread.values())))
    store.write("raw", "noted_cell", pd.DataFrame(list(book.noted.values())))
    store.write("raw", "question", pd.DataFrame(book.questions))
    store.write("raw", "quarantine", pd.DataFrame(list(book.quarantined.values())))
    for table in INVENTORY_TABLES:
        store.write("inventory", table, frames[table])
    store.write("inventory", "reference", references)
    store.write("inventory", "out_of_service", pd.DataFrame(book.out_of_service))
    store.write("inventory", "contradiction", pd.DataFrame(book.contradictions))
    store.write("inventory", "field_origin", pd.DataFrame(book.origins))
