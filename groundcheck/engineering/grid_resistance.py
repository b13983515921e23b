"""Resistance of a buried grid to remote ground."""

import numpy as np
from numpy.typing import ArrayLike, NDArray


def grid_resistance_ohm(
    soil_ohm_m: ArrayLike, area_m2: ArrayLike, buried_m: ArrayLike, depth_m: ArrayLike
) -> NDArray[np.float64]:
    """
    Resistance of a grid by Sverak's equation.

    Parameters
    ----------
    soil_ohm_m : array_like, shape (n,)
        Resistivity of the soil, uniform. [ohm m]
    area_m2 : array_like, shape (n,)
        Area that the grid covers; infinite leaves the conductor's own term. [m2]
    buried_m : array_like, shape (n,)
        Length of all buried conductor, rods included; infinite leaves the term of the area. [m]
    depth_m : array_like, shape (n,)
        Depth of the grid. [m]

    Returns
    -------
    ndarray, shape (n,)
        Resistance to remote ground. [ohm] NaN where an input is not on record.

    Raises
    ------
    ValueError
        An input is negative.

    Notes
    -----
    R = rho(1/L + 1/sqrt(20A) (1 + 1/(1 + h sqrt(20/A)))). It falls as area, length and depth
    grow. Good for depths of 0.25 m to 2.5 m in uniform soil.

    Source: IEEE Std 80-2013, 14.2 (clause recalled).
    """
    soil, area = np.asarray(soil_ohm_m, dtype=float), np.asarray(area_m2, dtype=float)
    buried, depth = np.asarray(buried_m, dtype=float), np.asarray(depth_m, dtype=float)
    if any((value < 0).any() for value in (soil, area, buried, depth)):
        raise ValueError("soil_ohm_m, area_m2, buried_m and depth_m must not be negative")
    with np.errstate(divide="ignore", invalid="ignore"):
        side = np.sqrt(20 * area)
        # 1/(side (1 + 20 h/side)) = 1/(side + 20 h), which also holds without limit of area.
        shape = 1 / buried + 1 / side + 1 / (side + 20 * depth)
        found = soil * shape
    unknown = np.isnan(soil) | np.isnan(area) | np.isnan(buried) | np.isnan(depth)
    return np.where(unknown, np.nan, np.where((soil == 0) | (shape == 0), 0.0, found))


def schwarz_coefficients(area_m2: ArrayLike, side_ratio: ArrayLike, depth_m: ArrayLike) -> NDArray[np.float64]:
    """
    Coefficients k1 and k2 of Schwarz's equations.

    Parameters
    ----------
    area_m2 : array_like, shape (n,)
        Area that the grid covers. [m2]
    side_ratio : array_like, shape (n,)
        Longer over shorter side, 1 to 8. [1]
    depth_m : array_like, shape (n,)
        Depth of the grid. [m]

    Returns
    -------
    ndarray, shape (2, n)
        k1 and k2. [1] NaN where an input is not on record, where the ratio is outside 1 to 8,
        and where the depth is above sqrt(A)/6: the curves end there.

    Raises
    ------
    ValueError
        An area is not positive, or a depth is negative.

    Notes
    -----
    Straight lines in the ratio for depths of 0, sqrt(A)/10 and sqrt(A)/6; between the depths
    interpolated linearly.

    Source: IEEE Std 80-2013, figure 25 (recalled).
    """
    area, ratio = np.asarray(area_m2, dtype=float), np.asarray(side_ratio, dtype=float)
    depth = np.asarray(depth_m, dtype=float)
    if (area <= 0).any() or (depth < 0).any():
        raise ValueError("area_m2 must be positive and depth_m must not be negative")
    area, ratio, depth = np.broadcast_arrays(area, ratio, depth)
    at = depth / np.sqrt(area)
    curves = [
        (-0.04 * ratio + 1.41, -0.05 * ratio + 1.20, -0.05 * ratio + 1.13),
        (0.15 * ratio + 5.50, 0.10 * ratio + 4.68, -0.05 * ratio + 4.40),
    ]
    shallow = at <= 0.1
    share = np.where(shallow, at / 0.1, (at - 0.1) / (1 / 6 - 0.1))
    found = np.stack([np.where(shallow, a + share * (b - a), b + share * (c - b)) for a, b, c in curves])
    holds = (ratio >= 1) & (ratio <= 8) & (at <= 1 / 6 + 1e-9)
    return np.where(holds, found, np.nan)
