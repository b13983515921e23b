"""Neutral reactors: the size that gives a wanted X0/X1, and the fault current that goes with it."""

import numpy as np
from numpy.typing import ArrayLike, NDArray


def neutral_reactance_ohm(x0_ohm: ArrayLike, x1_ohm: ArrayLike, ratio: ArrayLike) -> NDArray[np.float64]:
    """
    Reactance to add to a neutral for a wanted X0/X1.

    Parameters
    ----------
    x0_ohm, x1_ohm : array_like, shape (n,)
        Zero- and positive-sequence reactance at the fault without it. [ohm]
    ratio : array_like, shape (n,)
        X0/X1 wanted. [1]

    Returns
    -------
    ndarray, shape (n,)
        Reactance in the neutral. [ohm] Negative where X0/X1 is above the wanted one already;
        NaN where an input is not on record.

    Raises
    ------
    ValueError
        x1_ohm is not positive, or ratio is negative.

    Notes
    -----
    X_n = (ratio X1 - X0)/3, for the only grounded neutral of a zone.

    Source: derived; IEEE Std 142, 1.4.4 (as quoted), asks X0/X1 of 10 at most.
    """
    x0, x1 = np.asarray(x0_ohm, dtype=float), np.asarray(x1_ohm, dtype=float)
    wanted = np.asarray(ratio, dtype=float)
    if (x1 <= 0).any() or (wanted < 0).any():
        raise ValueError("x1_ohm must be positive and ratio must not be negative")
    reactance: NDArray[np.float64] = (wanted * x1 - x0) / 3
    return reactance


def line_to_ground_share(x0_over_x1: ArrayLike) -> NDArray[np.float64]:
    """
    Line-to-ground fault current, per unit of the three-phase one, where reactance alone counts.

    Parameters
    ----------
    x0_over_x1 : array_like, shape (n,)
        X0/X1; negative where the zero sequence is capacitive, infinite where it is open. [1]

    Returns
    -------
    ndarray, shape (n,)
        Share. [1] Infinite at -2, series resonance; NaN where the ratio is not on record.

    Raises
    ------
    TypeError
        The ratio is complex: resistance has its own formula.

    Notes
    -----
    I_LG/I_3 = 3/|2 + X0/X1|.

    Source: IEEE Std C62.92.1, table of system grounding (recalled, and derived).
    """
    if np.iscomplexobj(x0_over_x1):
        raise TypeError("x0_over_x1 must be real")
    ratio = np.asarray(x0_over_x1, dtype=float)
    with np.errstate(divide="ignore"):
        share: NDArray[np.float64] = 3 / np.abs(2 + ratio)
    return share
