"""The inventory as the study reads it: frames in a fixed order, and the bus that each asset stands at."""

from dataclasses import dataclass, field

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.schema import INVENTORY_TABLES
from groundcheck.store import Store

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]

STUDIED = tuple(name for name in INVENTORY_TABLES if name != "inspection")


@dataclass(frozen=True)
class Records:
    """
    Frames by table, each sorted by its key so that the order of the sources changes nothing.

    `bus` is the frame to whose positions all bus numbers refer; -1 is 'no such bus'. What was looked up is kept in
    `known_...`; records that differ from others in numbers alone share all of it but the numbers.
    """

    tables: dict[str, pd.DataFrame]
    references: pd.DataFrame
    nominal_kv: Floats
    known_buses: dict[tuple[str, str], Ints] = field(default_factory=dict, repr=False, compare=False)
    known_keys: dict[str, pd.MultiIndex] = field(default_factory=dict, repr=False, compare=False)
    known_words: dict[tuple[str, str], NDArray[np.object_]] = field(default_factory=dict, repr=False, compare=False)
    known_numbers: dict[tuple[str, str], Floats] = field(default_factory=dict, init=False, repr=False, compare=False)

    @property
    def bus(self) -> pd.DataFrame:
        """The bus frame."""
        return self.tables["bus"]

    def bus_of(self, kind: str, name: str) -> Ints:
        """Number of the bus that a field of each asset of a kind refers to; looked up once."""
        if (kind, name) not in self.known_buses:
            self.known_buses[kind, name] = self._look_up(kind, name)
        return self.known_buses[kind, name]

    def _look_up(self, kind: str, name: str) -> Ints:
        found = np.full(len(self.tables[kind]), -1, dtype=np.int64)
        if not found.size:
            return found
        mentions = self.references
        mentions = mentions[(mentions["asset_kind"] == kind) & (mentions["field"] == name)]
        mentions = mentions[mentions["target_kind"] == "bus"].drop_duplicates(["substation", "asset"])
        target = self.place_of("bus", mentions[["target_substation", "target"]])
        places = self.place_of(kind, mentions[["substation", "asset"]])
        found[places[places >= 0]] = target[places >= 0]
        return found

    def place_of(self, kind: str, named: pd.DataFrame) -> Ints:
        """Positions of the assets that the rows of a frame name by station and tag; -1 where there is none."""
        if kind not in self.known_keys:
            self.known_keys[kind] = index_of(self.tables[kind], kind)
        return np.asarray(self.known_keys[kind].get_indexer(pd.MultiIndex.from_frame(named)), dtype=np.int64)

    def numbers(self, kind: str, field: str) -> Floats:
        """A numeric field as floats, NaN where it is not on record; not to be written to."""
        if (kind, field) not in self.known_numbers:
            column = pd.to_numeric(self.tables[kind][field], errors="coerce")
            self.known_numbers[kind, field] = column.to_numpy(dtype=float, na_value=np.nan)
            self.known_numbers[kind, field].flags.writeable = False
        return self.known_numbers[kind, field]

    def words(self, kind: str, field: str) -> NDArray[np.object_]:
        """A text field as objects, None where it is not on record; not to be written to."""
        if (kind, field) not in self.known_words:
            column = self.tables[kind][field].astype(object)
            self.known_words[kind, field] = column.where(column.notna(), None).to_numpy(dtype=object)
            self.known_words[kind, field].flags.writeable = False
        return self.known_words[kind, field]

    def flags(self, kind: str, field: str) -> Floats:
        """A yes-no field as 1.0, 0.0 and NaN where it is not on record."""
        return np.array([np.nan if pd.isna(v) else float(v) for v in self.tables[kind][field]], dtype=float)

    def tags(self, kind: str) -> tuple[NDArray[np.object_], NDArray[np.object_]]:
        """Station and tag of each asset of a kind."""
        frame = self.tables[kind]
        return frame["substation"].to_numpy(dtype=object), frame[kind].to_numpy(dtype=object)


def index_of(frame: pd.DataFrame, kind: str) -> pd.MultiIndex:
    """The (station, tag) index of a frame."""
    return pd.MultiIndex.from_arrays([frame["substation"], frame[kind]])


def read_records(store: Store) -> Records:
    """Read what the study needs from the inventory."""
    tables = {}
    for name in STUDIED:
        key = INVENTORY_TABLES[name].key_columns()
        order = ", ".join(f'"{column}"' for column in key)
        tables[name] = store.frame(f'SELECT * FROM inventory."{name}" ORDER BY {order}')
    nominal = pd.to_numeric(tables["bus"]["nominal_voltage"]).to_numpy(dtype=float, na_value=np.nan).copy()
    disputed = store.frame(
        "SELECT DISTINCT substation, asset FROM inventory.contradiction "
        "WHERE asset_kind = 'bus' AND field = 'nominal_voltage' AND settled_by IS NULL"
    )
    places = index_of(tables["bus"], "bus").get_indexer(pd.MultiIndex.from_frame(disputed))
    nominal[places[places >= 0]] = np.nan
    references = store.frame(
        "SELECT substation, asset_kind, asset, field, position, target_kind, target_substation, target "
        "FROM inventory.reference WHERE target IS NOT NULL ORDER BY ALL"
    )
    return Records(tables, references, nominal)
