"""A sequence network under construction: admittance entries in siemens, and the structure behind them."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from groundcheck.engineering import NetworkImpedances, connected, impedance_matrices

Ints = NDArray[np.int64]
Complexes = NDArray[np.complex128]
Admittances = NDArray[np.complexfloating]

GROUND = -1  # a node that is the ground itself: entries on it are dropped


@dataclass
class SequenceNetwork:
    """Nodes 0 to count-1; more may be added."""

    count: int
    rows: list[Ints] = field(default_factory=list)
    cols: list[Ints] = field(default_factory=list)
    values: list[Complexes] = field(default_factory=list)
    edges: list[tuple[Ints, Ints]] = field(default_factory=list)

    def add_nodes(self, number: int) -> Ints:
        """Make new nodes and give their numbers."""
        new = np.arange(self.count, self.count + number, dtype=np.int64)
        self.count += number
        return new

    def add(self, row: Ints, col: Ints, y: Admittances) -> None:
        """Add admittance entries; those on the ground are dropped, the others join their nodes."""
        keep = (row >= 0) & (col >= 0)
        self.rows.append(row[keep])
        self.cols.append(col[keep])
        self.values.append(np.asarray(y, dtype=complex)[keep])
        apart = row[keep] != col[keep]
        self.edges.append((row[keep][apart], col[keep][apart]))

    def add_shunt(self, node: Ints, y: Admittances) -> None:
        """An admittance to ground."""
        self.add(node, node, y)

    def add_branch(self, a: Ints, b: Ints, y: Admittances) -> None:
        """An admittance between two nodes, either of which may be the ground."""
        self.add(a, a, y)
        self.add(b, b, y)
        self.add(a, b, -np.asarray(y))
        self.add(b, a, -np.asarray(y))

    def with_shunts(self, *shunts: tuple[Ints, Complexes]) -> "SequenceNetwork":
        """A copy with impedances to ground added: pairs of nodes and impedances."""
        copy = SequenceNetwork(self.count, list(self.rows), list(self.cols), list(self.values), list(self.edges))
        for node, z in shunts:
            copy.add_shunt(node, reciprocal(z))
        return copy

    def components(self) -> Ints:
        """Which part each node belongs to: parts share no admittance."""
        if not self.edges:
            return np.arange(self.count, dtype=np.int64)
        return connected(
            self.count, np.concatenate([a for a, _ in self.edges]), np.concatenate([b for _, b in self.edges])
        )

    def solve(self, part: Ints, without_ground: NDArray[np.bool_]) -> NetworkImpedances:
        """Invert every part; nodes marked in `without_ground` lie in a part that topology knows to have no path."""
        rows, cols, values = list(self.rows), list(self.cols), list(self.values)
        floating = np.flatnonzero(without_ground).astype(np.int64)
        rows.append(floating)
        cols.append(floating)
        values.append(np.full(floating.size, np.nan, dtype=complex))
        return impedance_matrices(part, np.concatenate(rows), np.concatenate(cols), np.concatenate(values))


def reciprocal(z: Complexes) -> Complexes:
    """1/z: zero where z is infinite, NaN where it is NaN or zero."""
    endless = np.isinf(z)
    useless = endless | (z == 0) | np.isnan(z)
    inverse = 1 / np.where(useless, 1, z)
    return np.where(endless, 0, np.where(useless, np.nan, inverse))
