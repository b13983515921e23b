"""What each neutral device and grounding transformer carries, for faults anywhere in its zone."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.engineering import let_through_ceiling_a
from groundcheck.policy import Policy
from groundcheck.study.bus_faults import Solution
from groundcheck.study.neutrals import Neutrals
from groundcheck.study.records import Records
from groundcheck.study.zero_paths import FLOATING, ZeroSequence
from groundcheck.study.zones import Topology

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Complexes = NDArray[np.complex128]


@dataclass(frozen=True)
class Meters:
    """
    Where a neutral current is read: meter number, node, y; current = 3 x sum of y x zero-sequence voltage.

    count : number of meters.
    """

    meter: Ints
    node: Ints
    y: Complexes
    count: int


@dataclass(frozen=True)
class Currents:
    """Of each meter: largest and smallest current over the buses of its zone in A, and the bus of the largest."""

    largest_a: Floats
    smallest_a: Floats
    worst_bus: Ints


def device_meters(neutrals: Neutrals, zero: ZeroSequence) -> Meters:
    """One meter a neutral device: its own voltage over its impedance, or what comes down to a solid link."""
    group, z = neutrals.device_group, neutrals.z_device
    count = group.size
    node = np.where(group >= 0, zero.neutral_node[group] if zero.neutral_node.size else FLOATING, FLOATING)
    own = np.flatnonzero((node >= 0) & np.isfinite(z) & (z != 0))
    point, at, y = gathered_probes(zero)
    solid = neutrals.links[(z[neutrals.links["device"]] == 0) & (node[neutrals.links["device"]] == -1)]
    first = solid.drop_duplicates("point")  # two links in one neutral: the first is taken to carry all of it
    pairs = first.merge(pd.DataFrame({"point": point, "at": at, "index": np.arange(point.size)}), on="point")
    unknown = np.flatnonzero((node >= 0) & np.isnan(z))
    return Meters(
        np.concatenate([own, unknown, pairs["device"].to_numpy(dtype=np.int64)]),
        np.concatenate([node[own], node[unknown], pairs["at"].to_numpy(dtype=np.int64)]),
        np.concatenate(
            [1 / (3 * z[own]), np.full(unknown.size, np.nan + 0j), y[pairs["index"].to_numpy(dtype=np.int64)]]
        ),
        count,
    )


def point_meters(neutrals: Neutrals, zero: ZeroSequence) -> Meters:
    """One meter a neutral point."""
    point, node, y = gathered_probes(zero)
    return Meters(point, node, y, len(neutrals.points))


def gathered_probes(zero: ZeroSequence) -> tuple[Ints, Ints, Complexes]:
    """All probes of the network: point, node, y."""
    if not zero.probes:
        return np.zeros(0, dtype=np.int64), np.zeros(0, dtype=np.int64), np.zeros(0, dtype=complex)
    point, node, y = (np.concatenate(parts) for parts in zip(*zero.probes, strict=True))
    return point, node, y


def over_zones(zone: Ints, topology: Topology) -> pd.DataFrame:
    """Cases: each meter, given by its zone, with a fault at every bus of it."""
    buses = pd.DataFrame({"zone": topology.zone, "bus": np.arange(topology.zone.size)})
    return pd.DataFrame({"meter": np.arange(zone.size), "zone": zone}).merge(buses, on="zone")[["meter", "bus"]]


def at_own_bus(bus: Ints) -> pd.DataFrame:
    """Cases: each meter with a fault at the bus it stands at."""
    stands = bus >= 0
    return pd.DataFrame({"meter": np.flatnonzero(stands), "bus": bus[stands]})


def meter_currents(
    meters: Meters,
    cases: pd.DataFrame,
    topology: Topology,
    solution: Solution,
    line_to_ground_ka: Floats,
    condition: str,
) -> Currents:
    """Read each meter for a line-to-ground fault at each bus that `cases` (meter, bus) pairs it with."""
    cases = cases.reset_index(drop=True)
    cases["case"] = np.arange(len(cases))
    reads = cases.merge(
        pd.DataFrame({"meter": meters.meter, "node": meters.node, "probe": np.arange(meters.meter.size)}), on="meter"
    )
    bus = reads["bus"].to_numpy(dtype=np.int64)
    ohm = solution.zero[condition].column_values(reads["node"].to_numpy(dtype=np.int64), topology.node[bus])
    part = meters.y[reads["probe"].to_numpy(dtype=np.int64)] * ohm
    total = np.zeros(len(cases), dtype=complex)
    np.add.at(total, reads["case"].to_numpy(dtype=np.int64), part)
    read = np.zeros(len(cases), dtype=bool)
    read[reads["case"].to_numpy(dtype=np.int64)] = True
    fault_bus = cases["bus"].to_numpy(dtype=np.int64)
    # 3 I0 in the neutral = 3 x y x Z0 x I0 of the fault, and I0 = line-to-ground current / 3.
    amperes = np.where(read, np.abs(total) * line_to_ground_ka[fault_bus] * 1e3, np.nan)
    return _extremes(cases["meter"].to_numpy(dtype=np.int64), fault_bus, amperes, meters.count)


def _extremes(meter: Ints, bus: Ints, amperes: Floats, count: int) -> Currents:
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
    return Currents(largest, smallest, worst)


def ceiling_a(kv: Floats, z_device: Complexes, policy: Policy) -> Floats:
    """The most a device passes whatever stands behind it: V_LN/|Z| and the displacement; NaN for a solid link."""
    usable = np.isfinite(z_device) & (z_device != 0)
    found = let_through_ceiling_a(kv, np.where(usable, z_device, 1.0), policy["study.displacement_factor"])
    return np.where(usable, found, np.where(np.isinf(z_device), 0.0, np.nan))


def duty_table(
    records: Records,
    neutrals: Neutrals,
    zone: Ints,
    currents: Currents,
    duration_s: Floats,
    zone_name: NDArray[np.object_],
    zone_kv: Floats,
    charging_a: Floats,
    provisional: NDArray[np.bool_],
    policy: Policy,
) -> pd.DataFrame:
    """The rows of study.neutral_duty."""
    station, tag = records.tags("neutral_device")
    z = neutrals.z_device
    at = zone >= 0
    kv = np.where(at, zone_kv[zone] if zone_kv.size else np.nan, np.nan)
    current = np.where(np.isinf(z), 0.0, currents.largest_a)
    known = ~np.isnan(current)
    bus = np.where(known, currents.worst_bus, -1)
    tags = records.bus["bus"].to_numpy(dtype=object)
    stations = records.bus["substation"].to_numpy(dtype=object)
    finite = np.isfinite(z)
    return pd.DataFrame(
        {
            "substation": station,
            "neutral_device": tag,
            "current_a": current,
            "current_a_low": np.where(known, current, 0.0),
            "current_a_high": np.where(known, current, ceiling_a(kv, z, policy)),
            "voltage_kv": np.where(np.isinf(z), kv / np.sqrt(3), current * np.abs(np.where(finite, z, 0)) / 1e3),
            "duration_s": duration_s,
            "fault_substation": [stations[b] if b >= 0 else None for b in bus],
            "fault_bus": [tags[b] if b >= 0 else None for b in bus],
            "zone": [zone_name[k] if k >= 0 else None for k in zone],
            "zone_kv": kv,
            "resistance_ohm": np.where(finite, z.real, np.nan),
            "reactance_ohm": np.where(finite, z.imag, np.nan),
            "charging_a": np.where(at, charging_a[zone] if charging_a.size else np.nan, np.nan),
            "provisional": provisional,
        }
    )


def grounding_transformer_table(
    records: Records,
    neutrals: Neutrals,
    currents: Currents,
    point_s: Floats,
    zone_of_point: Ints,
    zone_name: NDArray[np.object_],
    zone_kv: Floats,
    zone_provisional: NDArray[np.bool_],
    policy: Policy,
) -> pd.DataFrame:
    """The rows of study.grounding_transformer_duty."""
    mine = (neutrals.points["asset_kind"] == "grounding_transformer").to_numpy()
    point = np.flatnonzero(mine)
    row = neutrals.points.loc[mine, "row"].to_numpy(dtype=np.int64)
    station, tag = records.tags("grounding_transformer")
    zone = zone_of_point[point]
    kv = np.where(zone >= 0, zone_kv[zone], np.nan)
    z0 = records.numbers("grounding_transformer", "z0")[row]
    current = currents.largest_a[point]
    known = ~np.isnan(current)
    return pd.DataFrame(
        {
            "substation": station[row],
            "grounding_transformer": tag[row],
            "current_a": current,
            "current_a_low": np.where(known, current, 0.0),
            "current_a_high": np.where(known, current, ceiling_a(kv, z0 / 3 + 0j, policy)),
            "duration_s": point_s[point],
            "zone": [zone_name[k] if k >= 0 else None for k in zone],
            "provisional": np.where(zone >= 0, zone_provisional[zone], False).astype(bool),
        }
    )
