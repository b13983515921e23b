"""Devices in neutrals that a sheet of transformers or machines describes in the row of the asset itself."""

from typing import Any

import pandas as pd

from groundcheck.ingest.assets.frame_rows import frame_rows
from groundcheck.ingest.assets.identity import tag_key, tag_keys
from groundcheck.ingest.book import Book
from groundcheck.ingest.mapping.headings import table_columns
from groundcheck.ingest.sheets import cell_text
from groundcheck.ingest.tables.records import Records
from groundcheck.schema import INVENTORY_TABLES, parse_vector_group


def complete_devices(records: Records, own: pd.DataFrame, book: Book) -> None:
    """
    Give each device of a wide sheet its tag, what it is connected to and its winding, from the row's own asset.

    `own` holds the admitted assets by row. A row whose cells about the device are all blank has none.
    """
    asset = INVENTORY_TABLES[str(records.feed.beside)].asset_column()
    size = len(records.rows)
    about = [name for name in records.feed.fields if name != "substation"]
    unread = {problem.position for problem in records.problems}
    tags = records.values.get("neutral_device") or [None] * size
    kinds = records.values.get("kind") or [None] * size
    connected: list[Any] = [None] * size
    windings: list[Any] = [None] * size
    names: list[Any] = [None] * size
    at = {raw_row: position for position, raw_row in enumerate(own["raw_row"])}
    groups = own["vector_group"].tolist() if "vector_group" in own else []
    owners = own[asset].tolist()
    stations = own["substation"].tolist()
    home: list[Any] = [None] * size
    for index, raw_row in enumerate(records.raw_rows):
        position = at.get(raw_row)
        described = index in unread or any(not _missing(records.values[name][index]) for name in about)
        if position is None or not described:
            continue
        winding = records.feed.winding or (_grounded_winding(groups[position]) if groups else None)
        connected[index], windings[index], home[index] = [owners[position]], winding, stations[position]
        side = f" {winding.upper()}" if winding else ""
        names[index] = tags[index] or f"{owners[position]}{side} neutral"
        if kinds[index] is None and index not in unread:
            column = table_columns("neutral_device")["kind"]
            expected = f"{column.description} One of {', '.join(column.accepted or ())}: add a column that says so"
            book.leave_unread(raw_row, records.column_of(about[0]), "neutral_device", "kind", expected)
    records.values |= {"neutral_device": names, "connected_to": connected, "substation": home}
    if "winding" not in records.feed.fields:
        records.values["winding"] = windings


def _missing(value: Any) -> bool:
    return value is None or value == [] or value != value


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


def merge_devices(own: pd.DataFrame, wide: pd.DataFrame, book: Book) -> pd.DataFrame:
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
            _fill(rows[same], device, book)
    if not rows:
        return own
    return pd.DataFrame(rows, columns=own.columns).astype(own.dtypes.to_dict())


def _winding(row: dict[str, Any]) -> str:
    return row["winding"] if isinstance(row["winding"], str) else ""


def _fill(row: dict[str, Any], device: dict[str, Any], book: Book) -> None:
    for name, column in table_columns("neutral_device").items():
        if column.kind in ("key", "references"):
            continue
        ours, theirs = row[name], device[name]
        if pd.isna(theirs):
            continue
        if pd.isna(ours):
            row[name] = theirs
        elif cell_text(ours) != cell_text(theirs):
            pair = ((ours, int(row["raw_row"])), (theirs, int(device["raw_row"])))
            book.contradict(row["substation"], "neutral_device", row["neutral_device"], name, *pair)
