"""Rows that lack a required field which another record of the same asset gives."""

from collections.abc import Sequence
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.ingest.assets.identity import tag_keys


def told_elsewhere(
    frame: pd.DataFrame, kept: NDArray[np.bool_], required: Sequence[str], keys: Sequence[str], ranks: Sequence[int]
) -> NDArray[np.bool_]:
    """
    Which of the rows that are kept lack only required fields that others of their asset give.

    `ranks` are those of the records' files: what a file of another rank says does not count.
    """
    missing = {name: frame[name].isna().to_numpy() & kept for name in required}
    lacking: NDArray[np.bool_] = np.zeros(len(frame), dtype=bool)
    for blank in missing.values():
        lacking |= blank
    if not lacking.any():
        return lacking
    rank = pd.Series(np.asarray(ranks)[frame["records_position"].to_numpy()], index=frame.index)
    assets: NDArray[Any] = pd.MultiIndex.from_arrays([*(tag_keys(frame[key]) for key in keys), rank]).factorize()[0]
    told = lacking.copy()
    for blank in missing.values():
        given = np.bincount(assets, weights=kept & ~blank, minlength=int(assets.max()) + 1) > 0
        told &= ~blank | given[assets]
    return told
