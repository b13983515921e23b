"""Progress on standard error: a moving bar on a terminal, a line a stage elsewhere, nothing with --quiet."""

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from time import monotonic
from typing import TYPE_CHECKING

import click

from groundcheck.progress import Progress, Silent

if TYPE_CHECKING:
    from rich.progress import Progress as RichProgress
    from rich.progress import ProgressColumn, TaskID

quiet_option = click.option("--quiet", is_flag=True, help="Show no progress, only the results and what went wrong.")


class Lines:
    """A plain line for each stage, at its end: its name, how many steps were done, and the seconds it took."""

    def __init__(self) -> None:
        self._name: str | None = None
        self._done = 0
        self._since = 0.0

    def stage(self, name: str, total: int | None) -> None:
        """Tell of the stage before, and begin to count."""
        self.close()
        self._name, self._done, self._since = name, 0, monotonic()

    def advance(self, n: int = 1) -> None:
        """Count."""
        self._done += n

    def detail(self, text: str) -> None:
        """Nothing: a log is read afterwards."""

    def close(self) -> None:
        """Tell of the last stage."""
        if self._name is not None:
            count = f"{self._done:,} in " if self._done else ""
            print(f"{self._name}: {count}{monotonic() - self._since:.1f} s", file=sys.stderr, flush=True)
        self._name = None


class Bars:
    """A bar for each stage: count, time it took, time left."""

    def __init__(self, bars: "RichProgress") -> None:
        self._bars = bars
        self._task: TaskID | None = None

    def stage(self, name: str, total: int | None) -> None:
        """End the bar of the last stage and begin another."""
        self._finish()
        self._task = self._bars.add_task(name, total=total, detail="")

    def advance(self, n: int = 1) -> None:
        """Move the bar."""
        if self._task is not None:
            self._bars.update(self._task, advance=n, detail="")

    def detail(self, text: str) -> None:
        """Show it behind the bar."""
        if self._task is not None:
            self._bars.update(self._task, detail=text)

    def _finish(self) -> None:
        if self._task is not None:
            task = self._bars.tasks[-1]
            if task.total is None:
                self._bars.update(self._task, total=task.completed or 1, completed=task.completed or 1)
            self._bars.update(self._task, detail="")
            self._bars.stop_task(self._task)


@contextmanager
def shown_progress(quiet: bool = False) -> Iterator[Progress]:
    """Bars on a terminal, else lines; nothing if `quiet`."""
    if quiet:
        yield Silent()
    elif sys.stderr.isatty():
        from rich.console import Console
        from rich.progress import Progress as RichBars

        with RichBars(*_columns(), console=Console(stderr=True), transient=True) as bars:
            yield Bars(bars)
    else:
        lines = Lines()
        yield lines
        lines.close()


def _columns() -> "list[ProgressColumn]":
    from rich.progress import BarColumn, ProgressColumn, Task, TextColumn, TimeElapsedColumn, TimeRemainingColumn
    from rich.text import Text

    class Count(ProgressColumn):
        """How many steps of how many."""

        def render(self, task: Task) -> Text:
            return Text(f"{task.completed:,.0f} of {task.total:,.0f}" if task.total and task.total > 1 else "")

    class Left(TimeRemainingColumn):
        """Time left, said to be so; nothing where it can't be told."""

        def render(self, task: Task) -> Text:
            shown = super().render(task)
            known = not task.finished and task.total and task.time_remaining is not None
            return Text(f"{shown.plain} left") if known else Text("")

    class Detail(ProgressColumn):
        """What the running step is at."""

        def render(self, task: Task) -> Text:
            return Text(str(task.fields.get("detail", "")), no_wrap=True, overflow="ellipsis")

    return [TextColumn("{task.description}"), BarColumn(24), Count(), TimeElapsedColumn(), Left(), Detail()]
