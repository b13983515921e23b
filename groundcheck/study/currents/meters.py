"""Where neutral currents are read: at each device and each neutral point, for faults at the buses asked about."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

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
    links = neutrals.links[node[neutrals.links["device"]] == GROUND]
    solid = links[z[links["device"]] == 0].drop_duplicates("point")  # of two links the first is taken to carry it all
    beside = links[np.nan_to_num(z[links["device"]], nan=1.0) != 0]  # what stands beside a solid link carries nothing
    reads = pd.DataFrame({"point": point, "at": at, "index": np.arange(point.size)})
    pairs = pd.concat([solid.assign(part=1.0), beside.assign(part=0.0)]).merge(reads, on="point")
    part = pairs["part"].to_numpy(dtype=float)
    unknown = np.flatnonzero((node >= 0) & np.isnan(z))
    return Meters(
        np.concatenate([own, unknown, pairs["device"].to_numpy(dtype=np.int64)]),
        np.concatenate([node[own], node[unknown], pairs["at"].to_numpy(dtype=np.int64)]),
        np.concatenate(
            [1 / (3 * z[own]), np.full(unknown.size, np.nan + 0j), part * y[pairs["index"].to_numpy(dtype=np.int64)]]
        ),
        count,
        np.concatenate([np.full(own.size + unknown.size, -1), pairs["point"].to_numpy(dtype=np.int64)]),
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
    buses = pd.DataFrame({"zone": topology.zone, "bus": np.arange(topology.zone.size)})
    return pd.DataFrame({"meter": np.arange(zone.size), "zone": zone}).merge(buses, on="zone")[["meter", "bus"]]


def at_own_bus(bus: Ints) -> pd.DataFrame:
    """Cases: each meter with a fault at the bus it stands at."""
    stands = bus >= 0
    return pd.DataFrame({"meter": np.flatnonzero(stands), "bus": bus[stands]})


def shares(meters: Meters, cases: pd.DataFrame, topology: Topology, solution: Solution, condition: str) -> Floats:
    """Of each case (meter, bus): the part of the current of a line-to-ground fault there that the meter reads."""
    return np.abs(phasors(meters, cases, topology, solution, condition))


def phasors(meters: Meters, cases: pd.DataFrame, topology: Topology, solution: Solution, condition: str) -> Complexes:
    """The same with its angle against the fault current; the parts of all ways to the ground add up to one."""
    reads = cases.assign(case=np.arange(len(cases))).merge(
        pd.DataFrame({"meter": meters.meter, "node": meters.node, "probe": np.arange(meters.meter.size)}), on="meter"
    )
    bus, case = reads["bus"].to_numpy(dtype=np.int64), reads["case"].to_numpy(dtype=np.int64)
    ohm = solution.zero[condition].column_values(reads["node"].to_numpy(dtype=np.int64), topology.node[bus])
    ohm = np.where(solution.no_path[bus], 0, ohm)  # no current comes from a bus that nothing ties to ground
    # 3 I0 in the neutral = 3 x y x Z0 x I0 of the fault, and I0 = line-to-ground current / 3.
    total = np.zeros(len(cases), dtype=complex)
    np.add.at(total, case, meters.y[reads["probe"].to_numpy(dtype=np.int64)] * ohm)
    read = np.zeros(len(cases), dtype=bool)
    read[case] = True
    return np.where(read, total, np.nan)


def extremes(meter: Ints, bus: Ints, amperes: Floats, count: int) -> Extremes:
    """Largest and smallest over the cases of each meter; NaN where any of them is, or there is none."""
    frame = pd.DataFrame({"meter": meter, "bus": bus, "amperes": amperes})
    gaps = frame[frame["amperes"].isna()]["meter"].unique()
    ordered = frame.sort_values(["meter", "amperes", "bus"], ascending=[True, False, True])
    top = ordered.drop_duplicates("meter").set_index("meter")
    bottom = ordered.drop_duplicates("meter", keep="last").set_index("meter")
    largest = top["amperes"].reindex(range(count)).to_numpy(dtype=float, copy=True)
    smallest = bottom["amperes"].reindex(range(count)).to_numpy(dtype=float, copy=True)
    largest[gaps] = np.nan
    smallest[gaps] = np.nan
    worst = top["bus"].reindex(range(count)).fillna(-1).to_numpy(dtype=np.int64)
    return Extremes(largest, smallest, worst)
