"""The files that were named, or lie in a folder that was named; and what was passed over there."""

import os
import stat
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from os import PathLike
from pathlib import Path

from groundcheck.errors import NothingRead, SourceNotFound
from groundcheck.ingest.readers.kinds import KINDS_READ, SUFFIXES
from groundcheck.ingest.readers.own_reports import own_report

Named = str | PathLike[str]

# Read only where it is named itself: most .txt files of a folder are notes.
_ONLY_NAMED = ".txt"


@dataclass
class Found:
    """Files with the names they go by; and what was passed over in folders, with the reason."""

    files: list[tuple[str, Path]] = field(default_factory=list)
    skipped: dict[str, str] = field(default_factory=dict)


def find_files(sources: Named | Iterable[Named]) -> Found:
    """
    The files that were named, or that lie in a folder that was named, each with the name it goes by.

    Raises
    ------
    SourceNotFound
        A path does not exist, or is neither a file nor a folder.
    NothingRead
        There is no file among them that can be read.
    """
    named = [sources] if isinstance(sources, str | PathLike) else list(sources)
    found: dict[Path, str] = {}
    skipped: dict[str, str] = {}
    for entry in named:
        path = Path(entry)
        mode = _mode_of(path)
        if stat.S_ISREG(mode):
            found.setdefault(path.resolve(), path.name)
        elif stat.S_ISDIR(mode):
            for inner, reason in _walk(path, skipped):
                relative = inner.relative_to(path).as_posix()
                if reason is None:
                    found.setdefault(inner.resolve(), relative)
                else:
                    skipped[relative] = reason
        else:
            raise SourceNotFound(f"{path}: neither a file nor a folder; name files, or a folder of them ({KINDS_READ})")
    if not found:
        listed = ", ".join(str(entry) for entry in named) or "no source"
        raise NothingRead(f"{listed}: no file of a kind that is read ({KINDS_READ}){_in_folders(skipped)}")
    return Found(_distinct_names(found), {_shown(name): reason for name, reason in skipped.items()})


def _mode_of(path: Path) -> int:
    try:
        return path.stat().st_mode
    except (OSError, ValueError) as error:
        gone = isinstance(error, FileNotFoundError | NotADirectoryError | ValueError)
        what = "no such file or folder" if gone else f"cannot be opened ({error.strerror})"  # type: ignore[union-attr]
        raise SourceNotFound(f"{path}: {what}; name files, or a folder of them ({KINDS_READ})") from error


def _in_folders(skipped: dict[str, str]) -> str:
    """What stands in the way where a folder gave nothing."""
    closed = [f"{name}: {reason}" for name, reason in skipped.items() if reason.startswith("cannot be opened")]
    return f"; {'; '.join(closed[:3])}" if closed else f"; {len(skipped)} passed over" if skipped else ""


def _walk(top: Path, skipped: dict[str, str]) -> Iterator[tuple[Path, str | None]]:
    """What lies under a folder, in order of names; with the reason why it is passed over, if it is."""
    entered: set[tuple[int, int]] = set()

    def refused(error: OSError) -> None:
        where = Path(error.filename or top)
        name = where.relative_to(top).as_posix() if where.is_relative_to(top) else str(where)
        skipped[name] = f"cannot be opened ({error.strerror})"

    for folder, folders, names in os.walk(top, onerror=refused, followlinks=True):
        here = Path(folder)
        try:
            status = here.stat()
        except OSError as error:
            refused(error)
            folders.clear()
            continue
        # A link to a folder above would be walked for ever.
        if (status.st_dev, status.st_ino) in entered:
            folders.clear()
            yield here, "a link to a folder that is read already"
            continue
        entered.add((status.st_dev, status.st_ino))
        yield from ((here / name, "a hidden folder") for name in sorted(folders) if name.startswith("."))
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        yield from ((here / name, _passed_over(here / name)) for name in sorted(names))


def _passed_over(path: Path) -> str | None:
    """Why a file of a folder is not read; None if it is."""
    name, suffix = path.name, path.suffix.lower()
    if name.startswith(("~$", ".~lock.")):
        return "the lock file of an open workbook"
    if name.startswith(".") or name.lower() in ("thumbs.db", "desktop.ini"):
        return "hidden, or litter of the system"
    if suffix == _ONLY_NAMED:
        return "a .txt file, which is read only where it is named itself"
    if suffix not in SUFFIXES:
        return "of no kind that is read"
    try:
        return own_report(path) if stat.S_ISREG(path.stat().st_mode) else "not a file"
    except OSError as error:
        return f"cannot be opened ({error.strerror})"


def _distinct_names(found: dict[Path, str]) -> list[tuple[str, Path]]:
    """Files of one name go by as many of their folders as tell them apart."""
    depths = dict.fromkeys(found, 0)
    names = dict(found)
    while clashing := {name for name, count in Counter(names.values()).items() if count > 1}:
        for path in [path for path, name in names.items() if name in clashing]:
            depths[path] += 1
            parts = Path(found[path]).parts
            names[path] = Path(*path.parts[-len(parts) - depths[path] :]).as_posix()
    return [(_shown(name), path) for path, name in names.items()]


def _shown(name: str) -> str:
    """A name as text: bytes of it that are none in the system's encoding are written out."""
    return os.fsencode(name).decode("utf-8", errors="backslashreplace")
