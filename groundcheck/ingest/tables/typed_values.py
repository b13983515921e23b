"""Columns of values in the types that the models ask for, from plain values or from different values and places."""

from collections.abc import Sequence
from typing import Any

import numpy as np
import pandas as pd
import pyarrow as pa
from numpy.typing import NDArray

from groundcheck.schema import Column

_TEXT = pd.StringDtype(na_value=np.nan)
_LISTS = ("references", "places")


def typed_series(values: Sequence[Any], column: Column) -> pd.Series:
    """A column of plain values, None where missing."""
    if column.kind in ("quantity", "size"):
        return pd.Series(values, dtype="float64")
    if column.kind == "count":
        return pd.Series(pd.array(values, dtype="Int64"))
    if column.kind == "yes_no":
        return pd.Series(pd.array(values, dtype="boolean"))
    if column.kind == "date":
        return pd.to_datetime(pd.Series(values, dtype="object")).astype("datetime64[ns]")
    if column.kind in _LISTS:
        return pd.Series(values, dtype="object")
    return text_series(values)


def taken_series(distinct: Sequence[Any], take: NDArray[np.intp], column: Column) -> pd.Series:
    """The column that has one of some different values at each place; none where the place is -1."""
    if column.kind in _LISTS:
        lists = [distinct[place] if place >= 0 else None for place in take.tolist()]
        return pd.Series([None if listed is None else list(listed) for listed in lists], dtype="object")
    if column.kind in ("quantity", "size"):
        numbers = np.array([np.nan if value is None else value for value in (*distinct, None)], dtype=float)
        return pd.Series(numbers[take])
    if column.kind in ("count", "yes_no", "date"):
        return (
            typed_series([*distinct, None], column).take(np.where(take < 0, len(distinct), take)).reset_index(drop=True)
        )
    return text_series([*distinct, None], take=take)


def blank_series(size: int, column: Column) -> pd.Series:
    """A column in which nothing is on record."""
    return taken_series([], np.full(size, -1, dtype=np.intp), column)


def text_series(
    values: Sequence[str | None], index: pd.Index | None = None, take: NDArray[np.intp] | None = None
) -> pd.Series:
    """A column of text; with `take`, the value at each of these positions, -1 being the last."""
    texts = pa.array(values, pa.large_string())
    if take is not None:
        texts = texts.take(pa.array(np.where(take < 0, len(values) - 1, take)))
    series = text_of(texts)
    return series if index is None else series.set_axis(index)


def text_of(texts: pa.Array | pa.ChunkedArray) -> pd.Series:
    """A column of text that Arrow holds already."""
    series: pd.Series = texts.to_pandas(types_mapper={pa.large_string(): _TEXT}.get)
    return series
