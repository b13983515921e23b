"""Schwarz's equations: a grid, a bed of rods, and the two together."""

import numpy as np
from numpy.typing import ArrayLike, NDArray


def conductor_bed_ohm(
    soil_ohm_m: ArrayLike,
    area_m2: ArrayLike,
    conductor_m: ArrayLike,
    depth_m: ArrayLike,
    diameter_m: ArrayLike,
    k1: ArrayLike,
    k2: ArrayLike,
) -> NDArray[np.float64]:
    """
    Resistance of the horizontal conductors of a grid.

    Parameters
    ----------
    soil_ohm_m : array_like, shape (n,)
        Resistivity of the soil. [ohm m]
    area_m2, conductor_m, depth_m, diameter_m : array_like, shape (n,)
        Area covered [m2]; length of all horizontal conductor, its depth and diameter. [m]
    k1, k2 : array_like, shape (n,)
        Coefficients of the shape. [1]

    Returns
    -------
    ndarray, shape (n,)
        R1. [ohm] NaN where an input is not on record.

    Raises
    ------
    ValueError
        A dimension is not positive, or a resistivity is negative.

    Notes
    -----
    R1 = rho/(pi L) (ln(2L/a') + k1 L/sqrt(A) - k2), a' = sqrt(d h).

    Source: IEEE Std 80-2013, 14.3 (clause recalled); Sheldrake, Handbook of Electrical Engineering, appendix H.
    """
    soil = np.asarray(soil_ohm_m, dtype=float)
    area, length, depth, diameter = _lengths(area_m2, conductor_m, depth_m, diameter_m)
    first, second = np.asarray(k1, dtype=float), np.asarray(k2, dtype=float)
    if (soil < 0).any():
        raise ValueError("soil_ohm_m must not be negative")
    shape = np.log(2 * length / np.sqrt(diameter * depth)) + first * length / np.sqrt(area) - second
    return np.asarray(soil / (np.pi * length) * shape, dtype=np.float64)


def rod_bed_ohm(
    soil_ohm_m: ArrayLike,
    area_m2: ArrayLike,
    rods: ArrayLike,
    rod_length_m: ArrayLike,
    rod_diameter_m: ArrayLike,
    k1: ArrayLike,
) -> NDArray[np.float64]:
    """
    Resistance of the rods of a grid, joined.

    Parameters
    ----------
    soil_ohm_m : array_like, shape (n,)
        Resistivity of the soil. [ohm m]
    area_m2, rods, rod_length_m, rod_diameter_m : array_like, shape (n,)
        Area covered [m2]; number of rods; length and diameter of one. [m]
    k1 : array_like, shape (n,)
        Coefficient of the shape. [1]

    Returns
    -------
    ndarray, shape (n,)
        R2. [ohm] NaN where an input is not on record.

    Raises
    ------
    ValueError
        A dimension or number is not positive, or a resistivity is negative.

    Notes
    -----
    R2 = rho/(2 pi n L) (ln(8L/d) - 1 + 2 k1 L/sqrt(A) (sqrt(n) - 1)^2), n the number of rods.
    The example of the second source puts the nodes of one side of the grid for n, against the
    first; its numbers come out when the same is done here.

    Source: IEEE Std 80-2013, 14.3 (clause recalled); Sheldrake, Handbook of Electrical Engineering, appendix H.
    """
    soil = np.asarray(soil_ohm_m, dtype=float)
    area, number, length, diameter = _lengths(area_m2, rods, rod_length_m, rod_diameter_m)
    if (soil < 0).any():
        raise ValueError("soil_ohm_m must not be negative")
    spread = 2 * np.asarray(k1, dtype=float) * length / np.sqrt(area) * (np.sqrt(number) - 1) ** 2
    shape = np.log(8 * length / diameter) - 1 + spread
    return np.asarray(soil / (2 * np.pi * number * length) * shape, dtype=np.float64)


def mutual_bed_ohm(
    soil_ohm_m: ArrayLike,
    area_m2: ArrayLike,
    conductor_m: ArrayLike,
    rod_length_m: ArrayLike,
    k1: ArrayLike,
    k2: ArrayLike,
) -> NDArray[np.float64]:
    """
    Mutual resistance between the conductors of a grid and its rods.

    Parameters
    ----------
    soil_ohm_m : array_like, shape (n,)
        Resistivity of the soil. [ohm m]
    area_m2, conductor_m, rod_length_m : array_like, shape (n,)
        Area covered [m2]; length of all horizontal conductor; length of one rod. [m]
    k1, k2 : array_like, shape (n,)
        Coefficients of the shape. [1]

    Returns
    -------
    ndarray, shape (n,)
        Rm. [ohm] NaN where an input is not on record.

    Raises
    ------
    ValueError
        A dimension is not positive, or a resistivity is negative.

    Notes
    -----
    Rm = rho/(pi L) (ln(2L/Lr) + k1 L/sqrt(A) - k2 + 1).

    Source: IEEE Std 80-2013, 14.3 (clause recalled); Sheldrake, Handbook of Electrical Engineering, appendix H.
    """
    soil = np.asarray(soil_ohm_m, dtype=float)
    area, length, rod = _lengths(area_m2, conductor_m, rod_length_m)
    first, second = np.asarray(k1, dtype=float), np.asarray(k2, dtype=float)
    if (soil < 0).any():
        raise ValueError("soil_ohm_m must not be negative")
    shape = np.log(2 * length / rod) + first * length / np.sqrt(area) - second + 1
    return np.asarray(soil / (np.pi * length) * shape, dtype=np.float64)


def combined_bed_ohm(conductors_ohm: ArrayLike, rods_ohm: ArrayLike, mutual_ohm: ArrayLike) -> NDArray[np.float64]:
    """
    Resistance of conductors and rods together.

    Parameters
    ----------
    conductors_ohm, rods_ohm, mutual_ohm : array_like, shape (n,)
        Resistance of the conductors, of the rods, and between them. [ohm]

    Returns
    -------
    ndarray, shape (n,)
        Resistance to remote ground. [ohm] NaN where an input is not on record.

    Raises
    ------
    ValueError
        A resistance is negative.

    Notes
    -----
    R = (R1 R2 - Rm^2)/(R1 + R2 - 2 Rm).

    Source: IEEE Std 80-2013, 14.3 (clause recalled); Sheldrake, Handbook of Electrical Engineering, appendix H.
    """
    one, two, between = (np.asarray(r, dtype=float) for r in (conductors_ohm, rods_ohm, mutual_ohm))
    if (one < 0).any() or (two < 0).any() or (between < 0).any():
        raise ValueError("conductors_ohm, rods_ohm and mutual_ohm must not be negative")
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.asarray((one * two - between**2) / (one + two - 2 * between), dtype=np.float64)


def _lengths(*values: ArrayLike) -> list[NDArray[np.float64]]:
    arrays = [np.asarray(value, dtype=float) for value in values]
    if any((array <= 0).any() for array in arrays):
        raise ValueError("areas, lengths, depths, diameters and numbers must be positive")
    return arrays
