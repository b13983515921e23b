"""Rows of study.blocked for topics: a quantity of an asset, and the field of some asset that would settle it."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.study.blocked import COLUMNS, NOTHING
from groundcheck.study.records import Records

Bools = NDArray[np.bool_]


def assets_of(records: Records, kind: str) -> pd.DataFrame:
    """Every asset of a kind, in the order of the records, as rows of study.blocked name it."""
    station, tag = records.tags(kind)
    return pd.DataFrame({"substation": station, "asset_kind": kind, "asset": tag})


def own_field(assets: pd.DataFrame, quantity: str, missing: Bools, field: str) -> pd.DataFrame:
    """A quantity that waits for a field of its own asset."""
    return foreign_field(assets, quantity, missing, assets, field)


def foreign_field(
    assets: pd.DataFrame, quantity: str, missing: Bools, blocking: pd.DataFrame, field: str | NDArray[np.object_]
) -> pd.DataFrame:
    """A quantity that waits for a field of another asset, given row by row."""
    if not missing.any():
        return NOTHING
    found = assets.reset_index(drop=True).assign(
        quantity=quantity,
        blocking_substation=blocking["substation"].to_numpy(dtype=object),
        blocking_asset_kind=blocking["asset_kind"].to_numpy(dtype=object),
        blocking_asset=blocking["asset"].to_numpy(dtype=object),
        field=field,
    )
    return found.loc[missing, COLUMNS]


def joined(rows: list[pd.DataFrame]) -> pd.DataFrame:
    """All rows, each once."""
    filled = [each for each in rows if len(each)]
    return pd.concat(filled, ignore_index=True).drop_duplicates() if filled else NOTHING
