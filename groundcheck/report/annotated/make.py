"""The folder of marked copies, a file a source, and what is to be said of each."""

import hashlib
from pathlib import Path, PurePosixPath

from groundcheck.report.annotated.from_rows import write_from_rows
from groundcheck.report.annotated.marked_copy import write_marked_copy
from groundcheck.report.annotated.notes import Notes, gather_notes
from groundcheck.report.rows import fetch
from groundcheck.store import Store

COPIED = (".xlsx", ".xlsm")
LOST_ON_COPYING = (
    "A marked copy keeps values, formulas, formats, comments and macros. It may lose images, charts, shapes and "
    "slicers, and comments in threads lose their thread; results of formulas are computed again when it is opened. "
    "The originals are untouched."
)


def write_annotated(store: Store, folder: Path) -> list[tuple[str, str]]:
    """Fill the folder, which is made; tell of each file what became of it."""
    folder.mkdir()
    notes = gather_notes(store)
    query = "SELECT file, sha256, path, problem, copy_of, reader FROM raw.file ORDER BY file"
    taken: set[PurePosixPath] = set()
    told = []
    for file, digest, path, problem, copy_of, _ in fetch(store, query):
        if problem:
            told.append((file, "not read, and so not marked"))
        elif copy_of:
            told.append((file, f"same content as {copy_of}, which is marked in its place"))
        elif not notes.placed.get(file):
            told.append((file, "nothing to mark" + _homeless(notes, file)))
        else:
            told.append((file, _write(store, folder, file, digest, path, notes, taken)))
    return told


def _write(
    store: Store, folder: Path, file: str, digest: str, path: str | None, notes: Notes, taken: set[PurePosixPath]
) -> str:
    cells = sum(len(sheet) for sheet in notes.placed[file].values())
    done = f"{cells:,} {'cell' if cells == 1 else 'cells'} marked" + _homeless(notes, file)
    remarks: list[str] = []
    if Path(file).suffix.lower() in COPIED:
        reason = _why_no_copy(path, digest)
        if reason:
            return f"not marked: {reason}"
        target = _target(folder, PurePosixPath(file), taken)
        try:
            remarks = write_marked_copy(Path(path or ""), target, notes.placed[file])
            return "; ".join([done, *remarks])
        except Exception as error:  # whatever the library makes of the workbook, the rows as read are still at hand
            target.unlink(missing_ok=True)
            remarks = [f"its workbook can't be copied ({type(error).__name__}), so it was made from the rows as read"]
    target = _target(folder, PurePosixPath(f"{file}.xlsx"), taken)
    remarks += write_from_rows(store, file, target, notes.placed[file])
    return "; ".join([f"{done}, in {target.name}", *remarks])


def _why_no_copy(path: str | None, digest: str) -> str | None:
    """Why the original can't be copied: it is gone, or is no longer what was read."""
    if not path:
        return "the record does not say where the file lay"
    try:
        with Path(path).open("rb") as stream:
            same = hashlib.file_digest(stream, "sha256").hexdigest() == digest
    except OSError as error:
        return f"{path} cannot be opened ({error.strerror}); it was there when it was read"
    return None if same else f"{path} has changed since it was read: audit it again"


def _target(folder: Path, name: PurePosixPath, taken: set[PurePosixPath]) -> Path:
    """Where the copy goes: under the name of its source, in the same folders, never outside ours."""
    plain = PurePosixPath(*(part for part in name.parts if part not in ("..", ".", "/", "\\")))
    number, place = 1, plain
    while place in taken:
        number += 1
        place = plain.with_name(f"{plain.stem} ({number}){plain.suffix}")
    taken.add(place)
    target = folder / place
    target.parent.mkdir(parents=True, exist_ok=True)
    return target


def _homeless(notes: Notes, file: str) -> str:
    count = notes.homeless.get(file, 0)
    return f"; {count:,} {'note has' if count == 1 else 'notes have'} no cell to stand at" if count else ""
