"""The part of a sheet that is read as its grid: stray cells far off the rest do not fill the memory with blanks."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from groundcheck.ingest.readers.limits import FAR_COLUMNS, FAR_ROWS, GRID_PER_CELL, SMALL_GRID, THIN_GRID_PER_CELL

Numbers = NDArray[np.int64]


@dataclass(frozen=True)
class Grid:
    """The number of rows and columns of a grid from A1."""

    rows: int
    columns: int

    def holds(self, row: int, column: int) -> bool:
        """Whether a cell, counted from 0, lies in the grid."""
        return row < self.rows and column < self.columns


def fits(rows: int, columns: int, filled: int, per_cell: int = GRID_PER_CELL) -> bool:
    """Whether a full grid of this size may be built for so many filled cells."""
    return rows * columns <= max(SMALL_GRID, per_cell * filled)


def choose_grid(rows: Numbers, columns: Numbers) -> Grid:
    """
    The grid for filled cells at these positions.

    While it is too large for what it holds, it gives up the last used row or the last used column, whichever frees
    more of it for each cell that is lost; as long as the grid is not far too large, only one that stands far off.
    """
    if not len(rows):
        return Grid(0, 0)
    used_rows, in_row = np.unique(rows, return_counts=True)
    used_columns, in_column = np.unique(columns, return_counts=True)
    row, column = len(used_rows) - 1, len(used_columns) - 1
    while True:
        height, width = int(used_rows[row]) + 1, int(used_columns[column]) + 1
        if fits(height, width, len(rows)):
            break
        least = (FAR_ROWS, FAR_COLUMNS) if fits(height, width, len(rows), THIN_GRID_PER_CELL) else (1, 1)
        free_rows, free_columns = _freed(used_rows, row, least[0]), _freed(used_columns, column, least[1])
        if not free_rows and not free_columns:
            break
        if free_rows * width / in_row[row] >= free_columns * height / in_column[column]:
            row -= 1
        else:
            column -= 1
    kept = (rows < height) & (columns < width)
    return Grid(int(rows[kept].max()) + 1, int(columns[kept].max()) + 1) if kept.any() else Grid(0, 0)


def _freed(used: Numbers, last: int, least: int) -> int:
    """Rows or columns that go if the last used one does; none if that is the only one, or not far enough off."""
    freed = int(used[last] - used[last - 1]) if last else 0
    return freed if freed >= least else 0
