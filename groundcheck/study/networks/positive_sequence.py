"""The positive- and negative-sequence networks of the fleet."""

import numpy as np
from numpy.typing import NDArray

from groundcheck.engineering import two_winding_admittance, winding_admittance
from groundcheck.study.ledger import Ledger
from groundcheck.study.networks.equipment import Generators, Infeeds, Transformers
from groundcheck.study.networks.lines import Lines
from groundcheck.study.networks.sequence_network import SequenceNetwork, reciprocal
from groundcheck.study.networks.zones import Topology

Ints = NDArray[np.int64]
Complexes = NDArray[np.complex128]


def series_network(
    topology: Topology, lines: Lines, transformers: Transformers, ledger: Ledger, sources: Ints
) -> SequenceNetwork:
    """
    Lines and transformers; infeeds and machines are added for each condition and sequence.

    sources : nodes of the infeeds and generators on record.
    """
    network = SequenceNetwork(topology.node_count)
    series = (topology.line_from >= 0) & (topology.line_to >= 0)
    network.add_branch(topology.line_from[series], topology.line_to[series], reciprocal(lines.z1[series]))
    _add_transformers(network, transformers)
    _join_feeding_tertiaries(network, transformers, sources)
    add_undecided_switches(network, ledger, "positive")
    return network


def add_undecided_switches(network: SequenceNetwork, ledger: Ledger, sequence: str) -> None:
    """A switch of unknown state makes the networks at both its ends unknown."""
    blocks = ledger.blocked(sequence)
    node = blocks.loc[blocks["blocking_asset_kind"] == "switch", "node"].to_numpy(dtype=np.int64)
    network.add_shunt(node, np.full(node.size, np.nan, dtype=complex))


def transformer_admittances(transformers: Transformers) -> Complexes:
    """Between HV, LV and TV of each transformer, shape (n, 3, 3); zeros where it has no third, or is left out."""
    node, z = transformers.node, transformers.positive
    three = transformers.usable & (node[:, 2] >= 0) & ~np.isnan(z).any(axis=1)
    two = transformers.usable & ~three
    y = np.zeros((z.shape[0], 3, 3), dtype=complex)
    y[two, :2, :2] = two_winding_admittance(z[two, 0], transformers.ratio[two, 0])
    y[three] = winding_admittance(
        z[three, 0], z[three, 1], z[three, 2], transformers.ratio[three, 0], transformers.ratio[three, 1]
    )
    return y


def _add_transformers(network: SequenceNetwork, transformers: Transformers) -> None:
    node, z = transformers.node, transformers.positive
    y = transformer_admittances(transformers)
    three = transformers.usable & (node[:, 2] >= 0) & ~np.isnan(z).any(axis=1)
    two = transformers.usable & ~three
    for members, width in ((two, 2), (three, 3)):
        for i in range(width):
            for j in range(width):
                network.add(node[members, i], node[members, j], y[members, i, j])
    unknown_tertiary = two & (node[:, 2] >= 0)
    at = node[unknown_tertiary, 2]
    network.add_shunt(at, np.full(at.size, np.nan, dtype=complex))


def _join_feeding_tertiaries(network: SequenceNetwork, transformers: Transformers, sources: Ints) -> None:
    """
    Leave HV and LV open as well where a tertiary of unknown impedance may feed them.

    It may where a source stands behind it, or another such tertiary, behind whose transformer one may stand.
    """
    node = transformers.node
    unknown = transformers.usable & (node[:, 2] >= 0) & np.isnan(transformers.positive).any(axis=1)
    hv, tv = node[unknown, 0], node[unknown, 2]
    part = network.components()
    feeds = np.zeros(part.size, dtype=bool)
    feeds[part[sources[sources >= 0]]] = True
    feeds |= np.bincount(part[tv], minlength=part.size) > 1
    feeding = feeds[part[tv]]
    network.add_branch(hv[feeding], tv[feeding], np.full(int(feeding.sum()), np.nan, dtype=complex))


def block_tertiaries(transformers: Transformers, ledger: Ledger) -> None:
    """Ask for the pair impedances of a tertiary that is brought out."""
    node, z = transformers.node, transformers.positive
    brought_out = transformers.usable & (node[:, 2] >= 0)
    for pair, field in ((1, "hv_tv_impedance"), (2, "lv_tv_impedance")):
        ledger.block("positive", "transformer", brought_out & np.isnan(z[:, pair]), field, node[:, 2])


def unsupplied(part: Ints, infeeds: Infeeds, generators: Generators) -> NDArray[np.bool_]:
    """Of each node, whether its part of the network has no infeed and no generator on record."""
    supplied = np.zeros(int(part.max()) + 1 if part.size else 0, dtype=bool)
    for node in (infeeds.node, generators.node):
        supplied[part[node[node >= 0]]] = True
    return ~supplied[part]
