"""A column of cells as its different cells and which of them stands where: each is then looked at once."""

from collections.abc import Sequence
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from types import NoneType
from typing import Any, NamedTuple

import numpy as np
import pandas as pd
from numpy.typing import NDArray

_NUMBERS = {int, float}
# Of these kinds, equal cells are read alike; true equals 1, so that the two never stand in one column here.
_KINDS = {str, NoneType, bool, date, datetime, time, timedelta, Decimal, pd.Timestamp, *_NUMBERS}


class Coded(NamedTuple):
    """The different cells in the order in which they appear, and the number of each; -1 for a cell that is empty."""

    codes: NDArray[np.intp]
    distinct: list[Any]

    def at(self, rows: Sequence[int]) -> "Coded":
        """The cells of some rows, and only those different cells that stand there."""
        codes = self.codes[np.asarray(rows, dtype=np.intp)]
        seen = np.zeros(len(self.distinct) + 1, dtype=bool)
        seen[codes] = True
        seen[-1] = False
        renumbered = np.append(np.cumsum(seen[:-1]) - 1, -1)
        return Coded(renumbered[codes], [self.distinct[code] for code in np.flatnonzero(seen).tolist()])


def code_cells(cells: Sequence[Any]) -> Coded | None:
    """The cells, coded; None where equal cells may differ in kind, or cells are lists, as frames may hold."""
    kinds = set(map(type, cells))
    if not kinds <= _KINDS or (bool in kinds and kinds & (_NUMBERS | {Decimal})):
        return None
    objects = np.empty(len(cells), dtype=object)
    objects[:] = cells
    codes, distinct = pd.factorize(objects)
    return Coded(codes, distinct.tolist())
