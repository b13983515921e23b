"""What each asset says of others, resolved: in its own station first, elsewhere as STATION:TAG."""

from typing import Any

import numpy as np
import pandas as pd
import pyarrow as pa
import pyarrow.compute as pc
from numpy.typing import NDArray

from groundcheck.ingest.assets.asset_index import AssetIndex
from groundcheck.ingest.assets.frame_rows import plain_list
from groundcheck.ingest.mapping.headings import table_columns
from groundcheck.ingest.tables.typed_values import text_of, text_series
from groundcheck.schema import INVENTORY_TABLES, Column

_COLUMNS = ("substation", "asset_kind", "asset", "field", "position", "written")
_FOUND = ("target_kind", "target_substation", "target", "nearest")


def reference_columns(table: str) -> list[Column]:
    """The columns of a table that name other assets."""
    return [c for c in table_columns(table).values() if c.kind in ("reference", "references")]


def resolve_references(frames: dict[str, pd.DataFrame], assets: AssetIndex) -> pd.DataFrame:
    """Rewrite every reference in its canonical spelling, in place; gives one row for each mention."""
    parts = [
        _resolve_column(frame, table, column, assets)
        for table, frame in frames.items()
        for column in reference_columns(table)
        if len(frame)
    ]
    kept = [part for part in parts if len(part)]
    return pd.concat(kept, ignore_index=True) if kept else pd.DataFrame(columns=[*_COLUMNS, *_FOUND])


def _resolve_column(frame: pd.DataFrame, table: str, column: Column, assets: AssetIndex) -> pd.DataFrame:
    """Resolve one column of one table; its cells are rewritten."""
    if column.kind == "references":
        owners, positions, written = _listed(frame[column.name])
    else:
        owners = np.flatnonzero(frame[column.name].notna().to_numpy())
        positions, written = np.ones(len(owners), dtype=np.int64), frame[column.name].iloc[owners]
    if not len(owners):
        return pd.DataFrame()
    stations = frame["substation"].iloc[owners]
    found = assets.find_all(stations, written, column.refers_to)
    named = _canonical(stations, written, found)
    if column.kind == "references":
        frame[column.name] = _gathered(frame[column.name], owners, named)
    else:
        spelled = np.full(len(frame), -1)
        spelled[owners] = np.arange(len(owners))
        frame[column.name] = text_series([*plain_list(named), None], index=frame.index, take=spelled)
    mentions = {
        "substation": stations,
        "asset_kind": table,
        "asset": frame[INVENTORY_TABLES[table].asset_column()].iloc[owners],
        "field": column.name,
        "position": positions,
        "written": written,
    }
    made = pd.DataFrame({name: getattr(value, "array", value) for name, value in mentions.items()})
    return pd.concat([made, found.set_axis(made.index)], axis=1)


def _listed(lists: pd.Series) -> tuple[NDArray[np.intp], NDArray[np.int64], pd.Series]:
    """Lists of tags, one entry a mention: the row of its list, its position in it, and what is written."""
    rows: list[int] = []
    positions: list[int] = []
    written: list[str] = []
    for row, listed in enumerate(plain_list(lists)):
        if isinstance(listed, list):
            rows += [row] * len(listed)
            positions += range(1, len(listed) + 1)
            written += listed
    return np.asarray(rows, dtype=np.intp), np.asarray(positions, dtype=np.int64), text_series(written)


def _gathered(lists: pd.Series, owners: NDArray[np.intp], named: pd.Series) -> pd.Series:
    gathered: list[Any] = [[] if isinstance(listed, list) and listed else None for listed in plain_list(lists)]
    for row, name in zip(owners.tolist(), plain_list(named), strict=True):
        gathered[row].append(name)
    return pd.Series(gathered, index=lists.index, dtype="object")


def _canonical(stations: pd.Series, written: pd.Series, found: pd.DataFrame) -> pd.Series:
    """The tag of the asset that was found, with its station where that is another; else what is written."""
    home, target = pa.array(found["target_substation"]), pa.array(found["target"])
    elsewhere = pc.binary_join_element_wise(home, target, pa.scalar(":", home.type))
    spelled = pc.if_else(pc.equal(home, pa.array(stations)), target, elsewhere)
    return text_of(pc.coalesce(spelled, pa.array(written)))
