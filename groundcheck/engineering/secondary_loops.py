"""A secondary circuit that is grounded at two points: the mat lies in parallel to its wiring."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

COPPER_OHM_MM2_PER_M = 0.017241  # at 20 degC, annealed. IEC 60028 (recalled)


def wire_resistance_ohm(
    area_mm2: ArrayLike, length_m: ArrayLike, resistivity: float = COPPER_OHM_MM2_PER_M
) -> NDArray[np.float64]:
    """
    Resistance of a wire from end to end.

    Parameters
    ----------
    area_mm2 : array_like, shape (n,)
        Area of the conductor. [mm2]
    length_m : array_like, shape (n,)
        Length one way. [m]
    resistivity : float
        Of the metal. [ohm mm2/m]

    Returns
    -------
    ndarray, shape (n,)
        Resistance. [ohm] NaN where an input is not on record.

    Raises
    ------
    ValueError
        An area or the resistivity is not positive, or a length is negative.

    Notes
    -----
    R = rho l/A.

    Source: IEC 60028 (recalled): 1.7241 uohm cm for annealed copper at 20 degC.
    """
    area, length = np.asarray(area_mm2, dtype=float), np.asarray(length_m, dtype=float)
    if (area <= 0).any() or (length < 0).any() or resistivity <= 0:
        raise ValueError("area_mm2 and resistivity must be positive and length_m must not be negative")
    return np.asarray(resistivity * length / area, dtype=np.float64)


def bypassed_share(wire_ohm: ArrayLike, mat_ohm: ArrayLike) -> NDArray[np.float64]:
    """
    Share of a set's residual current that returns through the mat and not through its wire.

    Parameters
    ----------
    wire_ohm : array_like, shape (n,)
        Resistance of the neutral wire between the two grounds, with the burden of a residual
        element in it. [ohm]
    mat_ohm : array_like, shape (n,)
        Resistance of the mat and both ground leads between the same two points. [ohm]

    Returns
    -------
    ndarray, shape (n,)
        Share that a residual element in the wire does not see. [1] NaN where an input is not
        on record, and where both are zero.

    Raises
    ------
    ValueError
        A resistance is negative.

    Notes
    -----
    Rw/(Rw + Rm).

    Source: derived from two resistances in parallel; IEEE Std C57.13.3 (recalled) for the practice of one ground.
    """
    wire, mat = np.asarray(wire_ohm, dtype=float), np.asarray(mat_ohm, dtype=float)
    if (wire < 0).any() or (mat < 0).any():
        raise ValueError("wire_ohm and mat_ohm must not be negative")
    with np.errstate(invalid="ignore"):
        return np.asarray(wire / (wire + mat), dtype=np.float64)


def loop_current_a(mat_voltage_v: ArrayLike, wire_ohm: ArrayLike, mat_ohm: ArrayLike) -> NDArray[np.float64]:
    """
    Current that a voltage between two points of the mat drives through the wire between them.

    Parameters
    ----------
    mat_voltage_v : array_like, shape (n,)
        Voltage between the two points. [V]
    wire_ohm : array_like, shape (n,)
        Resistance of the wire between the two grounds. [ohm]
    mat_ohm : array_like, shape (n,)
        Resistance of the mat and both ground leads; infinite opens the loop. [ohm]

    Returns
    -------
    ndarray, shape (n,)
        Current. [A] NaN where an input is not on record; infinite where nothing limits it;
        zero where the voltage is zero.

    Raises
    ------
    ValueError
        An input is negative.

    Notes
    -----
    V/(Rw + Rm), on top of which the wire carries its part of the residual current.

    Source: derived by superposition; IEEE Std C57.13.3 (recalled) for the practice of one ground.
    """
    voltage = np.asarray(mat_voltage_v, dtype=float)
    wire, mat = np.asarray(wire_ohm, dtype=float), np.asarray(mat_ohm, dtype=float)
    if (voltage < 0).any() or (wire < 0).any() or (mat < 0).any():
        raise ValueError("mat_voltage_v, wire_ohm and mat_ohm must not be negative")
    with np.errstate(divide="ignore", invalid="ignore"):
        current = voltage / (wire + mat)
    return np.where((voltage == 0) & ~np.isnan(wire + mat), 0.0, current)
