"""The fields that the time for which a ground fault stands waits for."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.policy import Policy
from groundcheck.study.currents.reach import Measured
from groundcheck.study.networks.zones import Topology
from groundcheck.study.records import Records
from groundcheck.study.relays.clearing import may_trip
from groundcheck.study.relays.relay_settings import missing_settings, read_settings, unplaced

Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]
MOST_PER_ZONE = 25


def clearing_gaps(records: Records, topology: Topology, measured: Measured, policy: Policy) -> pd.DataFrame:
    """By zone (`place`): clearing times of its buses that are not on record, and what its relays' times wait for."""
    blank = np.isnan(records.numbers("bus", "ground_fault_clearing_time"))
    bus = pd.DataFrame({"place": topology.zone, "row": np.arange(topology.zone.size), "blank": blank})
    if policy.admits("clearing_time"):
        # One bus's time is then taken for the others'.
        bus = bus[bus.groupby("place")["blank"].transform("all")].drop_duplicates("place")
    bus = bus[bus["blank"]]
    bus = bus[bus.groupby("place").cumcount() < MOST_PER_ZONE]
    parts = [_rows(records, "bus", bus, "ground_fault_clearing_time")]
    settings, may = read_settings(records, policy), may_trip(records, policy)
    blanks = missing_settings(records, settings) | {
        "breaker_time": np.isnan(settings.breaker_s),
        "action": np.array([word is None for word in records.words("ground_relay", "action")], dtype=bool),
        "function": np.array([word is None for word in records.words("ground_relay", "function")], dtype=bool),
    }
    for field, missing in blanks.items():
        row = np.flatnonzero(may & missing & (measured.zone >= 0))
        relay = pd.DataFrame({"place": measured.zone[row], "row": row})
        parts.append(_rows(records, "ground_relay", relay, field))
    stray = pd.DataFrame({"row": np.flatnonzero(may & unplaced(records))})
    stray["station"] = records.tags("ground_relay")[0][stray["row"]]
    zones = pd.DataFrame({"station": records.bus["substation"].to_numpy(dtype=object), "place": topology.zone})
    parts.append(_rows(records, "ground_relay", stray.merge(zones.drop_duplicates(), on="station"), "measures"))
    return pd.concat(parts, ignore_index=True)


def _rows(records: Records, kind: str, at: pd.DataFrame, field: str) -> pd.DataFrame:
    station, tag = records.tags(kind)
    row = at["row"].to_numpy(dtype=np.int64)
    return pd.DataFrame(
        {
            "place": at["place"].to_numpy(dtype=np.int64),
            "blocking_substation": station[row],
            "blocking_asset_kind": kind,
            "blocking_asset": tag[row],
            "field": field,
        }
    )
