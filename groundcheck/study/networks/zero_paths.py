"""The ways by which zero-sequence current reaches the ground, gathered while the network is built."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from groundcheck.study.networks.neutrals import Neutrals
from groundcheck.study.networks.sequence_network import SequenceNetwork, reciprocal

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Complexes = NDArray[np.complex128]

FLOATING = -2  # a neutral through which no current can pass


@dataclass
class ZeroSequence:
    """
    The network with what topology tells of it.

    grounded : nodes at which something other than capacitance leads to ground.
    beyond_coil : those at which it is something other than an arc-suppression coil.
    capacitive : nodes with capacitance to ground.
    sources : point, node, definite: what lets zero-sequence current in; not definite where a record must decide.
    coupled : point, node: windings that pass current on to a grounded winding of the same core, without a delta.
    probes : point, node, y, terminal: zero-sequence current into a winding there = sum of y x voltage of node.
    neutral_node : of each group of devices; GROUND where it is solid, -2 where nothing carries current.
    """

    network: SequenceNetwork
    neutral_node: Ints
    point_node: Ints
    grounded: list[Ints] = field(default_factory=list)
    beyond_coil: list[Ints] = field(default_factory=list)
    capacitive: list[Ints] = field(default_factory=list)
    sources: list[tuple[Ints, Ints, bool]] = field(default_factory=list)
    coupled: list[tuple[Ints, Ints]] = field(default_factory=list)
    probes: list[tuple[Ints, Ints, Complexes, Ints]] = field(default_factory=list)

    def ground_at(self, point: Ints, node: Ints, treatment: NDArray[np.object_], definite: bool = True) -> None:
        """Note that current reaches the ground from these nodes through these points."""
        self.grounded.append(node)
        self.beyond_coil.append(node[treatment != "arc_suppression_coil"])
        self.sources.append((point, node, definite))

    def add_machine_capacitance(self, node: Ints, susceptance: Floats) -> None:
        """Capacitance to ground of machines and what is connected to them; what is not on record is left out."""
        known = (node >= 0) & (np.nan_to_num(susceptance) > 0)
        self.network.add_shunt(node[known], 1j * susceptance[known])
        self.capacitive.append(node[known])

    def probe(self, point: Ints, node: Ints, y: NDArray[np.inexact], terminal: Ints) -> None:
        """Note what current a point sees by the winding at a terminal; the ground and open ends add nothing."""
        keep = node >= 0
        self.probes.append((point[keep], node[keep], np.asarray(y, dtype=complex)[keep], terminal[keep]))


def add_neutral_branch(built: ZeroSequence, neutrals: Neutrals, point: Ints, node: Ints, z: Complexes) -> None:
    """An impedance from the bus to the neutral of a machine or a grounding transformer."""
    neutral = built.point_node[point]
    live = (neutral != FLOATING) & (node >= 0)
    point, node, neutral, y = point[live], node[live], neutral[live], reciprocal(z[live])
    built.network.add_branch(node, neutral, y)
    built.probe(point, node, y, node)
    built.probe(point, neutral, -y, node)
    built.ground_at(point, node, neutrals.points["treatment"].to_numpy(dtype=object)[point])


def add_unknown(built: ZeroSequence, point: Ints, node: Ints) -> None:
    """Something not on record decides whether current reaches the ground here."""
    built.network.add_shunt(node, np.full(node.size, np.nan, dtype=complex))
    built.grounded.append(node)
    built.beyond_coil.append(node)
    built.sources.append((point, node, False))


def probe_open_neutrals(built: ZeroSequence, neutrals: Neutrals, node: Ints) -> None:
    """A neutral that is on record as open carries nothing, which is not the same as not being known."""
    treatment = neutrals.points["treatment"].to_numpy(dtype=object).astype(str)
    point = np.flatnonzero(np.isin(treatment, ("open", "surge_arrester")) & (built.point_node == FLOATING))
    built.probe(point, node[point], np.zeros(point.size), node[point])
