"""Devices in neutrals that a sheet of transformers or machines describes in the row of the asset itself."""

from typing import Any

import numpy as np
import pandas as pd

from groundcheck.ingest.assets.frame_rows import frame_rows, plain_list
from groundcheck.ingest.assets.identity import tag_key, tag_keys
from groundcheck.ingest.book import Book
from groundcheck.ingest.mapping.headings import table_columns
from groundcheck.ingest.sheets import cell_text
from groundcheck.ingest.tables.records import Records
from groundcheck.ingest.tables.typed_values import typed_series
from groundcheck.schema import INVENTORY_TABLES, parse_vector_group


def complete_devices(records: Records, own: pd.DataFrame, book: Book) -> None:
    """
    Give each device of a wide sheet its tag, what it is connected to and its winding, from the row's own asset.

    `own` holds the admitted assets by row. A row whose cells about the device are all blank has none.
    """
    asset = INVENTORY_TABLES[str(records.feed.beside)].asset_column()
    about = [name for name in records.feed.fields if name != "substation"]
    size = len(records.rows)
    unread = np.isin(np.arange(size), [problem.position for problem in records.problems])
    said = [records.values[name].notna().to_numpy() for name in about]
    position = pd.Index(own["raw_row"]).get_indexer(pd.Index(records.raw_rows))
    described = (position >= 0) & (unread | np.logical_or.reduce([np.zeros(size, dtype=bool), *said]))
    tags = _texts(records, "neutral_device", size)
    kinds = _texts(records, "kind", size)
    groups = plain_list(own["vector_group"]) if "vector_group" in own else []
    owners, stations = plain_list(own[asset]), plain_list(own["substation"])
    found: dict[str, list[Any]] = {
        name: [None] * size for name in ("substation", "neutral_device", "connected_to", "winding")
    }
    for index in np.flatnonzero(described).tolist():
        owner = int(position[index])
        winding = records.feed.winding or (_grounded_winding(groups[owner]) if groups else None)
        side = f" {winding.upper()}" if winding else ""
        found["substation"][index] = stations[owner]
        found["neutral_device"][index] = tags[index] or f"{owners[owner]}{side} neutral"
        found["connected_to"][index], found["winding"][index] = [owners[owner]], winding
        if kinds[index] is None and not unread[index]:
            column = table_columns("neutral_device")["kind"]
            expected = f"{column.description} One of {', '.join(column.accepted or ())}: add a column that says so"
            place = records.raw_rows[index], records.column_of(about[0])
            book.leave_unread(*place, "neutral_device", "kind", expected)
    if "winding" in records.feed.fields:
        del found["winding"]
    columns = table_columns("neutral_device")
    records.values |= {name: typed_series(values, columns[name]) for name, values in found.items()}


def _texts(records: Records, name: str, size: int) -> list[str | None]:
    if name not in records.values:
        return [None] * size
    return [value if isinstance(value, str) else None for value in plain_list(records.values[name])]


def _grounded_winding(vector_group: Any) -> str | None:
    """The winding whose neutral is brought out: the LV one if it has one, else the HV one."""
    try:
        group = parse_vector_group(vector_group)
    except (TypeError, ValueError):
        return None
    for winding in ("lv", "hv", "tv"):
        if group.connection(winding) in ("YN", "ZN", "A"):
            return winding
    return None


def merge_devices(own: pd.DataFrame, wide: pd.DataFrame, records: list[Records], book: Book) -> pd.DataFrame:
    """
    Join what wide sheets say of a device to its own record; a second word for a field is a contradiction.

    They are the same device if the tags are equal, or if both stand in the same neutral.
    """
    if wide.empty:
        return own
    keys = [tag_keys(wide[name]) for name in ("substation", "neutral_device")]
    if own.empty and not pd.MultiIndex.from_arrays(keys).has_duplicates:
        return wide
    rows = frame_rows(own)
    by_tag = {(tag_key(row["substation"]), tag_key(row["neutral_device"])): i for i, row in enumerate(rows)}
    by_neutral = {
        (tag_key(row["substation"]), tag_key(str(written)), _winding(row)): i
        for i, row in enumerate(rows)
        for written in row["connected_to"] or ()
    }
    for device in frame_rows(wide):
        station, tag = tag_key(device["substation"]), tag_key(device["neutral_device"])
        neutral = (station, tag_key(device["connected_to"][0]))
        same = by_tag.get((station, tag), by_neutral.get((*neutral, _winding(device)), by_neutral.get((*neutral, ""))))
        if same is None:
            by_tag[station, tag] = len(rows)
            rows.append(device)
        else:
            _fill(rows[same], device, records, book)
    if not rows:
        return own
    return pd.DataFrame(rows, columns=own.columns).astype(own.dtypes.to_dict())


def _winding(row: dict[str, Any]) -> str:
    return row["winding"] if isinstance(row["winding"], str) else ""


def _fill(row: dict[str, Any], device: dict[str, Any], records: list[Records], book: Book) -> None:
    """Give a device what another row says of it beside its own record."""
    source = records[int(device["records_position"])]
    for name, column in table_columns("neutral_device").items():
        if column.kind in ("key", "references"):
            continue
        ours, theirs = row[name], device[name]
        if pd.isna(theirs):
            continue
        if pd.isna(ours):
            row[name] = theirs
            place = int(device["raw_row"]), source.column_of(name)
            book.originate(row["substation"], "neutral_device", row["neutral_device"], name, *place)
        elif cell_text(ours) != cell_text(theirs):
            pair = ((ours, int(row["raw_row"])), (theirs, int(device["raw_row"])))
            book.contradict(row["substation"], "neutral_device", row["neutral_device"], name, *pair)
