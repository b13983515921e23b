"""A generator neutral grounded through a distribution transformer with a loaded secondary."""

import numpy as np
from numpy.typing import ArrayLike, NDArray


def high_resistance_criterion_ohm(voltage_kv: ArrayLike, charging_a: ArrayLike) -> NDArray[np.float64]:
    """
    Largest neutral resistance that still passes the charging current in a ground fault.

    Parameters
    ----------
    voltage_kv : array_like, shape (n,)
        Line-to-line voltage. [kV]
    charging_a : array_like, shape (n,)
        Charging current of everything at that voltage, 3I_C0. [A]

    Returns
    -------
    ndarray, shape (n,)
        Resistance in the neutral, a third of X_C0. [ohm] Infinite where there is no
        capacitance; NaN where an input is not on record.

    Raises
    ------
    ValueError
        A voltage is not positive, or a current is negative.

    Notes
    -----
    R_n = X_C0/3 = V_LN/3I_C0.

    Source: IEEE Std C37.101, distribution-transformer grounding (recalled).
    """
    voltage, charging = np.asarray(voltage_kv, dtype=float), np.asarray(charging_a, dtype=float)
    if (voltage <= 0).any() or (charging < 0).any():
        raise ValueError("voltage_kv must be positive and charging_a must not be negative")
    with np.errstate(divide="ignore"):
        resistance: NDArray[np.float64] = voltage * 1000 / np.sqrt(3) / charging
    return resistance


def secondary_voltage_v(voltage_kv: ArrayLike, primary_v: ArrayLike, secondary_v: ArrayLike) -> NDArray[np.float64]:
    """
    Voltage across the loaded secondary in a solid fault at the generator's terminals.

    Parameters
    ----------
    voltage_kv : array_like, shape (n,)
        Line-to-line voltage of the generator circuit. [kV]
    primary_v, secondary_v : array_like, shape (n,)
        Rated voltages of the distribution transformer. [V]

    Returns
    -------
    ndarray, shape (n,)
        Voltage. [V] NaN where an input is not on record.

    Raises
    ------
    ValueError
        voltage_kv is negative, or a rated voltage is not positive.

    Notes
    -----
    V_s = V_LN/N with N = V_p/V_s rated; the transformer's own impedance is left out.

    Source: IEEE Std C37.101, distribution-transformer grounding (recalled).
    """
    voltage = np.asarray(voltage_kv, dtype=float)
    high, low = np.asarray(primary_v, dtype=float), np.asarray(secondary_v, dtype=float)
    if (voltage < 0).any() or (high <= 0).any() or (low <= 0).any():
        raise ValueError("voltage_kv must not be negative; primary_v and secondary_v must be positive")
    found: NDArray[np.float64] = voltage * 1000 / np.sqrt(3) * low / high
    return found


def secondary_current_a(current_a: ArrayLike, primary_v: ArrayLike, secondary_v: ArrayLike) -> NDArray[np.float64]:
    """
    Current of the secondary for a current of the neutral.

    Parameters
    ----------
    current_a : array_like, shape (n,)
        Current through the neutral. [A]
    primary_v, secondary_v : array_like, shape (n,)
        Rated voltages of the distribution transformer. [V]

    Returns
    -------
    ndarray, shape (n,)
        Current. [A] NaN where an input is not on record.

    Raises
    ------
    ValueError
        current_a is negative, or a rated voltage is not positive.

    Notes
    -----
    I_s = N I.

    Source: IEEE Std C37.101, distribution-transformer grounding (recalled).
    """
    current = np.asarray(current_a, dtype=float)
    high, low = np.asarray(primary_v, dtype=float), np.asarray(secondary_v, dtype=float)
    if (current < 0).any() or (high <= 0).any() or (low <= 0).any():
        raise ValueError("current_a must not be negative; primary_v and secondary_v must be positive")
    found: NDArray[np.float64] = current * high / low
    return found


def resistive_and_charging_a(resistive_a: ArrayLike, charging_a: ArrayLike) -> NDArray[np.float64]:
    """
    Ground-fault current of a zone grounded through a high resistance.

    Parameters
    ----------
    resistive_a, charging_a : array_like, shape (n,)
        What the neutral resistors pass, and the charging current 3I_C0. [A]

    Returns
    -------
    ndarray, shape (n,)
        Current at the fault. [A] NaN where an input is not on record.

    Raises
    ------
    ValueError
        A current is negative.

    Notes
    -----
    I = sqrt(I_R^2 + I_C^2): the two stand at right angles. Source impedance is left out.

    Source: derived.
    """
    resistive, charging = np.asarray(resistive_a, dtype=float), np.asarray(charging_a, dtype=float)
    if (resistive < 0).any() or (charging < 0).any():
        raise ValueError("resistive_a and charging_a must not be negative")
    total: NDArray[np.float64] = np.hypot(resistive, charging)
    return total
