"""What each outage takes out of the sequence networks, as one small admittance matrix an outage."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.study.currents.meters import gathered_probes
from groundcheck.study.matching import first_of_each
from groundcheck.study.networks.positive_sequence import transformer_admittances
from groundcheck.study.networks.sequence_network import reciprocal
from groundcheck.study.networks.solved_networks import Networks
from groundcheck.study.outages.listed import owners

Ints = NDArray[np.int64]
Complexes = NDArray[np.complex128]
Bools = NDArray[np.bool_]
Entries = tuple[Ints, Ints, Ints, Complexes]  # outage, nodes of row and column, admittance


@dataclass(frozen=True)
class Blocks:
    """Admittance of each outage between the nodes that it touches, padded to the widest: (n, k) and (n, k, k)."""

    node: Ints
    y: Complexes


def zero_blocks(networks: Networks, outages: pd.DataFrame, condition: str) -> Blocks:
    """What each outage takes out of the zero-sequence network."""
    neutrals, zero = networks.neutrals, networks.zero_of[condition]
    kind = outages["kind"].to_numpy(dtype=object)
    row, group, asset = (outages[name].to_numpy(dtype=np.int64) for name in ("row", "group", "asset"))
    point, node, y, terminal = gathered_probes(zero)
    out = pd.Index(asset).get_indexer(owners(neutrals))[point]
    goes = out >= 0
    point, node, y, terminal, out = (each[goes] for each in (point, node, y, terminal, out))
    feeds, machines, devices = (np.flatnonzero(kind == name) for name in ("infeed", "generator", "neutral_device"))
    feed, machine = row[feeds], row[machines]
    entries = [
        (out, terminal, node, y),
        (out, zero.point_node[point], node, -y),
        _shunts(feeds, networks.infeeds.node[feed], reciprocal(networks.infeeds.z0[condition][feed])),
        _shunts(machines, networks.generators.node[machine], 1j * np.nan_to_num(networks.capacitance.machine[machine])),
        _shunts(devices, zero.neutral_node[group[devices]], reciprocal(3 * neutrals.z_device[row[devices]])),
    ]
    return _gathered(entries, len(outages))


def positive_blocks(networks: Networks, outages: pd.DataFrame, condition: str, sequence: int) -> Blocks:
    """What each outage takes out of the positive- (1) or the negative-sequence (2) network."""
    count = len(outages)
    node, y = np.zeros((count, 3), dtype=np.int64), np.zeros((count, 3, 3), dtype=complex)
    kind, row = outages["kind"].to_numpy(dtype=object), outages["row"].to_numpy(dtype=np.int64)
    transformers = networks.method.transformers(networks.transformers, condition)
    mine = kind == "transformer"
    at = transformers.node[row[mine]]
    first = at.max(axis=1, keepdims=True)  # a place without a terminal takes one that is there, and zeros
    node[mine] = np.maximum(np.where(at >= 0, at, first), 0)
    open_end = (at < 0)[:, :, None] | (at < 0)[:, None, :]
    y[mine] = np.where(open_end, 0, transformer_admittances(transformers)[row[mine]])
    machines = networks.method.generators(networks.generators, condition)
    z = machines.z1 if sequence == 1 else machines.z2
    for name, of_kind, impedance in (
        ("generator", machines.node, z), ("infeed", networks.infeeds.node, networks.infeeds.z1[condition]),
    ):  # fmt: skip
        mine = kind == name
        at = of_kind[row[mine]]
        node[mine] = np.maximum(at, 0)[:, None]
        y[mine, 0, 0] = np.where(at >= 0, reciprocal(impedance[row[mine]]), 0)
    return Blocks(node, y)


def leaves_floating(networks: Networks, outages: pd.DataFrame) -> Bools:
    """Outages of assets with a neutral that nothing holds but their own windings."""
    neutrals = networks.neutrals
    held = np.zeros(max(neutrals.group_count, 1), dtype=bool)
    group, z = neutrals.device_group, neutrals.z_device
    held[group[(group >= 0) & ~np.isinf(z)]] = True
    of_point = neutrals.points["group"].to_numpy(dtype=np.int64)
    floating = (networks.zero.point_node >= 0) & ~((of_point >= 0) & held[of_point])
    return np.isin(outages["asset"].to_numpy(dtype=np.int64), owners(neutrals)[floating])


def _shunts(outage: Ints, node: Ints, y: Complexes) -> Entries:
    return outage, node, node, y


def _gathered(entries: list[Entries], count: int) -> Blocks:
    """Entries on nodes, as one small matrix an outage; unused places take a node of the same outage and zeros."""
    outage, row, col, y = (np.concatenate(parts) for parts in zip(*entries, strict=True))
    entered = (row >= 0) & (col >= 0) & (y != 0)
    outage, row, col, y = (each[entered] for each in (outage, row, col, y))
    nodes = int(max(row.max(), col.max())) + 1 if y.size else 1
    # An outage with a node is one number, in the order in which they are met.
    met = np.concatenate([outage * nodes + row, outage * nodes + col])
    touched = met[first_of_each(met)]
    by_outage, at = np.divmod(touched, nodes)
    place = _count_within(by_outage)
    width = int(place.max()) + 1 if place.size else 1
    node, matrix = np.zeros((count, width), dtype=np.int64), np.zeros((count, width, width), dtype=complex)
    first = place == 0
    node[by_outage[first]] = at[first, None]
    node[by_outage, place] = at
    place_of = place[pd.Index(touched).get_indexer(met)]
    np.add.at(matrix, (outage, place_of[: y.size], place_of[y.size :]), y)
    return Blocks(node, matrix)


def _count_within(numbers: Ints) -> Ints:
    """Of each number, how many of the same stand before it."""
    order = np.argsort(numbers, kind="stable")
    ordered = numbers[order]
    count = np.zeros(numbers.size, dtype=np.int64)
    count[order] = np.arange(numbers.size) - np.searchsorted(ordered, ordered)
    return count
