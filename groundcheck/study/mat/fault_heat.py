"""How much a ground fault at each bus heats what carries it to the mat."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from groundcheck.engineering import decrement_factor, second_ground_fault_ceiling_ka
from groundcheck.study.bounded import Bounded, anything, monotone, of_frame, recorded
from groundcheck.study.context import Study
from groundcheck.study.faults.bus_currents import bus_currents
from groundcheck.study.networks.bus_faults import Solution
from groundcheck.study.networks.capacitance import station_frequency

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


@dataclass(frozen=True)
class FaultHeat:
    """
    Of each bus, in the maximum condition.

    fault : what governs: line_to_ground where the fault is cleared, second_ground_fault where the zone runs on.
    x_over_r : of the loop of a line-to-ground fault, with its bounds over the corners.
    heat : current x decrement factor x square root of the duration. [kA s^0.5]
    """

    fault: NDArray[np.object_]
    current_ka: Bounded
    duration_s: Bounded
    x_over_r: Bounded
    decrement: Bounded
    heat: Bounded
    frequency_hz: Bounded
    provisional: Bools


def bus_heat(study: Study) -> FaultHeat:
    """
    Heat of the governing fault at every bus.

    A zone that runs on through a ground fault passes little current in it. What is sized for there is a second fault on
    another phase, at most sqrt(3)/2 of the three-phase current, for the policy's time. A fault that stands for longer
    than the policy's limit counts as one through which the zone runs on: over so long a time little of the heat stays.
    """
    faults = study.faults[study.faults["condition"] == "max"]
    zone = study.topology.zone
    time = of_frame(study.zones, "clearing_time_s").take(zone)
    hz = _frequency(study)
    one, two = bus_currents(study), _second(of_frame(faults, "three_phase_ka"))
    loop, phase = _ratio_bounds(study, to_ground=True), _ratio_bounds(study, to_ground=False)
    brief = recorded(np.full(zone.size, float(study.policy["bonding.second_fault_time"])))
    cleared, standing = _heat(one, time, loop, hz), _heat(two, brief, phase, hz)
    limit = float(study.policy["bonding.standing_time"])
    runs_on, unknown = time.value > limit, np.isnan(time.value)
    may_clear, may_stand = time.low <= limit, time.high > limit
    time = Bounded(time.value, time.low, np.where(may_clear, np.fmin(time.high, limit), time.high))
    fault = np.full(zone.size, None, dtype=object)
    fault[~unknown] = np.where(runs_on, "second_ground_fault", "line_to_ground")[~unknown]

    def chosen(first: Bounded, second: Bounded) -> Bounded:
        """That of the case which governs; bounds over the cases that may."""
        value = np.where(unknown, np.nan, np.where(runs_on, second.value, first.value))
        lows = np.where(may_clear, first.low, np.inf), np.where(may_stand, second.low, np.inf)
        highs = np.where(may_clear, first.high, 0.0), np.where(may_stand, second.high, 0.0)
        return Bounded(value, np.minimum(*lows), np.maximum(*highs))

    return FaultHeat(
        fault, chosen(one, two), chosen(time, brief), chosen(loop, phase),
        chosen(offset_bounds(time, loop, hz), offset_bounds(brief, phase, hz)), chosen(cleared, standing), hz,
        study.durations.assumed[zone] | faults["provisional"].to_numpy(dtype=bool),
    )  # fmt: skip


def _second(three_phase: Bounded) -> Bounded:
    return Bounded(*(second_ground_fault_ceiling_ka(i) for i in (three_phase.value, three_phase.low, three_phase.high)))


def _frequency(study: Study) -> Bounded:
    """Frequency of each bus's station; where it is not on record any, which leaves the offset its full range."""
    hz = station_frequency(study.records, study.ledger, study.policy, "bus")
    unknown = np.isnan(hz)
    return Bounded(hz, np.where(unknown, 1e-9, hz), np.where(unknown, 1e9, hz))


def _ratio_bounds(study: Study, *, to_ground: bool) -> Bounded:
    ratios = [_ratio(networks.solution, to_ground=to_ground) for networks in (study.networks, *study.corners)]
    if not study.corners:
        return recorded(ratios[0])
    corners = np.stack(ratios[1:])
    unknown = np.isnan(corners).any(axis=0)
    low, high = np.fmin(corners.min(axis=0), ratios[0]), np.fmax(corners.max(axis=0), ratios[0])
    return Bounded(ratios[0], np.where(unknown, 0.0, low), np.where(unknown, np.inf, high))


def _ratio(solution: Solution, *, to_ground: bool) -> Floats:
    """Reactance over resistance of a fault's loop; zero where capacitance decides, whose offset dies at once."""
    z1, z2, z0 = solution.z1["max"], solution.z2["max"], solution.z0["max"]
    endless = np.isinf(z0)
    loop = z1 + z2 + np.where(endless, 0.0, z0) if to_ground else z1
    with np.errstate(divide="ignore", invalid="ignore"):
        ratio = np.maximum(loop.imag / loop.real, 0.0)
    ratio = np.where(loop == 0, np.inf, ratio)
    return np.where(endless & to_ground, 0.0, ratio)


def offset_bounds(time: Bounded, ratio: Bounded, hz: Bounded) -> Bounded:
    """Decrement factor: it grows with the ratio and falls with time and frequency."""
    found = monotone(lambda x, t, f: decrement_factor(t, x, f), (ratio,), (time, hz))
    return found.within(np.ones(found.low.size), np.full(found.high.size, np.sqrt(3)))


def _heat(current: Bounded, time: Bounded, ratio: Bounded, hz: Bounded) -> Bounded:
    """It grows with current, time and ratio, and falls with the frequency."""

    def formula(i: Floats, t: Floats, x: Floats, f: Floats) -> Floats:
        with np.errstate(invalid="ignore"):
            return np.where(i == 0, 0.0, i * np.sqrt(t) * decrement_factor(t, x, f))

    if not current.value.size:
        return anything(0)
    return monotone(formula, (current, time, ratio), (hz,))
