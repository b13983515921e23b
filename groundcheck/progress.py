"""What long work reports to."""

from typing import Protocol


class Progress(Protocol):
    """Told of each stage of long work, and of the steps done in it."""

    def stage(self, name: str, total: int | None) -> None:
        """A stage begins; `total` is None where its steps can't be counted."""

    def advance(self, n: int = 1) -> None:
        """So many more steps of it are done."""
