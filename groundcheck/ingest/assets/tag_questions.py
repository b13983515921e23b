"""Questions about tags of one station that may be one asset's: NER01 and NER1, T1 and TX1."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import pandas as pd

from groundcheck.ingest.assets.frame_rows import frame_rows, plain_list
from groundcheck.ingest.assets.source_cells import column_in_row
from groundcheck.ingest.assets.station_questions import MOST_ASKED
from groundcheck.ingest.assets.tag_likeness import alike_forms
from groundcheck.ingest.book import Book
from groundcheck.ingest.mapping.headings import table_columns
from groundcheck.ingest.tables.records import Records
from groundcheck.ingest.toml_text import quoted
from groundcheck.schema import INVENTORY_TABLES

Frames = dict[str, pd.DataFrame]


@dataclass(frozen=True)
class _Alike:
    """A tag of a station that may mean an asset of another, and where it first stands: a field of a row."""

    station: str
    tag: str
    meant: str
    table: str
    field: str
    raw_row: int
    rows: int = 1


def ask_same_tags(frames: Frames, references: pd.DataFrame, records: list[Records], book: Book) -> None:
    """Ask of tags that are alike, in one station and table, whether they are one asset's; and of references to none."""
    alike: dict[tuple[str, str], _Alike] = {}
    for found in (*_of_assets(frames), *_of_references(frames, references)):
        alike.setdefault((found.station, found.tag), found)
    asked = list(alike.values())
    for one in asked[:MOST_ASKED]:
        book.ask(
            "tag",
            one.tag,
            [one.meant],
            sheet=book.place(one.raw_row).sheet,
            cell=book.cell(one.raw_row, column_in_row(records, one.table, one.field, one.raw_row)),
            cells=one.rows,
            answer=f"[same_tag] {quoted(f'{one.station}:{one.tag}')} = {quoted(one.meant)}",
        )
    more = asked[MOST_ASKED:]
    if more:
        listed = "answer these first: the rest is asked when the sources are read again"
        book.ask("tag", f"{len(more):,} more tags like these", [listed], cells=sum(one.rows for one in more))


def _of_assets(frames: Frames) -> Iterator[_Alike]:
    """Assets of one table and station whose tags are alike; those with a record of their own come first."""
    for table, frame in frames.items():
        tag = INVENTORY_TABLES[table].asset_column()
        if table == "substation" or frame.empty:
            continue
        codes, distinct = pd.factorize(frame[tag])
        forms = pd.factorize(np.asarray(alike_forms(distinct.tolist(), table), dtype=object))[0][codes]
        stations = pd.factorize(frame["substation"])[0]
        places = pd.Series(stations.astype(np.int64) * (len(distinct) + 1) + forms)
        again = places.duplicated(keep=False).to_numpy()
        if not again.any():
            continue
        rows = frame_rows(frame[again], "substation", tag, "raw_row", "inferred_from")
        groups: dict[int, list[int]] = {}
        for number, place in enumerate(places[again].tolist()):
            groups.setdefault(place, []).append(number)
        for group in groups.values():
            first, *others = sorted(group, key=lambda number: isinstance(rows[number]["inferred_from"], str))
            for other in others:
                row = rows[other]
                source = row["inferred_from"] if isinstance(row["inferred_from"], str) else f"{table}.{tag}"
                where = source.split(".")
                yield _Alike(row["substation"], row[tag], rows[first][tag], where[0], where[1], int(row["raw_row"]))


def _of_references(frames: Frames, references: pd.DataFrame) -> Iterator[_Alike]:
    """References to what is not on record, where one asset of the station has a tag that is alike."""
    if references.empty:
        return
    lost = references[references["target"].isna() & ~references["written"].str.contains(":", regex=False)]
    for place, group in lost.groupby(["asset_kind", "field"], sort=False):
        table, name = map(str, place)
        owner = INVENTORY_TABLES[table].asset_column()
        rows_of = _rows_of(frames[table], owner, group)
        mentions = group.drop_duplicates(["substation", "written"])
        counts = group.groupby(["substation", "written"]).size()
        for kind in table_columns(table)[name].refers_to or tuple(INVENTORY_TABLES):
            known = _known(frames[kind], kind, mentions["substation"])
            forms = alike_forms(plain_list(mentions["written"]), kind) if known else []
            for form, row in zip(forms, frame_rows(mentions), strict=False):
                meant = known.get((row["substation"], form))
                raw_row = rows_of.get((row["substation"], row["asset"]))
                if meant is not None and raw_row is not None:
                    station, written = row["substation"], row["written"]
                    yield _Alike(station, written, meant, table, name, raw_row, int(counts[station, written]))


def _rows_of(frame: pd.DataFrame, tag: str, mentions: pd.DataFrame) -> dict[tuple[str, str], int]:
    near = frame[frame["substation"].isin(mentions["substation"]) & frame[tag].isin(mentions["asset"])]
    keys = zip(plain_list(near["substation"]), plain_list(near[tag]), strict=True)
    return dict(zip(keys, near["raw_row"].tolist(), strict=True))


def _known(frame: pd.DataFrame, kind: str, stations: pd.Series) -> dict[tuple[str, str], str]:
    """The asset of a kind by station and form of its tag."""
    near = frame[frame["substation"].isin(stations)]
    tags = plain_list(near[INVENTORY_TABLES[kind].asset_column()])
    if not tags:
        return {}
    return dict(zip(zip(plain_list(near["substation"]), alike_forms(tags, kind), strict=True), tags, strict=True))
