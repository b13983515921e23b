"""Ground-fault currents read at neutral devices, at neutral points, over zones and by relays, in both conditions."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.study.bus_faults import Solution
from groundcheck.study.duties import (
    Currents,
    Meters,
    at_own_bus,
    device_meters,
    meter_currents,
    over_zones,
    point_meters,
)
from groundcheck.study.neutrals import Neutrals
from groundcheck.study.reach import Measured
from groundcheck.study.zero_paths import ZeroSequence
from groundcheck.study.zones import Topology, zone_extreme

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Readings:
    """Largest currents in the maximum condition, smallest in the minimum condition, in A."""

    device_zone: Ints
    device_max: Currents
    point_max: Currents
    relay_largest_a: Floats
    relay_smallest_a: Floats


def read_currents(
    topology: Topology,
    neutrals: Neutrals,
    zero: ZeroSequence,
    solution: Solution,
    faults: pd.DataFrame,
    measured: Measured,
    bus_of_point: Ints,
    sources_of_zone: Ints,
) -> Readings:
    """
    Read every meter: the largest current over its whole zone, the smallest over what a relay there must see.

    A relay in the only grounded neutral of a zone must see faults in all of it. Where several neutrals share the fault
    current, those far from a relay are for the others: what it must see is a fault at its own bus.
    """
    zone_of_point = np.where(bus_of_point >= 0, topology.zone[bus_of_point], -1)
    bus_of_device = np.full(neutrals.device_group.size, -1, dtype=np.int64)
    first = neutrals.links.drop_duplicates("device")
    bus_of_device[first["device"]] = bus_of_point[first["point"]]
    zone_of_device = np.where(bus_of_device >= 0, topology.zone[bus_of_device], -1)
    devices, points = device_meters(neutrals, zero), point_meters(neutrals, zero)
    to_ground = {
        condition: faults.loc[faults["condition"] == condition, "line_to_ground_ka"].to_numpy(dtype=float)
        for condition in ("max", "min")
    }

    def largest(meters: Meters, zone: Ints) -> Currents:
        return meter_currents(meters, over_zones(zone, topology), topology, solution, to_ground["max"], "max")

    def smallest(meters: Meters, zone: Ints, bus: Ints) -> Floats:
        shared = np.asarray(taken(sources_of_zone, zone, 0), dtype=np.int64) > 1
        cases = pd.concat(
            [over_zones(np.where(shared, -1, zone), topology), at_own_bus(np.where(shared, bus, -1))],
            ignore_index=True,
        )
        return meter_currents(meters, cases, topology, solution, to_ground["min"], "min").smallest_a

    device_max, point_max = largest(devices, zone_of_device), largest(points, zone_of_point)
    return Readings(
        zone_of_device,
        device_max,
        point_max,
        _by_relay(
            measured,
            device_max.largest_a,
            point_max.largest_a,
            zone_extreme(topology, to_ground["max"] * 1e3, largest=True),
        ),
        _by_relay(
            measured,
            smallest(devices, zone_of_device, bus_of_device),
            smallest(points, zone_of_point, bus_of_point),
            zone_extreme(topology, to_ground["min"] * 1e3, largest=False),
        ),
    )


def taken(values: NDArray[np.generic], place: Ints, missing: float | bool = np.nan) -> NDArray[np.generic]:
    """Values at places, `missing` where a place is -1."""
    if values.size == 0:
        return np.full(place.shape, missing)
    return np.where(place >= 0, values[place], missing)


def _by_relay(measured: Measured, of_device: Floats, of_point: Floats, of_zone: Floats) -> Floats:
    """What a relay measures: its neutral device, else its neutral, else the total fault current of its zone."""
    at_neutral = np.where(measured.device >= 0, taken(of_device, measured.device), taken(of_point, measured.point))
    neutral = (measured.device >= 0) | (measured.point >= 0)
    return np.where(neutral, at_neutral, taken(of_zone, measured.zone)).astype(float)
