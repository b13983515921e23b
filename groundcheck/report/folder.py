"""The output folder: checked before the long work, and files put into it whole or not at all."""

import os
import tempfile
from collections.abc import Callable, Mapping
from pathlib import Path

from xlsxwriter.exceptions import XlsxWriterException

from groundcheck.errors import OutputFolderError

REPORT_NAMES = ("exceptions.xlsx", "findings.csv", "outcomes.csv")


def check_output_folder(folder: str | Path) -> Path:
    """
    Make the folder if it is not there, and see that reports can be put into it.

    Raises
    ------
    OutputFolderError
        It is a file, can't be made or written, or a report in it is held open by another program.
    """
    folder = Path(folder)
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


def place_files(folder: str | Path, writers: Mapping[str, Callable[[Path], None]]) -> list[Path]:
    """
    Write each named file under a temporary name, and move all of them into place once all are written.

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
            for name in writers:
                (Path(making) / name).replace(folder / name)
    except XlsxWriterException as error:
        raise _refusal(folder, OSError(str(error))) from error
    except OSError as error:
        raise _refusal(folder, error) from error
    return [folder / name for name in writers]


def _refusal(folder: Path, error: OSError) -> OutputFolderError:
    where = error.filename or folder
    reason = error.strerror or str(error)
    return OutputFolderError(
        f"output folder {folder}: {where} cannot be written ({reason}); name another folder, or close the report"
    )
