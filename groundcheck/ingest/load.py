"""Ingest: sources into the stages raw and inventory of a store, with a reconciliation of every row."""

from collections import Counter
from collections.abc import Mapping
from pathlib import Path

import pandas as pd

from groundcheck.errors import NothingRead
from groundcheck.ingest.assets.inventory import build_inventory
from groundcheck.ingest.book import Book
from groundcheck.ingest.mapping.column_map import ColumnMap, read_column_map
from groundcheck.ingest.readers.sources import Sources, find_files, hash_file, read_files, read_frames
from groundcheck.ingest.sheets import SourceFile
from groundcheck.ingest.tables.layouts import Reading, read_sheets
from groundcheck.progress import Progress
from groundcheck.schema import INVENTORY_TABLES, STAGES
from groundcheck.store import Store

_USES = {
    "inventory": "rows_used",
    "quarantine": "rows_quarantined",
    "heading": "heading_rows",
    "note": "note_rows",
    "blank": "blank_rows",
}
_MAP_READER = "column map"


def ingest(
    store: Store,
    sources: Sources,
    *,
    columns: str | Path | None = None,
    workers: int = 1,
    progress: Progress | None = None,
) -> None:
    """
    Read sources into stages raw and inventory.

    Files are read side by side in `workers` processes. Sources that the store already holds, unchanged and under the
    same column map, leave it as it is; any change loads all of them again.

    Raises
    ------
    SourceNotFound
        A path does not exist.
    NothingRead
        No source gave a single row of inventory.
    ColumnMapError
        The column map names a table, field or heading that does not exist.
    """
    column_map = read_column_map(columns)
    if isinstance(sources, Mapping):
        files = [read_frames(sources)]
        if _holds(store, {(file.file, file.sha256) for file in files}, column_map):
            return
    else:
        paths = find_files(sources)
        if _holds(store, {hash_file(name, path) for name, path in paths}, column_map):
            return
        if progress:
            progress.stage("reading", len(paths))
        files = read_files(paths, workers, progress)
    if progress:
        progress.stage("recognizing tables", None)
    reading = read_sheets([sheet for file in files for sheet in file.sheets], column_map)
    frames, references = build_inventory(reading)
    if progress:
        progress.stage("storing", None)
    account = reconcile(files, reading)
    _write(store, files, column_map, reading, frames, references, account)
    if not account["rows_used"].sum():
        raise NothingRead(_why_nothing(files, reading))


def _holds(store: Store, named: set[tuple[str, str]], column_map: ColumnMap) -> bool:
    """Whether the store was made of just these files and this map, and holds rows of inventory."""
    wanted = named | ({(column_map.name, column_map.sha256)} if column_map.name else set())
    held = store.connection.execute("SELECT file, coalesce(sha256, '') FROM raw.file").fetchall()
    [(used,)] = store.connection.execute("SELECT coalesce(sum(rows_used), 0) FROM raw.account").fetchall()
    return {(str(name), str(digest)) for name, digest in held} == wanted and bool(used)


def reconcile(files: list[SourceFile], reading: Reading) -> pd.DataFrame:
    """
    Count the rows of every sheet by their use.

    Raises
    ------
    AssertionError
        A row was lost or counted twice: a fault of this program.
    """
    uses: dict[tuple[str, str], Counter[str]] = {}
    for place in reading.book.places:
        uses.setdefault((place.sheet.file, place.sheet.name), Counter())[place.use] += 1
    rows = []
    for sheet in (sheet for file in files for sheet in file.sheets):
        counted = uses.get((sheet.file, sheet.name), Counter())
        read = _rows_read(reading, sheet.file, sheet.name, len(sheet.rows))
        counts = {name: counted[use] for use, name in _USES.items()}
        if sum(counts.values()) != read:
            raise AssertionError(f"{sheet.label}: {read} rows read, {sum(counts.values())} accounted for: {counts}")
        remark = reading.remarks.get((sheet.file, sheet.name))
        rows.append(
            {"file": sheet.file, "sheet": sheet.name, "rows_read": read}
            | counts
            | {
                "hidden": sheet.hidden,
                "hidden_rows": _count(sheet.hidden_rows),
                "hidden_columns": _count(sheet.hidden_columns),
                "struck_rows": _count(sheet.struck_rows),
                "turned": sheet.turned,
                "remark": remark,
            }
        )
    quarantined = sum(int(str(row["rows_quarantined"])) for row in rows)
    if quarantined != len(reading.book.quarantined):
        raise AssertionError(f"{quarantined} rows in quarantine, {len(reading.book.quarantined)} entries")
    names = list(STAGES["raw"]["account"].columns())
    return pd.DataFrame(rows, columns=names)


def _count(told: frozenset[int] | None) -> int | None:
    return None if told is None else len(told)


def _rows_read(reading: Reading, file: str, sheet: str, rows: int) -> int:
    """The rows of the sheet; a row that holds cells of several tables side by side counts once for each."""
    spans: Counter[tuple[int, int]] = Counter()
    for where, layout in reading.layouts:
        if (where.file, where.name) == (file, sheet):
            spans[layout.region.heading_rows[0], layout.region.body.stop] += 1
    return rows + sum((tables - 1) * (stop - start) for (start, stop), tables in spans.items())


def _write(
    store: Store,
    files: list[SourceFile],
    column_map: ColumnMap,
    reading: Reading,
    frames: dict[str, pd.DataFrame],
    references: pd.DataFrame,
    account: pd.DataFrame,
) -> None:
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
            }
            for file in listed
        ]
    )
    store.connection.execute("BEGIN TRANSACTION")
    try:
        store.clear("raw")
        store.clear("inventory")
        store.write("raw", "file", file_frame)
        store.write("raw", "account", account)
        store.write("raw", "row", book.row_frame())
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
    except BaseException:
        store.connection.execute("ROLLBACK")
        raise
    store.connection.execute("COMMIT")


def _why_nothing(files: list[SourceFile], reading: Reading) -> str:
    """One line on why none of the sources gave a record."""
    reasons = [f"{file.file}: {file.problem}" for file in files if file.problem]
    reasons += [f"{file}, sheet {sheet}: {remark}" for (file, sheet), remark in reading.remarks.items()]
    reasons += [
        f"{entry['file']}, sheet {entry['sheet']}, row {entry['row']}: {entry['expected']}"
        for entry in list(reading.book.quarantined.values())[:1]
    ]
    shown = "; ".join(reasons[:3]) or "no rows"
    more = f"; and {len(reasons) - 3} more" if len(reasons) > 3 else ""
    return f"no source gave a single record ({shown}{more})"
