"""Sequence impedances at the buses of a zone with one of its ground sources out, by update of what was solved."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.engineering import impedance_after, outage_kernel
from groundcheck.engineering.nodal import NetworkImpedances
from groundcheck.study.networks.solved_networks import Networks
from groundcheck.study.outages.listed import Blocks, positive_blocks, zero_blocks

Ints = NDArray[np.int64]
Complexes = NDArray[np.complex128]
Bools = NDArray[np.bool_]
Sequences = tuple[Complexes, Complexes, Complexes]


class Updated:
    """One solved network of the fleet with each outage taken out of it."""

    def __init__(self, solved: NetworkImpedances, blocks: Blocks) -> None:
        self.solved, self.node = solved, blocks.node
        width = blocks.node.shape[1]
        at = solved.column_values(
            np.repeat(blocks.node, width, axis=1).ravel(), np.tile(blocks.node, (1, width)).ravel()
        ).reshape(-1, width, width)
        self.kernel = outage_kernel(at, blocks.y)

    def between(self, outage: Ints, row: Ints, col: Ints) -> Complexes:
        """Impedance between nodes, each with its outage."""
        touched = self.node[outage]
        width = touched.shape[1]
        start = self.solved.column_values(np.repeat(row, width), touched.ravel()).reshape(-1, width)
        end = self.solved.column_values(touched.ravel(), np.repeat(col, width)).reshape(-1, width)
        apart = (start == 0).all(axis=1) | (end == 0).all(axis=1)  # of a network that the outage does not touch
        kernel = np.where(apart[:, None, None], 0, self.kernel[outage])
        return impedance_after(self.solved.column_values(row, col), start, kernel, end)


def impedances_after(
    networks: Networks, outages: pd.DataFrame, outage: Ints, node: Ints, ungrounded: Bools, condition: str
) -> Sequences:
    """Z1, Z2 and Z0 at each node with its outage; Z0 is infinite where that leaves the zone without a ground source."""
    solution = networks.solution
    z1 = Updated(solution.positive[condition], positive_blocks(networks, outages, condition, 1))
    z2 = Updated(solution.negative[condition], positive_blocks(networks, outages, condition, 2))
    z0 = Updated(solution.zero[condition], zero_blocks(networks, outages, condition))
    first, second, zero = (each.between(outage, node, node) for each in (z1, z2, z0))
    return first, second, np.where(ungrounded, np.inf + 0j, zero)
