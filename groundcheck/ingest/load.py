"""Ingest: sources into the stages raw and inventory of a store, with a reconciliation of every row."""

from collections.abc import Mapping
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from groundcheck.errors import NothingRead
from groundcheck.ingest.account import reconcile
from groundcheck.ingest.assets.inventory import build_inventory
from groundcheck.ingest.collector import collector_at_rest
from groundcheck.ingest.mapping.column_map import ColumnMap
from groundcheck.ingest.mapping.map_file import read_column_map
from groundcheck.ingest.readers.files import hash_file, read_files
from groundcheck.ingest.readers.found import find_files
from groundcheck.ingest.readers.frames import read_frames
from groundcheck.ingest.readers.sources import Sources
from groundcheck.ingest.sheets import SourceFile
from groundcheck.ingest.stored import book_for, holds, replace_rows, write_ingest
from groundcheck.ingest.tables.layouts import Reading, read_sheets
from groundcheck.progress import Progress
from groundcheck.store import Store


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
    same column map, leave it as it is; of others, a file that has not changed keeps its rows and their numbers.

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
    skipped: dict[str, str] = {}
    if isinstance(sources, Mapping):
        files = [read_frames(sources)]
        if holds(store, {(file.file, file.sha256) for file in files}, column_map):
            return
    else:
        found = find_files(sources)
        skipped = found.skipped
        if holds(store, {hash_file(name, path) for name, path in found.files}, column_map, skipped):
            return
        if progress:
            progress.stage("reading", len(found.files))
        files = read_files(found.files, workers, progress)
    if progress:
        progress.stage("recognizing tables", None)
    with collector_at_rest():
        reading = _load(store, files, skipped, column_map, progress)
    if not any("inventory" in block.uses for block in reading.book.blocks):
        raise NothingRead(_why_nothing(files, reading))


def _load(
    store: Store, files: list[SourceFile], skipped: dict[str, str], column_map: ColumnMap, progress: Progress | None
) -> Reading:
    """Tables, records and inventory of the files, written in one transaction."""
    book = book_for(store, files, column_map)
    reading = read_sheets([sheet for file in files for sheet in file.sheets], column_map, book)
    with store.transaction(), ThreadPoolExecutor(1) as beside:
        # The database works outside the interpreter's lock: its rows go in while the inventory is made.
        rows = beside.submit(replace_rows, store, book)
        frames, references = build_inventory(reading, column_map)
        rows.result()
        if progress:
            progress.stage("storing", None)
        account = reconcile(files, reading)
        write_ingest(store, files, skipped, column_map, reading, frames, references, account)
    return reading


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
