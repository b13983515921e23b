"""Windings that meet in the star point of their equivalent circuit."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

SHORT = 1e-9  # of the sum of the arms: an arm of no impedance is taken as this


def star_arms(z_hl: ArrayLike, z_ht: ArrayLike, z_lt: ArrayLike) -> NDArray[np.complex128]:
    """
    Arms of the star that stands for three windings.

    Parameters
    ----------
    z_hl, z_ht, z_lt : array_like of complex, shape (n,)
        Leakage impedance of each pair, referred to H. [ohm]

    Returns
    -------
    ndarray of complex, shape (n, 3)
        Arms of H, L and T; one of them may be negative. [ohm] NaN where an input is not on
        record.

    Raises
    ------
    ValueError
        The arguments do not have one shape.

    Notes
    -----
    z_H = (z_HL + z_HT - z_LT)/2, and so round.

    Source: IEC 60909-0, three-winding transformers (clause recalled).
    """
    hl, ht, lt = np.broadcast_arrays(*(np.asarray(z, dtype=complex) for z in (z_hl, z_ht, z_lt)))
    return np.asarray(np.stack([hl + ht - lt, hl + lt - ht, ht + lt - hl], axis=-1) / 2, dtype=np.complex128)


def star_admittance(z_arms: ArrayLike, ratios: ArrayLike) -> NDArray[np.complex128]:
    """
    Admittance between windings that meet in a star point with no other way out.

    Parameters
    ----------
    z_arms : array_like of complex, shape (n, w)
        Impedance from each winding to the star point, referred to the first. [ohm]
    ratios : array_like, shape (n, w)
        Rated voltage of the first winding over that of each. [1]

    Returns
    -------
    ndarray of complex, shape (n, w, w)
        Currents into the windings = matrix x their voltages, each at its own voltage. [S]
        NaN where an input is not on record.

    Raises
    ------
    ValueError
        The two arguments differ in shape.

    Notes
    -----
    Y_ij = y_i d_ij - y_i y_j / sum(y): the star point eliminated. With the magnetizing
    impedance of a three-limb core as a further arm, whose winding is a delta, it holds for
    a core whose flux returns through the tank.

    Source: derived (Kron's reduction of the star point).
    """
    z, to_each = np.asarray(z_arms, dtype=complex), np.asarray(ratios, dtype=float)
    if z.shape != to_each.shape:
        raise ValueError(f"z_arms of shape {z.shape} and ratios of shape {to_each.shape} must be of one shape")
    least = SHORT * np.abs(z).sum(axis=-1, keepdims=True)
    y = 1 / np.where(np.abs(z) < least, least, z)
    between = -y[..., :, None] * y[..., None, :] / y.sum(axis=-1)[..., None, None]
    own = np.arange(z.shape[-1])
    between[..., own, own] += y
    volts: NDArray[np.complex128] = between * to_each[..., :, None] * to_each[..., None, :]
    return volts
