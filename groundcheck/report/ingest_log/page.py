"""Plain text laid out for reading: headings, paragraphs that hang, and facts in two columns."""

import textwrap
from collections.abc import Sequence

from groundcheck.report.cell_text import clean_text

WIDTH = 110
INDENT = 2


class Page:
    """The lines of a text, one under the other."""

    def __init__(self) -> None:
        self.lines: list[str] = []

    def heading(self, text: str) -> None:
        """A heading with a rule under it."""
        self.lines += ["", plain(text), "-" * len(plain(text))]

    def line(self, text: str, level: int = 0) -> None:
        """A sentence, broken at words; what runs on is set in."""
        first = " " * (INDENT * level)
        self.lines += textwrap.wrap(
            plain(text), WIDTH, initial_indent=first, subsequent_indent=first + "  ", break_on_hyphens=False
        )

    def gap(self) -> None:
        """A blank line."""
        self.lines.append("")

    def facts(self, facts: Sequence[tuple[str, str]], level: int = 0) -> None:
        """Names and what they stand for, in two columns."""
        width = max((len(name) for name, _ in facts), default=0) + 2
        for name, text in facts:
            first = " " * (INDENT * level) + name.ljust(width)
            rest = " " * len(first)
            self.lines += textwrap.wrap(
                plain(text) or "-", WIDTH, initial_indent=first, subsequent_indent=rest, break_on_hyphens=False
            )

    def text(self) -> str:
        """The whole, with a line feed at its end."""
        return "\n".join(self.lines).strip("\n") + "\n"


def plain(text: str) -> str:
    """Text of any origin on one line."""
    return " ".join(clean_text(text).split())


def listed(names: Sequence[str], most: int = 12) -> str:
    """The names, and of a long list the first with a count of the rest."""
    shown = ", ".join(names[:most])
    return shown if len(names) <= most else f"{shown} and {len(names) - most:,} more"
