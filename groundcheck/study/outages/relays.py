"""What is left for each ground relay to see with a ground source of its zone out."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.study.bounded import Bounded
from groundcheck.study.context import Study
from groundcheck.study.currents.reach import sees_voltage
from groundcheck.study.currents.readings import Currents, taken
from groundcheck.study.networks.resistive_faults import share_of_loop
from groundcheck.study.outages.bus_quantities import BusesAfter
from groundcheck.study.outages.listed import asset_code
from groundcheck.study.outages.neutral_readings import read_neutrals
from groundcheck.study.outages.pairs import Pairs

Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]
CARRIES_NOTHING = ("open", "surge_arrester")


def outage_relay_table(study: Study, pairs: Pairs, after: BusesAfter, tags: pd.DataFrame) -> pd.DataFrame:
    """
    Rows of study.outage_relay: current relays of zones that are not dead.

    As in study.relay_reach, a relay at a bus or a line sees the whole fault current of its zone; one in a neutral its
    part of it. One whose neutral is out itself, or open, has no row.
    """
    measured = study.measured
    alive = pairs.rows.rename_axis("pair").reset_index()[~pairs.column("dead")]
    relay = np.flatnonzero((measured.zone >= 0) & ~sees_voltage(study.records, study.policy))
    cases = pd.DataFrame(
        {"relay": relay, "zone": measured.zone[relay], "device": measured.device[relay], "point": measured.point[relay]}
    ).merge(alive, on="zone")
    cases = cases[~_out_itself(study, pairs, cases)].reset_index(drop=True)
    fault = _through(study, after)
    count = len(pairs.rows)
    of_zone = after.over_pairs(fault, np.minimum, count).take(cases["pair"].to_numpy(dtype=np.int64))
    in_neutral = ((cases["device"] >= 0) | (cases["point"] >= 0)).to_numpy()
    of_neutral = read_neutrals(study, pairs, after, cases[in_neutral], fault)
    smallest = _placed(of_zone, in_neutral, of_neutral)
    station, tag = study.records.tags("ground_relay")
    at = cases["relay"].to_numpy(dtype=np.int64)
    least = study.faults[study.faults["condition"] == "min"]["provisional"].groupby(study.topology.zone).any()
    return tags.iloc[cases["outage"]].assign(
        substation=station[at],
        ground_relay=tag[at],
        **smallest.columns("smallest_fault_a"),
        provisional=least.to_numpy(dtype=bool)[cases["zone"]],
    )


def _placed(whole: Bounded, where: Bools, part: Bounded) -> Bounded:
    """The whole with a part of it in place of its own."""
    ends = [end.copy() for end in (whole.value, whole.low, whole.high)]
    for end, of in zip(ends, (part.value, part.low, part.high), strict=True):
        end[where] = of
    return Bounded(*ends)


def _through(study: Study, after: BusesAfter) -> Currents:
    """The weakest fault that a relay must see at each bus, which is one through resistance; in A."""
    ohm = float(study.policy["ground_relay.fault_resistance"])
    shares = np.stack([share_of_loop(z1 + z2 + z0, ohm) for z1, z2, z0 in (each.z["min"] for each in after.after)])
    fault = after.line_to_ground["min"]
    return Currents(
        fault.value * 1e3 * shares[0],
        fault.low * 1e3 * np.nan_to_num(shares, nan=0.0).min(axis=0),
        fault.high * 1e3 * np.nan_to_num(shares, nan=1.0).max(axis=0),
        np.arange(fault.value.size, dtype=np.int64),
    )


def _out_itself(study: Study, pairs: Pairs, cases: pd.DataFrame) -> Bools:
    """Relays whose own neutral is open with the outage or anyway, or every machine of which is out."""
    points, links = study.neutrals.points, study.neutrals.links
    owner = asset_code(points["asset_kind"].to_numpy(dtype=object), points["row"].to_numpy(dtype=np.int64))
    out = pairs.outages["asset"].to_numpy(dtype=np.int64)[cases["outage"]]
    device, point = (cases[name].to_numpy(dtype=np.int64) for name in ("device", "point"))
    own = (device >= 0) & (asset_code("neutral_device", device) == out)
    own |= (point >= 0) & (owner[point] == out) if owner.size else False
    # The device that is out leaves the whole neutral open; one that carries nothing never closed it.
    group = pairs.outages["group"].to_numpy(dtype=np.int64)[cases["outage"]]
    treatment = points["treatment"].to_numpy(dtype=object)
    for place, group_of in ((device, study.neutrals.device_group), (point, points["group"].to_numpy(dtype=np.int64))):
        own |= (place >= 0) & (group >= 0) & (taken(group_of, place, -2) == group)
    own |= np.asarray(taken(np.isinf(study.neutrals.z_device), device, False), dtype=bool)
    own |= np.asarray(taken(np.isin(treatment.astype(str), CARRIES_NOTHING), point, False), dtype=bool)
    pieces = pd.DataFrame({"device": links["device"], "owner": owner[links["point"]]}).drop_duplicates()
    alone = pieces[~pieces["device"].duplicated(keep=False)].set_index("device")["owner"]
    return np.asarray(own | ((device >= 0) & (alone.reindex(device).to_numpy() == out)), dtype=bool)
