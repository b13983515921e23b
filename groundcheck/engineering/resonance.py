"""Zones grounded through an arc-suppression coil: tuning, residual current, neutral voltage without a fault."""

import numpy as np
from numpy.typing import ArrayLike, NDArray


def tuned_inductance_h(capacitance_uf: ArrayLike, frequency_hz: ArrayLike) -> NDArray[np.float64]:
    """
    Inductance at which an arc-suppression coil is in tune with its zone.

    Parameters
    ----------
    capacitance_uf : array_like, shape (n,)
        Capacitance to ground of one phase of the whole zone. [uF]
    frequency_hz : array_like, shape (n,)
        Power frequency. [Hz]

    Returns
    -------
    ndarray, shape (n,)
        Inductance. [H] Infinite where there is no capacitance; NaN where an input is not on
        record.

    Raises
    ------
    ValueError
        A capacitance is negative, or a frequency is not positive.

    Notes
    -----
    L = 1/(3 w^2 C0).

    Source: Kasikci, Short Circuits in Power Systems: A Practical Guide to IEC 60909, Wiley-VCH 2002, section 7.2.
    """
    capacitance, frequency = np.asarray(capacitance_uf, dtype=float), np.asarray(frequency_hz, dtype=float)
    if (capacitance < 0).any() or (frequency <= 0).any():
        raise ValueError("capacitance_uf must not be negative and frequency_hz must be positive")
    with np.errstate(divide="ignore"):
        inductance: NDArray[np.float64] = 1e6 / (3 * (2 * np.pi * frequency) ** 2 * capacitance)
    return inductance


def coil_power_kva(voltage_kv: ArrayLike, reactance_ohm: ArrayLike) -> NDArray[np.float64]:
    """
    Reactive power of an arc-suppression coil while a ground fault stands.

    Parameters
    ----------
    voltage_kv : array_like, shape (n,)
        Line-to-line voltage of the zone. [kV]
    reactance_ohm : array_like, shape (n,)
        Reactance of the coil; infinite takes nothing. [ohm]

    Returns
    -------
    ndarray, shape (n,)
        Power. [kVA] NaN where an input is not on record.

    Raises
    ------
    ValueError
        voltage_kv is negative, or reactance_ohm is not positive.

    Notes
    -----
    Q = V_LN^2/X.

    Source: Chakrabarti et al., Power System Engineering, example 16.1 (published worked script).
    """
    voltage, reactance = np.asarray(voltage_kv, dtype=float), np.asarray(reactance_ohm, dtype=float)
    if (voltage < 0).any() or (reactance <= 0).any():
        raise ValueError("voltage_kv must not be negative and reactance_ohm must be positive")
    power: NDArray[np.float64] = voltage**2 / 3 / reactance * 1000
    return power


def detuning(coil_a: ArrayLike, charging_a: ArrayLike) -> NDArray[np.float64]:
    """
    How far a coil is from tune with its zone.

    Parameters
    ----------
    coil_a, charging_a : array_like, shape (n,)
        Current of the coil at line-to-neutral voltage, and charging current of the zone. [A]

    Returns
    -------
    ndarray, shape (n,)
        v, positive where the coil takes more than the charging current. [1] Infinite where
        there is none; NaN where an input is not on record.

    Raises
    ------
    ValueError
        A current is negative.

    Notes
    -----
    v = (I_L - I_C)/I_C.

    Source: derived from the definition of tuning in Kasikci, Short Circuits in Power Systems, section 7.2.
    """
    coil, charging = np.asarray(coil_a, dtype=float), np.asarray(charging_a, dtype=float)
    if (coil < 0).any() or (charging < 0).any():
        raise ValueError("coil_a and charging_a must not be negative")
    with np.errstate(divide="ignore", invalid="ignore"):
        off_tune: NDArray[np.float64] = (coil - charging) / charging
    return off_tune


def residual_current_a(charging_a: ArrayLike, off_tune: ArrayLike, damping: ArrayLike) -> NDArray[np.float64]:
    """
    Current left at the fault in a zone with a coil.

    Parameters
    ----------
    charging_a : array_like, shape (n,)
        Charging current of the zone. [A]
    off_tune, damping : array_like, shape (n,)
        Detuning v, and resistive share d of the charging current: leakage of the lines and
        losses of the coil. [1]

    Returns
    -------
    ndarray, shape (n,)
        Current at power frequency; harmonics come on top. [A] NaN where an input is not on
        record, and without charging current, of which nothing is a share.

    Raises
    ------
    ValueError
        charging_a or damping is negative.

    Notes
    -----
    I = I_C sqrt(d^2 + v^2).

    Source: derived from the sequence networks.
    """
    charging, share = np.asarray(charging_a, dtype=float), np.asarray(damping, dtype=float)
    if (charging < 0).any() or (share < 0).any():
        raise ValueError("charging_a and damping must not be negative")
    with np.errstate(invalid="ignore"):
        residual: NDArray[np.float64] = charging * np.hypot(np.asarray(off_tune, dtype=float), share)
    return residual


def sound_neutral_voltage_kv(
    voltage_kv: ArrayLike, unbalance: ArrayLike, off_tune: ArrayLike, damping: ArrayLike
) -> NDArray[np.float64]:
    """
    Voltage of the neutral of a zone with a coil while there is no fault.

    Parameters
    ----------
    voltage_kv : array_like, shape (n,)
        Line-to-line voltage of the zone. [kV]
    unbalance : array_like, shape (n,)
        Capacitive unbalance: |C_a + a^2 C_b + a C_c| over C_a + C_b + C_c. [1]
    off_tune, damping : array_like, shape (n,)
        Detuning v and resistive share d of the charging current; an open neutral has v = -1. [1]

    Returns
    -------
    ndarray, shape (n,)
        Voltage to ground. [kV] Infinite in tune without damping; NaN where an input is not on
        record.

    Raises
    ------
    ValueError
        A voltage, unbalance or damping is negative.

    Notes
    -----
    V_n = V_LN k/sqrt(v^2 + d^2).

    Source: derived from Kirchhoff's current law at the neutral.
    """
    voltage, share = np.asarray(voltage_kv, dtype=float), np.asarray(unbalance, dtype=float)
    loss = np.asarray(damping, dtype=float)
    if (voltage < 0).any() or (share < 0).any() or (loss < 0).any():
        raise ValueError("voltage_kv, unbalance and damping must not be negative")
    with np.errstate(divide="ignore", invalid="ignore"):
        shift: NDArray[np.float64] = voltage / np.sqrt(3) * share / np.hypot(np.asarray(off_tune, dtype=float), loss)
    return shift
