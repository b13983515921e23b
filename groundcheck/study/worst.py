"""The worst of several cases of one asset."""

import numpy as np
from numpy.typing import NDArray

from groundcheck.study.bounded import Bounded

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]


def worst(place: Ints, count: int, of: Bounded) -> tuple[Bounded, Ints]:
    """
    Largest value over the cases of each place, and which case that is.

    The value is NaN where a case that is not known may be larger than all that are; where a place has no case it may be
    anything. The case is -1 where the value is not known.
    """
    unknown = np.isnan(of.value)
    known, doubt = (
        _most(place[~unknown], count, of.value[~unknown]),
        _most(place[unknown], count, of.high[unknown]),
    )
    low, high = _most(place, count, of.low), _most(place, count, of.high)
    empty = np.isneginf(high)
    value = np.where(np.isneginf(known) | (doubt > known), np.nan, known)
    largest = Bounded(value, np.where(empty, 0.0, low), np.where(empty, np.inf, high))
    order = np.lexsort((np.arange(place.size)[::-1], np.nan_to_num(of.value, nan=-np.inf), place))
    governs = np.full(count, -1, dtype=np.int64)
    governs[place[order]] = order  # the last of each place: its largest value, the first case of those alike
    return largest, np.where(np.isnan(largest.value), -1, governs)


def least_low(place: Ints, count: int, low: Floats) -> Floats:
    """Smallest lower bound over the cases of each place; zero where there is none."""
    found = np.full(count, np.inf)
    np.minimum.at(found, place, low)
    return np.where(np.isinf(found), 0.0, found)


def taken_words(words: NDArray[np.object_], place: Ints) -> NDArray[np.object_]:
    """Words at places, None where a place is -1."""
    found = np.full(place.size, None, dtype=object)
    found[place >= 0] = words[place[place >= 0]]
    return found


def _most(place: Ints, count: int, values: Floats) -> Floats:
    found = np.full(count, -np.inf)
    np.maximum.at(found, place, values)
    return found
