"""Voltage transformers in a ground fault: what the broken delta gives, what heats its resistor, what they bear."""

import numpy as np
from numpy.typing import ArrayLike, NDArray


def broken_delta_v(zero_sequence_kv: ArrayLike, primary_v: ArrayLike, secondary_v: ArrayLike) -> NDArray[np.float64]:
    """
    Voltage of a broken delta.

    Parameters
    ----------
    zero_sequence_kv : array_like, shape (n,)
        Magnitude of V0 at the voltage transformers. [kV]
    primary_v, secondary_v : array_like, shape (n,)
        Rated voltages of each of the three units: line-to-ground winding, and the winding in the delta. [V]

    Returns
    -------
    ndarray, shape (n,)
        Voltage across the opening. [V] NaN where an input is not on record.

    Raises
    ------
    ValueError
        A zero-sequence voltage is negative, or a rated voltage is not positive.

    Notes
    -----
    3 V0 V_s/V_p: three times V_LN over the ratio without a zero-sequence path, V_LN over
    the ratio near a solid fault with X0 = X1.

    Source: IEC 61869-3, residual voltage windings (recalled).
    """
    shift = np.asarray(zero_sequence_kv, dtype=float)
    primary, secondary = np.asarray(primary_v, dtype=float), np.asarray(secondary_v, dtype=float)
    if (shift < 0).any() or (primary <= 0).any() or (secondary <= 0).any():
        raise ValueError("zero_sequence_kv must not be negative; primary_v and secondary_v must be positive")
    volts: NDArray[np.float64] = 3 * shift * 1000 * secondary / primary
    return volts


def damping_resistor_w(voltage_v: ArrayLike, resistance_ohm: ArrayLike) -> NDArray[np.float64]:
    """
    Power in the resistor across a broken delta while a ground fault stands.

    Parameters
    ----------
    voltage_v : array_like, shape (n,)
        Voltage of the broken delta. [V]
    resistance_ohm : array_like, shape (n,)
        Resistance across it. [ohm]

    Returns
    -------
    ndarray, shape (n,)
        Power, a third of it from each unit. [W] NaN where an input is not on record.

    Raises
    ------
    ValueError
        A voltage is negative, or a resistance is not positive.

    Notes
    -----
    P = V^2/R.

    Source: common practice, no source.
    """
    voltage, resistance = np.asarray(voltage_v, dtype=float), np.asarray(resistance_ohm, dtype=float)
    if (voltage < 0).any() or (resistance <= 0).any():
        raise ValueError("voltage_v must not be negative and resistance_ohm must be positive")
    watts: NDArray[np.float64] = voltage**2 / resistance
    return watts


def required_voltage_factor(voltage_kv: ArrayLike, rated_primary_v: ArrayLike) -> NDArray[np.float64]:
    """
    Voltage factor that a voltage transformer needs at a voltage.

    Parameters
    ----------
    voltage_kv : array_like, shape (n,)
        Highest voltage across its primary: to ground of the worse healthy phase where it is
        connected to ground. [kV]
    rated_primary_v : array_like, shape (n,)
        Rated primary voltage of one unit, line-to-neutral if it is marked so. [V]

    Returns
    -------
    ndarray, shape (n,)
        Factor. [1] NaN where an input is not on record.

    Raises
    ------
    ValueError
        A voltage is negative, or a rated voltage is not positive.

    Notes
    -----
    V/V_rated.

    Source: IEC 61869-3, rated voltage factor (recalled).
    """
    voltage, rated = np.asarray(voltage_kv, dtype=float), np.asarray(rated_primary_v, dtype=float)
    if (voltage < 0).any() or (rated <= 0).any():
        raise ValueError("voltage_kv must not be negative and rated_primary_v must be positive")
    factor: NDArray[np.float64] = voltage * 1000 / rated
    return factor


def allowed_voltage_factor(
    rated_factor: ArrayLike, rated_time_s: ArrayLike, duration_s: ArrayLike, continuous_factor: ArrayLike
) -> NDArray[np.float64]:
    """
    Voltage factor that a voltage transformer bears for a time.

    Parameters
    ----------
    rated_factor, rated_time_s : array_like, shape (n,)
        Rated voltage factor, and how long it may be applied; infinite is without limit. [1], [s]
    duration_s : array_like, shape (n,)
        How long the voltage stands; infinite is without limit. [s]
    continuous_factor : array_like, shape (n,)
        What every unit bears without limit of time. [1]

    Returns
    -------
    ndarray, shape (n,)
        Factor. [1] NaN where an input that matters is not on record.

    Raises
    ------
    ValueError
        A factor or a time is negative.

    Notes
    -----
    The rated factor up to the rated time, after that the continuous one.

    Source: IEC 61869-3, table of rated voltage factors (recalled): 1.2 continuous; 1.5 for
    30 s, 1.9 for 30 s, 1.9 for 8 h by how the system is grounded.
    """
    factor, time = np.asarray(rated_factor, dtype=float), np.asarray(rated_time_s, dtype=float)
    duration, lasting = np.asarray(duration_s, dtype=float), np.asarray(continuous_factor, dtype=float)
    if any((x < 0).any() for x in (factor, time, duration, lasting)):
        raise ValueError("factors and times must not be negative")
    brief = np.maximum(factor, lasting)
    allowed = np.where(duration <= time, brief, lasting)
    same = factor <= lasting  # no time decides where both are the same
    unknown = (np.isnan(duration) | np.isnan(time)) & ~same
    return np.where(unknown | np.isnan(factor) | np.isnan(lasting), np.nan, allowed)
