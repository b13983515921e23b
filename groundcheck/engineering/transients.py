"""Ratios that tell whether arcing ground faults can build up overvoltage."""

import numpy as np
from numpy.typing import ArrayLike, NDArray


def resistor_over_charging(resistive_a: ArrayLike, charging_a: ArrayLike) -> NDArray[np.float64]:
    """
    What the neutral resistors of a zone pass, over its charging current.

    Parameters
    ----------
    resistive_a, charging_a : array_like, shape (n,)
        V_LN/R of all resistors together, and charging current 3I_C0. [A]

    Returns
    -------
    ndarray, shape (n,)
        Ratio; below 1 each re-ignition of an arc leaves charge on the zone. [1] Infinite where
        there is no capacitance; NaN where an input is not on record or both are zero.

    Raises
    ------
    ValueError
        A current is negative.

    Notes
    -----
    I_R/3I_C0, the same as X_C0/(3 R_n).

    Source: IEEE Std 142, high-resistance grounding (recalled): I_R not below 3I_C0.
    """
    resistive, charging = np.asarray(resistive_a, dtype=float), np.asarray(charging_a, dtype=float)
    if (resistive < 0).any() or (charging < 0).any():
        raise ValueError("resistive_a and charging_a must not be negative")
    with np.errstate(divide="ignore", invalid="ignore"):
        ratio: NDArray[np.float64] = resistive / charging
    return ratio


def r0_over_x0(z0_ohm: ArrayLike) -> NDArray[np.float64]:
    """
    Zero-sequence resistance over reactance of a zone grounded through a resistor.

    Parameters
    ----------
    z0_ohm : array_like of complex, shape (n,)
        Zero-sequence impedance at the fault, three times the neutral resistance included. [ohm]

    Returns
    -------
    ndarray, shape (n,)
        Ratio; 2 or more keeps transients within 2.5 times line-to-neutral voltage. [1] Infinite
        where X0 is not inductive: what counts there is resistor_over_charging. NaN where Z0 is
        not on record.

    Raises
    ------
    ValueError
        A resistance is negative.

    Notes
    -----
    R0/X0.

    Source: IEEE Std C62.92.1, table of grounding classes (recalled): R0/X0 of 2 or more.
    """
    z0 = np.asarray(z0_ohm, dtype=complex)
    if (z0.real < 0).any():
        raise ValueError("z0_ohm must not have a negative resistance")
    inductive = z0.imag > 0
    ratio = np.where(inductive, z0.real / np.where(inductive, z0.imag, 1), np.inf)
    return np.where(np.isnan(z0), np.nan, ratio)
