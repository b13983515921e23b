"""Nodal impedance matrices of many small networks at once."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

EXACT_SIZE_FROM = 512  # from here on a matrix is not padded: the work would outweigh the fewer calls
CHUNK_BYTES = 50_000_000  # of one stack; the inverse, its copy and its right-hand side take four times as much
WORST_CONDITION = 1e13  # of the scaled matrix: beyond it fewer than three digits are left


@dataclass(frozen=True)
class NetworkImpedances:
    """
    Inverse nodal admittance matrices of all networks.

    Attributes
    ----------
    values : ndarray of complex, shape (m,)
        The matrices one after the other, each padded. [ohm]
    network, local, offset, stride : ndarray of int, shape (n,)
        Of each node: its network, its row in the padded matrix, where that matrix starts in
        values, and how wide it is.
    """

    values: NDArray[np.complex128]
    network: NDArray[np.int64]
    local: NDArray[np.int64]
    offset: NDArray[np.int64]
    stride: NDArray[np.int64]

    def column_values(self, row_nodes: ArrayLike, col_nodes: ArrayLike) -> NDArray[np.complex128]:
        """
        Voltage at one node for one ampere into another.

        Parameters
        ----------
        row_nodes, col_nodes : array_like of int, shape (k,)
            Node whose voltage is wanted, and node into which the current flows.

        Returns
        -------
        ndarray of complex, shape (k,)
            Z[row, col]. [ohm] Zero where the nodes are in different networks, NaN where the
            network's matrix could not be inverted.

        Raises
        ------
        IndexError
            There is no such node.

        Notes
        -----
        Source: definition of the nodal impedance matrix; Glover, Sarma, Overbye, Power System Analysis and
        Design (recalled).
        """
        row, col = np.asarray(row_nodes, dtype=np.int64), np.asarray(col_nodes, dtype=np.int64)
        together = self.network[row] == self.network[col]
        place = np.where(together, self.offset[row] + self.local[row] * self.stride[row] + self.local[col], 0)
        if not self.values.size:
            return np.zeros(place.shape, dtype=complex)
        return np.where(together, self.values[place], 0)

    def driving_point(self) -> NDArray[np.complex128]:
        """
        Thevenin impedance at every node.

        Returns
        -------
        ndarray of complex, shape (n,)
            Z[i, i]. [ohm] NaN where the network's matrix could not be inverted.

        Notes
        -----
        Source: definition of the nodal impedance matrix; Glover, Sarma, Overbye, Power System Analysis and
        Design (recalled).
        """
        return self.values[self.offset + self.local * (self.stride + 1)]


def group_by_size(sizes: ArrayLike) -> list[tuple[int, NDArray[np.int64]]]:
    """
    Networks gathered in a few buckets of nearly equal size.

    Parameters
    ----------
    sizes : array_like of int, shape (k,)
        Number of nodes of each network; an empty one joins no bucket.

    Returns
    -------
    list of (int, ndarray of int)
        Padded size of a bucket, and the networks in it, smallest bucket first. Padded sizes
        are 1, 2, 3, 4, 6, 8, 12, 16, 24 ... 512; above that, the size itself.

    Raises
    ------
    ValueError
        A size is negative.

    Notes
    -----
    Source: derived; steps of at most a half keep the work below 3.4 times that without padding.
    """
    size = np.asarray(sizes, dtype=np.int64)
    if (size < 0).any():
        raise ValueError("sizes must not be negative")
    power = 2 ** np.arange(0, 10)
    steps = np.unique(np.concatenate([power, power[1:-1] * 3 // 2]))
    padded = np.where(size > EXACT_SIZE_FROM, size, steps[np.searchsorted(steps, np.minimum(size, EXACT_SIZE_FROM))])
    padded = np.where(size == 0, 0, padded)
    return [(int(width), np.flatnonzero(padded == width)) for width in np.unique(padded) if width > 0]


def impedance_matrices(
    node_network: ArrayLike, entries_row: ArrayLike, entries_col: ArrayLike, entries_y: ArrayLike
) -> NetworkImpedances:
    """
    Nodal impedance matrix of every network, all networks of a size together.

    Parameters
    ----------
    node_network : array_like of int, shape (n,)
        Number of the network each node belongs to, from 0.
    entries_row, entries_col : array_like of int, shape (m,)
        Row and column, as node numbers, of each entry; both in one network.
    entries_y : array_like of complex, shape (m,)
        What is added to the nodal admittance matrix there. [S]

    Returns
    -------
    NetworkImpedances
        The inverses. A network is NaN throughout where an entry of it is NaN or infinite, or
        where it has no path to ground, so that its matrix is singular.

    Raises
    ------
    ValueError
        The entries differ in length, name a node that does not exist, or join two networks;
        or a network number is negative.

    Notes
    -----
    Z = inv(Y). Rows and columns are scaled by the square root of their largest entry before
    the inverse, so that stations of different voltage do not spoil each other's digits. A
    matrix counts as singular from a scaled condition of 1e13. A lossless coil exactly in
    tune with its zone is such a case: its impedance is infinite, and NaN is returned.

    Source: nodal analysis; Glover, Sarma, Overbye, Power System Analysis and Design (recalled).
    """
    network = np.asarray(node_network, dtype=np.int64).ravel()
    row, col = np.asarray(entries_row, dtype=np.int64).ravel(), np.asarray(entries_col, dtype=np.int64).ravel()
    y = np.asarray(entries_y, dtype=complex).ravel()
    _check_entries(network, row, col, y)

    sizes = np.bincount(network)
    order = np.argsort(network, kind="stable")
    local = np.empty_like(network)
    local[order] = np.arange(network.size) - (np.cumsum(sizes) - sizes)[network[order]]

    buckets = group_by_size(sizes)
    stride, offset, total = np.zeros_like(sizes), np.zeros_like(sizes), 0
    for width, members in buckets:
        stride[members] = width
        offset[members] = total + np.arange(members.size) * width * width
        total += members.size * width * width

    values = np.zeros(total, dtype=complex)
    np.add.at(values, offset[network[row]] + local[row] * stride[network[row]] + local[col], y)
    for width, members in buckets:
        start = int(offset[members[0]])
        stack = values[start : start + members.size * width * width].reshape(members.size, width, width)
        padding = np.arange(width) >= sizes[members, None]
        stack[:, np.arange(width), np.arange(width)] += padding
        chunk = max(1, CHUNK_BYTES // (16 * width * width))
        for first in range(0, members.size, chunk):
            stack[first : first + chunk] = _inverses(stack[first : first + chunk])
    return NetworkImpedances(values, network, local, offset[network], stride[network])


def _check_entries(
    network: NDArray[np.int64], row: NDArray[np.int64], col: NDArray[np.int64], y: NDArray[np.complex128]
) -> None:
    if network.size and network.min() < 0:
        raise ValueError("node_network must not be negative")
    if not row.size == col.size == y.size:
        raise ValueError(f"entries_row, entries_col and entries_y differ in length: {row.size}, {col.size}, {y.size}")
    if row.size == 0:
        return
    if min(row.min(), col.min()) < 0 or max(row.max(), col.max()) >= network.size:
        raise ValueError(f"entries_row and entries_col must be from 0 to {network.size - 1}")
    if (network[row] != network[col]).any():
        raise ValueError("an entry joins two networks; its row and column must be in one")


def _inverses(stack: NDArray[np.complex128]) -> NDArray[np.complex128]:
    """Inverse of each matrix, NaN for those that have none."""
    magnitude = np.abs(stack)
    unknown = np.logical_not(np.isfinite(magnitude).all(axis=(1, 2)))
    largest = np.where(unknown[:, None], 1, magnitude.max(axis=2))
    scale = 1 / np.sqrt(np.where(largest == 0, 1, largest))
    known: NDArray[np.complex128] = np.where(unknown[:, None, None], np.eye(stack.shape[1]), stack)
    scaled = known * scale[:, :, None] * scale[:, None, :]
    inverse = _invert_apart(scaled)
    condition = _norm(scaled) * _norm(inverse)
    inverse *= scale[:, :, None] * scale[:, None, :]
    singular = np.logical_not(condition < WORST_CONDITION)  # NaN counts as singular
    inverse[unknown | singular] = complex(np.nan, np.nan)  # both parts, each of which may be read by itself
    return inverse


def _invert_apart(stack: NDArray[np.complex128]) -> NDArray[np.complex128]:
    """Inverse of each matrix; halves the stack until an exactly singular one stands alone."""
    try:
        inverse = np.linalg.inv(stack).astype(np.complex128, copy=False)
    except np.linalg.LinAlgError:
        if len(stack) == 1:
            return np.full_like(stack, np.nan)
        half = len(stack) // 2
        return np.concatenate([_invert_apart(stack[:half]), _invert_apart(stack[half:])])
    return inverse


def _norm(stack: NDArray[np.complex128]) -> NDArray[np.float64]:
    norm: NDArray[np.float64] = np.abs(stack).sum(axis=1).max(axis=1)
    return norm
