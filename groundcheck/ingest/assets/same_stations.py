"""Stations that go by several names because a record or the column map says so: all of them become one name."""

import re
from dataclasses import dataclass, field

import numpy as np
import pandas as pd

from groundcheck.errors import ColumnMapError
from groundcheck.ingest.assets.identity import tag_key
from groundcheck.ingest.assets.named_stations import NamedStation
from groundcheck.ingest.book import Book
from groundcheck.ingest.mapping.column_map import ColumnMap
from groundcheck.ingest.tables.records import Records
from groundcheck.ingest.toml_text import quoted
from groundcheck.nearest import nearest

_BETWEEN = re.compile(r"\s*[;,\n]\s*")


@dataclass
class OneName:
    """
    Keys of names that stand for another, with its key, and who says so; a name may stand for one that does too.

    `spelling` is that of each key.
    """

    spelling: dict[str, str]
    meant: dict[str, str] = field(default_factory=dict)
    says: dict[str, str] = field(default_factory=dict)

    def root(self, key: str) -> str:
        """The key that a name stands for in the end; its own if for no other."""
        while key in self.meant:
            key = self.meant[key]
        return key

    def join(self, key: str, other: str, says: str) -> None:
        """Let one name stand for another, on somebody's word."""
        one, two = self.root(key), self.root(other)
        if one != two:
            self.meant[one], self.says[one] = two, says
            self.says.setdefault(key, says)


def declared_names(
    records: list[Records], known: dict[str, NamedStation], elsewhere: set[str], column_map: ColumnMap, book: Book
) -> OneName:
    """
    What the column map and the stations' own records say of their names.

    An alias that two stations claim is asked about and joins nothing, unless the column map settles it. `elsewhere`
    holds names that sources use otherwise than as an asset's own station.

    Raises
    ------
    ColumnMapError
        The map names a station that no source names, or lets names stand for one another in a circle.
    """
    where = f"{column_map.name}, same_station"
    spelled = {tag_key(name): name for name in elsewhere} | {key: station.name for key, station in known.items()}
    names = OneName(spelled)
    for key, written in column_map.same_station.items():
        for name in (key, written):
            if tag_key(name) not in spelled:
                near = nearest(name, spelled.values())
                raise ColumnMapError(f'{where}: no source names a station "{name}"; nearest is "{near}"')
        if names.root(tag_key(written)) == key:
            raise ColumnMapError(f'{where}: "{spelled[key]}" stands for itself in the end; keep one of the entries')
        names.join(key, tag_key(written), "the column map says so")
    settled = set(column_map.same_station)
    for alias, claims in _claims(records, names).items():
        claimed = {names.root(key): claim for key, claim in claims.items()}
        if alias in settled:
            continue
        if len(claimed) > 1:
            _ask_whose(alias, list(claims.values()), known, book)
            continue
        (claim,) = claimed.values()
        names.join(alias, tag_key(claim.station), f"{_where(claim, book)} says that it is also known as this")
    return names


@dataclass(frozen=True)
class _Claim:
    """What a record says of one other name of its station."""

    station: str
    alias: str
    raw_row: int
    column: int | None


def _claims(records: list[Records], names: OneName) -> dict[str, dict[str, _Claim]]:
    """Every other name on record by key, with the claims of its stations by their keys."""
    found: dict[str, dict[str, _Claim]] = {}
    for part in records:
        if part.feed.table != "substation" or not part.feed.primary or "also_known_as" not in part.values:
            continue
        listed = part.values["also_known_as"].to_numpy(dtype=object)
        stations = part.values["substation"].to_numpy(dtype=object)
        for place in np.flatnonzero(pd.notna(listed) & pd.notna(stations)).tolist():
            for alias in filter(None, _BETWEEN.split(str(listed[place]).strip())):
                station = str(stations[place])
                if names.root(tag_key(alias)) != names.root(tag_key(station)):
                    claim = _Claim(station, alias, part.raw_rows[place], part.column_of("also_known_as"))
                    found.setdefault(tag_key(alias), {}).setdefault(tag_key(station), claim)
    return found


def _ask_whose(alias: str, claims: list[_Claim], known: dict[str, NamedStation], book: Book) -> None:
    first = claims[0]
    rows = known[alias].rows if alias in known else 1
    book.ask(
        "station",
        first.alias,
        [claim.station for claim in claims],
        sheet=book.place(first.raw_row).sheet,
        cell=book.cell(first.raw_row, first.column),
        cells=rows,
        answer=f"[same_station] {quoted(first.alias)} = {quoted(first.station)}",
    )


def _where(claim: _Claim, book: Book) -> str:
    place = book.place(claim.raw_row)
    return f"{place.sheet.file}, sheet {place.sheet.name}, cell {book.cell(claim.raw_row, claim.column)}"
