"""Ground-fault currents read at neutral devices, at neutral points, over zones and by relays, in both conditions."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.study.bus_faults import Solution
from groundcheck.study.duties import Currents, Meters, device_meters, meter_currents, point_meters
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
    zone_of_point: Ints,
) -> Readings:
    """Read every meter once for each condition."""
    points = np.arange(len(neutrals.points), dtype=np.int64)
    devices = device_meters(topology, neutrals, zero, zone_of_point)
    at_points = point_meters(neutrals, zero, zone_of_point, points)
    to_ground = {
        condition: faults.loc[faults["condition"] == condition, "line_to_ground_ka"].to_numpy(dtype=float)
        for condition in ("max", "min")
    }

    def read(meters: Meters, condition: str) -> Currents:
        return meter_currents(meters, topology, solution, to_ground[condition], condition)

    device_max, point_max = read(devices, "max"), read(at_points, "max")
    largest = _by_relay(
        measured,
        device_max.largest_a,
        point_max.largest_a,
        zone_extreme(topology, to_ground["max"] * 1e3, largest=True),
    )
    smallest = _by_relay(
        measured,
        read(devices, "min").smallest_a,
        read(at_points, "min").smallest_a,
        zone_extreme(topology, to_ground["min"] * 1e3, largest=False),
    )
    return Readings(devices.zone, device_max, point_max, largest, smallest)


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
