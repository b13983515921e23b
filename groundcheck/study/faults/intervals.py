"""Between which bounds each fault quantity of a bus lies, over the corners of what the record leaves open."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import NDArray

from groundcheck.engineering import (
    double_line_to_ground_ka,
    healthy_phase_bounds_kv,
    healthy_phase_kv,
    line_to_ground_ka,
    line_to_line_ka,
    neutral_shift_kv,
    three_phase_ka,
)
from groundcheck.study.networks.bus_faults import CONDITIONS, Solution

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Complexes = NDArray[np.complex128]
Bounds = tuple[Floats, Floats]
OfBus = Callable[[Floats, Complexes, Complexes, Complexes], Floats]

POINTS = 9  # along each edge of a region of Z0/Z1
NARROW = 1.3, 0.1  # the ratio's magnitude over its least, and its angle in radian, within which the corners suffice
SHIFTED = 1.05  # of V_LN: the displacement at X0/X1 = -40, beyond which capacitance and inductance come close
NO_MORE = np.pi / 2 - 0.05  # an angle of Z0/Z1 beyond which capacitance and inductance may meet: no bound is known


@dataclass(frozen=True)
class Intervals:
    """Of each bus, by condition and quantity: least and most."""

    of: dict[tuple[str, str], Bounds]


def find_intervals(
    kv: Floats, solution: Solution, corners: Sequence[Solution], driving: dict[str, Floats]
) -> Intervals:
    """
    Bounds of every fault quantity.

    driving : line-to-line voltage before the fault that drives the currents, by condition.
    """
    found: dict[tuple[str, str], Bounds] = {}
    for condition in CONDITIONS:
        if (
            condition == "min"
            and all(_shared(each) for each in (solution, *corners))
            and driving["min"] is driving["max"]
        ):
            found |= {("min", name): bounds for (_, name), bounds in list(found.items())}
            continue
        z = [(s.z1[condition], s.z2[condition], s.z0[condition]) for s in (solution, *corners)]
        found |= {(condition, name): bounds for name, bounds in of_impedances(kv, driving[condition], z).items()}
    return Intervals(found)


def _shared(solution: Solution) -> bool:
    return solution.z1["min"] is solution.z1["max"] and solution.z0["min"] is solution.z0["max"]


def of_impedances(kv: Floats, driving: Floats, z: list[tuple[Complexes, Complexes, Complexes]]) -> dict[str, Bounds]:
    """Bounds of each fault quantity from Z1, Z2 and Z0: those on record first, then those of each corner."""
    positive = [(z1, z2) for z1, z2, _ in z]
    zero = [z0 for _, _, z0 in z]
    pairs = [z[0], *((*p, z0) for p, z0 in product(positive[1:], [*zero[1:], _in_tune(zero[1:])]))]
    # Capacitance, on record or not, may add a little to what holds for resistance and inductance.
    low_kv, high_kv = (
        bound * factor for bound, factor in zip(healthy_phase_bounds_kv(kv), (1 / SHIFTED, SHIFTED), strict=True)
    )
    phase_kv, nothing = kv / np.sqrt(3), np.zeros(kv.size)
    healthy = _over_ratios(healthy_phase_kv, kv, pairs, kv, (low_kv, high_kv))
    with np.errstate(invalid="ignore"):
        return {
            "three_phase_ka": _current([three_phase_ka(driving, z1) for z1, _ in positive]),
            "line_to_line_ka": _current([line_to_line_ka(driving, z1, z2) for z1, z2 in positive]),
            "line_to_ground_ka": _current([line_to_ground_ka(driving, *p) for p in pairs]),
            "double_line_to_ground_ka": _current([double_line_to_ground_ka(driving, *p) for p in pairs]),
            "healthy_phase_kv": healthy,
            "cog": (healthy[0] / kv, healthy[1] / kv),
            # |Z0/(2 Z1 + Z0)| of passive networks stays below 1 as long as Z0 and Z1 are less than 90 degrees apart.
            "neutral_shift_kv": _over_ratios(neutral_shift_kv, kv, pairs, phase_kv, (nothing, SHIFTED * phase_kv)),
        }


def _extremes(values: list[Floats], least: Floats, most: Floats) -> Bounds:
    """Least and most over the corners; the widest bounds where the corners do not know either."""
    stack = np.stack(values[1:])  # the first is of the values on record, NaN where they are not all there
    unknown = np.isnan(stack).any(axis=0)
    stack = np.where(unknown, 0.0, stack)
    low, high = np.fmin(stack.min(axis=0), values[0]), np.fmax(stack.max(axis=0), values[0])
    return np.where(unknown, least, low), np.where(unknown, most, high)


def _current(values: list[Floats]) -> Bounds:
    """Bounds of a current; none where the corners do not know either."""
    return _extremes(values, np.zeros(values[0].size), np.full(values[0].size, np.inf))


def _in_tune(corners: list[Complexes]) -> Complexes:
    """
    The zero-sequence impedance where a coil and a capacitance balance at some value between the corners.

    On the way there the impedance of a resistance beside a reactance runs along a circle through zero, which meets the
    real axis at |Z|^2/R. Where the corners do not lie on both sides of tune, the first of them.
    """
    stack = np.stack(corners)
    reactance = np.nan_to_num(stack.imag, posinf=0.0, neginf=0.0)
    crossed = (reactance.min(axis=0) < 0) & (reactance.max(axis=0) > 0)
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        largest = np.where(crossed, np.abs(stack) ** 2 / stack.real, 0.0).max(axis=0)
    tuned: Complexes = np.where(crossed, np.where(largest > 0, largest, np.inf) + 0j, stack[0])
    return tuned


def _over_ratios(
    quantity: OfBus, kv: Floats, pairs: list[tuple[Complexes, Complexes, Complexes]], far: Floats, widest: Bounds
) -> Bounds:
    """
    Bounds of a quantity that Z0/Z1 decides, over the region which the corners span.

    far : the quantity where Z0 is without limit. It differs from that by at most 3/(|Z0/Z1| - 2) of V_LN.

    Both voltages are moduli of analytic functions of Z0/Z1 without poles where the angle is below 90 degrees, so their
    greatest values lie on the edge of the region. The least of the larger of two lies there or on the real axis.
    """
    low, high = _extremes([quantity(kv, *p) for p in pairs], *widest)
    size, angle, known = _region(pairs[1:])
    least, most = size.min(axis=0), size.max(axis=0)
    wide: Bools = known & ((most > NARROW[0] * least) | (np.ptp(angle, axis=0) > NARROW[1]))
    beyond: Bools = wide & (np.abs(angle).max(axis=0) > NO_MORE)
    with np.errstate(divide="ignore"):
        off = np.where(least > 2, 3 / np.where(least > 2, least - 2, 1.0), np.inf) * kv / np.sqrt(3)
    low = np.where(beyond, np.fmin(low, np.fmax(widest[0], far - off)), low)
    high = np.where(beyond, np.fmax(high, np.where(least > 2, far + off, widest[1])), high)
    rows = np.flatnonzero(wide & ~beyond)
    if rows.size:
        one = np.ones(rows.size, dtype=complex)
        seen = np.stack([quantity(kv[rows], one, one, ratio) for ratio in _edge(size[:, rows], angle[:, rows])])
        low[rows] = np.fmin(low[rows], seen.min(axis=0))
        high[rows] = np.fmax(high[rows], seen.max(axis=0))
    # No corner may tell more of what is known than nothing on record does.
    value = quantity(kv, *pairs[0])
    return np.fmin(np.fmax(low, widest[0]), value), np.fmax(np.fmin(high, widest[1]), value)


def _region(corners: list[tuple[Complexes, Complexes, Complexes]]) -> tuple[Floats, Floats, Bools]:
    """Magnitude and angle of Z0/Z1 at each corner, 1 and 0 where not known or without limit; where they are known."""
    with np.errstate(divide="ignore", invalid="ignore"):
        ratios = np.stack([z0 / z1 for z1, _, z0 in corners])
    known = np.isfinite(ratios).all(axis=0) & (ratios != 0).all(axis=0)
    ratios = np.where(known, ratios, 1.0)
    return np.abs(ratios), np.angle(ratios), known


def _edge(size: Floats, angle: Floats) -> list[Complexes]:
    """Points along the edge of each region of Z0/Z1, and along its real axis."""
    least, most = np.log(size.min(axis=0)), np.log(size.max(axis=0))
    back, ahead = angle.min(axis=0), angle.max(axis=0)
    middle = np.clip(0.0, back, ahead)
    points = []
    for share in np.linspace(0, 1, POINTS):
        along, around = least + share * (most - least), back + share * (ahead - back)
        points += [np.exp(along + 1j * side) for side in (back, ahead, middle)]
        points += [np.exp(end + 1j * around) for end in (least, most)]
    return points
