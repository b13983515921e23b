"""What a reader hands on: a file with its sheets, each a grid of cells as they stand."""

from dataclasses import dataclass, field
from datetime import date, datetime, time
from functools import cached_property
from itertools import zip_longest
from typing import Any

import numpy as np
from numpy.typing import NDArray

# A cell of the sheet: (row, column), both from 0.
Position = tuple[int, int]


@dataclass(frozen=True)
class Uncomputed:
    """A formula whose result is not stored in the file."""

    formula: str

    def __str__(self) -> str:
        return self.formula


@dataclass
class Sheet:
    """
    One sheet: rows from the first of the sheet, so that row i is row i + 1 for a person.

    `hidden_rows` and the like, counted from 0, are None where the reader cannot tell. A sheet that has a column an
    asset is turned: its rows are then the columns of the sheet that a person sees.
    """

    file: str
    name: str
    rows: list[list[Any]]
    merged: list[tuple[Position, Position]] = field(default_factory=list)
    hidden: bool = False
    decimal_comma: bool = False
    ragged: bool = False
    remark: str | None = None
    table: str | None = None
    hidden_rows: frozenset[int] | None = None
    hidden_columns: frozenset[int] | None = None
    struck_rows: frozenset[int] | None = None
    turned: bool = False

    @cached_property
    def width(self) -> int:
        """Cells of the longest row."""
        return max(map(len, self.rows), default=0)

    @cached_property
    def columns(self) -> list[tuple[Any, ...]]:
        """The cells by column; None where a row is too short."""
        return list(zip_longest(*self.rows)) if self.rows else []

    @cached_property
    def filled(self) -> NDArray[np.bool_]:
        """Which cells hold more than blanks, shape (rows, width)."""
        grid = np.zeros((len(self.rows), self.width), dtype=bool)
        for number, cells in enumerate(self.columns):
            grid[:, number] = [_holds_something(cell) for cell in cells]
        return grid

    @property
    def label(self) -> str:
        """File and sheet as a column map names them."""
        return f"{self.file}::{self.name}"


@dataclass
class SourceFile:
    """A source as it was found, and what came of reading it."""

    file: str
    sha256: str = ""
    size: int = 0
    reader: str | None = None
    problem: str | None = None
    copy_of: str | None = None
    path: str | None = None
    sheets: list[Sheet] = field(default_factory=list)


def _holds_something(cell: Any) -> bool:
    return not (cell is None or cell == "" or (type(cell) is str and cell.isspace()) or cell != cell)


def is_blank(cell: Any) -> bool:
    """Whether a cell holds nothing but blanks."""
    return cell is None or cell == "" or (isinstance(cell, str) and not cell.strip()) or cell != cell


def cell_text(cell: Any) -> str | None:
    """A cell as text: whole numbers without a decimal point, dates in ISO 8601, None if blank."""
    if type(cell) is str:
        return cell or None
    if cell is None or cell != cell:
        return None
    if type(cell) is bool:
        return "TRUE" if cell else "FALSE"
    if isinstance(cell, float) and cell.is_integer() and abs(cell) < 1e15:
        return str(int(cell))
    if isinstance(cell, datetime):
        return cell.date().isoformat() if cell.time() == time() else cell.isoformat(sep=" ")
    if isinstance(cell, date | time):
        return cell.isoformat()
    if isinstance(cell, list | tuple):
        return "; ".join(str(item) for item in cell)
    return str(cell)


def column_letter(column: int) -> str:
    """The letter of a column counted from 0: A, B, ... Z, AA."""
    letters = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


def cell_name(row: int, column: int, turned: bool = False) -> str:
    """The name of a cell whose row and column are counted from 0: H14."""
    return f"{column_letter(row)}{column + 1}" if turned else f"{column_letter(column)}{row + 1}"
