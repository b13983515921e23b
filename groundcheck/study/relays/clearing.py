"""What the record of buses and relays says on how long a ground fault stands in each zone."""

import numpy as np
from numpy.typing import NDArray

from groundcheck.policy import Policy
from groundcheck.study.currents.reach import sees
from groundcheck.study.networks.zones import Topology
from groundcheck.study.records import Records
from groundcheck.study.relays.duration_bounds import Ends

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


def zone_continuity(records: Records, topology: Topology) -> Floats:
    """1 where any bus of the zone is meant to run on through a ground fault, 0 where none is, NaN if not said."""
    said = records.flags("bus", "continuity_required")
    runs_on = np.full(topology.zone_count, np.nan)
    runs_on[topology.zone[said == 0]] = 0.0
    runs_on[topology.zone[said == 1]] = 1.0
    return runs_on


def bus_clearing(records: Records, topology: Topology) -> Floats:
    """Longest clearing time on record for the buses of each zone, NaN where none is."""
    return longest(topology.zone, records.numbers("bus", "ground_fault_clearing_time"), topology.zone_count)


def buses_tell(records: Records, topology: Topology) -> Bools:
    """Zones of which every bus has its clearing time on record."""
    told = np.ones(topology.zone_count, dtype=bool)
    told[topology.zone[np.isnan(records.numbers("bus", "ground_fault_clearing_time"))]] = False
    return told


def zone_clearing(on_record: Floats, from_relays: Floats, continuity: Floats) -> Floats:
    """The longest time on record for a bus, else that of the relays of its neutrals; infinite where it runs on."""
    cleared = np.where(np.isnan(on_record), from_relays, on_record)
    return np.where(continuity == 1, np.inf, cleared)


def zone_clearing_bounds(on_record: Floats, all_tell: Bools, from_relays: Ends, continuity: Floats) -> Ends:
    """Ends of zone_clearing: a bus without a time of its own is cleared as the relays do, or without limit."""
    some = ~np.isnan(on_record)
    high = np.where(some, np.where(all_tell, on_record, np.maximum(on_record, from_relays.high)), from_relays.high)
    low = np.where(some, on_record, from_relays.low)
    return Ends(np.where(continuity == 1, np.inf, low), np.where(continuity == 1, np.inf, high))


def trips(records: Records, policy: Policy) -> Bools:
    """Relays that open a breaker for a ground fault; not those whose action is not on record."""
    opens: Bools = np.asarray(records.words("ground_relay", "action") == "trip", dtype=bool) & sees_fault(
        records, policy
    )
    return opens


def surely_trips(records: Records, policy: Policy) -> Bools:
    """Relays of which the record tells both, that they open a breaker and what they measure."""
    told = np.array([word is not None for word in records.words("ground_relay", "function")], dtype=bool)
    return np.asarray(trips(records, policy) & told, dtype=bool)


def may_trip(records: Records, policy: Policy) -> Bools:
    """Relays that open a breaker for a ground fault, or of which the record does not tell."""
    action = records.words("ground_relay", "action")
    open_question = np.array([word is None for word in action], dtype=bool)
    possible: Bools = (np.asarray(action == "trip", dtype=bool) | open_question) & sees_fault(records, policy)
    return possible


def sees_fault(records: Records, policy: Policy) -> Bools:
    """Relays but those that watch the third harmonic of a sound machine."""
    return np.array(
        [answer is not True for answer in sees(records, policy, "ground_relay.undervoltage_functions")], dtype=bool
    )


def longest(place: NDArray[np.int64], seconds: Floats, count: int) -> Floats:
    """Largest value at each place, NaN where there is none on record."""
    best = np.full(count, -np.inf)
    known = ~np.isnan(seconds)
    np.maximum.at(best, place[known], seconds[known])
    return np.where(np.isneginf(best), np.nan, best)


def default_clearing(policy: Policy) -> float:
    """The policy's clearing time, NaN where the policy admits none."""
    return float(policy["study.default_clearing_time"]) if policy.admits("clearing_time") else float("nan")
