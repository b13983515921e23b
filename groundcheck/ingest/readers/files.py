"""Reading files, each by the reader of its kind, side by side in processes. No file raises out of it."""

import hashlib
import multiprocessing
import os
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from pathlib import Path

from groundcheck.ingest.collector import collector_at_rest
from groundcheck.ingest.readers.delimited import read_delimited
from groundcheck.ingest.readers.kinds import KINDS_READ, SUFFIXES, kind_of
from groundcheck.ingest.readers.limits import LARGEST_FILE, refuse_size
from groundcheck.ingest.readers.old_workbooks import read_old_workbook
from groundcheck.ingest.readers.own_reports import own_report, refuse_own
from groundcheck.ingest.readers.parquet import read_parquet
from groundcheck.ingest.readers.workbooks import read_workbook
from groundcheck.ingest.sheets import SourceFile
from groundcheck.progress import Progress
from groundcheck.side_process import leave_interrupts_to_the_parent

_READERS: dict[str, Callable[[bytes, str, SourceFile], None]] = {
    "xlsx": read_workbook,
    "xlsm": read_workbook,
    "xlsb": read_workbook,
    "ods": read_workbook,
    "xls": read_old_workbook,
    "parquet": read_parquet,
    "text": read_delimited,
}
_CALLED = {"parquet": "parquet file", "text": "delimited text"}

# Name, path, hash, and the name of the file of the same content that is read in its place.
_Job = tuple[str, Path, str, str | None]


def read_files(paths: list[tuple[str, Path]], workers: int = 1, progress: Progress | None = None) -> list[SourceFile]:
    """Read files, side by side in `workers` processes; of files with the same content only the first."""
    jobs: list[_Job] = []
    first: dict[str, str] = {}
    for name, path in paths:
        _, digest = hash_file(name, path)
        known = first.setdefault(digest, name) if digest and digest != _HASH_OF_NOTHING else name
        jobs.append((name, path, digest, known if known != name else None))
    files = []
    for file in _read_side_by_side(jobs, workers) if workers > 1 and len(jobs) > 1 else map(read_file, jobs):
        files.append(file)
        if progress:
            progress.advance()
    return files


def _read_side_by_side(jobs: list[_Job], workers: int) -> Iterator[SourceFile]:
    # Fresh processes: a fork of one with the store's threads may hang.
    context = multiprocessing.get_context("spawn")
    done = 0
    try:
        with ProcessPoolExecutor(min(workers, len(jobs)), context, leave_interrupts_to_the_parent) as pool:
            for file in pool.map(read_file, jobs):
                done += 1
                yield file
    except BrokenProcessPool:
        # One of the files ended its process. Each of the rest gets one of its own, so that this one can be named.
        for job in jobs[done:]:
            try:
                with ProcessPoolExecutor(1, context, leave_interrupts_to_the_parent) as pool:
                    yield pool.submit(read_file, job).result()
            except BrokenProcessPool:
                yield SourceFile(job[0], job[2], problem="reading it ended the process, for want of memory: split it")


def read_file(job: _Job) -> SourceFile:
    name, path, digest, copy_of = job
    source = SourceFile(name, sha256=digest, path=os.fsencode(path).decode("utf-8", errors="backslashreplace"))
    try:
        source.size = path.stat().st_size
        if copy_of is not None:
            source.copy_of = copy_of
        elif source.size > LARGEST_FILE:
            source.problem = refuse_size(source.size)
        elif (ours := own_report(path)) is not None:
            source.problem = refuse_own(ours)
        else:
            with collector_at_rest():
                _read_content(path.read_bytes(), path.suffix.lower(), source)
    except OSError as error:
        source.problem = f"cannot be opened ({error.strerror})"
    except MemoryError:
        source.sheets.clear()
        source.problem = "more than fits in memory: split it"
    return source


def _read_content(content: bytes, suffix: str, source: SourceFile) -> None:
    kind = kind_of(content)
    source.problem = kind.problem
    if source.problem is None:
        source.reader = _said(kind.name, suffix, source.file)
        _READERS[kind.name](content, kind.name, source)
        if kind.name == "text" and source.reader and not source.problem:
            other = SUFFIXES.get(suffix, "") != "text"
            source.reader += f", under the name {source.file}" if other else ""
    if source.problem and suffix not in SUFFIXES:
        source.problem += f" (read are {KINDS_READ})"


def _said(kind: str, suffix: str, name: str) -> str:
    """What the file was read as; and its name, if that says something else."""
    called = _CALLED.get(kind, f"{kind} workbook")
    return called if SUFFIXES.get(suffix) == kind else f"{called} under the name {name}"


_HASH_OF_NOTHING = hashlib.sha256().hexdigest()


def hash_file(name: str, path: Path) -> tuple[str, str]:
    """The name and the SHA-256 of a file; an empty hash where it cannot be opened."""
    try:
        with path.open("rb") as stream:
            return name, hashlib.file_digest(stream, "sha256").hexdigest()
    except OSError:
        return name, ""
