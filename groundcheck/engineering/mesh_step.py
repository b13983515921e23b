"""Mesh and step voltage of a grid that carries a current into the ground."""

import numpy as np
from numpy.typing import ArrayLike, NDArray


def mesh_factor(
    spacing_m: ArrayLike, depth_m: ArrayLike, diameter_m: ArrayLike, n: ArrayLike, rods_at_edge: ArrayLike
) -> NDArray[np.float64]:
    """
    Geometrical factor K_m of the mesh voltage.

    Parameters
    ----------
    spacing_m, depth_m, diameter_m : array_like, shape (n,)
        Spacing of parallel conductors, their depth and diameter. [m]
    n : array_like, shape (n,)
        Effective number of parallel conductors. [1]
    rods_at_edge : array_like of bool, shape (n,)
        Whether rods stand in the corners or along the perimeter.

    Returns
    -------
    ndarray, shape (n,)
        K_m. [1] NaN where an input is not on record. Computed outside the limits too: see
        mesh_formula_holds.

    Raises
    ------
    ValueError
        A dimension is not positive, or n is not above 0.5.

    Notes
    -----
    K_m = 1/(2 pi) (ln(D^2/(16 h d) + (D + 2h)^2/(8 D d) - h/(4d)) + K_ii/K_h ln(8/(pi(2n - 1)))),
    K_h = sqrt(1 + h/1 m), K_ii = 1 with rods in the corners or along the perimeter, else
    (2n)^(-2/n).

    Source: IEEE Std 80-2013, 16.5.1 (clause recalled); Sheldrake, Handbook of Electrical Engineering, appendix H.
    """
    D, h, d = (np.asarray(v, dtype=float) for v in (spacing_m, depth_m, diameter_m))
    number, edge = np.asarray(n, dtype=float), np.asarray(rods_at_edge, dtype=bool)
    if any((value <= 0).any() for value in (D, h, d)) or (number <= 0.5).any():
        raise ValueError("spacing_m, depth_m and diameter_m must be positive and n above 0.5")
    inner = np.where(edge, 1.0, (2 * number) ** (-2 / number))
    spread = D**2 / (16 * h * d) + (D + 2 * h) ** 2 / (8 * D * d) - h / (4 * d)
    with np.errstate(invalid="ignore"):
        own = np.log(np.where(spread > 0, spread, np.nan))
    factor = (own + inner / np.sqrt(1 + h) * np.log(8 / (np.pi * (2 * number - 1)))) / (2 * np.pi)
    return np.asarray(factor, dtype=np.float64)


def step_factor(spacing_m: ArrayLike, depth_m: ArrayLike, n: ArrayLike) -> NDArray[np.float64]:
    """
    Geometrical factor K_s of the step voltage.

    Parameters
    ----------
    spacing_m, depth_m : array_like, shape (n,)
        Spacing of parallel conductors, and their depth. [m]
    n : array_like, shape (n,)
        Effective number of parallel conductors. [1]

    Returns
    -------
    ndarray, shape (n,)
        K_s. [1] NaN where an input is not on record. Computed outside the limits too: see
        mesh_formula_holds.

    Raises
    ------
    ValueError
        A dimension or n is not positive.

    Notes
    -----
    K_s = 1/pi (1/(2h) + 1/(D + h) + (1 - 0.5^(n - 2))/D).

    Source: IEEE Std 80-2013, 16.5.2 (clause recalled).
    """
    D, h, number = (np.asarray(v, dtype=float) for v in (spacing_m, depth_m, n))
    if any((value <= 0).any() for value in (D, h, number)):
        raise ValueError("spacing_m, depth_m and n must be positive")
    return np.asarray((1 / (2 * h) + 1 / (D + h) + (1 - 0.5 ** (number - 2)) / D) / np.pi, dtype=np.float64)


def grid_voltage_v(
    soil_ohm_m: ArrayLike,
    current_a: ArrayLike,
    geometrical: ArrayLike,
    irregularity: ArrayLike,
    effective_m: ArrayLike,
) -> NDArray[np.float64]:
    """
    Mesh or step voltage, by the factor and the effective length that belong to it.

    Parameters
    ----------
    soil_ohm_m : array_like, shape (n,)
        Resistivity of the soil, uniform. [ohm m]
    current_a : array_like, shape (n,)
        Current from the grid into the ground. [A]
    geometrical, irregularity : array_like, shape (n,)
        K_m or K_s, and K_i. [1]
    effective_m : array_like, shape (n,)
        L_M or L_S. [m]

    Returns
    -------
    ndarray, shape (n,)
        Voltage. [V] NaN where an input is not on record.

    Raises
    ------
    ValueError
        A resistivity or current is negative, or a length is not positive.

    Notes
    -----
    E_m = rho I_G K_m K_i/L_M; E_s = rho I_G K_s K_i/L_S.

    Source: IEEE Std 80-2013, 16.5 (clause recalled).
    """
    soil, current = np.asarray(soil_ohm_m, dtype=float), np.asarray(current_a, dtype=float)
    length = np.asarray(effective_m, dtype=float)
    if (soil < 0).any() or (current < 0).any() or (length <= 0).any():
        raise ValueError("soil_ohm_m and current_a must not be negative and effective_m must be positive")
    factor = np.asarray(geometrical, dtype=float) * np.asarray(irregularity, dtype=float)
    return np.asarray(soil * current * factor / length, dtype=np.float64)


def mesh_formula_holds(
    spacing_m: ArrayLike, depth_m: ArrayLike, diameter_m: ArrayLike, n: ArrayLike
) -> NDArray[np.object_]:
    """
    Whether a grid lies within the limits of the equations for mesh and step voltage.

    Parameters
    ----------
    spacing_m, depth_m, diameter_m : array_like, shape (n,)
        Spacing of parallel conductors, their depth and diameter. [m]
    n : array_like, shape (n,)
        Effective number of parallel conductors. [1]

    Returns
    -------
    ndarray of object, shape (n,)
        True, False, or None where what is on record does not decide it.

    Raises
    ------
    ValueError
        A dimension is negative.

    Notes
    -----
    0.25 m < h < 2.5 m, D > 2.5 m, d < 0.25 h, n <= 25.

    Source: IEEE Std 80-2013, 16.5.1 (clause recalled).
    """
    D, h, d, number = np.broadcast_arrays(*(np.asarray(v, dtype=float) for v in (spacing_m, depth_m, diameter_m, n)))
    if any((value < 0).any() for value in (D, h, d)):
        raise ValueError("spacing_m, depth_m and diameter_m must not be negative")
    inside = (h > 0.25) & (h < 2.5) & (D > 2.5) & (d < 0.25 * h) & (number <= 25)
    outside = (h <= 0.25) | (h >= 2.5) | (D <= 2.5) | (d >= 0.25 * h) | (number > 25)
    answer = np.full(D.shape, None, dtype=object)
    answer[inside] = True
    answer[outside] = False
    return answer
