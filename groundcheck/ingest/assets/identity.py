"""One asset, one record: equal copies, differing copies, and rows that are the places of one asset."""

from functools import lru_cache
from typing import Any

import numpy as np
import pandas as pd

from groundcheck.ingest.assets.frame_rows import plain_list
from groundcheck.ingest.book import Book
from groundcheck.ingest.mapping.headings import table_columns
from groundcheck.ingest.sheets import cell_text
from groundcheck.ingest.tables.records import Records
from groundcheck.schema import INVENTORY_TABLES


@lru_cache(maxsize=1 << 18)
def tag_key(tag: str) -> str:
    """A tag without case and blanks: these do not make two assets; leading zeros do."""
    return "".join(tag.casefold().split())


def tag_keys(tags: pd.Series) -> pd.Series:
    """The keys of a column of tags."""
    keys = [tag_key(tag) if isinstance(tag, str) else None for tag in plain_list(tags)]
    return pd.Series(keys, index=tags.index, dtype="str")


def settle_identity(frame: pd.DataFrame, table: str, records: list[Records], book: Book) -> pd.DataFrame:
    """
    Keep one record an asset.

    Equal copies: the first stays, the others go to quarantine. Differing copies: all go. Rows that differ only in
    a list of places or of assets are one record.
    """
    if frame.empty:
        return frame
    names = INVENTORY_TABLES[table].key_columns()
    keys = pd.MultiIndex.from_arrays([tag_keys(frame[name]) for name in names])
    repeated = np.flatnonzero(keys.duplicated(keep=False)).tolist()
    if not repeated:
        return frame
    frame = frame.copy()
    pairs = keys.tolist()
    groups: dict[tuple[Any, ...], list[int]] = {}
    for position in repeated:
        groups.setdefault(tuple(pairs[position]), []).append(position)
    dropped: set[int] = set()
    for positions in groups.values():
        dropped |= _settle_group(frame, positions, table, records, book)
    return frame[~np.isin(np.arange(len(frame)), list(dropped))]


def _settle_group(
    frame: pd.DataFrame, positions: list[int], table: str, records: list[Records], book: Book
) -> set[int]:
    columns = table_columns(table)
    values = {name: [_plain(frame[name].iat[position]) for position in positions] for name in columns}
    keys = INVENTORY_TABLES[table].key_columns()
    differing = [name for name in columns if name not in keys and any(v != values[name][0] for v in values[name])]
    tag = str(values[keys[-1]][0])
    if not differing:
        first = _where(frame, positions[0], records, book, keys[-1])
        for position in positions[1:]:
            _quarantine(frame, position, keys[-1], table, records, book, "duplicate", tag, f"the same as {first}")
        return set(positions[1:])
    if all(columns[name].kind in ("places", "references") for name in differing):
        for name in differing:
            joined = dict.fromkeys(item for listed in values[name] for item in listed or ())
            merged = frame[name].tolist()
            merged[positions[0]] = list(joined)
            frame[name] = pd.Series(merged, index=frame.index, dtype="object")
        return set(positions[1:])
    for position in positions:
        other = next(p for p in positions if p != position and _differs(values, positions, position, p, differing))
        name = next(
            n for n in differing if _value(values, positions, n, position) != _value(values, positions, n, other)
        )
        ours, theirs = (_value(values, positions, name, p) for p in (position, other))
        expected = (
            f"one record of {tag}: {name} is {_shown(ours)} here and {_shown(theirs)} at "
            f"{_where(frame, other, records, book, name)}; differs in {', '.join(differing)}: correct or remove one"
        )
        _quarantine(frame, position, name, table, records, book, "conflicting", _shown(ours), expected)
    return set(positions)


def _differs(
    values: dict[str, list[Any]], positions: list[int], position: int, other: int, differing: list[str]
) -> bool:
    return any(_value(values, positions, n, position) != _value(values, positions, n, other) for n in differing)


def _value(values: dict[str, list[Any]], positions: list[int], name: str, position: int) -> Any:
    return values[name][positions.index(position)]


def _quarantine(
    frame: pd.DataFrame,
    position: int,
    name: str,
    table: str,
    records: list[Records],
    book: Book,
    reason: str,
    found: str,
    expected: str,
) -> None:
    raw_row, source = _origin(frame, position, records)
    book.quarantine(raw_row, source.column_of(name), table, reason, expected, found)


def _origin(frame: pd.DataFrame, position: int, records: list[Records]) -> tuple[int, Records]:
    return int(frame["raw_row"].to_numpy()[position]), records[int(frame["records_position"].to_numpy()[position])]


def _where(frame: pd.DataFrame, position: int, records: list[Records], book: Book, name: str) -> str:
    raw_row, source = _origin(frame, position, records)
    place = book.place(raw_row)
    cell = book.cell(raw_row, source.column_of(name))
    return f"{place.sheet.file}, sheet {place.sheet.name}, " + (f"cell {cell}" if cell else f"row {place.row + 1}")


def _plain(value: Any) -> Any:
    """A value to compare: text without case and blanks, None if missing."""
    if isinstance(value, list):
        return value
    if pd.isna(value):
        return None
    return value.strip() if isinstance(value, str) else value


def _shown(value: Any) -> str:
    return "blank" if value is None else str(cell_text(value))


def quarantine_self_connected(frame: pd.DataFrame, table: str, records: list[Records], book: Book) -> pd.DataFrame:
    """A transformer, line or switch with both ends on one bus can't be."""
    ends = {"transformer": ("hv_bus", "lv_bus"), "line": ("from_bus", "to_bus"), "switch": ("bus_a", "bus_b")}
    if table not in ends or frame.empty:
        return frame
    one, other = ends[table]
    same = (tag_keys(frame[one]) == tag_keys(frame[other])).fillna(False).to_numpy(dtype=bool)
    for position in np.flatnonzero(same).tolist():
        tag = str(frame[other].iat[position])
        _quarantine(frame, position, other, table, records, book, "self_connected", tag, "two different buses")
    return frame[~same]
