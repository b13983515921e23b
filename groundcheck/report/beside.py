"""The exception workbook, written by another process from a copy of the store while this one writes the rest."""

import pickle
import shutil
import subprocess
import sys
import traceback
from collections.abc import Callable
from pathlib import Path
from types import TracebackType
from typing import Self

from groundcheck.report.workbook import write_workbook
from groundcheck.side_process import leave_interrupts_to_the_parent
from groundcheck.store import Store


class BesideError(RuntimeError):
    """The other process ended before its report was whole."""


class Beside:
    """A process at the side. It is started by its module's name, so that a caller's own script is never run again."""

    def __init__(self, store: Store) -> None:
        self._store = store
        self.process: subprocess.Popen[bytes] | None = None

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Stop what still runs."""
        if self.process is not None:
            self.process.kill()
            self.process.communicate()

    def start_workbook(self, path: Path, sheet_by_district: bool) -> Callable[[], None]:
        """Begin to write the workbook; what is given back waits for its end, and raises what was raised there."""
        copy = path.parent / ".store"
        if self._store.path is None:
            self._store.copy_to(copy)
            kept = copy
        else:
            self._store.settle()
            kept = self._store.path.resolve()
        sheets = "by-district" if sheet_by_district else "whole"
        self.process = subprocess.Popen(
            [sys.executable, "-m", __name__, str(kept), str(copy), str(path), sheets],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            start_new_session=True,
        )
        return self._wait

    def _wait(self) -> None:
        assert self.process is not None
        told, complaint = self.process.communicate()
        status, self.process = self.process.returncode, None
        if status == 0:
            return
        if told:
            raise pickle.loads(told)  # of our own process
        lines = complaint.decode(errors="replace").strip().splitlines()
        raise BesideError(f"the process that wrote it ended with status {status}: {lines[-1] if lines else 'no words'}")


def main(kept: str, copy: str, path: str, sheets: str) -> int:
    """
    Write the workbook from a copy of what is kept; an error goes to standard output, pickled.

    The copy of a file is made here: were it closed by the process that has it open as a database, its lock would go.
    """
    leave_interrupts_to_the_parent()
    try:
        if copy != kept:
            shutil.copyfile(kept, copy)
        with Store(copy) as store:
            write_workbook(store, Path(path), sheet_by_district=sheets == "by-district")
    except Exception as error:
        error.add_note("".join(traceback.format_exception(error)))
        sys.stdout.buffer.write(_pickled(error))
        return 1
    return 0


def _pickled(error: Exception) -> bytes:
    try:
        content = pickle.dumps(error)
        pickle.loads(content)
    except Exception:  # an error may hold anything
        return pickle.dumps(BesideError(f"{type(error).__name__}: {error}"))
    return content


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
