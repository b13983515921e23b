"""Progress on standard error: a moving bar on a terminal, a line a stage elsewhere."""

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from groundcheck.progress import Progress

if TYPE_CHECKING:
    from rich.progress import Progress as RichProgress
    from rich.progress import TaskID


class Lines:
    """A plain line for each stage."""

    def stage(self, name: str, total: int | None) -> None:
        """Say what begins."""
        print(f"{name} ({total})" if total else name, file=sys.stderr, flush=True)

    def advance(self, n: int = 1) -> None:
        """Nothing: a log is read afterwards."""


class Bars:
    """A bar for each stage."""

    def __init__(self, bars: "RichProgress") -> None:
        self._bars = bars
        self._task: TaskID | None = None

    def stage(self, name: str, total: int | None) -> None:
        """End the bar of the last stage and begin another."""
        self._finish()
        self._task = self._bars.add_task(name, total=total)

    def advance(self, n: int = 1) -> None:
        """Move the bar."""
        if self._task is not None:
            self._bars.advance(self._task, n)

    def _finish(self) -> None:
        if self._task is not None:
            done = self._bars.tasks[-1].total or self._bars.tasks[-1].completed or 1
            self._bars.update(self._task, total=done, completed=done)


@contextmanager
def shown_progress() -> Iterator[Progress]:
    """Bars on a terminal, else lines."""
    if not sys.stderr.isatty():
        yield Lines()
        return
    from rich.console import Console
    from rich.progress import Progress as RichBars

    with RichBars(console=Console(stderr=True), transient=True) as bars:
        yield Bars(bars)
