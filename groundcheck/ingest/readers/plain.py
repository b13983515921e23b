"""Cells of libraries as Python's own plain values: what a sheet may hold."""

import math
import re
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from typing import Any

import numpy as np
import pandas as pd

_KEPT = (int, complex, datetime, date, time, timedelta)
_HALF = re.compile("[\ud800-\udfff]")


def plain(cell: Any) -> Any:
    """
    A missing value of any kind as None; a scalar of a library as Python's own; an array as a list.

    A decimal number becomes a float, or text where it has more digits than a float holds.
    """
    if cell is None or cell is pd.NA or cell is pd.NaT:
        return None
    if isinstance(cell, str):
        return whole_text(str(cell)) or None
    if isinstance(cell, list | tuple | set | frozenset | np.ndarray | pd.Series | pd.Index):
        return [plain(item) for item in cell]
    if isinstance(cell, dict):
        return str({str(key): plain(value) for key, value in cell.items()})
    if isinstance(cell, pd.Timestamp | pd.Timedelta):
        return cell.to_pytimedelta() if isinstance(cell, pd.Timedelta) else cell.to_pydatetime(warn=False)
    if isinstance(cell, np.datetime64 | np.timedelta64):
        return plain(pd.Timestamp(cell) if isinstance(cell, np.datetime64) else pd.Timedelta(cell))
    if isinstance(cell, np.generic):
        return plain(cell.item())
    if isinstance(cell, Decimal):
        return _decimal(cell)
    if isinstance(cell, bytes | bytearray | memoryview):
        return bytes(cell).decode("utf-8", errors="backslashreplace")
    if isinstance(cell, float):
        return None if math.isnan(cell) else cell
    return cell if isinstance(cell, _KEPT) else whole_text(str(cell))


def whole_text(text: str) -> str:
    """The text with each half of a surrogate pair written out: it is no character, and no table can hold it."""
    if text.isascii() or _HALF.search(text) is None:
        return text
    return text.encode("utf-8", errors="backslashreplace").decode("utf-8")


def _decimal(cell: Decimal) -> float | str | None:
    if cell.is_nan():
        return None
    number = float(cell)
    return number if not cell.is_finite() or Decimal(repr(number)) == cell else str(cell)
