"""Rows of two tables that belong together, found by number."""

import numpy as np
from numpy.typing import NDArray

Ints = NDArray[np.int64]


def matches(left: Ints, right: Ints) -> tuple[Ints, Ints]:
    """Positions of every pair of equal numbers: those in `left`, in its order, and beside each that in `right`."""
    order = np.argsort(right, kind="stable")
    numbers = right[order]
    start, end = (np.searchsorted(numbers, left, side) for side in ("left", "right"))
    count = end - start
    before = np.cumsum(count) - count
    here = np.repeat(np.arange(left.size), count)
    return here, order[np.arange(here.size) + np.repeat(start - before, count)]


def first_of_each(numbers: Ints) -> Ints:
    """Positions at which each number stands for the first time, in their order."""
    return np.sort(np.unique(numbers, return_index=True)[1])
