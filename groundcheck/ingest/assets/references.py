"""What each asset says of others, resolved: in its own station first, elsewhere as STATION:TAG."""

from collections import defaultdict
from typing import Any

import pandas as pd

from groundcheck.ingest.assets.frame_rows import plain_list
from groundcheck.ingest.assets.identity import tag_key
from groundcheck.ingest.mapping.headings import table_columns
from groundcheck.nearest import nearest_few
from groundcheck.schema import INVENTORY_TABLES, Column

Target = tuple[str, str, str]  # kind, station, tag


class Assets:
    """Every asset on record, found by kind, station and tag, whatever their case and blanks."""

    def __init__(self, frames: dict[str, pd.DataFrame]) -> None:
        self.by_key: dict[tuple[str, str], dict[str, Target]] = defaultdict(dict)
        self.stations: dict[str, str] = {}
        for kind, frame in frames.items():
            tag = INVENTORY_TABLES[kind].asset_column()
            for station, name in zip(plain_list(frame["substation"]), plain_list(frame[tag]), strict=True):
                self.add(kind, station, name)

    def add(self, kind: str, station: str, tag: str) -> None:
        """Put one more asset on record."""
        self.stations.setdefault(tag_key(station), station)
        self.by_key[kind, tag_key(station)].setdefault(tag_key(tag), (kind, station, tag))

    def split(self, written: str, station: str) -> tuple[str, str]:
        """Station and tag of a reference: STATION:TAG, or a tag of the station that refers."""
        before, colon, after = written.partition(":")
        if colon and before.strip() and after.strip() and tag_key(before) in self.stations:
            return self.stations[tag_key(before)], after.strip()
        return station, written

    def find(self, written: str, station: str, kinds: tuple[str, ...]) -> Target | None:
        """The asset that a reference means; None if there is none of the kinds asked for."""
        places = [(station, written)]
        if ":" in written:
            places.append(self.split(written, station))
        for home, tag in places:
            for kind in kinds or tuple(INVENTORY_TABLES):
                target = self.by_key.get((kind, tag_key(home)), {}).get(tag_key(tag))
                if target is not None:
                    return target
        return None

    def nearest(self, written: str, station: str, kinds: tuple[str, ...]) -> str:
        """Tags of the station that are most like the one written."""
        home, tag = self.split(written, station)
        known = [t[2] for kind in kinds or tuple(INVENTORY_TABLES) for t in self.by_key[kind, tag_key(home)].values()]
        return "; ".join(nearest_few(tag, known, limit=3, at_least=40.0))


def reference_columns(table: str) -> list[Column]:
    """The columns of a table that name other assets."""
    return [c for c in table_columns(table).values() if c.kind in ("reference", "references")]


def resolve_references(frames: dict[str, pd.DataFrame], assets: Assets) -> pd.DataFrame:
    """Rewrite every reference in its canonical spelling, in place; gives one row for each mention."""
    rows: list[tuple[Any, ...]] = []
    for table, frame in frames.items():
        tag = INVENTORY_TABLES[table].asset_column()
        for column in reference_columns(table):
            spelled: list[Any] = []
            cells = zip(*(plain_list(frame[name]) for name in ("substation", tag, column.name)), strict=True)
            for station, asset, value in cells:
                listed = value if isinstance(value, list) else [value] if isinstance(value, str) else []
                named = []
                for position, written in enumerate(listed, 1):
                    target = assets.find(written, station, column.refers_to)
                    named.append(_canonical(target, station) if target else written)
                    near = None if target else assets.nearest(written, station, column.refers_to) or None
                    found = target or (None, None, None)
                    rows.append(
                        (station, table, asset, column.name, position, written, found[0], found[1], found[2], near)
                    )
                spelled.append(named if column.kind == "references" and listed else (named or [None])[0])
            dtype = "object" if column.kind == "references" else "str"
            frame[column.name] = pd.Series(spelled, index=frame.index, dtype=dtype)
    names = ["substation", "asset_kind", "asset", "field", "position", "written"]
    return pd.DataFrame(rows, columns=[*names, "target_kind", "target_substation", "target", "nearest"])


def _canonical(target: Target, station: str) -> str:
    return target[2] if target[1] == station else f"{target[1]}:{target[2]}"
