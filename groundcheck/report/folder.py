"""The output folder: checked before the long work, and files put into it whole or not at all."""

import json
import os
import tempfile
from collections.abc import Callable, Collection, Iterable, Mapping
from contextlib import ExitStack
from errno import ENOTDIR
from pathlib import Path

import duckdb
from xlsxwriter.exceptions import XlsxWriterException

from groundcheck.errors import OutputFolderError, WaiverError
from groundcheck.progress import Progress, Silent
from groundcheck.waivers import Gathered, filled_in_by_hand, unsaved_by

# A writer that works at the side gives back what waits for its end.
Writer = Callable[[Path], object]

REPORT_NAMES = (
    "exceptions.xlsx",
    "report.html",
    "inspection_findings.pdf",
    "data_requests.xlsx",
    "findings.csv",
    "outcomes.csv",
    "rulebook.html",
    "ingest_log.txt",
)
# What may stand beside them; of these, one of an earlier audit vanishes if the new one has none.
STATIONS = "report_stations"
DATA = "data"
_ORDER = (*REPORT_NAMES[:2], STATIONS, *REPORT_NAMES[2:], "annotated", DATA)


def check_output_folder(
    folder: str | Path,
    sources: Iterable[str | Path] = (),
    told: Gathered | None = None,
    elsewhere: Collection[Path] = (),
) -> Path:
    """
    Make the folder if it is not there, and see that reports can be put into it, and those that go `elsewhere`, there.

    `told` is what the audit knows of the findings' dispositions; without it, none in an earlier report are looked for.

    Raises
    ------
    OutputFolderError
        It is a file, can't be made or written, a report in it is held open by another program, or would take the
        place of one of the sources, such as a data request that was filled in where it lay, of an exceptions.xlsx
        into which a person wrote dispositions that the audit was not told, or of files that no audit wrote.
    """
    folder = Path(folder)
    read = {Path(source).resolve() for source in sources}
    for report in REPORT_NAMES:
        if (folder / report).resolve() in read:
            raise OutputFolderError(
                f"output folder {folder}: {report} there is one of the sources, and would be overwritten; "
                "move it, or name another folder"
            )
    for path in elsewhere:
        if path.resolve() in read or path.resolve() in {(folder / name).resolve() for name in _ORDER}:
            raise OutputFolderError(f"{path}: is a source or another report, and would be overwritten; name another")
    if told is not None:
        _check_dispositions(folder, told)
    try:
        for place in (folder, *(path.parent for path in elsewhere)):
            place.mkdir(parents=True, exist_ok=True)
            handle, name = tempfile.mkstemp(prefix=".groundcheck-", dir=place)
            os.close(handle)
            Path(name).unlink()
        for path in (*(folder / report for report in REPORT_NAMES), *elsewhere):
            if path.exists():
                with path.open("r+b"):
                    pass
        for name in (STATIONS, DATA):
            _check_our_own(folder, name)
    except OSError as error:
        raise _refusal(folder, None, error) from error
    return folder


def place_files(
    folder: str | Path,
    writers: Mapping[str, Writer],
    elsewhere: Mapping[Path, Writer] | None = None,
    progress: Progress | None = None,
) -> list[Path]:
    """
    Write each named file or folder under a temporary name, and move all into place once all are written.

    A folder takes the place of the one that was there before; those that only some audits have vanish with an earlier
    audit's reports. `elsewhere` are files with a place of their own.

    Raises
    ------
    OutputFolderError
        The folder can't be written; what was there before is left whole.
    """
    elsewhere = elsewhere or {}
    progress = progress or Silent()
    folder = check_output_folder(folder, elsewhere=elsewhere)
    with ExitStack() as leaving:
        try:
            making = Path(leaving.enter_context(_temporary_folder(folder)))
            jobs = {name: (making / name, write) for name, write in writers.items()}
            for path, write in elsewhere.items():
                jobs[str(path)] = (Path(leaving.enter_context(_temporary_folder(path.parent))) / path.name, write)
        except OSError as error:
            raise _refusal(folder, None, error) from error
        _write_all(folder, jobs, progress)
        try:
            placed = _move_all(folder, making, writers)
            for path in elsewhere:
                jobs[str(path)][0].replace(path)
        except OSError as error:
            raise _refusal(folder, None, error) from error
    return [*sorted(placed, key=_place_in_order), *elsewhere]


