"""The stations of a large fleet, a file each, which the page loads by a script tag when a reader asks for one."""

import multiprocessing
import os
from collections.abc import Iterable, Iterator
from concurrent.futures import Future, ProcessPoolExecutor
from itertools import islice
from pathlib import Path

from groundcheck.progress import Progress
from groundcheck.report.facts import FindingFacts, StationFacts
from groundcheck.report.page.chunks import chunk
from groundcheck.report.page.pictures import Frames
from groundcheck.report.page.stations_index import chunk_name
from groundcheck.side_process import leave_interrupts_to_the_parent

Pair = tuple[StationFacts | None, list[FindingFacts]]
Written = tuple[int, Frames]

_BATCH = 64
_LEVEL = 3


def write_station_files(pairs: Iterable[Pair], folder: Path, progress: Progress | None = None) -> Frames:
    """Write each station's file into the folder, side by side; gives how their pictures are drawn."""
    folder.mkdir(parents=True, exist_ok=True)
    frames: Frames = {}
    workers = os.cpu_count() or 1
    # Fresh processes: a fork of one with the store's threads may hang.
    with ProcessPoolExecutor(workers, multiprocessing.get_context("spawn"), leave_interrupts_to_the_parent) as pool:
        waiting: list[Future[Written]] = []
        for batch in _batches(iter(pairs)):
            waiting.append(pool.submit(write_batch, batch, folder))
            while len(waiting) > 2 * workers:  # no more in memory than keeps everyone busy
                _collect(waiting.pop(0), frames, progress)
        for each in waiting:
            _collect(each, frames, progress)
    return frames


def write_batch(batch: list[Pair], folder: Path) -> Written:
    """Write the files of some stations; says how many, and how their pictures are drawn."""
    frames: Frames = {}
    for station, findings in batch:
        name = chunk_name((station["substation"] if station else findings[0]["substation"]) or "")
        text = f'groundcheckStation("{name}","{chunk(station, findings, frames, _LEVEL)}");\n'
        (folder / f"{name}.js").write_text(text, encoding="ascii")
    return len(batch), frames


def _batches(pairs: Iterator[Pair]) -> Iterator[list[Pair]]:
    while batch := list(islice(pairs, _BATCH)):
        yield batch


def _collect(done: "Future[Written]", frames: Frames, progress: Progress | None) -> None:
    number, new = done.result()
    frames.update(new)
    if progress:
        progress.advance(number)
