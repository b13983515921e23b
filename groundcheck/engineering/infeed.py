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


def infeed_z0_ohm(
    voltage_kv: ArrayLike, z1_ohm: ArrayLike, line_to_ground_ka: ArrayLike, r0_over_x0: ArrayLike = np.nan
) -> NDArray[np.complex128]:
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
    r0_over_x0 : array_like, shape (n,)
        Ratio of zero-sequence resistance to reactance; NaN is that of z1_ohm. [1]

    Returns
    -------
    ndarray of complex, shape (n,)
        Impedance; without r0_over_x0 at the angle of z1_ohm (a reactance where that is
        zero). [ohm] Infinite where the current is zero; NaN where it is above 1.5 times the
        three-phase current, which no passive infeed gives, and where an input is not on record.

    Raises
    ------
    ValueError
        A voltage is not positive, or a current or ratio is negative.

    Notes
    -----
    I = 3E/|2 Z1 + Z0| solved for |Z0|: with d the angle between 2 Z1 and Z0,
    |Z0| = sqrt((3E/I)^2 - |2 Z1|^2 sin(d)^2) - |2 Z1| cos(d), which is 3E/I - 2|Z1| at one angle.

    Source: derived from the line-to-ground fault of IEC 60909-0 (clause recalled).
    """
    voltage, z1 = np.asarray(voltage_kv, dtype=float), np.asarray(z1_ohm, dtype=complex)
    current, ratio = np.asarray(line_to_ground_ka, dtype=float), np.asarray(r0_over_x0, dtype=float)
    if (voltage <= 0).any() or (current < 0).any() or (ratio < 0).any():
        raise ValueError("voltage_kv must be positive; line_to_ground_ka and r0_over_x0 must not be negative")
    with np.errstate(divide="ignore", invalid="ignore"):
        loop = np.sqrt(3) * voltage / current
        direction = np.where(z1 == 0, 1j, z1 / np.abs(z1))
        direction = np.where(np.isnan(ratio), direction, (ratio + 1j) / np.abs(ratio + 1j))
        along = 2 * (z1 * direction.conj()).real
        across = np.where(np.isnan(ratio), 0.0, 2 * (z1 * direction.conj()).imag)
        magnitude = np.where(current == 0, 0.0, np.sqrt(loop**2 - across**2) - along)
        magnitude = np.where(np.abs(magnitude) <= RELATIVE_ROUNDING * loop, 0.0, magnitude)
        z0 = np.where(magnitude >= 0, magnitude, np.nan) * direction
    return np.where(current == 0, np.inf, z0)
