"""Every asset on record, found by kind, station and tag, whatever their case and blanks; many at once."""

import numpy as np
import pandas as pd
import pyarrow as pa
from numpy.typing import NDArray

from groundcheck.ingest.assets.frame_rows import plain_list
from groundcheck.ingest.assets.identity import tag_key
from groundcheck.ingest.assets.tag_numbers import TagNumbers, station_part
from groundcheck.ingest.tables.typed_values import text_of, text_series
from groundcheck.nearest import nearest_few
from groundcheck.schema import INVENTORY_TABLES


class AssetIndex:
    """The assets of all tables by kind; numbers stand for keys of stations and tags."""

    def __init__(self, frames: dict[str, pd.DataFrame]) -> None:
        self.stations: dict[str, str] = {}
        self._numbers = TagNumbers()
        self._lookups: dict[str, pd.Index] = {}
        self._targets: dict[str, tuple[pd.Series, pd.Series]] = {}
        self._tags: dict[tuple[str, int], list[str]] = {}
        for kind, frame in frames.items():
            self.add(kind, frame)

    def add(self, kind: str, frame: pd.DataFrame) -> None:
        """Put the assets of one more frame of a kind on record; of two with one tag the first stays."""
        stations = frame["substation"]
        tags = frame[INVENTORY_TABLES[kind].asset_column()]
        if kind in self._targets:
            stations = pd.concat([self._targets[kind][0], stations], ignore_index=True)
            tags = pd.concat([self._targets[kind][1], tags], ignore_index=True)
        for station in stations.unique().tolist():
            self.stations.setdefault(tag_key(station), station)
        places = self._numbers.places(stations, tags)
        first = ~pd.Series(places).duplicated().to_numpy()
        self._lookups[kind] = pd.Index(places[first])
        self._targets[kind] = stations[first].reset_index(drop=True), tags[first].reset_index(drop=True)
        self._tags.clear()

    def find_all(self, stations: pd.Series, written: pd.Series, kinds: tuple[str, ...]) -> pd.DataFrame:
        """
        The asset that each reference means, among the kinds asked for, or all.

        Columns target_kind, target_substation, target; NULL where there is none, and then the nearest tags.
        """
        size = len(written)
        kind_of = np.full(size, -1, dtype=np.intp)
        place_of = np.full(size, -1, dtype=np.intp)
        wanted = kinds or tuple(INVENTORY_TABLES)
        self._look_up(np.arange(size), self._numbers.places(stations, written), wanted, kind_of, place_of)
        elsewhere = np.flatnonzero((kind_of < 0) & written.str.contains(":", regex=False).to_numpy(dtype=bool))
        if len(elsewhere):
            split = [self.split(w, s) for w, s in self._pairs(written, stations, elsewhere)]
            homes, tags = (text_series(list(part)) for part in zip(*split, strict=True))
            self._look_up(elsewhere, self._numbers.places(homes, tags), wanted, kind_of, place_of)
        lost = np.flatnonzero(kind_of < 0)
        near: list[str | None] = [None] * size
        for position, (text, station) in zip(lost.tolist(), self._pairs(written, stations, lost), strict=True):
            near[position] = self.nearest(text, station, kinds) or None
        found: dict[str, pd.Series] = {"target_kind": text_series([*wanted, None], take=kind_of)}
        for part, name in enumerate(("target_substation", "target")):
            found[name] = self._taken(part, wanted, kind_of, place_of)
        return pd.DataFrame(found | {"nearest": text_series(near)})

    def split(self, written: str, station: str) -> tuple[str, str]:
        """Station and tag of a reference: STATION:TAG, or a tag of the station that refers."""
        before, colon, after = written.partition(":")
        if colon and before.strip() and after.strip() and tag_key(before) in self.stations:
            return self.stations[tag_key(before)], after.strip()
        return station, written

    def nearest(self, written: str, station: str, kinds: tuple[str, ...]) -> str:
        """Tags of the station that are most like the one written."""
        home, tag = self.split(written, station)
        number = self._numbers.station(home)
        known = [t for kind in kinds or tuple(INVENTORY_TABLES) for t in self._tags_of(kind, number)]
        return "; ".join(nearest_few(tag, known, limit=3, at_least=40.0))

    def _tags_of(self, kind: str, station: int) -> list[str]:
        if (kind, -1) not in self._tags and kind in self._targets:
            self._tags[kind, -1] = []
            homes = station_part(self._lookups[kind].to_numpy()).tolist()
            for home, tag in zip(homes, plain_list(self._targets[kind][1]), strict=True):
                self._tags.setdefault((kind, home), []).append(tag)
        return self._tags.get((kind, station), [])

    def _look_up(
        self,
        rows: NDArray[np.intp],
        places: NDArray[np.int64],
        kinds: tuple[str, ...],
        kind_of: NDArray[np.intp],
        place_of: NDArray[np.intp],
    ) -> None:
        """Fill in, for the rows given, the first kind that has an asset at the place, and which of that kind it is."""
        for number, kind in enumerate(kinds):
            if kind not in self._lookups or not len(rows):
                continue
            found = self._lookups[kind].get_indexer(pd.Index(places))
            hit = found >= 0
            kind_of[rows[hit]], place_of[rows[hit]] = number, found[hit]
            rows, places = rows[~hit], places[~hit]

    def _taken(
        self, part: int, kinds: tuple[str, ...], kind_of: NDArray[np.intp], place_of: NDArray[np.intp]
    ) -> pd.Series:
        """Station (part 0) or tag (part 1) of each asset that was found."""
        known = [kind for kind in kinds if kind in self._targets]
        starts = np.cumsum([0, *(len(self._targets[kind][part]) for kind in known)])
        start_of = np.array([starts[known.index(kind)] if kind in known else 0 for kind in kinds], dtype=np.intp)
        take = pa.array(start_of[kind_of] + place_of, mask=kind_of < 0)
        texts = [pa.array(self._targets[kind][part]) for kind in known]
        chunks = [chunk for text in texts for chunk in (text.chunks if isinstance(text, pa.ChunkedArray) else [text])]
        return text_of(pa.chunked_array(chunks, pa.large_string()).take(take))

    @staticmethod
    def _pairs(written: pd.Series, stations: pd.Series, rows: NDArray[np.intp]) -> list[tuple[str, str]]:
        return list(zip(plain_list(written.iloc[rows]), plain_list(stations.iloc[rows]), strict=True))
