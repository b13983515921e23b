"""The output folder: checked before the long work, and files put into it whole or not at all."""

import os
import tempfile
from collections.abc import Callable, Iterable, Mapping
from errno import ENOTDIR
from pathlib import Path

from xlsxwriter.exceptions import XlsxWriterException

from groundcheck.errors import OutputFolderError, WaiverError
from groundcheck.waivers import Gathered, filled_in_by_hand, unsaved_by

REPORT_NAMES = (
    *("exceptions.xlsx", "data_requests.xlsx", "findings.csv", "outcomes.csv", "rulebook.html", "ingest_log.txt"),
)


def check_output_folder(folder: str | Path, sources: Iterable[str | Path] = (), told: Gathered | None = None) -> Path:
    """
    Make the folder if it is not there, and see that reports can be put into it.

    `told` is what the audit knows of the findings' dispositions; without it, none in an earlier report are looked for.

    Raises
    ------
    OutputFolderError
        It is a file, can't be made or written, a report in it is held open by another program, or would take the
        place of one of the sources, such as a data request that was filled in where it lay, or of an exceptions.xlsx
        into which a person wrote dispositions that the audit was not told.
    """
    folder = Path(folder)
    read = {Path(source).resolve() for source in sources}
    for report in REPORT_NAMES:
        if (folder / report).resolve() in read:
            raise OutputFolderError(
                f"output folder {folder}: {report} there is one of the sources, and would be overwritten; "
                "move it, or name another folder"
            )
    if told is not None:
        _check_dispositions(folder, told)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(prefix=".groundcheck-", dir=folder)
        os.close(handle)
        Path(name).unlink()
        for report in REPORT_NAMES:
            if (folder / report).exists():
                with (folder / report).open("r+b"):
                    pass
    except OSError as error:
        raise _refusal(folder, error) from error
    return folder


def place_files(folder: str | Path, writers: Mapping[str, Callable[[Path], object]]) -> list[Path]:
    """
    Write each named file or folder under a temporary name, and move all into place once all are written.

    A folder takes the place of the one that was there before.

    Raises
    ------
    OutputFolderError
        The folder can't be written; what was there before is left whole.
    """
    folder = check_output_folder(folder)
    try:
        with tempfile.TemporaryDirectory(prefix=".groundcheck-", dir=folder) as making:
            for name, write in writers.items():
                write(Path(making) / name)
            _check_kinds(Path(making), folder, writers)
            for name in writers:
                if (Path(making) / name).is_dir() and (folder / name).is_dir():
                    (folder / name).replace(Path(making) / f"{name}.earlier")
                (Path(making) / name).replace(folder / name)
    except XlsxWriterException as error:
        raise _refusal(folder, OSError(str(error))) from error
    except OSError as error:
        raise _refusal(folder, error) from error
    return [folder / name for name in writers]


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


def _check_kinds(making: Path, folder: Path, names: Iterable[str]) -> None:
    """See that no file stands where a folder is to go, before anything is moved."""
    for name in names:
        if (making / name).is_dir() and (folder / name).exists() and not (folder / name).is_dir():
            raise NotADirectoryError(ENOTDIR, "a file of that name is there", str(folder / name))


def _refusal(folder: Path, error: OSError) -> OutputFolderError:
    where = error.filename or folder
    reason = error.strerror or str(error)
    return OutputFolderError(
        f"output folder {folder}: {where} cannot be written ({reason}); name another folder, or close the report"
    )
