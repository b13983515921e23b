"""Where neutral currents are read: at each device and each neutral point, for faults at the buses asked about."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.study.matching import first_of_each, matches
from groundcheck.study.networks.bus_faults import Solution
from groundcheck.study.networks.neutrals import Neutrals
from groundcheck.study.networks.sequence_network import GROUND
from groundcheck.study.networks.zero_paths import FLOATING, ZeroSequence
from groundcheck.study.networks.zones import Topology

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Complexes = NDArray[np.complex128]


@dataclass(frozen=True)
class Meters:
    """
    Where a neutral current is read: meter number, node, y; current = 3 x sum of y x zero-sequence voltage.

    count : number of meters. point : neutral point whose winding each probe belongs to; -1: a device's own impedance.
    """

    meter: Ints
    node: Ints
    y: Complexes
    count: int
    point: Ints


@dataclass(frozen=True)
class Extremes:
    """Of each meter: largest and smallest current over the cases it is read in, in A, and the bus of the largest."""

    largest_a: Floats
    smallest_a: Floats
    worst_bus: Ints


def device_meters(neutrals: Neutrals, zero: ZeroSequence) -> Meters:
    """One meter a neutral device: its own voltage over its impedance, or what comes down to a solid link."""
    group, z = neutrals.device_group, neutrals.z_device
    count = group.size
    node = np.where(group >= 0, zero.neutral_node[group] if zero.neutral_node.size else FLOATING, FLOATING)
    own = np.flatnonzero((node >= 0) & np.isfinite(z) & (z != 0))
    point, at, y, _ = gathered_probes(zero)
    device, of_link = (neutrals.links[name].to_numpy(dtype=np.int64) for name in ("device", "point"))
    solid = np.flatnonzero((node[device] == GROUND) & (z[device] == 0))
    solid = solid[first_of_each(of_link[solid])]  # of two links the first is taken to carry it all
    # What stands beside a solid link carries nothing.
    beside = np.flatnonzero((node[device] == GROUND) & (np.nan_to_num(z[device], nan=1.0) != 0))
    link = np.concatenate([solid, beside])
    pair, read = matches(of_link[link], point)
    part = np.where(pair < solid.size, 1.0, 0.0)
    unknown = np.flatnonzero((node >= 0) & np.isnan(z))
    return Meters(
        np.concatenate([own, unknown, device[link[pair]]]),
        np.concatenate([node[own], node[unknown], at[read]]),
        np.concatenate([1 / (3 * z[own]), np.full(unknown.size, np.nan + 0j), part * y[read]]),
        count,
        np.concatenate([np.full(own.size + unknown.size, -1), point[read]]),
    )


def point_meters(neutrals: Neutrals, zero: ZeroSequence) -> Meters:
    """One meter a neutral point."""
    point, node, y, _ = gathered_probes(zero)
    return Meters(point, node, y, len(neutrals.points), point)


def gathered_probes(zero: ZeroSequence) -> tuple[Ints, Ints, Complexes, Ints]:
    """All probes of the network: point, node, y, terminal."""
    none = np.zeros(0, dtype=np.int64)
    if not zero.probes:
        return none, none, none.astype(complex), none
    point, node, y, terminal = (np.concatenate(parts) for parts in zip(*zero.probes, strict=True))
    return point, node, y, terminal


def over_zones(zone: Ints, topology: Topology) -> pd.DataFrame:
    """Cases: each meter, given by its zone, with a fault at every bus of it."""
    meter, bus = matches(zone, topology.zone)
    return pd.DataFrame({"meter": meter, "bus": bus})


def at_own_bus(bus: Ints) -> pd.DataFrame:
    """Cases: each meter with a fault at the bus it stands at."""
    stands = bus >= 0
    return pd.DataFrame({"meter": np.flatnonzero(stands), "bus": bus[stands]})


def shares(meters: Meters, cases: pd.DataFrame, topology: Topology, solution: Solution, condition: str) -> Floats:
    """Of each case (meter, bus): the part of the current of a line-to-ground fault there that the meter reads."""
    return np.abs(phasors(meters, cases, topology, solution, condition))


def phasors(meters: Meters, cases: pd.DataFrame, topology: Topology, solution: Solution, condition: str) -> Complexes:
    """The same with its angle against the fault current; the parts of all ways to the ground add up to one."""
    case, probe = matches(cases["meter"].to_numpy(dtype=np.int64), meters.meter)
    bus = cases["bus"].to_numpy(dtype=np.int64)[case]
    ohm = solution.zero[condition].column_values(meters.node[probe], topology.node[bus])
    ohm = np.where(solution.no_path[bus], 0, ohm)  # no current comes from a bus that nothing ties to ground
    # 3 I0 in the neutral = 3 x y x Z0 x I0 of the fault, and I0 = line-to-ground current / 3.
    total = np.zeros(len(cases), dtype=complex)
    np.add.at(total, case, meters.y[probe] * ohm)
    read = np.zeros(len(cases), dtype=bool)
    read[case] = True
    return np.where(read, total, np.nan)


def extremes(meter: Ints, bus: Ints, amperes: Floats, count: int) -> Extremes:
    """Largest and smallest over the cases of each meter; NaN where any of them is, or there is none."""
    order = np.lexsort((bus, -amperes, meter))  # NaN comes last
    meter, bus, amperes = meter[order], bus[order], amperes[order]
    first = np.flatnonzero(np.diff(meter, prepend=-1))
    last = np.append(first[1:], meter.size)[: first.size] - 1
    largest, smallest, worst = np.full(count, np.nan), np.full(count, np.nan), np.full(count, -1, dtype=np.int64)
    read = meter[first]
    largest[read], smallest[read], worst[read] = amperes[first], amperes[last], bus[first]
    largest[np.isnan(smallest)] = np.nan
    return Extremes(largest, smallest, worst)
