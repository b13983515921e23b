"""A linear circuit of coupled coils between nodes, solved at rest, with faults at three of its nodes.

What floats (a delta and what hangs on it, a neutral that nothing holds) leaves the admittance matrix without an
inverse. Its null space is kept: a fault current may not push against it, and its voltage is left to the fault.
"""

from dataclasses import dataclass, field

import numpy as np
from networks.coils import TO_PHASES, TO_SEQUENCES, A

GROUND = ("ground",)
BEFORE = np.array([1, A**2, A])  # the three voltages before the fault
VANISHES = 1e-13  # singular values below this are those of floating parts
LEAST = 2e-12  # and none may lie between


@dataclass
class Circuit:
    """Nodes are named by tuples; two names of one node are joined before anything is stamped."""

    joined: dict[tuple, tuple] = field(default_factory=dict)
    numbers: dict[tuple, int] = field(default_factory=dict)
    stamps: list[tuple[list[int], np.ndarray]] = field(default_factory=list)

    def join(self, a: tuple, b: tuple) -> None:
        """Make two names one node."""
        a, b = self.root(a), self.root(b)
        if a != b:
            self.joined[a] = b

    def root(self, name: tuple) -> tuple:
        """The name that stands for a node."""
        while name in self.joined:
            name = self.joined[name]
        return name

    def number(self, name: tuple) -> int:
        """Number of a node, -1 for the ground."""
        if name == GROUND:
            return -1
        name = self.root(name)
        return self.numbers.setdefault(name, len(self.numbers))

    def coils(self, ends: list[tuple[tuple, tuple]], y: np.ndarray) -> None:
        """Coupled coils: currents into their first ends = y x voltages across them."""
        names = list(dict.fromkeys(name for pair in ends for name in pair))
        incidence = np.zeros((len(ends), len(names)))
        for row, (a, b) in enumerate(ends):
            incidence[row, names.index(a)] += 1
            incidence[row, names.index(b)] -= 1
        self.stamps.append(([self.number(n) for n in names], incidence.T @ y @ incidence))

    def link(self, name: tuple, node: tuple) -> None:
        """Tie a node to ground; the current through the link becomes an unknown called `name`."""
        at, current = self.number(node), self.number(name)
        self.stamps.append(([at, current], np.array([[0, 1], [1, 0]], dtype=complex)))

    def solve(self) -> "Response":
        """Voltages (and link currents) for one ampere into any node."""
        count = len(self.numbers)
        matrix = np.zeros((count + 1, count + 1), dtype=complex)
        for places, y in self.stamps:
            np.add.at(matrix, np.ix_(places, places), y)
        matrix = matrix[:count, :count]  # the last row and column collected what is at the ground
        size = np.sqrt(np.abs(np.diag(matrix)))
        link = size == 0
        size[link] = 1 / np.array([np.sqrt(np.abs(matrix[j, j])) for j in np.abs(matrix[link]).argmax(axis=1)])
        left, values, right = np.linalg.svd(matrix / size[:, None] / size)
        floats = values < VANISHES
        if ((values > VANISHES) & (values < LEAST)).any():
            raise ArithmeticError("a part of the circuit is neither tied nor floating")
        keep = ~floats
        inverse = (right[keep].conj().T / values[keep]) @ left[:, keep].conj().T
        return Response(
            self,
            inverse / size[:, None] / size,
            right[floats].conj().T / size[:, None],
            left[:, floats] / size[:, None],
        )


@dataclass
class Fault:
    """Currents out of the three nodes into the fault, voltages there, and the way to those elsewhere."""

    currents: np.ndarray
    volts: np.ndarray
    response: "Response"
    places: list[int]
    modes: np.ndarray

    def at(self, name: tuple) -> complex:
        """Change of the voltage of a node, or the current of a link."""
        row = self.response.circuit.number(name)
        return self.response.inverse[row, self.places] @ -self.currents + self.response.floating[row] @ self.modes


@dataclass
class Response:
    """Inverse of the admittance matrix, and what floats: right and left null vectors."""

    circuit: Circuit
    inverse: np.ndarray
    floating: np.ndarray
    blocking: np.ndarray

    def sequences(self, nodes: list[tuple]) -> np.ndarray:
        """Thevenin impedance of three nodes between zero, positive and negative sequence, shape (3, 3)."""
        at = [self.circuit.number(n) for n in nodes]
        return TO_SEQUENCES @ self.inverse[np.ix_(at, at)] @ TO_PHASES

    def floats(self, nodes: list[tuple]) -> bool:
        """Whether no current can flow from the three nodes to ground."""
        at = [self.circuit.number(n) for n in nodes]
        strength = np.abs(self.blocking).max(axis=0, initial=0)
        return bool((np.abs(self.blocking[at]).max(axis=0) > 1e-6 * strength).any())

    def fault(self, nodes: list[tuple], volts: float, kind: str) -> Fault:
        """Fault 'a-g', 'b-c', 'b-c-g' or 'a-b-c' at three nodes that stood at `volts` to ground."""
        at = [self.circuit.number(n) for n in nodes]
        modes = self.floating.shape[1]
        # Unknown: three currents, then the voltages of what floats.
        to_volts = np.hstack([-self.inverse[np.ix_(at, at)], self.floating[at]])
        current = np.eye(3, 3 + modes)
        rows = {
            "a-g": [(to_volts[0], 0), (current[1], None), (current[2], None)],
            "b-c": [(to_volts[1] - to_volts[2], 1), (current[0], None), (current[1] + current[2], None)],
            "b-c-g": [(to_volts[1], 1), (to_volts[2], 2), (current[0], None)],
            "a-b-c": [(to_volts[0], 0), (to_volts[1], 1), (to_volts[2], 2)],
        }[kind]
        before = volts * BEFORE
        known = {0: -before[0], 1: -before[1], 2: -before[2], None: 0}
        if kind == "b-c":
            known[1] = before[2] - before[1]
        scale = [np.abs(row).max() for row, _ in rows]
        system = [row / s for (row, _), s in zip(rows, scale, strict=True)]
        right = [known[which] / s for (_, which), s in zip(rows, scale, strict=True)]
        blocked = self.blocking[at].conj().T
        strength = np.abs(self.blocking).max(axis=0, initial=0)
        for mode in range(modes):
            system.append(np.concatenate([blocked[mode] / strength[mode], np.zeros(modes)]))
            right.append(0)
        matrix = np.array(system, dtype=complex)
        width = np.abs(matrix).max(axis=0)
        width[width < 1e-12 * width.max()] = 1
        found = np.linalg.lstsq(matrix / width, np.array(right, dtype=complex), rcond=1e-12)[0] / width
        return Fault(found[:3], before + to_volts @ found, self, at, found[3:])
