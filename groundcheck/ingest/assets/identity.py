"""One asset, one record: the keys of tags, which rows are copies of one asset, and what cannot be one."""

from collections.abc import Sequence
from functools import lru_cache
from typing import Any

import numpy as np
import pandas as pd

from groundcheck.ingest.assets.copies import Copy, Settled, file_rank, plain_cells, settle_copies
from groundcheck.ingest.assets.frame_rows import plain_list
from groundcheck.ingest.book import Book
from groundcheck.ingest.mapping.column_map import plain_name
from groundcheck.ingest.mapping.headings import table_columns
from groundcheck.ingest.tables.records import Records
from groundcheck.ingest.tables.typed_values import text_series
from groundcheck.schema import INVENTORY_TABLES


@lru_cache(maxsize=1 << 18)
def tag_key(tag: str) -> str:
    """A tag without case and blanks: these do not make two assets; leading zeros do."""
    return plain_name(tag)


def tag_keys(tags: pd.Series) -> pd.Series:
    """The keys of a column of tags, each distinct tag made into its key once."""
    codes, distinct = pd.factorize(tags)
    keys = [tag_key(tag) if isinstance(tag, str) else None for tag in distinct.tolist()]
    return text_series([*keys, None], index=tags.index, take=codes)


def settle_identity(
    frame: pd.DataFrame, table: str, records: list[Records], book: Book, precedence: Sequence[str] = ()
) -> pd.DataFrame:
    """
    Keep one record an asset; copies of it are settled as `settle_copies` says.

    `precedence` is the order of files that the column map gives.
    """
    if frame.empty:
        return frame
    names = INVENTORY_TABLES[table].key_columns()
    keys = pd.MultiIndex.from_arrays([tag_keys(frame[name]) for name in names])
    repeated = np.flatnonzero(keys.duplicated(keep=False))
    if not len(repeated):
        return frame
    twice = frame.take(repeated)
    said = {name: plain_cells(twice[name]) for name in table_columns(table) if twice[name].notna().any()}
    ranks = [file_rank(part.sheet.file, precedence) for part in records]
    groups: dict[tuple[Any, ...], list[Copy]] = {}
    beside = keys[repeated].tolist(), twice["raw_row"].tolist(), twice["records_position"].tolist()
    for place, (key, raw_row, source) in enumerate(zip(*beside, strict=True)):
        values = {name: cells[place] for name, cells in said.items()}
        groups.setdefault(key, []).append(Copy(int(repeated[place]), raw_row, records[source], ranks[source], values))
    settled = Settled()
    for copies in groups.values():
        settle_copies(copies, table, book, settled)
    frame = frame.copy()
    for name, taken in settled.taken.items():
        cells = plain_list(frame[name])
        for position, value in taken.items():
            cells[position] = value
        frame[name] = pd.Series(cells, index=frame.index, dtype=frame[name].dtype)
    return frame[~np.isin(np.arange(len(frame)), list(settled.dropped))]


def quarantine_self_connected(frame: pd.DataFrame, table: str, records: list[Records], book: Book) -> pd.DataFrame:
    """A transformer, line or switch with both ends on one bus can't be."""
    ends = {"transformer": ("hv_bus", "lv_bus"), "line": ("from_bus", "to_bus"), "switch": ("bus_a", "bus_b")}
    if table not in ends or frame.empty:
        return frame
    one, other = ends[table]
    same = (tag_keys(frame[one]) == tag_keys(frame[other])).fillna(False).to_numpy(dtype=bool)
    for position in np.flatnonzero(same).tolist():
        tag = str(frame[other].iat[position])
        source = records[frame["records_position"].to_numpy()[position]]
        place = int(frame["raw_row"].to_numpy()[position]), source.column_of(other)
        book.quarantine(*place, table, "self_connected", "two different buses", tag)
    return frame[~same]
