"""What a district's register is made of: tables as a person would type them, and the defects seeded there."""

import re
from dataclasses import dataclass, field

Cell = str | int | float | None


@dataclass(frozen=True)
class Table:
    """One table of a sheet: its headings, its rows, and the notes typed under it."""

    headings: str
    rows: str
    notes: tuple[str, ...] = ()

    def heading_cells(self) -> list[Cell]:
        """The headings, one a column."""
        return [text.strip() for text in self.headings.replace("\n", " ").split("|")]

    def row_cells(self) -> list[list[Cell]]:
        """The rows; a number is typed as a number, anything else as text."""
        rows = [[_typed(text.strip()) for text in line.split("|")] for line in self.rows.strip().splitlines()]
        width = len(self.heading_cells())
        for row in rows:
            if len(row) != width:
                raise ValueError(f"{row[0]} {row[1]}: {len(row)} cells under {width} headings")
        return rows


@dataclass(frozen=True)
class Sheet:
    """A sheet: rows of title, then its tables one under the other; or one table turned, a column an asset."""

    name: str
    tables: tuple[Table, ...]
    title: tuple[str, ...] = ()
    merged_station: bool = False
    turned: bool = False


@dataclass(frozen=True)
class Seed:
    """A defect put into a register on purpose, and the one finding it must give."""

    rule: str
    station: str
    asset_kind: str
    asset: str
    what: str


@dataclass(frozen=True)
class Waiting:
    """A row that can't be used, and the reason for which it must wait in quarantine."""

    station: str
    asset_kind: str
    asset: str
    reason: str
    what: str


@dataclass(frozen=True)
class Unread:
    """A cell that can't be read in a row that can: its field stays blank."""

    station: str
    asset_kind: str
    asset: str
    field: str
    what: str


@dataclass(frozen=True)
class Question:
    """A check that the record is too thin for, and the field to ask for."""

    rule: str
    station: str
    asset_kind: str
    asset: str
    what: str


@dataclass(frozen=True)
class Asked:
    """What the file leaves open, and a person must settle once for all of it."""

    cell: str
    subject: str
    what: str


@dataclass(frozen=True)
class Register:
    """One file of a district, and what was hidden in it."""

    file: str
    sheets: tuple[Sheet, ...]
    story: str
    seeds: tuple[Seed, ...] = ()
    waiting: tuple[Waiting, ...] = ()
    unread: tuple[Unread, ...] = ()
    questions: tuple[Question, ...] = field(default=())
    asked: tuple[Asked, ...] = ()


_NUMBER = re.compile(r"-?\d+(\.\d+)?\Z")


def _typed(text: str) -> Cell:
    if not text:
        return None
    if not _NUMBER.match(text):
        return text
    return float(text) if "." in text else int(text)
