"""Values of frames as plain Python values, and whether two of them say the same."""

import math
from collections.abc import Iterable
from datetime import date
from typing import Any

import numpy as np
import pandas as pd

from groundcheck.ingest.assets.identity import tag_key


def is_missing(value: Any) -> bool:
    """Whether nothing is on record; an empty list is: it says that there are none."""
    return not isinstance(value, list) and bool(pd.isna(value))


def plain_value(value: Any) -> Any:
    """A value as Python has it."""
    return value.item() if isinstance(value, np.generic) else value


def set_value(frame: pd.DataFrame, name: str, places: Iterable[int], value: Any) -> None:
    """Put a value at some places of a column, in the column's own type; the frame's, not that of who shares it."""
    column = frame[name].copy()
    typed: Any = pd.Timestamp(value) if isinstance(value, date) else value
    for place in places:
        column.iat[place] = typed
    frame[name] = column


def same_value(one: Any, other: Any, station: str = "") -> bool:
    """Whether two values say the same; a tag may be written with its own station or without."""
    if isinstance(one, list) and isinstance(other, list):
        return {_spelled(tag, station) for tag in one} == {_spelled(tag, station) for tag in other}
    if isinstance(one, str) and isinstance(other, str):
        return _spelled(one, station) == _spelled(other, station)
    if isinstance(one, date) and isinstance(other, date):
        return pd.Timestamp(one) == pd.Timestamp(other)
    if isinstance(one, int | float) and isinstance(other, int | float):
        return one == other or math.isclose(one, other, rel_tol=1e-9)
    return bool(one == other)


def _spelled(text: str, station: str) -> str:
    key = tag_key(text)
    return key.removeprefix(f"{tag_key(station)}:") if station else key
