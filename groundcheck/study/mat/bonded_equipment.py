"""At which buses the equipment stands that a bond connects to the mat."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.study.context import Study
from groundcheck.study.records import index_of

Ints = NDArray[np.int64]
KEY = ["asset_kind", "substation", "asset"]


@dataclass(frozen=True)
class Cases:
    """
    Pairs of an asset and a bus whose fault it may carry.

    placed : of each asset, whether its buses are on record; if not, all buses of its station are taken.
    """

    row: Ints
    bus: Ints
    placed: NDArray[np.bool_]


def bond_cases(study: Study) -> Cases:
    """Buses of the equipment of each bond: those in its own station, where there are any."""
    records = study.records
    bonds = records.tables["bond"]
    mentions = records.references
    mine = mentions[(mentions["asset_kind"] == "bond") & (mentions["field"] == "equipment")]
    mine = mine.rename(columns={"substation": "bond_substation", "asset": "bond"})
    equipment = mine[["bond_substation", "bond", "target_kind", "target_substation", "target"]]
    equipment = equipment.set_axis(["bond_substation", "bond", *KEY], axis=1)
    pairs = equipment.merge(_stands_at(study), on=KEY)
    row = index_of(bonds, "bond").get_indexer(pd.MultiIndex.from_frame(pairs[["bond_substation", "bond"]]))
    pairs = pairs.assign(row=row)[row >= 0][["row", "bus"]].drop_duplicates()
    station_of_bus = records.bus["substation"].to_numpy(dtype=object)
    station = bonds["substation"].to_numpy(dtype=object)
    home = np.asarray(
        station_of_bus[pairs["bus"].to_numpy(dtype=np.int64)] == station[pairs["row"].to_numpy(dtype=np.int64)],
        dtype=bool,
    )
    has_home = pairs.assign(home=home).groupby("row")["home"].transform("any").to_numpy(dtype=bool)
    pairs = pairs[home | ~has_home]
    placed = np.zeros(len(bonds), dtype=bool)
    placed[pairs["row"].to_numpy(dtype=np.int64)] = True
    return _with_station(study, "bond", pairs, placed)


def station_cases(study: Study, kind: str) -> Cases:
    """All buses of the station of each asset."""
    none = pd.DataFrame({"row": np.zeros(0, dtype=np.int64), "bus": np.zeros(0, dtype=np.int64)})
    return _with_station(study, kind, none, np.zeros(len(study.records.tables[kind]), dtype=bool))


def _with_station(study: Study, kind: str, pairs: pd.DataFrame, placed: NDArray[np.bool_]) -> Cases:
    """The pairs, and for assets without one all buses of their station."""
    station, _ = study.records.tags(kind)
    unplaced = pd.DataFrame({"substation": station, "row": np.arange(station.size)})[~placed]
    buses = study.records.bus[["substation"]].assign(bus=np.arange(len(study.records.bus)))
    every = pd.concat([pairs[["row", "bus"]], unplaced.merge(buses, on="substation")[["row", "bus"]]])
    every = every.sort_values(["row", "bus"])
    return Cases(every["row"].to_numpy(dtype=np.int64), every["bus"].to_numpy(dtype=np.int64), placed)


def _stands_at(study: Study) -> pd.DataFrame:
    """Bus number of every asset that names one, of neutral devices through what they are connected to, of buses."""
    records, neutrals = study.records, study.neutrals
    numbers = pd.DataFrame(
        {
            "target_substation": records.bus["substation"],
            "target": records.bus["bus"],
            "bus": np.arange(len(records.bus)),
        }
    )
    mentions = records.references
    named = mentions[mentions["target_kind"] == "bus"].merge(numbers, on=["target_substation", "target"])
    own = numbers.rename(columns={"target_substation": "substation", "target": "asset"}).assign(asset_kind="bus")
    station, tag = records.tags("neutral_device")
    device = neutrals.links["device"].to_numpy(dtype=np.int64)
    at = study.bus_of_point[neutrals.links["point"].to_numpy(dtype=np.int64)]
    devices = pd.DataFrame(
        {"asset_kind": "neutral_device", "substation": station[device], "asset": tag[device], "bus": at}
    )
    columns = [*KEY, "bus"]
    return pd.concat([named[columns], own[columns], devices[devices["bus"] >= 0][columns]]).drop_duplicates()
