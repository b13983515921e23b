"""Nodal admittance of transformers between winding voltages, in siemens and real volts."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray

CONNECTIONS = ("wye", "open", "delta")
VANISHES = 1e-12  # relative to the admittances that were subtracted: rounding, not a path


def two_winding_admittance(z_hl: ArrayLike, ratio_l: ArrayLike) -> NDArray[np.complex128]:
    """
    Admittance of a two-winding transformer between its winding voltages.

    Parameters
    ----------
    z_hl : array_like of complex, shape (n,)
        Leakage impedance referred to winding H; infinite is no coupling. [ohm]
    ratio_l : array_like, shape (n,)
        Rated voltage of H over rated voltage of L. [1]

    Returns
    -------
    ndarray of complex, shape (n, 2, 2)
        Currents into windings H, L = matrix x their voltages, each in the winding's own volts
        and amperes. [S] NaN where an input is not on record.

    Raises
    ------
    ValueError
        A leakage impedance is zero, or a ratio is not positive.

    Notes
    -----
    A winding's voltage is that of its terminal less that of its neutral. Magnetizing current
    is left out. Phase shift does not appear: it does not change magnitudes.

    Source: derived from the equality of ampere-turns; Anderson, Analysis of Faulted Power Systems,
    transformer equivalents (recalled).
    """
    z, ratio = np.broadcast_arrays(
        np.atleast_1d(np.asarray(z_hl, dtype=complex)), np.atleast_1d(np.asarray(ratio_l, dtype=float))
    )
    if (z == 0).any():
        raise ValueError("z_hl must not be zero")
    if (ratio <= 0).any():
        raise ValueError("ratio_l must be positive")
    y = _reciprocal(z)
    matrix = np.empty((*y.shape, 2, 2), dtype=complex)
    matrix[..., 0, 0] = y
    matrix[..., 0, 1] = matrix[..., 1, 0] = -ratio * y
    matrix[..., 1, 1] = ratio * ratio * y
    return matrix


def winding_admittance(
    z_hl: ArrayLike, z_ht: ArrayLike, z_lt: ArrayLike, ratio_l: ArrayLike, ratio_t: ArrayLike
) -> NDArray[np.complex128]:
    """
    Admittance of a three-winding transformer between its winding voltages.

    Parameters
    ----------
    z_hl, z_ht, z_lt : array_like of complex, shape (n,)
        Leakage impedance of each pair of windings, all referred to winding H. Infinite z_ht
        or z_lt: winding T carries no current. [ohm]
    ratio_l, ratio_t : array_like, shape (n,)
        Rated voltage of H over rated voltage of L, and of T. [1]

    Returns
    -------
    ndarray of complex, shape (n, 3, 3)
        Currents into windings H, L, T = matrix x their voltages, each in the winding's own
        volts and amperes. [S] NaN where an input is not on record, and where the three pairs
        contradict each other so that no network has them.

    Raises
    ------
    ValueError
        A leakage impedance is zero, or a ratio is not positive.

    Notes
    -----
    With T as reference, in volts of H: Z = [[z_ht, m], [m, z_lt]], m = (z_ht + z_lt - z_hl)/2;
    Y = A' inv(Z) A, A = [[1, 0, -1], [0, 1, -1]]; rows and columns times the ratios. No star
    point is formed, so a star branch of zero or negative reactance needs no care.

    Source: derived from the definition of the pair impedances; Anderson, Analysis of Faulted Power Systems,
    transformer equivalents (recalled).
    """
    hl, ht, lt = (np.atleast_1d(np.asarray(z, dtype=complex)) for z in (z_hl, z_ht, z_lt))
    ratios = (np.atleast_1d(np.asarray(r, dtype=float)) for r in (ratio_l, ratio_t))
    hl, ht, lt, to_l, to_t = np.broadcast_arrays(hl, ht, lt, *ratios)
    if (hl == 0).any() or (ht == 0).any() or (lt == 0).any():
        raise ValueError("z_hl, z_ht and z_lt must not be zero")
    if (to_l <= 0).any() or (to_t <= 0).any():
        raise ValueError("ratio_l and ratio_t must be positive")

    no_tertiary = np.isinf(ht) | np.isinf(lt) | np.isinf(hl)
    ht, lt, pair = (np.where(no_tertiary, np.nan, z) for z in (ht, lt, hl))
    mutual = (ht + lt - pair) / 2
    determinant = ht * lt - mutual * mutual
    degenerate = np.abs(determinant) <= VANISHES * np.abs(ht * lt)
    determinant = np.where(degenerate, np.nan, determinant)
    with np.errstate(invalid="ignore"):
        y_hh, y_hl, y_ll = lt / determinant, -mutual / determinant, ht / determinant

    matrix = np.empty((*y_hh.shape, 3, 3), dtype=complex)
    matrix[..., 0, 0], matrix[..., 1, 1] = y_hh, y_ll
    matrix[..., 0, 1] = matrix[..., 1, 0] = y_hl
    matrix[..., 0, 2] = matrix[..., 2, 0] = -(y_hh + y_hl)
    matrix[..., 1, 2] = matrix[..., 2, 1] = -(y_hl + y_ll)
    matrix[..., 2, 2] = y_hh + 2 * y_hl + y_ll
    y_two = _reciprocal(hl)
    zero = np.zeros_like(y_two)
    without = np.stack([y_two, -y_two, zero, -y_two, y_two, zero, zero, zero, zero], axis=-1)
    matrix = np.where(no_tertiary[..., None, None], without.reshape(matrix.shape), matrix)
    scale = np.stack([np.ones_like(to_l), to_l, to_t], axis=-1)
    own_volts: NDArray[np.complex128] = matrix * scale[..., :, None] * scale[..., None, :]
    return own_volts


def magnetizing_pairs(z_hl: ArrayLike, z_m: ArrayLike) -> tuple[NDArray[np.complex128], NDArray[np.complex128]]:
    """
    Pair impedances of the fictitious delta winding that stands for the tank of a three-limb core.

    Parameters
    ----------
    z_hl : array_like of complex, shape (n,)
        Zero-sequence leakage impedance of H and L, referred to H. [ohm]
    z_m : array_like of complex, shape (n,)
        Zero-sequence magnetizing impedance, referred to H; infinite for a core with a return
        path of iron (five-limb, shell, bank of single-phase units). [ohm]

    Returns
    -------
    z_ht, z_lt : ndarray of complex, shape (n,)
        For winding_admittance, whose winding T is then connected in delta. [ohm] Infinite
        where z_m is, NaN where an input is not on record.

    Raises
    ------
    ValueError
        A magnetizing impedance is zero.

    Notes
    -----
    The flux that leaves a three-limb core returns through the tank, which acts as a delta
    winding of impedance z_m behind the middle of the leakage: z_ht = z_lt = z_hl/2 + z_m.

    Source: derived; magnetizing impedance of three-legged core type transformers, 40 to 150 % (Wang and Lascu,
    Zero Sequence Circuit of Three-legged Core Type Transformers).
    """
    leakage, magnetizing = np.broadcast_arrays(np.asarray(z_hl, dtype=complex), np.asarray(z_m, dtype=complex))
    if (magnetizing == 0).any():
        raise ValueError("z_m must not be zero")
    no_path = np.isinf(magnetizing) | np.isinf(leakage)
    finite = np.where(no_path, 0, leakage) / 2 + np.where(no_path, 0, magnetizing)
    pair = np.where(no_path, np.inf, finite)
    return pair, pair.copy()


def zero_sequence_admittance(y_windings: ArrayLike, connections: Sequence[str]) -> NDArray[np.complex128]:
    """
    Zero-sequence admittance between the terminals (less neutrals) that carry zero-sequence current.

    Parameters
    ----------
    y_windings : array_like of complex, shape (n, w, w)
        Admittance between winding voltages, from two_winding_admittance or
        winding_admittance with zero-sequence leakages. [S]
    connections : sequence of str, length w
        Of each winding, the same for the whole batch: 'wye' with a neutral that the caller
        connects, 'open' for a wye without one, 'delta'.

    Returns
    -------
    ndarray of complex, shape (n, w, w)
        Currents into the windings = matrix x their zero-sequence voltages; zeros in rows and
        columns of 'open' and 'delta' windings. [S] Exactly zero where there is no path, even
        if the leakage is not on record; else NaN where it is not.

    Raises
    ------
    ValueError
        The number of connections is not w, or a connection is none of the three.

    Notes
    -----
    In a delta the three equal voltages sum round the ring to zero: its winding voltage is
    zero, its row and column are struck. A wye without neutral carries no current: it is
    eliminated (Kron). What is left smaller than 1e-12 of what was subtracted is no path.

        H (wye) ---- leakage ----+         YNd: a shunt at H
                                 |
                      delta: short to ground

    Source: Anderson, Analysis of Faulted Power Systems, zero-sequence equivalents of transformers (recalled);
    IEC 60909-0, table of zero-sequence circuits (recalled).
    """
    windings = np.array(y_windings, dtype=complex)
    if windings.ndim < 2 or windings.shape[-1] != len(connections) or windings.shape[-2] != len(connections):
        raise ValueError(f"y_windings of shape {windings.shape} does not fit {len(connections)} connections")
    for connection in connections:
        if connection not in CONNECTIONS:
            raise ValueError(f"connection '{connection}' is none of {', '.join(CONNECTIONS)}")

    wyes = sum(connection == "wye" for connection in connections)
    if wyes == 0 or (wyes == 1 and "delta" not in connections):
        return np.zeros_like(windings)  # nothing to balance the ampere-turns

    diagonal = np.sqrt(np.abs(np.einsum("...ii->...i", windings)))
    rounding = VANISHES * diagonal[..., :, None] * diagonal[..., None, :]
    for w in (w for w, connection in enumerate(connections) if connection == "open"):
        pivot = windings[..., w, w]
        coupled = ~(np.abs(pivot) <= rounding[..., w, w])
        through = windings[..., :, w, None] * windings[..., None, w, :]
        with np.errstate(invalid="ignore"):
            through = through / np.where(coupled, pivot, 1)[..., None, None]
        windings = windings - np.where(coupled[..., None, None], through, 0)
        windings = np.where(np.abs(windings) <= rounding, 0, windings)
    carries = np.array([connection == "wye" for connection in connections])
    return np.where(carries[:, None] & carries, windings, 0)


def _reciprocal(z: NDArray[np.complex128]) -> NDArray[np.complex128]:
    """1/z, zero where z is infinite."""
    no_path = np.isinf(z)
    with np.errstate(invalid="ignore"):
        return np.where(no_path, 0, 1 / np.where(no_path, 1, z))
