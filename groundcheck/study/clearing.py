"""How long a ground fault stands in each zone, and how long each ground relay takes."""

from functools import partial

import numpy as np
from numpy.typing import NDArray

from groundcheck.engineering import operating_time_s
from groundcheck.policy import Policy
from groundcheck.study.records import Records
from groundcheck.study.zones import Topology

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


def zone_clearing(on_record: Floats, from_relays: Floats, continuity: Floats) -> Floats:
    """The longest time on record for a bus, else that of the relays of its neutrals; infinite where it runs on."""
    cleared = np.where(np.isnan(on_record), from_relays, on_record)
    return np.where(continuity == 1, np.inf, cleared)


def relay_time_s(records: Records, current_a: Floats) -> Floats:
    """Time from fault to clearing of each relay at a primary current; NaN where a setting is not on record."""
    number = partial(records.numbers, "ground_relay")
    curve = records.words("ground_relay", "curve")
    definite = number("definite_time")
    inverse = np.array([c is not None and c != "definite_time" for c in curve], dtype=bool)
    multiple = current_a / number("pickup")
    named = curve.copy()
    named[~inverse] = None
    by_curve = operating_time_s(multiple, named, number("time_dial"))
    with np.errstate(invalid="ignore"):
        by_definite = np.where(multiple > 1, definite, np.where(np.isnan(multiple), np.nan, np.inf))
    return np.where(inverse, by_curve, by_definite) + number("breaker_time")


def trips(records: Records) -> Bools:
    """Relays that open a breaker; one whose action is not on record is not counted on."""
    return np.asarray(records.words("ground_relay", "action") == "trip", dtype=bool)


def longest(place: NDArray[np.int64], seconds: Floats, count: int) -> Floats:
    """Largest value at each place, NaN where there is none on record."""
    best = np.full(count, -np.inf)
    known = ~np.isnan(seconds)
    np.maximum.at(best, place[known], seconds[known])
    return np.where(np.isneginf(best), np.nan, best)


def default_clearing(policy: Policy) -> float:
    """The policy's clearing time, NaN where the policy admits none."""
    return float(policy["study.default_clearing_time"]) if policy["assume.clearing_time"] else float("nan")
