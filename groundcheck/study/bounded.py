"""A computed quantity with what it lies between: NaN where not known, its ends wherever the question makes sense."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


@dataclass(frozen=True)
class Bounded:
    """Value, and its low and high end; the ends are zero and infinity where nothing is on record."""

    value: Floats
    low: Floats
    high: Floats

    def columns(self, name: str, where: Bools | None = None) -> dict[str, Floats]:
        """The three columns of a table; blank outside `where`."""
        there = np.ones(self.value.shape, dtype=bool) if where is None else where
        parts = {name: self.value, f"{name}_low": self.low, f"{name}_high": self.high}
        return {key: np.where(there, part, np.nan) for key, part in parts.items()}

    def take(self, place: NDArray[np.int64]) -> "Bounded":
        """Of each place; anything where a place is -1."""
        if not self.value.size:
            return anything(place.size)
        at = place >= 0
        return Bounded(
            np.where(at, self.value[place], np.nan),
            np.where(at, self.low[place], 0.0),
            np.where(at, self.high[place], np.inf),
        )

    def within(self, floor: Floats, ceiling: Floats) -> "Bounded":
        """Narrowed to what is known besides."""
        return Bounded(self.value, np.fmax(self.low, floor), np.fmin(self.high, ceiling))


def anything(count: int) -> Bounded:
    """Nothing on record."""
    return Bounded(np.full(count, np.nan), np.zeros(count), np.full(count, np.inf))


def recorded(values: Floats, tolerance: float = 0.0) -> Bounded:
    """A value on record, off by its tolerance at most; anything where it is blank."""
    blank = np.isnan(values)
    with np.errstate(invalid="ignore"):
        low, high = values * (1 - tolerance), values * (1 + tolerance)
    return Bounded(values, np.where(blank, 0.0, low), np.where(blank, np.inf, high))


def of_frame(frame: pd.DataFrame, column: str) -> Bounded:
    """The interval that a study table holds in three columns; a value without ends is its own."""
    value = frame[column].to_numpy(dtype=float, na_value=np.nan)
    own = recorded(value)
    ends = [
        frame[name].to_numpy(dtype=float, na_value=np.nan) if name in frame else np.full(value.size, np.nan)
        for name in (f"{column}_low", f"{column}_high")
    ]
    low, high = (np.where(np.isnan(end), of, end) for end, of in zip(ends, (own.low, own.high), strict=True))
    return Bounded(value, low, high)


def monotone(
    formula: Callable[..., Floats], rising: Sequence[Bounded] = (), falling: Sequence[Bounded] = ()
) -> Bounded:
    """
    A formula of intervals, which grows with each of `rising` and shrinks with each of `falling`.

    formula : takes those of `rising`, then those of `falling`.
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        value = formula(*(r.value for r in rising), *(f.value for f in falling))
        low = formula(*(r.low for r in rising), *(f.high for f in falling))
        high = formula(*(r.high for r in rising), *(f.low for f in falling))
    return Bounded(
        np.asarray(value, dtype=float), np.nan_to_num(low, nan=0.0, posinf=np.inf),
        np.where(np.isnan(high), np.inf, high),
    )  # fmt: skip
