"""Sequence impedances at buses with one of the ground sources out, by update of what was solved."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.engineering import impedance_after, outage_kernel
from groundcheck.engineering.nodal import NetworkImpedances
from groundcheck.study.networks.bus_faults import CONDITIONS
from groundcheck.study.networks.solved_networks import Networks
from groundcheck.study.outages.blocks import Blocks, leaves_floating, positive_blocks, zero_blocks

Ints = NDArray[np.int64]
Complexes = NDArray[np.complex128]
Bools = NDArray[np.bool_]
Sequences = tuple[Complexes, Complexes, Complexes]


class Updated:
    """One solved network of the fleet with each of some outages taken out of it."""

    def __init__(self, solved: NetworkImpedances, blocks: Blocks, outages: Ints, cuts_off: Bools) -> None:
        self.solved, self.node = solved, blocks.node
        width = blocks.node.shape[1]
        node = blocks.node[outages]
        at = solved.column_values(np.repeat(node, width, axis=1).ravel(), np.tile(node, (1, width)).ravel())
        self.kernel = np.zeros(blocks.y.shape, dtype=complex)
        self.kernel[outages] = outage_kernel(at.reshape(-1, width, width), blocks.y[outages], cuts_off)

    def between(self, outage: Ints, row: Ints, col: Ints) -> Complexes:
        """Impedance between nodes, each with its outage."""
        touched = self.node[outage]
        width = touched.shape[1]
        start = self.solved.column_values(np.repeat(row, width), touched.ravel()).reshape(-1, width)
        end = self.solved.column_values(touched.ravel(), np.repeat(col, width)).reshape(-1, width)
        apart = (start == 0).all(axis=1) | (end == 0).all(axis=1)  # of a network that the outage does not touch
        kernel = np.where(apart[:, None, None], 0, self.kernel[outage])
        return impedance_after(self.solved.column_values(row, col), start, kernel, end)


@dataclass(frozen=True)
class Places:
    """
    Buses, each with its node and an outage.

    apart : where the outage leaves Z0 as it is.
    """

    outage: Ints
    bus: Ints
    node: Ints
    apart: Bools


@dataclass(frozen=True)
class After:
    """Z1, Z2 and Z0 at buses, each with its outage, by condition; and the zero-sequence network they come from."""

    z: dict[str, Sequences]
    zero: dict[str, Updated]


def supply_after(networks: Networks, outages: pd.DataFrame, outage: Ints, node: Ints) -> Complexes:
    """Z1 at nodes, each with its outage, in the maximum condition."""
    blocks = positive_blocks(networks, outages, "max", 1)
    some = np.unique(outage)
    return Updated(networks.solution.positive["max"], blocks, some, np.full(some.size, True)).between(
        outage, node, node
    )


def impedances_after(
    networks: Networks, outages: pd.DataFrame, places: Places, endless: Bools, cuts_off: Bools
) -> After:
    """
    Update one solution of the fleet.

    endless : where topology tells that the outage leaves Z0 without limit.
    cuts_off : outages with which nothing leads to ground from some zone, dead or not, not even capacitance.
    """
    solution, at, some = networks.solution, places.outage, np.unique(places.outage)
    always = np.full(some.size, True)
    cut = (cuts_off | leaves_floating(networks, outages))[some]
    z: dict[str, Sequences] = {}
    updated: dict[str, Updated] = {}
    for condition in CONDITIONS:
        if condition == "min" and solution.positive["min"] is solution.positive["max"]:
            z["min"], updated["min"] = z["max"], updated["max"]
            continue
        positive = Updated(solution.positive[condition], positive_blocks(networks, outages, condition, 1), some, always)
        negative = Updated(solution.negative[condition], positive_blocks(networks, outages, condition, 2), some, always)
        updated[condition] = Updated(solution.zero[condition], zero_blocks(networks, outages, condition), some, cut)
        first, second, zero = (
            each.between(at, places.node, places.node) for each in (positive, negative, updated[condition])
        )
        zero = np.where(endless, np.inf + 0j, zero)
        z[condition] = first, second, np.where(places.apart, solution.z0[condition][places.bus], zero)
    return After(z, updated)
