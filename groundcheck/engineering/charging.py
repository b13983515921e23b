"""Capacitance of a zone to ground and the charging current it feeds into a ground fault."""

import numpy as np
from numpy.typing import ArrayLike, NDArray


def capacitive_susceptance_s(capacitance_uf: ArrayLike, frequency_hz: ArrayLike) -> NDArray[np.float64]:
    """
    Susceptance to ground of one phase.

    Parameters
    ----------
    capacitance_uf : array_like, shape (n,)
        Capacitance to ground of one phase. [uF]
    frequency_hz : array_like, shape (n,)
        Power frequency. [Hz]

    Returns
    -------
    ndarray, shape (n,)
        Susceptance; the zero-sequence admittance is j times it. [S] NaN where an input is
        not on record.

    Raises
    ------
    ValueError
        A capacitance is negative, or a frequency is not positive.

    Notes
    -----
    B = w C0.

    Source: Kasikci, Short Circuits in Power Systems: A Practical Guide to IEC 60909, Wiley-VCH 2002, section 7.1.
    """
    capacitance, frequency = np.asarray(capacitance_uf, dtype=float), np.asarray(frequency_hz, dtype=float)
    if (capacitance < 0).any() or (frequency <= 0).any():
        raise ValueError("capacitance_uf must not be negative and frequency_hz must be positive")
    susceptance: NDArray[np.float64] = 2 * np.pi * frequency * capacitance * 1e-6
    return susceptance


def charging_current_a(
    voltage_kv: ArrayLike, capacitance_uf: ArrayLike, frequency_hz: ArrayLike
) -> NDArray[np.float64]:
    """
    Charging current of a zone, 3I_C0: what a ground fault draws through its capacitance.

    Parameters
    ----------
    voltage_kv : array_like, shape (n,)
        Line-to-line voltage. [kV]
    capacitance_uf : array_like, shape (n,)
        Capacitance to ground of one phase. [uF]
    frequency_hz : array_like, shape (n,)
        Power frequency. [Hz]

    Returns
    -------
    ndarray, shape (n,)
        Current of the three phases together. [A] NaN where an input is not on record.

    Raises
    ------
    ValueError
        A voltage or capacitance is negative, or a frequency is not positive.

    Notes
    -----
    3I_C0 = 3 w C0 V_LN = sqrt(3) w C0 V_LL. The charging current of one phase of a sound
    line is a third of it.

    Source: Kasikci, Short Circuits in Power Systems: A Practical Guide to IEC 60909, Wiley-VCH 2002, section 7.1.
    """
    voltage = np.asarray(voltage_kv, dtype=float)
    if (voltage < 0).any():
        raise ValueError("voltage_kv must not be negative")
    charging: NDArray[np.float64] = np.sqrt(3) * voltage * 1000 * capacitive_susceptance_s(capacitance_uf, frequency_hz)
    return charging


def capacitance_uf_from_charging(
    voltage_kv: ArrayLike, charging_a: ArrayLike, frequency_hz: ArrayLike
) -> NDArray[np.float64]:
    """
    Capacitance to ground of one phase from the charging current 3I_C0.

    Parameters
    ----------
    voltage_kv : array_like, shape (n,)
        Line-to-line voltage at which the current is given. [kV]
    charging_a : array_like, shape (n,)
        Charging current of the three phases together, 3I_C0. [A]
    frequency_hz : array_like, shape (n,)
        Power frequency. [Hz]

    Returns
    -------
    ndarray, shape (n,)
        Capacitance. [uF] NaN where an input is not on record.

    Raises
    ------
    ValueError
        A current is negative, or a voltage or frequency is not positive.

    Notes
    -----
    charging_current_a solved for C0.

    Source: Kasikci, Short Circuits in Power Systems: A Practical Guide to IEC 60909, Wiley-VCH 2002, section 7.1.
    """
    voltage, charging = np.asarray(voltage_kv, dtype=float), np.asarray(charging_a, dtype=float)
    frequency = np.asarray(frequency_hz, dtype=float)
    if (charging < 0).any() or (voltage <= 0).any() or (frequency <= 0).any():
        raise ValueError("charging_a must not be negative; voltage_kv and frequency_hz must be positive")
    capacitance: NDArray[np.float64] = charging / (np.sqrt(3) * voltage * 1000 * 2 * np.pi * frequency) * 1e6
    return capacitance
