"""Nodal impedances once part of a network is taken out, without inverting the network again."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

RANK = 1e-9  # singular values below this share of the largest are those of a part that nothing holds any more


def outage_kernel(z_at: ArrayLike, y_removed: ArrayLike, cuts_off: ArrayLike = True) -> NDArray[np.complex128]:
    """
    What the removal of an element changes, as a matrix between the nodes that it touches.

    Parameters
    ----------
    z_at : array_like of complex, shape (n, k, k)
        Nodal impedances between the k nodes of each element, the element in service. [ohm]
    y_removed : array_like of complex, shape (n, k, k)
        Nodal admittance of the element between them; zeros for nodes that only fill up. [S]
    cuts_off : array_like of bool, shape (n,)
        Whether the removal may leave a part of the network without any path.

    Returns
    -------
    ndarray of complex, shape (n, k, k)
        For impedance_after. [S] NaN where an input is not on record.

    Raises
    ------
    ValueError
        The shapes differ or are not of square matrices.

    Notes
    -----
    Y' = Y - E B E^T gives Z' = Z + Z E (I - B E^T Z E)^-1 B E^T Z. Where the removal cuts
    off a part without a path, that matrix is singular. Its null vectors are currents that
    raise the voltage of the cut part only, so that the pseudo-inverse gives the right
    impedances elsewhere. Which part is cut off is a question of topology: ask it before.
    A part that is left with a small capacitance only is nearly as singular and yet has an
    impedance; where nothing is cut off, no singular value is taken for zero.

    Source: Sherman, Morrison and Woodbury, inverse of a modified matrix; textbook.
    """
    z, y = np.asarray(z_at, dtype=complex), np.asarray(y_removed, dtype=complex)
    if z.shape != y.shape or z.ndim != 3 or z.shape[1] != z.shape[2]:
        raise ValueError(f"z_at of shape {z.shape} and y_removed of shape {y.shape} must be equal stacks of squares")
    unknown = ~(np.isfinite(z).all(axis=(1, 2)) & np.isfinite(y).all(axis=(1, 2)))
    z, y = (np.where(unknown[:, None, None], 0, each) for each in (z, y))
    rest = np.eye(z.shape[1]) - y @ z
    rank = np.where(np.broadcast_to(np.asarray(cuts_off, dtype=bool), unknown.shape), RANK, 0.0)
    kernel: NDArray[np.complex128] = np.linalg.pinv(rest, rcond=rank) @ y
    kernel[unknown] = complex(np.nan, np.nan)
    return kernel


def impedance_after(
    z_before: ArrayLike, z_from: ArrayLike, kernel: ArrayLike, z_to: ArrayLike
) -> NDArray[np.complex128]:
    """
    Impedance between two nodes with the element out.

    Parameters
    ----------
    z_before : array_like of complex, shape (n,)
        Z[i, j] with the element in service. [ohm]
    z_from : array_like of complex, shape (n, k)
        Z[i, e] for the nodes e of the element. [ohm]
    kernel : array_like of complex, shape (n, k, k)
        From outage_kernel. [S]
    z_to : array_like of complex, shape (n, k)
        Z[e, j]. [ohm]

    Returns
    -------
    ndarray of complex, shape (n,)
        Z'[i, j]. [ohm] NaN where an input is.

    Raises
    ------
    ValueError
        The shapes do not fit.

    Notes
    -----
    Z'_ij = Z_ij + Z_ie K Z_ej.

    Source: Sherman, Morrison and Woodbury, inverse of a modified matrix; textbook.
    """
    before = np.asarray(z_before, dtype=complex)
    start, change, end = (np.asarray(each, dtype=complex) for each in (z_from, kernel, z_to))
    after: NDArray[np.complex128] = before + np.einsum("ni,nij,nj->n", start, change, end)
    return after
