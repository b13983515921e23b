"""Files that a sub-command writes where the caller says."""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from groundcheck.errors import OutputFolderError, StoreError

if TYPE_CHECKING:
    from groundcheck.store import Store


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


def open_kept(path: Path) -> "Store":
    """
    Open the store that an audit kept.

    Raises
    ------
    StoreError
        There is no such file, or no audit in it.
    """
    from groundcheck.store import Store

    if not path.is_file():
        raise StoreError(f"{path}: no such file; keep one with groundcheck audit ... --store {path}")
    store = Store(path)
    if not store.sql("FROM audit.run").fetchall():
        store.close()
        raise StoreError(f"{path}: holds no audit; make one with groundcheck audit ... --store {path}")
    return store