def _temporary_folder(parent: Path) -> "tempfile.TemporaryDirectory[str]":
    return tempfile.TemporaryDirectory(prefix=".groundcheck-", dir=parent, ignore_cleanup_errors=True)


def _write_all(folder: Path, jobs: Mapping[str, tuple[Path, Writer]], progress: Progress) -> None:
    """Run the writers; one that fails is named."""
    waiting: dict[str, Callable[[], object]] = {}
    for name, (path, write) in jobs.items():
        progress.detail(name)
        wait = _run(folder, name, lambda write=write, path=path: write(path))  # type: ignore[misc]
        if callable(wait):
            waiting[name] = wait
        else:
            progress.advance()
    for name, wait in waiting.items():
        progress.detail(name)
        _run(folder, name, wait)
        progress.advance()


def _run(folder: Path, name: str, write: Callable[[], object]) -> object:
    try:
        return write()
    except (OSError, XlsxWriterException, duckdb.IOException) as error:
        raise _refusal(folder, name, error) from error
    except Exception as error:
        error.add_note(f"while writing {name}")
        raise


def _move_all(folder: Path, making: Path, names: Iterable[str]) -> list[Path]:
    """Put what was made into its place, and take away what an earlier audit left and this one has not."""
    made = [*names, *(name for name in (STATIONS, DATA) if (making / name).exists() and name not in names)]
    for name in made:
        if (making / name).is_dir() and (folder / name).exists() and not (folder / name).is_dir():
            raise NotADirectoryError(ENOTDIR, "a file of that name is there", str(folder / name))
    for name in {*made, STATIONS, DATA}:
        if (folder / name).is_dir():
            (folder / name).replace(making / f"{name}.earlier")
    for name in made:
        (making / name).replace(folder / name)
    return [folder / name for name in made]


def _place_in_order(path: Path) -> tuple[int, str]:
    return (_ORDER.index(path.name) if path.name in _ORDER else len(_ORDER), path.name)


def _check_our_own(folder: Path, name: str) -> None:
    """See that a folder that would be taken away holds nothing but what an audit wrote."""
    if not (folder / name).is_dir():
        return
    if name == STATIONS:
        strange = [path for path in (folder / name).rglob("*") if path.suffix != ".js"]
    else:
        strange = _not_in_manifest(folder / name)
    if strange:
        raise OutputFolderError(
            f"output folder {folder}: {strange[0].relative_to(folder)} was written by no audit, and would be taken "
            f"away with the folder {name} of an earlier one; move it, or name another folder"
        )


def _not_in_manifest(folder: Path) -> list[Path]:
    """What lies in a folder of data files that its manifest does not name."""
    files = sorted(path for path in folder.rglob("*") if not path.is_dir())
    try:
        manifest = json.loads((folder / "manifest.json").read_text(encoding="utf-8"))
        listed = {folder / "manifest.json", folder / manifest["dictionary"]}
        for table in manifest["tables"]:
            listed |= {folder / name for name in (table["schema"], *table["files"].values())}
    except (OSError, ValueError, TypeError, KeyError, AttributeError):
        return files
    return [path for path in files if path not in listed]


def _check_dispositions(folder: Path, told: Gathered) -> None:
    """See that nothing a person wrote into an earlier exception workbook is lost."""
    path = folder / "exceptions.xlsx"
    try:
        lost = unsaved_by(filled_in_by_hand(path), told)
    except WaiverError as error:
        raise OutputFolderError(
            f"output folder {folder}: {error}, and may hold dispositions, which would be overwritten; close it, move "
            "it, or name another folder"
        ) from error
    if lost:
        rows = "1 disposition" if len(lost) == 1 else f"{len(lost):,} dispositions"
        raise OutputFolderError(
            f"output folder {folder}: exceptions.xlsx there holds {rows} that this audit was not told, the first in "
            f"{lost[0].place}, of finding {lost[0].finding}, and would be overwritten; give it with "
            f"--waivers {path}, move it, or name another folder"
        )


def _refusal(folder: Path, report: str | None, error: Exception) -> OutputFolderError:
    """In one line, what can't be written and why; a report by the name that it would have had."""
    where = report or getattr(error, "filename", None) or folder
    reason = getattr(error, "strerror", None) or str(error).splitlines()[0]
    return OutputFolderError(
        f"output folder {folder}: {where} cannot be written ({reason}); name another folder, or close the report"
    )
