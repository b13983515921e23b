"""The rows and columns of a frame as plain lists, many times faster than iterating over them."""

from typing import Any

import pandas as pd


def plain_list(series: pd.Series) -> list[Any]:
    """The values of a column."""
    values: list[Any] = series.to_numpy(dtype=object).tolist()
    return values


def frame_rows(frame: pd.DataFrame, *names: str) -> list[dict[str, Any]]:
    """Every row as a dictionary by column name; of the columns named, or of all."""
    chosen = names or tuple(str(name) for name in frame.columns)
    columns = [plain_list(frame[name]) for name in chosen]
    return [dict(zip(chosen, row, strict=True)) for row in zip(*columns, strict=True)]
