"""From records to the canonical tables: admission, identity, inference, references, words about neutrals."""

from typing import Any

import pandas as pd

from groundcheck.ingest.assets.admission import (
    BESIDE,
    admit_primary,
    admit_secondary,
    combine,
    refuse_incomplete,
    typed_frame,
)
from groundcheck.ingest.assets.answers import Answers
from groundcheck.ingest.assets.asset_index import AssetIndex
from groundcheck.ingest.assets.identity import quarantine_self_connected, settle_identity, tag_key
from groundcheck.ingest.assets.inference import infer_buses, name_bus_stations
from groundcheck.ingest.assets.neutral_words import derive_from_words
from groundcheck.ingest.assets.references import resolve_references
from groundcheck.ingest.assets.renamed import note_renamed
from groundcheck.ingest.assets.settled_names import settle_names, spell_other_names
from groundcheck.ingest.assets.stations import distinct_mentions, infer_stations, merge_mentions, spell_stations
from groundcheck.ingest.assets.tag_questions import ask_same_tags
from groundcheck.ingest.assets.voltage_cells import originate_voltages
from groundcheck.ingest.assets.wide_sheets import complete_devices, merge_devices
from groundcheck.ingest.book import Book
from groundcheck.ingest.mapping.column_map import ColumnMap
from groundcheck.ingest.mapping.headings import table_columns
from groundcheck.ingest.tables.layouts import Reading
from groundcheck.ingest.tables.records import Records
from groundcheck.schema import INVENTORY_TABLES

Frames = dict[str, pd.DataFrame]


def build_inventory(reading: Reading, column_map: ColumnMap | None = None) -> tuple[Frames, pd.DataFrame]:
    """
    The canonical tables and the references between their assets; what cannot be used is in the book.

    Raises
    ------
    ColumnMapError
        The map names a station or a tag that no source names.
    """
    book, records = reading.book, reading.records
    column_map = column_map or ColumnMap()
    precedence = column_map.precedence
    other_names, renamed = settle_names(reading, column_map)
    answers = Answers(reading.answers, book)
    frames: Frames = {}
    for table in INVENTORY_TABLES:
        frame = combine([r if r.feed.primary else _nothing(r) for r in records], table)
        answers.fill_required(frame, table)
        frame = admit_primary(frame, table, records, book, precedence)
        frame = settle_identity(frame, table, records, book, precedence)
        frame = refuse_incomplete(frame, table, records, book)
        frames[table] = quarantine_self_connected(frame, table, records, book).reset_index(drop=True)
    secondary = _secondary_frames(frames, records, answers, book)
    stations = spell_stations(frames, secondary["substation"])
    spell_other_names(stations, other_names)
    for told in book.origins:
        told["substation"] = stations[tag_key(told["substation"])]
    _add_secondary(frames, secondary, stations, records, book)
    answers.fill(frames)
    for station in sorted(name_bus_stations(frames, records, book)):
        stations.setdefault(tag_key(station), station)
    frames["bus"] = infer_buses(frames, stations, book)
    originate_voltages(frames["bus"], records, book)
    frames["substation"] = infer_stations(frames)
    answers.fill(frames)
    references = _resolve(frames, answers, {key: stations[key] for key in other_names})
    answers.settle(frames)
    ask_same_tags(frames, references, records, book)
    note_renamed(renamed, book)
    _note_cells(records, book)
    return frames, references


def _note_cells(records: list[Records], book: Book) -> None:
    """Name the cells of rows in use that were not read quite as they were written."""
    for part in records:
        for remark in part.remarks:
            raw_row = part.raw_rows[remark.position]
            if raw_row not in book.quarantined:
                said = remark.field, remark.read_as, remark.note, remark.tolerance
                book.note(raw_row, remark.column, part.feed.table, *said)


def _nothing(records: Records) -> Records:
    """The same place in the list with no rows, so that positions stay those of the full list."""
    return Records(records.sheet, records.region, records.feed, [], [])


def _secondary_frames(frames: Frames, records: list[Records], answers: Answers, book: Book) -> Frames:
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
        if table == "substation":
            frame = distinct_mentions(frame, {part.raw_rows[p.position] for part in chosen for p in part.problems})
        answers.fill_required(frame, table, own=False)
        found[table].append(admit_secondary(frame, table, records, book, rows))
    return {
        table: pd.concat(list_of, ignore_index=True) if list_of else frames[table].iloc[:0].copy()
        for table, list_of in found.items()
    }


def _add_secondary(
    frames: Frames, secondary: Frames, stations: dict[str, str], records: list[Records], book: Book
) -> None:
    frames["substation"] = merge_mentions(frames["substation"], secondary["substation"], book)
    for table, frame in secondary.items():
        if table == "substation" or frame.empty:
            continue
        spell = {name: stations.get(tag_key(name), name) for name in frame["substation"].unique()}
        frame["substation"] = frame["substation"].map(spell).astype("str")
        if table == "neutral_device":
            frames[table] = merge_devices(frames[table], frame, records, book)
        else:
            keys = list(INVENTORY_TABLES[table].key_columns())
            both = pd.concat([frames[table], frame], ignore_index=True)
            frames[table] = both.drop_duplicates(keys, ignore_index=True)


def _resolve(frames: Frames, answers: Answers, other_names: dict[str, str]) -> pd.DataFrame:
    """Resolve all references, then those of what the words about neutrals describe."""
    assets = AssetIndex(frames)
    assets.stations |= other_names
    references = [resolve_references(frames, assets)]
    derived = derive_from_words(frames)
    added = {
        "grounding_transformer": _derived_frame(derived.grounding_transformers, "grounding_transformer"),
        "neutral_device": _with_plain(_derived_frame(derived.devices, "neutral_device"), derived.plain),
    }
    for table, frame in added.items():
        assets.add(table, frame)
    answers.fill(added)
    references.append(resolve_references(added, assets))
    for table, frame in added.items():
        if len(frame):
            frames[table] = pd.concat([frames[table], frame], ignore_index=True)
    return pd.concat([part for part in references if len(part)] or references[:1], ignore_index=True)


def _derived_frame(rows: list[dict[str, Any]], table: str) -> pd.DataFrame:
    names = (*table_columns(table), *BESIDE)
    return typed_frame({name: [row.get(name) for row in rows] for name in names}, table)


def _with_plain(devices: pd.DataFrame, plain: list[pd.DataFrame]) -> pd.DataFrame:
    """All derived devices, those of one word each first."""
    fixed = {"part": 1, "records_position": -1, "is_primary": False}
    frames = [part.assign(**fixed).reindex(columns=devices.columns) for part in plain if len(part)]
    frames = [frame.astype(devices.dtypes.to_dict()) for frame in frames]
    return pd.concat([*frames, devices], ignore_index=True) if frames else devices
