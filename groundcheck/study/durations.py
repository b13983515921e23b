"""For how long each neutral and each zone bears a ground fault."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.policy import Policy
from groundcheck.study.capacitance import first_bus
from groundcheck.study.clearing import (
    bus_clearing,
    default_clearing,
    longest,
    relay_time_s,
    trips,
    zone_clearing,
    zone_continuity,
)
from groundcheck.study.ledger import Ledger
from groundcheck.study.neutrals import Neutrals
from groundcheck.study.reach import Measured, sees_voltage
from groundcheck.study.readings import Readings, taken
from groundcheck.study.records import Records
from groundcheck.study.zones import Topology

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
RUNS_ON_BY_CUSTOM = ("ungrounded", "resonant", "high_resistance")


@dataclass(frozen=True)
class Durations:
    """Seconds; infinite where the zone runs on, NaN where nothing tells. `assumed` marks zones on the policy's time."""

    zone_s: Floats
    device_s: Floats
    point_s: Floats
    continuity: Floats
    assumed: NDArray[np.bool_]


def find_durations(
    records: Records,
    topology: Topology,
    neutrals: Neutrals,
    measured: Measured,
    readings: Readings,
    zone_of_point: Ints,
    grounding_class: NDArray[np.object_],
    policy: Policy,
    ledger: Ledger,
) -> Durations:
    """Relay time plus breaker time of the relays at a neutral; else the bus's clearing time; else the policy's."""
    counts = trips(records) & ~sees_voltage(records, policy)
    relay_s = np.where(counts, relay_time_s(records, readings.relay_largest_a), np.nan)
    relay_s = np.where(np.isinf(relay_s), np.nan, relay_s)  # a relay that never picks up clears nothing
    own_device = _longest_at(measured.device, relay_s, readings.device_zone.size)
    own_point = _longest_at(measured.point, relay_s, zone_of_point.size)
    # A relay that measures a transformer's neutral also times the device in it, and the reverse.
    device, point = neutrals.links["device"].to_numpy(), neutrals.links["point"].to_numpy()
    of_device = _either(own_device, _longest_at(device, taken(own_point, point), own_device.size))
    of_point = _either(own_point, _longest_at(point, taken(own_device, device), own_point.size))

    continuity = zone_continuity(records, topology)
    by_neutrals = _longest_at(zone_of_point, of_point, topology.zone_count)
    zone_s = zone_clearing(bus_clearing(records, topology), by_neutrals, continuity)
    custom = np.isin(grounding_class.astype(str), RUNS_ON_BY_CUSTOM) | np.array(
        [c is None for c in grounding_class], dtype=bool
    )
    fallback = default_clearing(policy)
    assumed = np.isnan(zone_s) & ((continuity == 0) | ~custom) & ~np.isnan(fallback)
    zone_s = np.where(assumed, fallback, zone_s)
    named = np.zeros(topology.zone.size, dtype=bool)
    named[first_bus(topology)[assumed]] = True
    ledger.assume(
        "bus", named, "ground_fault_clearing_time", f"{fallback:g} s", "neither relay nor clearing time on record", {}
    )
    return Durations(
        zone_s,
        _bounded(of_device, readings.device_zone, zone_s, continuity),
        _bounded(of_point, zone_of_point, zone_s, continuity),
        continuity,
        assumed,
    )


def _bounded(own: Floats, zone: Ints, zone_s: Floats, continuity: Floats) -> Floats:
    """Infinite where the zone runs on; else the own relays' time, else the zone's."""
    return np.where(taken(continuity, zone) == 1, np.inf, _either(own, taken(zone_s, zone)))


def _either(first: Floats, second: NDArray[np.generic]) -> Floats:
    return np.where(np.isnan(first), second, first).astype(float)


def _longest_at(place: Ints, seconds: NDArray[np.generic], count: int) -> Floats:
    at = place >= 0
    return longest(place[at], np.asarray(seconds, dtype=float)[at], count)


def mark_assumed(zones: pd.DataFrame, durations: Durations) -> pd.DataFrame:
    """Zones whose clearing time is the policy's are provisional."""
    return zones.assign(provisional=zones["provisional"].to_numpy(dtype=bool) | durations.assumed)
