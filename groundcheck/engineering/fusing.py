"""The area that a fault current needs, and the current that an area bears."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]


def fusing_area_mm2(
    current_ka: ArrayLike,
    duration_s: ArrayLike,
    *,
    alpha_r: ArrayLike,
    k0: ArrayLike,
    resistivity: ArrayLike,
    heat_capacity: ArrayLike,
    limit_c: ArrayLike,
    ambient_c: float = 40.0,
) -> NDArray[np.float64]:
    """
    Area of bare conductor that a fault heats exactly to its temperature limit.

    Parameters
    ----------
    current_ka, duration_s : array_like, shape (n,)
        RMS over the fault, DC offset included; time until it is cleared. [kA], [s]
    alpha_r, k0 : array_like, shape (n,)
        Temperature coefficient of resistance at 20 degC, and its reciprocal at 0 degC. [1/degC], [degC]
    resistivity, heat_capacity : array_like, shape (n,)
        At 20 degC; per volume. [uohm cm], [J/(cm3 degC)]
    limit_c : array_like, shape (n,)
        Final temperature. [degC]
    ambient_c : float
        Initial temperature. [degC]

    Returns
    -------
    ndarray, shape (n,)
        Area. [mm2] NaN where an input is not on record; infinite where current or duration
        is, and zero where the other is zero.

    Raises
    ------
    ValueError
        A current or duration is negative, or a limit is not above ambient_c.

    Notes
    -----
    A = I/sqrt(TCAP 1e-4/(t alpha_r rho_r) ln((K0 + Tm)/(K0 + Ta))).

    Adiabatic: on the safe side, the more so the longer the fault lasts. For many seconds it
    asks for far more than is needed.

    Source: IEEE Std 80-2013, 11.3.1 (clause recalled).
    """
    current, duration = np.asarray(current_ka, dtype=float), np.asarray(duration_s, dtype=float)
    if (current < 0).any() or (duration < 0).any():
        raise ValueError("current_ka and duration_s must not be negative")
    heating = _heating(k0, limit_c, ambient_c)
    capacity = _capacity(alpha_r, resistivity, heat_capacity)
    with np.errstate(invalid="ignore"):
        stress = current * np.sqrt(duration)
    stress = np.where((current == 0) & (duration >= 0) | (duration == 0) & (current >= 0), 0.0, stress)
    return np.asarray(stress / np.sqrt(capacity * heating), dtype=np.float64)


def fusing_current_ka(
    area_mm2: ArrayLike,
    duration_s: ArrayLike,
    *,
    alpha_r: ArrayLike,
    k0: ArrayLike,
    resistivity: ArrayLike,
    heat_capacity: ArrayLike,
    limit_c: ArrayLike,
    ambient_c: float = 40.0,
) -> NDArray[np.float64]:
    """
    Current that heats a bare conductor exactly to its temperature limit.

    Parameters
    ----------
    area_mm2, duration_s : array_like, shape (n,)
        Area; time until the fault is cleared. [mm2], [s]
    alpha_r, k0 : array_like, shape (n,)
        Temperature coefficient of resistance at 20 degC, and its reciprocal at 0 degC. [1/degC], [degC]
    resistivity, heat_capacity : array_like, shape (n,)
        At 20 degC; per volume. [uohm cm], [J/(cm3 degC)]
    limit_c : array_like, shape (n,)
        Final temperature. [degC]
    ambient_c : float
        Initial temperature. [degC]

    Returns
    -------
    ndarray, shape (n,)
        RMS current over the fault, DC offset included. [kA] NaN where an input is not on
        record; zero where the duration is infinite, infinite where it is zero.

    Raises
    ------
    ValueError
        An area or duration is negative, or a limit is not above ambient_c.

    Notes
    -----
    fusing_area_mm2 solved for the current. Infinite duration gives zero, which is the limit
    of the equation, not what a conductor carries continuously.

    Source: IEEE Std 80-2013, 11.3.1 (clause recalled).
    """
    area, duration = np.asarray(area_mm2, dtype=float), np.asarray(duration_s, dtype=float)
    if (area < 0).any() or (duration < 0).any():
        raise ValueError("area_mm2 and duration_s must not be negative")
    heating = _heating(k0, limit_c, ambient_c)
    capacity = _capacity(alpha_r, resistivity, heat_capacity)
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.asarray(area * np.sqrt(capacity * heating / duration), dtype=np.float64)


def _heating(k0: ArrayLike, limit_c: ArrayLike, ambient_c: float) -> Floats:
    limit, k = np.asarray(limit_c, dtype=float), np.asarray(k0, dtype=float)
    if (limit <= ambient_c).any():
        raise ValueError(f"limit_c ({np.nanmin(limit):g} degC) must be above ambient_c ({ambient_c:g} degC)")
    return np.asarray(np.log((k + limit) / (k + ambient_c)), dtype=np.float64)


def _capacity(alpha_r: ArrayLike, resistivity: ArrayLike, heat_capacity: ArrayLike) -> Floats:
    """In kA2 s / mm4."""
    product = np.asarray(alpha_r, dtype=float) * np.asarray(resistivity, dtype=float)
    return np.asarray(np.asarray(heat_capacity, dtype=float) * 1e-4 / product, dtype=np.float64)
