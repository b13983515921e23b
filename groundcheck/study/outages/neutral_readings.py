"""Currents in neutrals with an outage elsewhere: the smallest that a relay there must see."""

from collections.abc import Callable

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.study.bounded import Bounded
from groundcheck.study.context import Study
from groundcheck.study.currents.ceilings import device_ceilings, point_ceilings
from groundcheck.study.currents.meters import Meters, device_meters, point_meters
from groundcheck.study.currents.readings import Currents, Places, bounded_reading, same_neutral, taken
from groundcheck.study.networks.solved_networks import Networks
from groundcheck.study.outages.bus_quantities import BusesAfter
from groundcheck.study.outages.impedances import Updated
from groundcheck.study.outages.listed import asset_code
from groundcheck.study.outages.pairs import Pairs

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]


def read_neutrals(study: Study, pairs: Pairs, after: BusesAfter, readers: pd.DataFrame, fault: Currents) -> Bounded:
    """
    Read the neutral of each reader (device, point, pair, outage, zone, possible).

    fault : current at each row of `after`. As with all in service: in the only grounded neutral that is left a relay
    must see faults in all of the zone, where several are left those at its own bus.
    """
    readers = readers.reset_index(drop=True)
    if readers.empty:
        nothing = np.zeros(0)
        return Bounded(nothing, nothing, nothing)
    device, point = (readers[name].to_numpy(dtype=np.int64) for name in ("device", "point"))
    first = study.neutrals.links.drop_duplicates("device").set_index("device")["point"]
    of_device = first.reindex(device).fillna(-1).to_numpy(dtype=np.int64)
    bus = np.asarray(taken(study.bus_of_point, np.where(device >= 0, of_device, point), -1), dtype=np.int64)
    several = (readers["possible"] > 1).to_numpy()
    provisional = study.zones["provisional"].to_numpy(dtype=bool)[readers["zone"]]
    beside, split = (
        np.asarray(taken(marks, device, False), dtype=bool)
        for marks in same_neutral(study.corners, study.neutrals.device_group, study.policy["tolerance.resistance"])
    )
    places = Places(
        readers["zone"].to_numpy(dtype=np.int64), bus, _ceilings(study, readers), several, beside,
        (several & provisional) | split,
    )  # fmt: skip
    rows = pd.DataFrame({"pair": after.pair, "at_bus": after.bus, "bus": np.arange(after.bus.size)})
    cases = readers[["pair"]].assign(meter=np.arange(len(readers)), own=bus).merge(rows, on="pair")
    cases = cases[~several[cases["meter"]] | (cases["at_bus"] == cases["own"])][["meter", "bus"]]
    cases = cases.sort_values(["meter", "bus"], ignore_index=True)
    shares = [
        _shares(study, pairs, after, networks, each.zero["min"], readers, cases)
        for networks, each in zip((study.networks, *study.corners), after.after, strict=True)
    ]
    return bounded_reading(cases, shares, fault, places, float(study.policy["tolerance.impedance"]), False)


def _shares(
    study: Study,
    pairs: Pairs,
    after: BusesAfter,
    networks: Networks,
    zero: Updated,
    readers: pd.DataFrame,
    cases: pd.DataFrame,
) -> Floats:
    """Of each case, the part of the fault current that the neutral takes with the outage."""
    entries = pd.concat(
        [
            _entries(study, readers, side, meters(networks.neutrals, networks.zero_of["min"]))
            for side, meters in (("device", device_meters), ("point", point_meters))
        ]
    )
    out = pairs.outages["asset"].to_numpy(dtype=np.int64)[readers["outage"].to_numpy(dtype=np.int64)]
    entries = entries[entries["owner"].to_numpy(dtype=np.int64) != out[entries["meter"]]]
    reads = cases.rename_axis("case").reset_index().merge(entries, on="meter")
    row, case = reads["bus"].to_numpy(dtype=np.int64), reads["case"].to_numpy(dtype=np.int64)
    node = study.topology.node[after.bus[row]]
    ohm = zero.between(after.outage[row], reads["node"].to_numpy(dtype=np.int64), node)
    ohm = np.where(after.nothing[row], 0, ohm)  # no current comes from a bus that nothing ties to ground
    total, read = np.zeros(len(cases), dtype=complex), np.zeros(len(cases), dtype=bool)
    np.add.at(total, case, reads["y"].to_numpy(dtype=complex) * ohm)
    read[case] = True
    return np.where(read, np.abs(total), np.nan)


def _entries(study: Study, readers: pd.DataFrame, side: str, meters: Meters) -> pd.DataFrame:
    """Probes of the readers that measure a device, or a neutral: meter, node, y, and the asset whose winding it is."""
    points = study.neutrals.points
    owner = asset_code(points["asset_kind"].to_numpy(dtype=object), points["row"].to_numpy(dtype=np.int64))
    probes = pd.DataFrame(
        {"measured": meters.meter, "node": meters.node, "y": meters.y, "owner": taken(owner, meters.point, -1)}
    )
    mine = readers[(readers[side] >= 0) & ((readers["device"] < 0) | (side == "device"))]
    wanted = pd.DataFrame({"meter": mine.index, "measured": mine[side].to_numpy(dtype=np.int64)})
    return wanted.merge(probes, on="measured").drop(columns="measured")


def _ceilings(study: Study, readers: pd.DataFrame) -> Floats:
    """The most that each neutral passes whatever stands behind it."""
    volts = study.zones["nominal_kv"].to_numpy(dtype=float)
    kv: Callable[[Ints], Floats] = lambda zone: np.asarray(taken(volts, zone), dtype=float)  # noqa: E731
    of_device = device_ceilings(kv(study.readings.device_zone), study.corners, study.policy)
    of_point = point_ceilings(kv(study.zone_of_point), study.neutrals, of_device, study.corners, study.policy)
    device, point = (readers[name].to_numpy(dtype=np.int64) for name in ("device", "point"))
    return np.where(device >= 0, taken(of_device, device, np.inf), taken(of_point, point, np.inf)).astype(float)
