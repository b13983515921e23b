"""Leakage impedance of transformers from the nameplate."""

import numpy as np
from numpy.typing import ArrayLike, NDArray


def leakage_ohm(
    impedance_percent: ArrayLike, x_over_r: ArrayLike, rated_kv: ArrayLike, rated_mva: ArrayLike
) -> NDArray[np.complex128]:
    """
    Leakage impedance between two windings, seen from one of them.

    Parameters
    ----------
    impedance_percent : array_like, shape (n,)
        Magnitude of the impedance on rated_mva; infinite is no path. [%]
    x_over_r : array_like, shape (n,)
        Ratio of reactance to resistance; infinite is a pure reactance. [1]
    rated_kv : array_like, shape (n,)
        Rated line-to-line voltage of the winding from which it is seen. [kV]
    rated_mva : array_like, shape (n,)
        Rated power to which the per cent refer. [MVA]

    Returns
    -------
    ndarray of complex, shape (n,)
        Impedance of one phase. [ohm] Infinite where impedance_percent is, NaN where an input
        is not on record.

    Raises
    ------
    ValueError
        An impedance or ratio is negative, or a rated voltage or power is not positive.

    Notes
    -----
    |Z| = u_k/100 U_r^2/S_r; R = |Z|/sqrt(1 + (X/R)^2). Without the factor K_T of IEC 60909-0.

    Source: IEC 60909-0, two-winding transformers (clause recalled).
    """
    percent, ratio = np.asarray(impedance_percent, dtype=float), np.asarray(x_over_r, dtype=float)
    voltage, power = np.asarray(rated_kv, dtype=float), np.asarray(rated_mva, dtype=float)
    if (percent < 0).any() or (ratio < 0).any():
        raise ValueError("impedance_percent and x_over_r must not be negative")
    if (voltage <= 0).any() or (power <= 0).any():
        raise ValueError("rated_kv and rated_mva must be positive")
    no_path = np.isinf(percent)
    cosine = 1 / np.hypot(1, ratio)
    sine = np.where(np.isinf(ratio), 1.0, np.where(np.isinf(ratio), 0.0, ratio) * cosine)
    magnitude = np.where(no_path, 0.0, percent) / 100 * voltage**2 / power
    return np.where(no_path, np.inf, magnitude * (cosine + 1j * sine))


def scale_percent(percent: ArrayLike, from_mva: ArrayLike, to_mva: ArrayLike) -> NDArray[np.float64]:
    """
    Per cent impedance moved from one power base to another.

    Parameters
    ----------
    percent : array_like, shape (n,)
        Impedance on from_mva. [%]
    from_mva, to_mva : array_like, shape (n,)
        The base it is given on, and the base wanted. [MVA]

    Returns
    -------
    ndarray, shape (n,)
        Impedance on to_mva. [%] NaN where an input is not on record.

    Raises
    ------
    ValueError
        A base is not positive.

    Notes
    -----
    The voltage base stays the same.

    Source: Glover, Sarma, Overbye, Power System Analysis and Design, the per-unit system (recalled).
    """
    given, wanted = np.asarray(from_mva, dtype=float), np.asarray(to_mva, dtype=float)
    if (given <= 0).any() or (wanted <= 0).any():
        raise ValueError("from_mva and to_mva must be positive")
    scaled: NDArray[np.float64] = np.asarray(percent, dtype=float) * wanted / given
    return scaled
