"""What is left for each ground relay to see with a ground source of its zone out."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.study.bounded import Bounded
from groundcheck.study.context import Study
from groundcheck.study.currents.reach import sees_voltage

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]


def outage_relay_table(
    study: Study, outages: pd.DataFrame, pairs: pd.DataFrame, current: Bounded, buses: pd.DataFrame
) -> pd.DataFrame:
    """
    Rows of study.outage_relay: relays that measure the whole zone, at a bus, a line or a voltage transformer.

    A relay in a neutral sees more with another source out, and nothing with its own: it has no row.
    """
    measured = study.measured
    relay = np.flatnonzero(
        (measured.zone >= 0) & (measured.device < 0) & (measured.point < 0) & ~sees_voltage(study.records, study.policy)
    )
    alive = pairs.reset_index(names="pair")
    alive = alive[~alive["dead"]]
    cases = pd.DataFrame({"relay": relay, "zone": measured.zone[relay]}).merge(alive, on="zone")
    pair = buses["pair"].to_numpy(dtype=np.int64)
    smallest = Bounded(*(_smallest(pair, len(pairs), end) for end in (current.value, current.low, current.high)))
    station, tag = study.records.tags("ground_relay")
    row, kind = outages["row"].to_numpy(dtype=np.int64), outages["kind"].to_numpy(dtype=object)
    out = cases["outage"].to_numpy(dtype=np.int64)
    owner = {name: study.records.tags(name) for name in outages["kind"].unique()}
    at = cases["relay"].to_numpy(dtype=np.int64)
    return pd.DataFrame(
        {
            "substation": station[at],
            "ground_relay": tag[at],
            "source_substation": [owner[kind[o]][0][row[o]] for o in out],
            "source_kind": kind[out],
            "source": [owner[kind[o]][1][row[o]] for o in out],
            **smallest.take(cases["pair"].to_numpy(dtype=np.int64)).columns("smallest_fault_a"),
        }
    )


def _smallest(pair: Ints, count: int, kiloamperes: Floats) -> Floats:
    found = np.full(count, np.inf)
    with np.errstate(invalid="ignore"):
        np.minimum.at(found, pair, kiloamperes * 1e3)
    return found
