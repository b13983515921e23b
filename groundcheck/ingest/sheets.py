"""What a reader hands on: a file with its sheets, each a grid of cells as they stand."""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date, datetime, time
from functools import cached_property
from itertools import chain
from typing import Any

import numpy as np
import pyarrow as pa
from numpy.typing import NDArray

from groundcheck.ingest.coded import Coded, code_cells

_EXACT = 1e15  # whole numbers below this are exact as floats

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
    asset is turned: its rows are then the columns of the sheet that a person sees. `cell_names` names the cells of a
    data sheet whose cells were arranged anew.
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
    cell_names: dict[Position, str] | None = None
    _texts: dict[int, pa.StringArray] = field(default_factory=dict, init=False, repr=False)
    _coded: dict[int, Coded | None] = field(default_factory=dict, init=False, repr=False)

    @cached_property
    def width(self) -> int:
        """Cells of the longest row."""
        return max(map(len, self.rows), default=0)

    @cached_property
    def columns(self) -> list[tuple[Any, ...]]:
        """The cells by column; None where a row is too short."""
        width = self.width
        flat = list(chain.from_iterable(r if len(r) == width else r + [None] * (width - len(r)) for r in self.rows))
        return [tuple(flat[column::width]) for column in range(width)]

    def coded(self, column: int) -> Coded | None:
        """The cells of a column, coded; None where they can't be."""
        if column not in self._coded:
            self._coded[column] = code_cells(self.columns[column])
        return self._coded[column]

    @cached_property
    def filled(self) -> NDArray[np.bool_]:
        """Which cells hold more than blanks, shape (rows, width)."""
        if not self.rows:
            return np.zeros((0, 0), dtype=bool)
        return np.column_stack([self.where(column, _holds_something) for column in range(self.width)])

    def where(self, column: int, holds: Callable[[Any], bool]) -> NDArray[np.bool_]:
        """In which rows a test holds of the cell; each different cell is tested once. It must not hold of None."""
        coded = self.coded(column)
        if coded is None:
            return np.fromiter(map(holds, self.columns[column]), dtype=bool, count=len(self.rows))
        return np.array([*map(holds, coded.distinct), False])[coded.codes]

    def cell_name(self, row: int, column: int) -> str:
        """The name that a cell has for a person."""
        named = (self.cell_names or {}).get((row, column))
        return named if named is not None else cell_name(row, column, self.turned)

    def replace_rows(self, rows: list[list[Any]]) -> None:
        """Put other rows in the place of these, and forget what was known of them."""
        self.rows = rows
        for known in ("width", "columns", "filled"):
            self.__dict__.pop(known, None)
        self._texts.clear()
        self._coded.clear()

    def drop_trailing_blanks(self) -> None:
        """Let the last row be the last that is filled; before anything else looks at the cells."""
        while self.rows and all(map(is_blank, self.rows[-1])):
            self.rows.pop()

    def text_column(self, column: int) -> pa.StringArray:
        """The cells of a column as text, null where blank."""
        if column not in self._texts:
            coded = self.coded(column)
            if coded is None:
                texts = pa.array([cell_text(cell) for cell in self.columns[column]], pa.string())
            else:
                distinct = pa.array([*map(cell_text, coded.distinct), None], pa.string())
                texts = distinct.take(pa.array(np.where(coded.codes < 0, len(distinct) - 1, coded.codes)))
            self._texts[column] = texts
        return self._texts[column]

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
    if isinstance(cell, float) and cell.is_integer() and abs(cell) < _EXACT:
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
