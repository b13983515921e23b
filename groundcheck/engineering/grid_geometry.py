"""The geometry of a grid as the mesh and step voltage need it."""

import numpy as np
from numpy.typing import ArrayLike, NDArray


def effective_parallel_conductors(
    conductor_m: ArrayLike, perimeter_m: ArrayLike, area_m2: ArrayLike, length_m: ArrayLike, width_m: ArrayLike
) -> NDArray[np.float64]:
    """
    Number of parallel conductors of the square grid that is equivalent to this one.

    Parameters
    ----------
    conductor_m, perimeter_m : array_like, shape (n,)
        Length of all horizontal conductor, and of the perimeter. [m]
    area_m2 : array_like, shape (n,)
        Area that the grid covers. [m2]
    length_m, width_m : array_like, shape (n,)
        Largest extent in each direction. [m]

    Returns
    -------
    ndarray, shape (n,)
        The geometric factor n. [1] NaN where an input is not on record.

    Raises
    ------
    ValueError
        An input is not positive.

    Notes
    -----
    n = n_a n_b n_c n_d: n_a = 2 Lc/Lp, n_b = sqrt(Lp/(4 sqrt(A))),
    n_c = (Lx Ly/A)^(0.7 A/(Lx Ly)), and n_d = 1, which holds for squares, rectangles and
    L-shaped grids. Other shapes need the largest distance between two points as well.

    Source: IEEE Std 80-2013, 16.5.1 (clause recalled).
    """
    values = [np.asarray(v, dtype=float) for v in (conductor_m, perimeter_m, area_m2, length_m, width_m)]
    if any((value <= 0).any() for value in values):
        raise ValueError("conductor_m, perimeter_m, area_m2, length_m and width_m must be positive")
    conductor, perimeter, area, length, width = values
    box = length * width
    n_a = 2 * conductor / perimeter
    n_b = np.sqrt(perimeter / (4 * np.sqrt(area)))
    n_c = (box / area) ** (0.7 * area / box)
    return np.asarray(n_a * n_b * n_c, dtype=np.float64)


def irregularity_factor(n: ArrayLike) -> NDArray[np.float64]:
    """
    Correction K_i for the uneven current along a grid's conductors.

    Parameters
    ----------
    n : array_like, shape (n,)
        Effective number of parallel conductors. [1]

    Returns
    -------
    ndarray, shape (n,)
        K_i. [1] NaN where n is not on record.

    Raises
    ------
    ValueError
        n is not positive.

    Notes
    -----
    K_i = 0.644 + 0.148 n, as of the edition of 2000. The edition of 1986 has 0.656 + 0.172 n;
    the two belong to different definitions of n and do not mix.

    Source: IEEE Std 80-2013, 16.5.1 (clause recalled).
    """
    number = np.asarray(n, dtype=float)
    if (number <= 0).any():
        raise ValueError("n must be positive")
    factor: NDArray[np.float64] = 0.644 + 0.148 * number
    return factor


def effective_mesh_length_m(
    conductor_m: ArrayLike, rods_m: ArrayLike, rod_length_m: ArrayLike, diagonal_m: ArrayLike, rods_at_edge: ArrayLike
) -> NDArray[np.float64]:
    """
    Effective buried length for the mesh voltage.

    Parameters
    ----------
    conductor_m, rods_m : array_like, shape (n,)
        Length of all horizontal conductor, and of all rods. [m]
    rod_length_m : array_like, shape (n,)
        Length of one rod. [m]
    diagonal_m : array_like, shape (n,)
        sqrt(Lx^2 + Ly^2) of the largest extents. [m]
    rods_at_edge : array_like of bool, shape (n,)
        Whether rods stand in the corners or along the perimeter.

    Returns
    -------
    ndarray, shape (n,)
        L_M. [m] NaN where an input that it needs is not on record.

    Raises
    ------
    ValueError
        A length is negative.

    Notes
    -----
    Lc + (1.55 + 1.22 Lr/sqrt(Lx^2 + Ly^2)) L_R with rods in the corners or along the
    perimeter, Lc + L_R without.

    Source: IEEE Std 80-2013, 16.5.1 (clause recalled).
    """
    conductor, rods = np.asarray(conductor_m, dtype=float), np.asarray(rods_m, dtype=float)
    rod, diagonal = np.asarray(rod_length_m, dtype=float), np.asarray(diagonal_m, dtype=float)
    if any((value < 0).any() for value in (conductor, rods, rod, diagonal)):
        raise ValueError("conductor_m, rods_m, rod_length_m and diagonal_m must not be negative")
    edge = np.asarray(rods_at_edge, dtype=bool)
    with np.errstate(divide="ignore", invalid="ignore"):
        weight = np.where(edge, 1.55 + 1.22 * rod / diagonal, 1.0)
    weighted: NDArray[np.float64] = conductor + np.where(rods == 0, 0.0, weight * rods)
    return weighted


def effective_step_length_m(conductor_m: ArrayLike, rods_m: ArrayLike) -> NDArray[np.float64]:
    """
    Effective buried length for the step voltage.

    Parameters
    ----------
    conductor_m, rods_m : array_like, shape (n,)
        Length of all horizontal conductor, and of all rods. [m]

    Returns
    -------
    ndarray, shape (n,)
        L_S. [m] NaN where an input is not on record.

    Raises
    ------
    ValueError
        A length is negative.

    Notes
    -----
    L_S = 0.75 Lc + 0.85 L_R.

    Source: IEEE Std 80-2013, 16.5.2 (clause recalled).
    """
    conductor, rods = np.asarray(conductor_m, dtype=float), np.asarray(rods_m, dtype=float)
    if (conductor < 0).any() or (rods < 0).any():
        raise ValueError("conductor_m and rods_m must not be negative")
    weighted: NDArray[np.float64] = 0.75 * conductor + 0.85 * rods
    return weighted
