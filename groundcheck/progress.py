"""What long work reports to."""

from typing import Protocol


class Progress(Protocol):
    """Told of each stage of long work, and of the steps done in it."""

    def stage(self, name: str, total: int | None) -> None:
        """A stage begins; `total` is None where its steps can't be counted."""

    def advance(self, n: int = 1) -> None:
        """So many more steps of it are done."""

    def detail(self, text: str) -> None:
        """What the running step is at, such as 'report.html: 4,200 of 15,000'; empty at its end."""


class Silent:
    """Tells nobody."""

    def stage(self, name: str, total: int | None) -> None:
        """Nothing."""

    def advance(self, n: int = 1) -> None:
        """Nothing."""

    def detail(self, text: str) -> None:
        """Nothing."""


class Within:
    """Stages of what is itself one step of a stage: counted within it, as its detail."""

    def __init__(self, outer: Progress, step: str) -> None:
        self._outer = outer
        self._step = step
        self._total: int | None = None
        self._done = 0

    def stage(self, name: str, total: int | None) -> None:
        """Count anew."""
        self._total = total
        self._done = 0

    def advance(self, n: int = 1) -> None:
        """Tell the count, and of how many."""
        self._done += n
        of = f" of {self._total:,}" if self._total else ""
        self._outer.detail(f"{self._step}: {self._done:,}{of}")

    def detail(self, text: str) -> None:
        """Tell it, named by the step."""
        self._outer.detail(f"{self._step}: {text}" if text else "")
