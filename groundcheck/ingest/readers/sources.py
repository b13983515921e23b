"""What was named to be read: files, folders, or frames in memory."""

import hashlib
import multiprocessing
from collections.abc import Iterable, Iterator, Mapping
from concurrent.futures import ProcessPoolExecutor
from os import PathLike
from pathlib import Path
from typing import Any

import pandas as pd

from groundcheck.errors import ColumnMapError, NothingRead, SourceNotFound
from groundcheck.ingest.readers.delimited import read_delimited
from groundcheck.ingest.readers.workbooks import read_workbook
from groundcheck.ingest.sheets import Sheet, SourceFile, cell_text
from groundcheck.nearest import nearest
from groundcheck.progress import Progress
from groundcheck.schema import INVENTORY_TABLES

READERS = {".xlsx": read_workbook, ".xlsm": read_workbook, ".csv": read_delimited}
_KINDS = ".xlsx, .csv"

Named = str | PathLike[str]
Sources = Named | Iterable[Named] | Mapping[str, pd.DataFrame]


def find_files(sources: Sources) -> list[tuple[str, Path]]:
    """
    The files that were named, or that lie in a folder that was named, each with the name it goes by.

    Raises
    ------
    SourceNotFound
        A path does not exist.
    NothingRead
        There is no file among them that can be read.
    """
    named = [sources] if isinstance(sources, str | PathLike) else list(sources)
    found: dict[Path, str] = {}
    for entry in named:
        path = Path(entry)
        if not path.exists():
            raise SourceNotFound(f"{path}: no such file or folder; name .xlsx or .csv files, or a folder of them")
        if path.is_file():
            found.setdefault(path.resolve(), path.name)
            continue
        for inner in sorted(path.rglob("*")):
            relative = inner.relative_to(path)
            if inner.is_file() and inner.suffix.lower() in READERS and not any(map(_is_litter, relative.parts)):
                found.setdefault(inner.resolve(), relative.as_posix())
    if not found:
        listed = ", ".join(str(entry) for entry in named) or "no source"
        raise NothingRead(f"{listed}: no file of a kind that is read ({_KINDS})")
    return _distinct_names(found)


def _is_litter(name: str) -> bool:
    return name.startswith((".", "~$")) or name == "Thumbs.db"


def _distinct_names(found: dict[Path, str]) -> list[tuple[str, Path]]:
    """Two files of one name go by their folder and name."""
    names = list(found.values())
    return [(name if names.count(name) == 1 else f"{path.parent.name}/{name}", path) for path, name in found.items()]


def read_files(paths: list[tuple[str, Path]], workers: int = 1, progress: Progress | None = None) -> list[SourceFile]:
    """Read files, side by side in `workers` processes; of files with the same content only the first."""
    digests = [hash_file(name, path)[1] for name, path in paths]
    first: dict[str, str] = {}
    for (name, _), digest in zip(paths, digests, strict=True):
        first.setdefault(digest, name)
    jobs = [
        (name, path, digest, first[digest] if digest and first[digest] != name and path.stat().st_size else None)
        for (name, path), digest in zip(paths, digests, strict=True)
    ]
    if workers > 1 and len(jobs) > 1:
        # Fresh processes: a fork of one with the store's threads may hang.
        with ProcessPoolExecutor(min(workers, len(jobs)), multiprocessing.get_context("spawn")) as pool:
            return list(_counted(pool.map(_read_file, *zip(*jobs, strict=True)), progress))
    return list(_counted((_read_file(*job) for job in jobs), progress))


def _counted(files: Iterable[SourceFile], progress: Progress | None) -> Iterator[SourceFile]:
    for file in files:
        if progress:
            progress.advance()
        yield file


def _read_file(name: str, path: Path, digest: str, copy_of: str | None) -> SourceFile:
    source = SourceFile(name, sha256=digest)
    try:
        source.size = path.stat().st_size
        reader = READERS.get(path.suffix.lower())
        if copy_of is not None:
            source.copy_of = copy_of
        elif reader is None:
            source.problem = f"not a kind of file that is read ({_KINDS})"
        else:
            reader(path, source)
    except OSError as error:
        source.problem = f"cannot be opened ({error.strerror})"
    return source


def hash_file(name: str, path: Path) -> tuple[str, str]:
    """The name and the SHA-256 of a file; an empty hash where it cannot be opened."""
    try:
        return name, _hash(path)
    except OSError:
        return name, ""


def _hash(path: Path) -> str:
    with path.open("rb") as stream:
        return hashlib.file_digest(stream, "sha256").hexdigest()


def read_frames(frames: Mapping[str, pd.DataFrame]) -> SourceFile:
    """
    Frames in memory as the sheets of one source; the headings stand in row 1.

    Raises
    ------
    ColumnMapError
        A frame is named for no canonical table.
    """
    source = SourceFile("DataFrame", reader="frames in memory")
    digest = hashlib.sha256()
    for name, frame in frames.items():
        if name not in INVENTORY_TABLES:
            raise ColumnMapError(f"no table `{name}`; nearest is `{nearest(name, INVENTORY_TABLES)}`")
        columns = [frame[column].tolist() for column in frame.columns]
        rows: list[list[Any]] = [[str(column) for column in frame.columns]]
        rows += [[_plain(cell) for cell in row] for row in zip(*columns, strict=True)]
        digest.update(repr((name, [[cell_text(cell) for cell in row] for row in rows])).encode())
        source.sheets.append(Sheet(source.file, name, rows, table=name))
    source.sha256 = digest.hexdigest()
    return source


def _plain(cell: Any) -> Any:
    """A missing value of any kind as None; a scalar of a library as Python's own."""
    if isinstance(cell, list | tuple | set):
        return list(cell)
    if hasattr(cell, "tolist") and not isinstance(cell, pd.Timestamp):
        return cell.tolist()
    return None if pd.isna(cell) else cell
