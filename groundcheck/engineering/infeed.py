"""Sequence impedances of an infeed from the fault levels its owner declares."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

RELATIVE_ROUNDING = 1e-9  # of a current that was itself computed as 1.5 times the three-phase


def infeed_z1_ohm(voltage_kv: ArrayLike, fault_level_mva: ArrayLike, x_over_r: ArrayLike) -> NDArray[np.complex128]:
    """
    Positive-sequence impedance behind an infeed.

    Parameters
    ----------
    voltage_kv : array_like, shape (n,)
        Line-to-line voltage at which the fault level is declared. [kV]
    fault_level_mva : array_like, shape (n,)
        Three-phase fault level; infinite is an ideal source, zero feeds nothing. [MVA]
    x_over_r : array_like, shape (n,)
        Ratio of reactance to resistance; infinite is a pure reactance. [1]

    Returns
    -------
    ndarray of complex, shape (n,)
        Impedance. [ohm] Infinite where the fault level is zero, zero where it is infinite,
        NaN where an input is not on record.

    Raises
    ------
    ValueError
        A voltage is not positive, or a fault level or ratio is negative.

    Notes
    -----
    |Z1| = V_LL^2/S with a voltage factor of 1; R = |Z1|/sqrt(1 + (X/R)^2).

    Source: IEC 60909-0, network feeders (clause recalled), with c = 1.
    """
    voltage, level = np.asarray(voltage_kv, dtype=float), np.asarray(fault_level_mva, dtype=float)
    ratio = np.asarray(x_over_r, dtype=float)
    if (voltage <= 0).any() or (level < 0).any() or (ratio < 0).any():
        raise ValueError("voltage_kv must be positive; fault_level_mva and x_over_r must not be negative")
    with np.errstate(divide="ignore"):
        magnitude = voltage**2 / level
    none = np.isinf(magnitude)
    cosine = 1 / np.hypot(1, ratio)
    sine = np.where(np.isinf(ratio), 1.0, np.where(np.isinf(ratio), 0.0, ratio) * cosine)
    return np.where(none, np.inf, np.where(none, 0.0, magnitude) * (cosine + 1j * sine))


def infeed_z0_ohm(voltage_kv: ArrayLike, z1_ohm: ArrayLike, line_to_ground_ka: ArrayLike) -> NDArray[np.complex128]:
    """
    Zero-sequence impedance behind an infeed from its line-to-ground current.

    Parameters
    ----------
    voltage_kv : array_like, shape (n,)
        Line-to-line voltage at which the current is declared. [kV]
    z1_ohm : array_like of complex, shape (n,)
        Positive-sequence impedance of the infeed, taken as its negative-sequence too. [ohm]
    line_to_ground_ka : array_like, shape (n,)
        Line-to-ground fault current; zero is an infeed without ground. [kA]

    Returns
    -------
    ndarray of complex, shape (n,)
        Impedance, at the angle of z1_ohm (a reactance where that is zero). [ohm] Infinite
        where the current is zero; NaN where it is above 1.5 times the three-phase current,
        which no passive infeed gives, and where an input is not on record.

    Raises
    ------
    ValueError
        A voltage is not positive, or a current is negative.

    Notes
    -----
    |Z0| = 3E/I - 2|Z1|, solved from I = 3E/|2 Z1 + Z0| with both at one angle. With
    different angles the same current needs a |Z0| that is larger by the angle's cosine.

    Source: derived from the line-to-ground fault of IEC 60909-0 (clause recalled).
    """
    voltage, z1 = np.asarray(voltage_kv, dtype=float), np.asarray(z1_ohm, dtype=complex)
    current = np.asarray(line_to_ground_ka, dtype=float)
    if (voltage <= 0).any() or (current < 0).any():
        raise ValueError("voltage_kv must be positive and line_to_ground_ka must not be negative")
    with np.errstate(divide="ignore", invalid="ignore"):
        loop = np.sqrt(3) * voltage / current
        direction = np.where(z1 == 0, 1j, z1 / np.abs(z1))
        magnitude = np.where(current == 0, 0.0, loop - 2 * np.abs(z1))
        magnitude = np.where(np.abs(magnitude) <= RELATIVE_ROUNDING * loop, 0.0, magnitude)
        z0 = np.where(magnitude >= 0, magnitude, np.nan) * direction
    return np.where(current == 0, np.inf, z0)
