"""Files that a sub-command writes where the caller says."""

from collections.abc import Callable
from pathlib import Path

from groundcheck.errors import OutputFolderError


def write_file(path: Path, text: str) -> None:
    """
    Write a text file, whole.

    Raises
    ------
    OutputFolderError
        The file can't be written.
    """
    make_file(path, lambda: path.write_text(text, encoding="utf-8"))


def make_file(path: Path, make: Callable[[], object]) -> None:
    """Run what writes the file; see write_file for errors."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        make()
    except OSError as error:
        raise OutputFolderError(f"{path}: cannot be written ({error.strerror or error}); name another file") from error
