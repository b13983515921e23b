"""What stands between a neutral and the ground mat: resistors, reactors, coils, loaded distribution transformers."""

import numpy as np
from numpy.typing import ArrayLike, NDArray


def referred_resistance_ohm(
    secondary_ohm: ArrayLike, primary_v: ArrayLike, secondary_v: ArrayLike
) -> NDArray[np.float64]:
    """
    Resistance that a resistor on the secondary of a distribution transformer puts into the neutral.

    Parameters
    ----------
    secondary_ohm : array_like, shape (n,)
        Resistance across the secondary; infinite is an open secondary. [ohm]
    primary_v, secondary_v : array_like, shape (n,)
        Rated voltages of the distribution transformer. [V]

    Returns
    -------
    ndarray, shape (n,)
        Resistance seen from the primary. [ohm] NaN where an input is not on record.

    Raises
    ------
    ValueError
        A resistance is negative, or a voltage is not positive.

    Notes
    -----
    R_p = R_s (V_p/V_s)^2. The transformer's own impedance is left out.

    Source: IEEE Std C37.101, distribution-transformer grounding (recalled).
    """
    secondary = np.asarray(secondary_ohm, dtype=float)
    high, low = np.asarray(primary_v, dtype=float), np.asarray(secondary_v, dtype=float)
    if (secondary < 0).any() or (high <= 0).any() or (low <= 0).any():
        raise ValueError("secondary_ohm must not be negative; primary_v and secondary_v must be positive")
    referred: NDArray[np.float64] = secondary * (high / low) ** 2
    return referred


def resistor_power_kw(current_a: ArrayLike, resistance_ohm: ArrayLike) -> NDArray[np.float64]:
    """
    Power a neutral resistor turns into heat.

    Parameters
    ----------
    current_a : array_like, shape (n,)
        Current through it. [A]
    resistance_ohm : array_like, shape (n,)
        Its resistance. [ohm]

    Returns
    -------
    ndarray, shape (n,)
        Power. [kW] NaN where an input is not on record.

    Raises
    ------
    ValueError
        A current or resistance is negative.

    Notes
    -----
    P = I^2 R, the same as V^2/R and V I at the voltage across the resistor.

    Source: IEEE Std C57.32, definitions (recalled).
    """
    current, resistance = np.asarray(current_a, dtype=float), np.asarray(resistance_ohm, dtype=float)
    if (current < 0).any() or (resistance < 0).any():
        raise ValueError("current_a and resistance_ohm must not be negative")
    power: NDArray[np.float64] = current**2 * resistance / 1000
    return power


def let_through_ceiling_a(
    voltage_kv: ArrayLike, z_device_ohm: ArrayLike, displacement: ArrayLike = 1.05
) -> NDArray[np.float64]:
    """
    The most current a neutral device passes in a ground fault, whatever the source behind it.

    Parameters
    ----------
    voltage_kv : array_like, shape (n,)
        Line-to-line voltage of the zone. [kV]
    z_device_ohm : array_like of complex, shape (n,)
        Impedance of the device; zero is a solid link, infinite an open neutral. [ohm]
    displacement : array_like, shape (n,)
        Factor by which the neutral may exceed line-to-neutral voltage. [1]

    Returns
    -------
    ndarray, shape (n,)
        Current. [A] Infinite for a solid link, zero for an open neutral, NaN where an input
        is not on record.

    Raises
    ------
    ValueError
        A voltage or displacement is negative.

    Notes
    -----
    I <= V_LN/|Z| times displacement. Without capacitance the neutral stays within V_LN. With
    capacitance alone, |V0|/E = |K|/|2 + K| for K = X0/X1: 1.05, the default, at K = -42, and
    1.053 at -40, the limit of class A of ungrounded systems. It is not a bound for K between
    that and 0, nor for a coil near resonance with loss left out.

    Source: derived; class limit of IEEE Std C62.92.1 (recalled).
    """
    voltage, factor = np.asarray(voltage_kv, dtype=float), np.asarray(displacement, dtype=float)
    if (voltage < 0).any() or (factor < 0).any():
        raise ValueError("voltage_kv and displacement must not be negative")
    magnitude = np.abs(np.asarray(z_device_ohm, dtype=complex))
    with np.errstate(divide="ignore", invalid="ignore"):
        ceiling: NDArray[np.float64] = factor * voltage * 1000 / np.sqrt(3) / magnitude
    return ceiling


def nameplate_mismatch(voltage_kv: ArrayLike, current_a: ArrayLike, resistance_ohm: ArrayLike) -> NDArray[np.float64]:
    """
    How far a neutral resistor's rated voltage is from its rated current times its resistance.

    Parameters
    ----------
    voltage_kv : array_like, shape (n,)
        The device's own rated voltage, which is line-to-neutral. [kV]
    current_a : array_like, shape (n,)
        Rated current. [A]
    resistance_ohm : array_like, shape (n,)
        Nameplate resistance. [ohm]

    Returns
    -------
    ndarray, shape (n,)
        V/(I R) - 1, a ratio. [1] 0.73 means that the voltage on record is line-to-line. NaN
        where an input is not on record.

    Raises
    ------
    ValueError
        A voltage is negative, or a current or resistance is not positive.

    Notes
    -----
    The usual tolerance of the resistance is 10 %.

    Source: IEEE Std C57.32, rated voltage, current and resistance (recalled).
    """
    voltage, current = np.asarray(voltage_kv, dtype=float), np.asarray(current_a, dtype=float)
    resistance = np.asarray(resistance_ohm, dtype=float)
    if (voltage < 0).any() or (current <= 0).any() or (resistance <= 0).any():
        raise ValueError("voltage_kv must not be negative; current_a and resistance_ohm must be positive")
    mismatch: NDArray[np.float64] = voltage * 1000 / (current * resistance) - 1
    return mismatch


def coil_tuning_ohm(capacitance_uf: ArrayLike, frequency_hz: ArrayLike) -> NDArray[np.float64]:
    """
    Reactance at which an arc-suppression coil is in tune with its zone.

    Parameters
    ----------
    capacitance_uf : array_like, shape (n,)
        Capacitance to ground of one phase of the whole zone. [uF]
    frequency_hz : array_like, shape (n,)
        Power frequency. [Hz]

    Returns
    -------
    ndarray, shape (n,)
        Reactance. [ohm] Infinite where there is no capacitance, NaN where an input is not on
        record.

    Raises
    ------
    ValueError
        A capacitance is negative, or a frequency is not positive.

    Notes
    -----
    X = 1/(3 w C0), that is, L = 1/(3 w^2 C0); the coil then carries the charging current.

    Source: Kasikci, Short Circuits in Power Systems: A Practical Guide to IEC 60909, Wiley-VCH 2002, section 7.2.
    """
    capacitance, frequency = np.asarray(capacitance_uf, dtype=float), np.asarray(frequency_hz, dtype=float)
    if (capacitance < 0).any() or (frequency <= 0).any():
        raise ValueError("capacitance_uf must not be negative and frequency_hz must be positive")
    with np.errstate(divide="ignore"):
        reactance: NDArray[np.float64] = 1 / (3 * 2 * np.pi * frequency * capacitance * 1e-6)
    return reactance
