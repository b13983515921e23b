"""Assets that go by two tags because the column map says so: all records and references take the one it says."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.errors import ColumnMapError
from groundcheck.ingest.assets.frame_rows import plain_list
from groundcheck.ingest.assets.identity import tag_key, tag_keys
from groundcheck.ingest.assets.references import reference_columns
from groundcheck.ingest.assets.renamed import Renamed
from groundcheck.ingest.mapping.column_map import ColumnMap
from groundcheck.ingest.mapping.headings import table_columns
from groundcheck.ingest.tables.records import Records
from groundcheck.ingest.tables.typed_values import typed_series
from groundcheck.nearest import nearest
from groundcheck.schema import INVENTORY_TABLES, Column


@dataclass
class _Station:
    """The tags that one station's records use, by key, and what some of them mean."""

    name: str
    tags: dict[str, str] = field(default_factory=dict)
    meant: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class _Mention:
    """A tag in a field of a record: the row, which of several, the key of its station, and what stands before it."""

    column: Column
    place: int
    item: int
    station: str
    tag: str
    before: str = ""


def rename_tags(
    records: list[Records],
    column_map: ColumnMap,
    stations: dict[str, str],
    other_names: dict[str, str],
    renamed: list[Renamed],
) -> None:
    """
    Write the tag that the column map says in all records and references, in place, and add to what is `renamed`.

    `stations` holds the names in use by key, `other_names` the name that other keys stand for.

    Raises
    ------
    ColumnMapError
        The map names a station or a tag that no source names, or lets tags stand for one another in a circle.
    """
    if not column_map.same_tag:
        return
    where = f"{column_map.name}, same_tag"
    wanted: dict[str, _Station] = {}
    for written, meant in column_map.same_tag.items():
        station, _, tag = written.partition(":")
        name = other_names.get(station, stations.get(station))
        if name is None:
            near = nearest(station, stations.values())
            raise ColumnMapError(f'{where}: no source names a station "{station}"; nearest is "{near}"')
        wanted.setdefault(tag_key(name), _Station(name)).meant[tag] = meant
    found = [
        (part, list(_mentions(part, wanted, other_names)))
        for part in records
        if part.rows and "substation" in part.values
    ]
    for _, mentions in found:
        for mention in mentions:
            wanted[mention.station].tags.setdefault(tag_key(mention.tag), mention.tag)
    for one in wanted.values():
        _check(one, where)
    for part, mentions in found:
        _rename(part, mentions, wanted, renamed)


def _mentions(part: Records, wanted: dict[str, _Station], other_names: dict[str, str]) -> Iterator[_Mention]:
    """Every tag of the stations in the records: of their own assets, and of those that they refer to."""
    table = part.feed.table
    homes = tag_keys(part.values["substation"])
    here = homes.isin(list(wanted)).to_numpy(dtype=bool)
    stations = plain_list(homes)
    own = table_columns(table)[INVENTORY_TABLES[table].asset_column()]
    for column in (own, *reference_columns(table)):
        if column.name not in part.values or column.name == "substation":
            continue
        values = part.values[column.name]
        listed = column.kind == "references"
        elsewhere = np.ones(len(values), dtype=bool) if listed else _has_station(values)
        cells = plain_list(values)
        for place in np.flatnonzero(values.notna().to_numpy() & (here | elsewhere)).tolist():
            for item, text in enumerate(cells[place] if listed else [cells[place]]):
                before, colon, after = text.partition(":")
                named = tag_key(other_names.get(tag_key(before), before))
                if colon and column is not own and named in wanted:
                    yield _Mention(column, place, item, named, after.strip(), f"{before}:")
                elif here[place]:
                    yield _Mention(column, place, item, stations[place], text)


def _has_station(values: pd.Series) -> NDArray[np.bool_]:
    found: NDArray[np.bool_] = values.str.contains(":", regex=False).fillna(False).to_numpy(dtype=bool)
    return found


def _check(station: _Station, where: str) -> None:
    """Refuse tags that nobody names, and circles; each tag then means the last of its chain."""
    for tag, meant in station.meant.items():
        for one in (tag, meant):
            if tag_key(one) not in station.tags:
                near = nearest(one, station.tags.values())
                raise ColumnMapError(f'{where}: no source names "{one}" at {station.name}; nearest is "{near}"')
    for tag in station.meant:
        chain = [tag]
        while (last := tag_key(station.meant[chain[-1]])) in station.meant:
            if last in chain:
                written = f"{station.name}:{station.tags[tag]}"
                raise ColumnMapError(f'{where}: "{written}" stands for itself in the end; keep one of the entries')
            chain.append(last)
        station.meant[tag] = station.meant[chain[-1]]


def _rename(part: Records, mentions: list[_Mention], wanted: dict[str, _Station], renamed: list[Renamed]) -> None:
    cells: dict[str, list[Any]] = {}
    rows: dict[tuple[str, str, str, str], list[int]] = {}
    for mention in mentions:
        key, name = tag_key(mention.tag), mention.column.name
        meant = wanted[mention.station].meant.get(key)
        if meant is None:
            continue
        if name not in cells:
            cells[name] = [value if isinstance(value, str | list) else None for value in plain_list(part.values[name])]
        values = cells[name]
        if mention.column.kind == "references":
            values[mention.place] = list(values[mention.place])
            values[mention.place][mention.item] = mention.before + meant
        else:
            values[mention.place] = mention.before + meant
        rows.setdefault((mention.station, key, name, meant), []).append(part.raw_rows[mention.place])
    for name, values in cells.items():
        part.values[name] = typed_series(values, table_columns(part.feed.table)[name])
    for (station, key, name, meant), raw_rows in rows.items() if part.feed.primary else ():
        why = "another tag of the asset: the column map says so"
        renamed.append(Renamed(part, name, f"{station}:{key}", raw_rows, meant, why))
