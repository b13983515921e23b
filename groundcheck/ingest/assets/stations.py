"""Stations: one spelling each, and the records of them that sheets about other things give."""

from typing import Any

import pandas as pd

from groundcheck.ingest.assets.frame_rows import frame_rows
from groundcheck.ingest.assets.identity import tag_key, tag_keys
from groundcheck.ingest.book import Book
from groundcheck.ingest.mapping.headings import table_columns


def spell_stations(frames: dict[str, pd.DataFrame], mentions: pd.DataFrame) -> dict[str, str]:
    """
    Give every station one spelling in all tables: that of its own record, else that of its first mention.

    Returns the spelling of each key.
    """
    spelling: dict[str, str] = {}
    for frame in (frames["substation"], mentions, *frames.values()):
        for station in frame["substation"].dropna().unique():
            spelling.setdefault(tag_key(station), station)
    for frame in (mentions, *frames.values()):
        if len(frame):
            frame["substation"] = tag_keys(frame["substation"]).map(spelling).astype("str")
    return spelling


def merge_mentions(own: pd.DataFrame, mentions: pd.DataFrame, book: Book) -> pd.DataFrame:
    """
    Join what other sheets say of a station to its record; the first word stays, another is a contradiction.

    A station without a record of its own gets one from its first mention.
    """
    if mentions.empty:
        return own
    names = [name for name in table_columns("substation") if name not in ("substation", "status")]
    said = mentions.drop_duplicates(subset=["substation", *names])
    rows: dict[str, dict[str, Any]] = {str(row["substation"]): dict(row) for row in frame_rows(own)}
    origin = {(station, name): int(row["raw_row"]) for station, row in rows.items() for name in names}
    for mention in frame_rows(said):
        station = str(mention["substation"])
        row = rows.setdefault(station, dict(mention))
        for name in names:
            value = mention[name]
            if pd.isna(value):
                continue
            first = origin.setdefault((station, name), int(mention["raw_row"]))
            if pd.isna(row[name]):
                row[name], origin[station, name] = value, int(mention["raw_row"])
            elif tag_key(str(row[name])) != tag_key(str(value)):
                pair = ((row[name], first), (value, int(mention["raw_row"])))
                book.contradict(station, "substation", station, name, *pair)
    merged = pd.DataFrame(list(rows.values()), columns=own.columns)
    return merged.astype(own.dtypes.to_dict())


def infer_stations(frames: dict[str, pd.DataFrame]) -> pd.DataFrame:
    """The stations that are only ever named, each from its first mention by the number of the row."""
    own = frames["substation"]
    mentions = [
        pd.DataFrame(
            {
                "substation": frame["substation"],
                "raw_row": frame["raw_row"],
                "inferred_from": frame["inferred_from"].fillna(f"{table}.substation"),
                "second_hand": frame["inferred_from"].notna(),
            }
        )
        for table, frame in frames.items()
        if table != "substation" and len(frame)
    ]
    if not mentions:
        return own
    named = pd.concat(mentions).sort_values(["raw_row", "second_hand"], kind="stable").drop_duplicates("substation")
    named = named[~named["substation"].isin(own["substation"])]
    if named.empty:
        return own
    named = named.assign(part=1, records_position=-1, is_primary=False).reindex(columns=own.columns)
    return pd.concat([own, named.astype(own.dtypes.to_dict())], ignore_index=True)
