"""What the DC offset of a fault current adds to its heating."""

import numpy as np
from numpy.typing import ArrayLike, NDArray


def decrement_factor(duration_s: ArrayLike, x_over_r: ArrayLike, frequency_hz: ArrayLike) -> NDArray[np.float64]:
    """
    RMS of a fully offset fault current over its duration, per unit of its symmetrical part.

    Parameters
    ----------
    duration_s : array_like, shape (n,)
        Duration of the fault. [s]
    x_over_r : array_like, shape (n,)
        Ratio of reactance to resistance of the fault's loop; infinite is a pure reactance. [1]
    frequency_hz : array_like, shape (n,)
        Power frequency. [Hz]

    Returns
    -------
    ndarray, shape (n,)
        Factor, from 1 to sqrt(3). [1] NaN where an input is not on record.

    Raises
    ------
    ValueError
        A duration or ratio is negative, or a frequency is not positive.

    Notes
    -----
    D_f = sqrt(1 + (Ta/t)(1 - exp(-2t/Ta))), Ta = (X/R)/(2 pi f). It tends to sqrt(3) for a
    short fault and to 1 for a long one. The offset is taken at its largest.

    Source: IEEE Std 80-2013, 15.10 and table 10 (clauses recalled).
    """
    duration, ratio = np.asarray(duration_s, dtype=float), np.asarray(x_over_r, dtype=float)
    frequency = np.asarray(frequency_hz, dtype=float)
    if (duration < 0).any() or (ratio < 0).any() or (frequency <= 0).any():
        raise ValueError("duration_s and x_over_r must not be negative and frequency_hz must be positive")
    unknown = np.isnan(duration) | np.isnan(ratio) | np.isnan(frequency)
    with np.errstate(divide="ignore", invalid="ignore"):
        decays = 2 * duration * 2 * np.pi * frequency / ratio  # time constants of the square of the offset
        # (1 - exp(-u))/u tends to 1 as u does to 0.
        mean = np.where(decays < 1e-12, 1.0, -np.expm1(-decays) / decays)
    mean = np.where((ratio == 0) | np.isinf(duration), 0.0, np.where(np.isinf(ratio), 1.0, mean))
    return np.where(unknown, np.nan, np.sqrt(1 + 2 * mean))
