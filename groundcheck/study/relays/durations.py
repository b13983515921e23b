"""For how long each neutral and each zone bears a ground fault."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.policy import Policy
from groundcheck.study.currents.reach import Measured
from groundcheck.study.currents.readings import Readings, taken
from groundcheck.study.ledger import Ledger
from groundcheck.study.networks.capacitance import first_bus
from groundcheck.study.networks.neutrals import Neutrals
from groundcheck.study.networks.zones import Topology
from groundcheck.study.records import Records
from groundcheck.study.relays.clearing import (
    bus_clearing,
    buses_tell,
    default_clearing,
    zone_clearing,
    zone_clearing_bounds,
    zone_continuity,
)
from groundcheck.study.relays.duration_bounds import Ends
from groundcheck.study.relays.relay_settings import read_settings
from groundcheck.study.relays.relay_times import RelayTimes, point_stations, seen_at_neutrals, watched_places
from groundcheck.study.typical import Typical

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
RUNS_ON_BY_CUSTOM = ("ungrounded", "resonant", "high_resistance")


@dataclass(frozen=True)
class Durations:
    """
    Seconds; infinite where the zone runs on, NaN where nothing tells.

    zone_s : longest in each zone, which is where its relays see least. device_s, point_s : for the largest current of
        a neutral device or neutral point, the one that its duty is stated for.
    ..._low, ..._high : ends over what is not on record and over the tolerance of settings; a typical time is none.
    assumed : zones on the policy's time, or on one that stands in for a time not fully on record.
    current_asked : zones with a relay whose time waits for the current that it sees.
    """

    zone_s: Floats
    zone_s_low: Floats
    zone_s_high: Floats
    device_s: Floats
    device_s_low: Floats
    device_s_high: Floats
    point_s: Floats
    point_s_low: Floats
    point_s_high: Floats
    continuity: Floats
    assumed: Bools
    current_asked: Bools


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
    """
    Relay time plus breaker time of the relays at a neutral; else the bus's clearing time; else the policy's.

    A zone goes by its buses' times; by its relays only where a bus has none and the policy admits that they stand in.
    A time that the record leaves open is not known; where the policy admits it, the next in that order stands in,
    within the bounds.
    """
    settings = read_settings(records, policy, Typical(ledger, policy))
    seen = seen_at_neutrals(records, neutrals, measured, readings, policy)
    at_device, at_point, at_zone = watched_places(
        neutrals, measured, readings.device_zone.size, zone_of_point, topology
    )
    continuity = zone_continuity(records, topology)
    relays = RelayTimes(records, topology, settings, policy)
    admitted = policy.admits("clearing_time")

    on_record, all_tell = bus_clearing(records, topology), buses_tell(records, topology)
    smallest = relays.deciding(seen.smallest, seen.smallest_low, seen.smallest_high)
    largest = relays.deciding(seen.largest, seen.largest_low, seen.largest_high)
    by_relays = relays.longest(at_zone, smallest)
    doubtful = relays.doubtful_zones()
    relays_open = relays.open(at_zone, smallest) | doubtful
    anything = Ends(np.zeros(topology.zone_count), np.full(topology.zone_count, np.inf))
    ends = relays.ends(at_zone, seen.smallest_low, seen.smallest_high, doubtful, anything)
    zone_ends = zone_clearing_bounds(on_record, all_tell, ends if admitted else anything, continuity)
    zone_s = zone_clearing(on_record, by_relays, continuity)
    zone_s = np.where(all_tell | (continuity == 1) | admitted, zone_s, np.nan)
    typical = np.zeros(topology.zone_count, dtype=bool)
    typical[at_zone.place[settings.assumed[at_zone.relay] & relays.counts[at_zone.relay]]] = True
    zone_s, assumed = _default_times(topology, zone_s, zone_ends, continuity, grounding_class, policy, ledger)
    assumed = assumed | ((typical | relays_open) & np.isnan(on_record) & ~np.isnan(zone_s) & (continuity != 1))

    parts: list[tuple[Floats, Floats, Floats]] = []
    for at, zone, station in (
        (at_device, readings.device_zone, records.tags("neutral_device")[0]),
        (at_point, zone_of_point, point_stations(records, neutrals)),
    ):
        own = relays.longest(at, largest)
        otherwise = Ends(
            np.asarray(taken(zone_ends.low, zone, 0.0), dtype=float),
            np.asarray(taken(zone_ends.high, zone, np.inf), dtype=float),
        )
        near = relays.doubtful(station)
        own_ends = relays.ends(at, seen.largest_low, seen.largest_high, near, otherwise)
        runs_on = taken(continuity, zone) == 1
        left_open = (relays.open(at, largest) | near) & ~runs_on
        either = np.where(np.isnan(own), taken(zone_s, zone), own).astype(float)
        either = np.where(left_open & (not admitted), np.nan, np.clip(either, own_ends.low, own_ends.high))
        low, high = (np.where(runs_on, np.inf, end) for end in (own_ends.low, own_ends.high))
        parts.append((np.where(runs_on, np.inf, either), low, high))
        assumed[zone[left_open & (zone >= 0) & ~np.isnan(either)]] = True
    waits = np.zeros(topology.zone_count, dtype=bool)
    waits[measured.zone[(relays.blind(smallest) | relays.blind(largest)) & (measured.zone >= 0)]] = True
    return Durations(zone_s, zone_ends.low, zone_ends.high, *parts[0], *parts[1], continuity, assumed, waits)


def _default_times(
    topology: Topology,
    zone_s: Floats,
    ends: Ends,
    continuity: Floats,
    grounding_class: NDArray[np.object_],
    policy: Policy,
    ledger: Ledger,
) -> tuple[Floats, Bools]:
    """The policy's time where nothing tells, unless zones of that class run on by custom; and where it was taken."""
    custom = np.isin(grounding_class.astype(str), RUNS_ON_BY_CUSTOM) | np.array(
        [c is None for c in grounding_class], dtype=bool
    )
    fallback = default_clearing(policy)
    assumed = np.isnan(zone_s) & ((continuity == 0) | ~custom) & ~np.isnan(fallback)
    stands_in = np.clip(np.full(zone_s.size, fallback), ends.low, ends.high)
    named = np.zeros(topology.zone.size, dtype=bool)
    named[first_bus(topology)[assumed]] = True
    words = np.array([f"{seconds:g} s" for seconds in stands_in], dtype=object)[topology.zone]
    ledger.assume(
        "bus", named, "ground_fault_clearing_time", words, "neither relay nor clearing time on record in full", {}
    )
    return np.where(assumed, stands_in, np.clip(zone_s, ends.low, ends.high)), assumed


def mark_assumed(zones: pd.DataFrame, durations: Durations) -> pd.DataFrame:
    """Zones whose clearing time is the policy's are provisional."""
    return zones.assign(provisional=zones["provisional"].to_numpy(dtype=bool) | durations.assumed)
