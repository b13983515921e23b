"""Grounding transformers: rating for a short duty, current of a winding, zero-sequence impedance wanted."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

# Equivalent continuous kVA over V_LN I_n, by duty. [s], [1]
ZIGZAG_S = np.array([10.0, 60.0, 120.0, 180.0, 240.0, 300.0])
ZIGZAG_FACTOR = np.array([0.064, 0.104, 0.139, 0.170, 0.196, 0.220])
WYE_DELTA_S = ZIGZAG_S[1:]
WYE_DELTA_FACTOR = np.array([0.170, 0.240, 0.295, 0.340, 0.380])


def short_duty_factors(duration_s: ArrayLike, zigzag: ArrayLike) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """
    Continuous rating of a grounding transformer over V_LN I_n, by the time it bears I_n: smallest and largest.

    Parameters
    ----------
    duration_s : array_like, shape (n,)
        Time; infinite is continuous. [s]
    zigzag : array_like of bool, shape (n,)
        True for zigzag, False for wye-delta.

    Returns
    -------
    tuple of two ndarrays, shape (n,)
        Factors. [1] Equal where the table, or the continuous rating, gives one value; NaN where
        the duration is not on record.

    Raises
    ------
    ValueError
        A duration is negative.

    Notes
    -----
    Zigzag 0.064, 0.104, 0.139, 0.170, 0.196, 0.220 for 10 s, 1, 2, 3, 4, 5 min; wye-delta
    0.170, 0.240, 0.295, 0.340, 0.380 for 1 to 5 min; between them linear over the logarithm of
    time. Shorter duty counts as the shortest of the table, which is on the safe side.
    Continuous is 1/sqrt(3) for zigzag and 1 for wye-delta; longer than 5 min lies between.

    Source: Westinghouse Electrical Transmission and Distribution Reference Book, table of grounding transformers
    2.4 to 13.8 kV, as quoted for zigzag and recalled for wye-delta; the continuous factors are derived.
    """
    duration, is_zigzag = np.asarray(duration_s, dtype=float), np.asarray(zigzag, dtype=bool)
    if (duration < 0).any():
        raise ValueError("duration_s must not be negative")
    lows, highs = [], []
    for time, factor, lasting in (
        (ZIGZAG_S, ZIGZAG_FACTOR, 1 / np.sqrt(3)),
        (WYE_DELTA_S, WYE_DELTA_FACTOR, 1.0),
    ):
        inside = np.interp(np.log(np.clip(duration, time[0], time[-1])), np.log(time), factor)
        lows.append(np.where(np.isposinf(duration), lasting, inside))
        highs.append(np.where(duration > time[-1], lasting, inside))
    return np.where(is_zigzag, *lows), np.where(is_zigzag, *highs)


def grounding_transformer_kva(
    voltage_kv: ArrayLike, neutral_current_a: ArrayLike, factor: ArrayLike
) -> NDArray[np.float64]:
    """
    Continuous rating that a grounding transformer needs.

    Parameters
    ----------
    voltage_kv : array_like, shape (n,)
        Line-to-line voltage. [kV]
    neutral_current_a : array_like, shape (n,)
        Current of its neutral. [A]
    factor : array_like, shape (n,)
        From short_duty_factors. [1]

    Returns
    -------
    ndarray, shape (n,)
        Rating. [kVA] NaN where an input is not on record.

    Raises
    ------
    ValueError
        An argument is negative.

    Notes
    -----
    K V_LN I_n. A nameplate may state the short-time kVA instead, V_LN I_n or V_LL I_n: read
    which before the two are compared.

    Source: Westinghouse Electrical Transmission and Distribution Reference Book (as quoted).
    """
    voltage, current = np.asarray(voltage_kv, dtype=float), np.asarray(neutral_current_a, dtype=float)
    share = np.asarray(factor, dtype=float)
    if (voltage < 0).any() or (current < 0).any() or (share < 0).any():
        raise ValueError("voltage_kv, neutral_current_a and factor must not be negative")
    rating: NDArray[np.float64] = share * voltage / np.sqrt(3) * current
    return rating


def winding_current_a(neutral_current_a: ArrayLike) -> NDArray[np.float64]:
    """
    Current in each phase of a grounding transformer.

    Parameters
    ----------
    neutral_current_a : array_like, shape (n,)
        Current of its neutral. [A]

    Returns
    -------
    ndarray, shape (n,)
        Current. [A] NaN where it is not on record.

    Raises
    ------
    ValueError
        A current is negative.

    Notes
    -----
    I_n/3: zero-sequence current is equal in the three phases.

    Source: derived from the definition of zero sequence.
    """
    current = np.asarray(neutral_current_a, dtype=float)
    if (current < 0).any():
        raise ValueError("neutral_current_a must not be negative")
    phase: NDArray[np.float64] = current / 3
    return phase


def x0_for_current_ohm(
    voltage_kv: ArrayLike, current_a: ArrayLike, z1_ohm: ArrayLike, neutral_resistance_ohm: ArrayLike = 0.0
) -> NDArray[np.float64]:
    """
    Zero-sequence reactance of a grounding transformer at which a line-to-ground fault draws a wanted current.

    Parameters
    ----------
    voltage_kv : array_like, shape (n,)
        Line-to-line voltage before the fault. [kV]
    current_a : array_like, shape (n,)
        Current wanted at the fault. [A]
    z1_ohm : array_like of complex, shape (n,)
        Positive-sequence impedance at the fault, equal to the negative-sequence one; zero is an
        infinite source. [ohm]
    neutral_resistance_ohm : array_like, shape (n,)
        Resistor in its neutral. [ohm]

    Returns
    -------
    ndarray, shape (n,)
        Reactance of one phase. [ohm] Negative or NaN where no reactance gives that much; NaN
        where an input is not on record.

    Raises
    ------
    ValueError
        A voltage or resistance is negative, or a current is not positive.

    Notes
    -----
    |2 Z1 + j X0 + 3 R_n| = 3 E/I solved for X0.

    Source: derived from the sequence networks.
    """
    voltage, current = np.asarray(voltage_kv, dtype=float), np.asarray(current_a, dtype=float)
    z1, resistance = np.asarray(z1_ohm, dtype=complex), np.asarray(neutral_resistance_ohm, dtype=float)
    if (voltage < 0).any() or (resistance < 0).any() or (current <= 0).any():
        raise ValueError("voltage_kv and neutral_resistance_ohm must not be negative and current_a must be positive")
    whole = np.sqrt(3) * voltage * 1000 / current
    with np.errstate(invalid="ignore"):
        reactance: NDArray[np.float64] = np.sqrt(whole**2 - (2 * z1.real + 3 * resistance) ** 2) - 2 * z1.imag
    return reactance
