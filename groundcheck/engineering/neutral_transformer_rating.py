"""Rating of a distribution transformer in a neutral: load that it bears for a time, and its primary voltage."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

# Load borne by a distribution transformer for a time, per unit of its rating. [s], [1]
OVERLOAD_S = np.array([10.0, 60.0, 600.0, 1800.0, 7200.0])
OVERLOAD_MULTIPLE = np.array([10.5, 4.7, 2.6, 1.9, 1.4])


def overload_multiple(duration_s: ArrayLike) -> NDArray[np.float64]:
    """
    Load that a distribution transformer bears for a time.

    Parameters
    ----------
    duration_s : array_like, shape (n,)
        Time; infinite is continuous. [s]

    Returns
    -------
    ndarray, shape (n,)
        Load, per unit of its rating. [1] NaN where the duration is not on record.

    Raises
    ------
    ValueError
        A duration is negative.

    Notes
    -----
    10.5 for 10 s, 4.7 for 1 min, 2.6 for 10 min, 1.9 for 30 min, 1.4 for 2 h; between them
    logarithm of the load over logarithm of the time. Shorter than 10 s counts as 10 s, longer
    than 2 h as continuous, 1.

    Source: IEEE Std C37.101, short-time overload of distribution transformers (recalled).
    """
    duration = np.asarray(duration_s, dtype=float)
    if (duration < 0).any():
        raise ValueError("duration_s must not be negative")
    within = np.clip(duration, OVERLOAD_S[0], OVERLOAD_S[-1])
    multiple = np.exp(np.interp(np.log(within), np.log(OVERLOAD_S), np.log(OVERLOAD_MULTIPLE)))
    return np.where(duration > OVERLOAD_S[-1], 1.0, multiple)


def distribution_transformer_kva(
    primary_kv: ArrayLike, current_a: ArrayLike, duration_s: ArrayLike
) -> NDArray[np.float64]:
    """
    Rating that a distribution transformer in a neutral needs to bear a current for a time.

    Parameters
    ----------
    primary_kv : array_like, shape (n,)
        Its rated primary voltage. [kV]
    current_a : array_like, shape (n,)
        Current through the neutral. [A]
    duration_s : array_like, shape (n,)
        For how long; infinite is continuous. [s]

    Returns
    -------
    ndarray, shape (n,)
        Continuous rating. [kVA] NaN where an input is not on record.

    Raises
    ------
    ValueError
        An argument is negative.

    Notes
    -----
    V_p I / overload_multiple.

    Source: IEEE Std C37.101, rating of the distribution transformer (recalled).
    """
    voltage, current = np.asarray(primary_kv, dtype=float), np.asarray(current_a, dtype=float)
    if (voltage < 0).any() or (current < 0).any():
        raise ValueError("primary_kv and current_a must not be negative")
    rating: NDArray[np.float64] = voltage * current / overload_multiple(duration_s)
    return rating


def primary_rating_kv(voltage_kv: ArrayLike, forcing: ArrayLike = 1.3) -> NDArray[np.float64]:
    """
    Primary voltage that keeps a distribution transformer in a neutral out of saturation.

    Parameters
    ----------
    voltage_kv : array_like, shape (n,)
        Line-to-line voltage of the generator circuit. [kV]
    forcing : array_like, shape (n,)
        Voltage that field forcing or load rejection raises, per unit of rated. [1]

    Returns
    -------
    ndarray, shape (n,)
        Rated primary voltage. [kV] NaN where an input is not on record.

    Raises
    ------
    ValueError
        voltage_kv is negative, or forcing is below 1.

    Notes
    -----
    Forcing times V_LN. Common practice takes the line-to-line voltage, 1.73 times V_LN.

    Source: published sizing sheet of a neutral grounding transformer, 1.3 forcing.
    """
    voltage, factor = np.asarray(voltage_kv, dtype=float), np.asarray(forcing, dtype=float)
    if (voltage < 0).any() or (factor < 1).any():
        raise ValueError("voltage_kv must not be negative and forcing must be 1 or more")
    rating: NDArray[np.float64] = factor * voltage / np.sqrt(3)
    return rating
