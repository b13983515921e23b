"""Ground faults through resistance: what is left of the current of a solid one."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from groundcheck.study.networks.bus_faults import Solution

Floats = NDArray[np.float64]
Complexes = NDArray[np.complex128]


def share_through(solution: Solution, fault_ohm: float, condition: str) -> Floats:
    """
    Line-to-ground current at every bus through a resistance, as a share of that of a solid fault; NaN where not known.

    The neutrals of a zone share either current alike, because the resistance is outside of their network.
    """
    return share_of_loop(solution.z1[condition] + solution.z2[condition] + solution.z0[condition], fault_ohm)


def share_of_loop(loop: Complexes, fault_ohm: float) -> Floats:
    """The same from Z1 + Z2 + Z0."""
    with np.errstate(divide="ignore", invalid="ignore"):
        share = np.abs(loop) / np.abs(loop + 3 * fault_ohm)
    return np.where(np.isinf(loop) | (fault_ohm == 0), 1.0, share)


def share_bounds(corners: Sequence[Solution], fault_ohm: float, condition: str) -> tuple[Floats, Floats]:
    """Ends of that share over the corners: the least goes with the least current, which keeps the product below it."""
    shares = np.stack([share_through(corner, fault_ohm, condition) for corner in corners])
    return np.nan_to_num(shares, nan=0.0).min(axis=0), np.nan_to_num(shares, nan=1.0).max(axis=0)
