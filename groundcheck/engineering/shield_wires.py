"""What a shield wire takes of the ground-fault current of its line."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

MU0 = 4e-4 * np.pi  # H/km


def earth_return_ohm_per_km(
    distance_m: ArrayLike, soil_ohm_m: ArrayLike, frequency_hz: ArrayLike
) -> NDArray[np.complex128]:
    """
    Impedance between two wires with common return through the ground.

    Parameters
    ----------
    distance_m : array_like, shape (n,)
        Distance of the wires; for a wire's own impedance its radius, which leaves out what
        is inside the wire. [m]
    soil_ohm_m : array_like, shape (n,)
        Resistivity of the soil. [ohm m]
    frequency_hz : array_like, shape (n,)
        Power frequency. [Hz]

    Returns
    -------
    ndarray of complex, shape (n,)
        Impedance per length. [ohm/km] NaN where an input is not on record.

    Raises
    ------
    ValueError
        An input is not positive.

    Notes
    -----
    w mu0/8 + j w mu0/(2 pi) ln(delta/d), delta = 1.851/sqrt(w mu0/rho). Good while the
    distance is far below delta, which is some hundred meters.

    Source: IEC 60909-3 (recalled), from Carson.
    """
    distance, soil = np.asarray(distance_m, dtype=float), np.asarray(soil_ohm_m, dtype=float)
    frequency = np.asarray(frequency_hz, dtype=float)
    if any((value <= 0).any() for value in (distance, soil, frequency)):
        raise ValueError("distance_m, soil_ohm_m and frequency_hz must be positive")
    reactive = 2 * np.pi * frequency * MU0
    depth = 1.851 / np.sqrt(reactive * 1e-3 / soil)
    return np.asarray(reactive / 8 + 1j * reactive / (2 * np.pi) * np.log(depth / distance), dtype=np.complex128)


def reduction_factor(mutual_ohm: ArrayLike, own_ohm: ArrayLike) -> NDArray[np.complex128]:
    """
    Share of a line's ground-fault current that returns through the ground, far from its ends.

    Parameters
    ----------
    mutual_ohm : array_like of complex, shape (n,)
        Impedance between the phase conductors and the shield wire, ground as return. [ohm/km]
    own_ohm : array_like of complex, shape (n,)
        Impedance of the shield wire, ground as return; infinite is no wire. [ohm/km]

    Returns
    -------
    ndarray of complex, shape (n,)
        r, of which the magnitude counts. [1] NaN where an input is not on record.

    Raises
    ------
    ValueError
        An impedance of the shield wire is zero.

    Notes
    -----
    r = 1 - Z_m/Z_w. The wire is grounded at both ends and at every tower.

    Source: IEC 60909-3 (recalled).
    """
    mutual, own = np.asarray(mutual_ohm, dtype=complex), np.asarray(own_ohm, dtype=complex)
    if (own == 0).any():
        raise ValueError("own_ohm must not be zero")
    none = np.isinf(own)
    return np.asarray(1 - np.where(none, 0.0, mutual / np.where(none, 1.0, own)), dtype=np.complex128)
