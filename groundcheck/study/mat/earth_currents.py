"""What of each ground fault passes between a station's mat and the earth or its shield wires."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.study.bounded import Bounded
from groundcheck.study.context import Study
from groundcheck.study.currents.meters import over_zones, phasors, point_meters
from groundcheck.study.faults.bus_currents import bus_currents
from groundcheck.study.networks.solved_networks import Networks

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
SHARE_OF_NONE = 1e-9  # of a fault current: what rounding leaves where nothing flows


@dataclass(frozen=True)
class EarthCurrents:
    """
    Pairs of a station and a faulted bus, with the current through the station's mat.

    station : its name; home : whether the bus is its own.
    current_a : before a part of it takes the shield wires.
    """

    station: NDArray[np.object_]
    bus: Ints
    home: NDArray[np.bool_]
    current_a: Bounded


def earth_currents(study: Study) -> EarthCurrents:
    """
    Ground-fault current less what returns through neutrals on the same mat; for a fault at another station of the
    zone, what the neutrals on this mat draw from the earth.
    """
    stations = study.records.bus["substation"].to_numpy(dtype=object)
    cases, pairs, pair_of_case = _pairs(study, stations)
    home = np.asarray(pairs["substation"].to_numpy(dtype=object) == stations[pairs["bus"]], dtype=bool)
    bus = pairs["bus"].to_numpy(dtype=np.int64)
    faults = study.faults[study.faults["condition"] == "max"]
    fault = bus_currents(study).take(bus)

    def share(networks: Networks) -> Floats:
        """Part of the fault current in the mat, from the phasors of the neutrals on it."""
        meters = point_meters(networks.neutrals, networks.zero)
        neutral = phasors(meters, cases, study.topology, networks.solution, "max")
        # A point without a probe is a winding that carries none.
        silent = ~np.isin(cases["meter"].to_numpy(dtype=np.int64), meters.meter)
        local = np.zeros(len(pairs), dtype=complex)
        np.add.at(local, pair_of_case, np.where(silent, 0.0, neutral))
        return np.abs(np.where(home, 1 - local, local))

    nominal = share(study.networks)
    value = np.where((fault.value == 0) | (nominal < SHARE_OF_NONE), 0.0, nominal * fault.value) * 1e3
    low, high = _ends([share(corner) for corner in study.corners], nominal, fault, faults, bus, study)
    return EarthCurrents(
        pairs["substation"].to_numpy(dtype=object), bus, home,
        Bounded(value, np.fmin(low, value), np.fmax(high, value)),
    )  # fmt: skip


def _ends(
    corners: list[Floats], nominal: Floats, fault: Bounded, faults: pd.DataFrame, bus: Ints, study: Study
) -> tuple[Floats, Floats]:
    """
    Bounds by the corners' shares of the bounds of the fault current.

    One way to the ground may be strong where the others are weak, which no corner shows: the share is widened by the
    tolerance, and is any from none to all where a value behind it is not on record.
    """
    tolerance = float(study.policy["tolerance.impedance"])
    wider = (1 + tolerance) / (1 - tolerance)
    stack = np.stack([nominal, *corners])
    assumed = faults["provisional"].to_numpy(dtype=bool)[bus]
    unknown = np.isnan(stack).any(axis=0)
    # A share that no corner moves is settled by topology: all through one neutral, or none.
    settled = ~unknown & (np.ptp(stack, axis=0) < SHARE_OF_NONE)
    least = np.where(settled, nominal, np.where(unknown | assumed, 0.0, stack.min(axis=0) / wider))
    most = np.where(settled, nominal, np.where(unknown | assumed, 1.0, np.fmin(stack.max(axis=0) * wider, 1.0)))
    with np.errstate(invalid="ignore"):
        low, high = least * fault.low * 1e3, most * fault.high * 1e3
    return np.where(least < SHARE_OF_NONE, 0.0, np.nan_to_num(low)), np.where(most < SHARE_OF_NONE, 0.0, high)


def _pairs(study: Study, stations: NDArray[np.object_]) -> tuple[pd.DataFrame, pd.DataFrame, Ints]:
    """Cases of a neutral point and a bus of its zone; pairs of a station and a bus; the pair of each case."""
    points = study.neutrals.points
    place = np.full(len(points), None, dtype=object)
    for kind in ("transformer", "generator", "grounding_transformer"):
        mine = (points["asset_kind"] == kind).to_numpy(dtype=bool)
        place[mine] = study.records.tags(kind)[0][points.loc[mine, "row"].to_numpy(dtype=np.int64)]
    cases = over_zones(study.zone_of_point, study.topology)
    cases = cases.assign(substation=place[cases["meter"].to_numpy(dtype=np.int64)])
    own = pd.DataFrame({"substation": stations, "bus": np.arange(stations.size)})
    pairs = pd.concat([own, cases[["substation", "bus"]]]).drop_duplicates().sort_values(["substation", "bus"])
    pairs = pairs.reset_index(drop=True)
    index = pd.MultiIndex.from_frame(pairs)
    return cases, pairs, index.get_indexer(pd.MultiIndex.from_frame(cases[["substation", "bus"]])).astype(np.int64)
