"""Connected components: the one place in this package that needs scipy."""

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components


def connected(node_count: int, edge_a: ArrayLike, edge_b: ArrayLike) -> NDArray[np.int64]:
    """
    Number of the connected part that each node belongs to.

    Parameters
    ----------
    node_count : int
        How many nodes there are, numbered from 0.
    edge_a, edge_b : array_like of int, shape (m,)
        The two ends of each edge.

    Returns
    -------
    ndarray of int, shape (node_count,)
        Part of each node, numbered from 0 in the order of the first node of each.

    Raises
    ------
    ValueError
        edge_a and edge_b differ in length, or name a node that does not exist.

    Notes
    -----
    A node without edges is a part of its own.

    Source: connected components of an undirected graph, as scipy.sparse.csgraph computes them.
    """
    a, b = np.asarray(edge_a, dtype=np.int64).ravel(), np.asarray(edge_b, dtype=np.int64).ravel()
    if a.size != b.size:
        raise ValueError(f"edge_a has {a.size} entries and edge_b {b.size}; they must have as many")
    if a.size and not (min(a.min(), b.min()) >= 0 and max(a.max(), b.max()) < node_count):
        raise ValueError(f"edge_a and edge_b must be from 0 to {node_count - 1}")
    if node_count == 0:
        return np.zeros(0, dtype=np.int64)
    graph = coo_array((np.ones(a.size), (a, b)), shape=(node_count, node_count))
    _, labels = connected_components(graph, directed=False)
    _, first, inverse = np.unique(labels, return_index=True, return_inverse=True)
    rank = np.empty(first.size, dtype=np.int64)
    rank[np.argsort(first)] = np.arange(first.size)
    return rank[inverse]
