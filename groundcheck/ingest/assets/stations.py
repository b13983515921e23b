"""Stations: one spelling each, and the records of them that sheets about other things give."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

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
        for station in frame["substation"].dropna().unique().tolist():
            spelling.setdefault(tag_key(station), station)
    for frame in (mentions, *frames.values()):
        if len(frame):
            frame["substation"] = tag_keys(frame["substation"]).map(spelling).astype("str")
    return spelling


def distinct_mentions(mentions: pd.DataFrame, kept: set[int]) -> pd.DataFrame:
    """The first of mentions that say the same of a station, and the rows that are kept whatever they say."""
    said = [name for name in table_columns("substation") if mentions[name].notna().any()]
    again = mentions.duplicated(said) if said else mentions["raw_row"].isna()
    return mentions[~again | mentions["raw_row"].isin(kept)].reset_index(drop=True)


def merge_mentions(own: pd.DataFrame, mentions: pd.DataFrame, book: Book) -> pd.DataFrame:
    """
    Join what other sheets say of a station to its record; the first word stays, another is a contradiction.

    A station without a record of its own gets one from its first mention.
    """
    if mentions.empty:
        return own
    first = mentions.drop_duplicates("substation")
    merged = pd.concat([own, first[~first["substation"].isin(own["substation"])]], ignore_index=True)
    place = pd.Index(merged["substation"])
    for name in table_columns("substation"):
        said = mentions[mentions[name].notna()] if name not in ("substation", "status") else mentions.iloc[:0]
        if len(said):
            _merge_field(merged, place.get_indexer(pd.Index(said["substation"])), said, name, book)
    return merged.astype(own.dtypes.to_dict())


def _merge_field(merged: pd.DataFrame, place: NDArray[np.intp], said: pd.DataFrame, name: str, book: Book) -> None:
    """Fill one field of the stations, in place, from what is said of them."""
    first = pd.Series(range(len(said))).groupby(place).first()
    blank = merged[name].isna().to_numpy()[first.index.to_numpy()]
    filled = first[blank]
    origin = merged["raw_row"].to_numpy().copy()
    origin[filled.index.to_numpy()] = said["raw_row"].to_numpy()[filled.to_numpy()]
    values = merged[name].to_numpy(dtype=object).copy()
    values[filled.index.to_numpy()] = said[name].to_numpy(dtype=object)[filled.to_numpy()]
    merged[name] = pd.Series(values, dtype=merged[name].dtype)
    theirs = said[name].to_numpy(dtype=object)
    told: set[tuple[int, str]] = set()
    for row in np.flatnonzero(values[place] != theirs).tolist():
        position = int(place[row])
        ours, other = values[position], theirs[row]
        if tag_key(str(ours)) != tag_key(str(other)) and (position, str(other)) not in told:
            told.add((position, str(other)))
            pair = ((ours, int(origin[position])), (other, int(said["raw_row"].iloc[row])))
            station = str(merged["substation"].iloc[position])
            book.contradict(station, "substation", station, name, *pair)


def infer_stations(frames: dict[str, pd.DataFrame]) -> pd.DataFrame:
    """The stations that are only ever named, each from its first mention by the number of the row."""
    own = frames["substation"]
    mentions = [_mentions(frame, table) for table, frame in frames.items() if table != "substation" and len(frame)]
    if not mentions:
        return own
    named = pd.concat(mentions).sort_values(["raw_row", "second_hand"], kind="stable")
    known = pd.concat([own["substation"], named["substation"]]).duplicated().to_numpy()[len(own) :]
    named = named[~known]
    if named.empty:
        return own
    named = named.assign(part=1, records_position=-1, is_primary=False).reindex(columns=own.columns)
    all_stations: pd.DataFrame = pd.concat([own, named.astype(own.dtypes.to_dict())], ignore_index=True)
    return all_stations


def _mentions(frame: pd.DataFrame, table: str) -> pd.DataFrame:
    """The first mention of each station by a table's own records, and the first by what these only name."""
    frame = frame[["substation", "raw_row", "inferred_from"]].sort_values("raw_row", kind="stable")
    frame = frame.assign(second_hand=frame["inferred_from"].notna())
    first = frame[~frame.duplicated(["substation", "second_hand"])]
    return first.assign(inferred_from=first["inferred_from"].fillna(f"{table}.substation"))
