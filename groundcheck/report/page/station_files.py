"""The stations of a large fleet, a file each, which the page loads by a script tag when a reader asks for one."""

import gc
import multiprocessing
import os
import shutil
import tempfile
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor, as_completed
from contextlib import contextmanager
from functools import cache
from pathlib import Path

from groundcheck.progress import Progress
from groundcheck.report.page.chunks import chunk
from groundcheck.report.page.pairs import name_of, names_told, stations_with_findings
from groundcheck.report.page.pictures import Frames
from groundcheck.side_process import leave_interrupts_to_the_parent
from groundcheck.store import Store

Written = tuple[int, Frames]

_BATCH = 500
_LEVEL = 3


@contextmanager
def station_files(store: Store, folder: Path, progress: Progress | None = None) -> Iterator[Callable[[], Frames]]:
    """
    Write each station's file into the folder, by processes at the side; what is given waits for their end.

    Each process reads its stations from a copy of the store; what it gives back says how the pictures are drawn.
    """
    folder.mkdir(parents=True, exist_ok=True)
    # Fresh processes: a fork of one with the store's threads may hang.
    pool = ProcessPoolExecutor(os.cpu_count() or 1, multiprocessing.get_context("spawn"), _begin)
    with tempfile.TemporaryDirectory(prefix=".stations-", dir=folder.parent) as room, pool:
        copy = Path(room) / "store"
        _copy(store, copy, pool)
        names = names_told(store)
        tasks = [
            pool.submit(write_stations, copy, names[start : start + _BATCH], folder)
            for start in range(0, len(names), _BATCH)
        ]
        try:
            yield lambda: _collected(tasks, progress)
        except BaseException:
            pool.shutdown(wait=True, cancel_futures=True)
            raise


def write_stations(copy: Path, names: Sequence[str], folder: Path) -> Written:
    """Write the files of the stations named; says how many, and how their pictures are drawn."""
    frames: Frames = {}
    for station, findings in stations_with_findings(_opened(copy), names):
        name = name_of(station, findings)
        text = f'groundcheckStation("{name}","{chunk(station, findings, frames, _LEVEL)}");\n'
        (folder / f"{name}.js").write_text(text, encoding="ascii")
    return len(names), frames


def _copy(store: Store, copy: Path, pool: ProcessPoolExecutor) -> None:
    """
    Copy the store to a file.

    A store that is a file is copied by another process: closing it here would give up the lock that this one holds.
    """
    if store.path is None:
        store.copy_to(copy)
        return
    store.connection.execute("CHECKPOINT")
    pool.submit(shutil.copyfile, store.path, copy).result()


@cache
def _opened(copy: Path) -> Store:
    """The copy, opened once a process, to be read by several at once."""
    store = Store()
    store.connection.execute(f"ATTACH '{str(copy).replace(chr(39), chr(39) * 2)}' AS copied (READ_ONLY)")
    store.connection.execute("USE copied")
    store.connection.execute("SET threads = 1")
    return store


def _begin() -> None:
    """Set up a process at the side: facts make no cycles, which the collector would look for again and again."""
    leave_interrupts_to_the_parent()
    gc.disable()


def _collected(tasks: Sequence["Future[Written]"], progress: Progress | None) -> Frames:
    for done in as_completed(tasks):
        number, _ = done.result()
        if progress:
            progress.advance(number)
    frames: Frames = {}
    for task in tasks:
        for name, frame in task.result()[1].items():
            frames.setdefault(name, frame)
    return frames
