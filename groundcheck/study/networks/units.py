"""Power station units: a generator and its own transformer, with nothing else between them."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from groundcheck.study.networks.equipment import Generators, Infeeds, Transformers
from groundcheck.study.networks.zones import Topology

Ints = NDArray[np.int64]


@dataclass(frozen=True)
class Units:
    """Rows of the generator and of the transformer of each unit."""

    generator: Ints
    transformer: Ints


def find_units(topology: Topology, infeeds: Infeeds, generators: Generators, transformers: Transformers) -> Units:
    """
    Find where one generator stands alone at the LV side of one two-winding transformer.

    A further generator, an infeed, a line or another transformer at the same node, such as one for the station's own
    supply, makes the two separate assets.
    """
    others = [infeeds.node, topology.line_from, topology.line_to, transformers.node[:, 0], transformers.node[:, 2]]
    count = topology.node_count
    alone = _count(generators.node, count) == 1
    alone &= _count(transformers.node[:, 1], count) == 1
    for node in others:
        alone &= _count(node, count) == 0
    low = transformers.node[:, 1]
    fits = transformers.usable & (transformers.node[:, 2] < 0) & (low >= 0)
    transformer_at = np.full(count, -1, dtype=np.int64)
    transformer_at[low[fits]] = np.flatnonzero(fits)
    at = generators.node
    found = np.where(at >= 0, np.where(alone, transformer_at, -1)[at] if count else -1, -1)
    generator = np.flatnonzero(found >= 0).astype(np.int64)
    return Units(generator, found[generator].astype(np.int64))


def _count(node: Ints, count: int) -> Ints:
    return np.bincount(node[node >= 0], minlength=count).astype(np.int64)
