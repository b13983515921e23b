"""From records to the canonical tables: admission, identity, inference, references, words about neutrals."""

from typing import Any

import pandas as pd

from groundcheck.ingest.assets.admission import BESIDE, admit_primary, admit_secondary, combine, typed_frame
from groundcheck.ingest.assets.identity import quarantine_self_connected, settle_identity
from groundcheck.ingest.assets.inference import infer_buses, name_bus_stations
from groundcheck.ingest.assets.neutral_words import derive_from_words
from groundcheck.ingest.assets.references import Assets, resolve_references
from groundcheck.ingest.assets.stations import infer_stations, merge_mentions, spell_stations
from groundcheck.ingest.assets.wide_sheets import complete_devices, merge_devices
from groundcheck.ingest.book import Book
from groundcheck.ingest.mapping.headings import table_columns
from groundcheck.ingest.tables.layouts import Reading
from groundcheck.ingest.tables.records import Records
from groundcheck.schema import INVENTORY_TABLES

Frames = dict[str, pd.DataFrame]


def build_inventory(reading: Reading) -> tuple[Frames, pd.DataFrame]:
    """The canonical tables and the references between their assets; what cannot be used is in the book."""
    book, records = reading.book, reading.records
    frames: Frames = {}
    for table in INVENTORY_TABLES:
        frame = combine([r if r.feed.primary else _nothing(r) for r in records], table)
        frame = admit_primary(frame, table, records, book)
        frame = settle_identity(frame, table, records, book)
        frames[table] = quarantine_self_connected(frame, table, records, book).reset_index(drop=True)
    secondary = _secondary_frames(frames, records, book)
    stations = spell_stations(frames, secondary["substation"])
    _add_secondary(frames, secondary, stations, book)
    for station in sorted(name_bus_stations(frames, records, book)):
        stations.setdefault("".join(station.casefold().split()), station)
    frames["bus"] = infer_buses(frames, stations, book)
    frames["substation"] = infer_stations(frames)
    references = _resolve(frames)
    return frames, references


def _nothing(records: Records) -> Records:
    """The same place in the list with no rows, so that positions stay those of the full list."""
    return Records(records.sheet, records.region, records.feed, [], [])


def _secondary_frames(frames: Frames, records: list[Records], book: Book) -> Frames:
    """What sheets about other things say of stations and neutral devices, for the rows that are admitted."""
    admitted = {table: set(frame["raw_row"].tolist()) for table, frame in frames.items()}
    found: dict[str, list[pd.DataFrame]] = {table: [] for table in INVENTORY_TABLES}
    parts = sorted({(r.feed.table, r.feed.part) for r in records if not r.feed.primary})
    for part in records:
        if part.feed.beside is not None:
            complete_devices(part, frames[part.feed.beside], book)
    rows = set().union(*admitted.values())
    for table, number in parts:
        chosen = [
            r if not r.feed.primary and (r.feed.table, r.feed.part) == (table, number) else _nothing(r) for r in records
        ]
        frame = combine(chosen, table)
        found[table].append(admit_secondary(frame, table, records, book, rows))
    return {
        table: pd.concat(list_of, ignore_index=True) if list_of else frames[table].iloc[:0].copy()
        for table, list_of in found.items()
    }


def _add_secondary(frames: Frames, secondary: Frames, stations: dict[str, str], book: Book) -> None:
    frames["substation"] = merge_mentions(frames["substation"], secondary["substation"], book)
    for table, frame in secondary.items():
        if table == "substation" or frame.empty:
            continue
        spell = {name: stations.get("".join(name.casefold().split()), name) for name in frame["substation"].unique()}
        frame["substation"] = frame["substation"].map(spell).astype("str")
        if table == "neutral_device":
            frames[table] = merge_devices(frames[table], frame, book)
        else:
            keys = list(INVENTORY_TABLES[table].key_columns())
            both = pd.concat([frames[table], frame], ignore_index=True)
            frames[table] = both.drop_duplicates(keys, ignore_index=True)


def _resolve(frames: Frames) -> pd.DataFrame:
    """Resolve all references, then those of what the words about neutrals describe."""
    assets = Assets(frames)
    references = [resolve_references(frames, assets)]
    derived = derive_from_words(frames)
    added = {
        "grounding_transformer": _derived_frame(derived.grounding_transformers, "grounding_transformer"),
        "neutral_device": _derived_frame(derived.devices, "neutral_device"),
    }
    for table, frame in added.items():
        for station, tag in zip(frame["substation"], frame[table], strict=True):
            assets.add(table, station, tag)
    references.append(resolve_references(added, assets))
    for table, frame in added.items():
        if len(frame):
            frames[table] = pd.concat([frames[table], frame], ignore_index=True)
    return pd.concat([part for part in references if len(part)] or references[:1], ignore_index=True)


def _derived_frame(rows: list[dict[str, Any]], table: str) -> pd.DataFrame:
    names = (*table_columns(table), *BESIDE)
    return typed_frame({name: [row.get(name) for row in rows] for name in names}, table)
