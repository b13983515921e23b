"""What each outage takes out of the sequence networks, as one small admittance matrix an outage."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.study.currents.meters import gathered_probes
from groundcheck.study.networks.positive_sequence import transformer_admittances
from groundcheck.study.networks.sequence_network import reciprocal
from groundcheck.study.networks.solved_networks import Networks

Ints = NDArray[np.int64]
Complexes = NDArray[np.complex128]
Bools = NDArray[np.bool_]
ENTRIES = ["outage", "row_node", "col_node", "y"]


@dataclass(frozen=True)
class Blocks:
    """Admittance of each outage between the nodes that it touches, padded to the widest: (n, k) and (n, k, k)."""

    node: Ints
    y: Complexes


def zero_blocks(networks: Networks, outages: pd.DataFrame, condition: str) -> Blocks:
    """What each outage takes out of the zero-sequence network."""
    neutrals, zero = networks.neutrals, networks.zero_of[condition]
    points = neutrals.points
    numbered = outages.reset_index(names="outage")
    point, node, y, terminal = gathered_probes(zero)
    reads = pd.DataFrame({"row_node": terminal, "neutral": zero.point_node[point], "col_node": node, "y": y})
    reads["kind"] = points["asset_kind"].to_numpy(dtype=object)[point]
    reads["row"] = points["row"].to_numpy(dtype=np.int64)[point]
    reads = reads.merge(numbered, on=["kind", "row"])
    into = reads[ENTRIES]
    back = reads[reads["neutral"] >= 0].assign(row_node=reads["neutral"], y=-reads["y"])[ENTRIES]
    feeds = numbered[numbered["kind"] == "infeed"]
    feed = feeds["row"].to_numpy(dtype=np.int64)
    supply = _shunts(feeds, networks.infeeds.node[feed], reciprocal(networks.infeeds.z0[condition][feed]))
    machines = numbered[numbered["kind"] == "generator"]
    own = machines["row"].to_numpy(dtype=np.int64)
    charged = _shunts(machines, networks.generators.node[own], 1j * np.nan_to_num(networks.capacitance.machine[own]))
    devices = numbered[numbered["kind"] == "neutral_device"]
    row = devices["row"].to_numpy(dtype=np.int64)
    held = _shunts(devices, zero.neutral_node[devices["group"]], reciprocal(3 * neutrals.z_device[row]))
    return _gathered(pd.concat([into, back, supply, charged, held]), len(outages))


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
    neutrals, points = networks.neutrals, networks.neutrals.points
    held = np.zeros(max(neutrals.group_count, 1), dtype=bool)
    group, z = neutrals.device_group, neutrals.z_device
    held[group[(group >= 0) & ~np.isinf(z)]] = True
    of_point = points["group"].to_numpy(dtype=np.int64)
    floating = points[(networks.zero.point_node >= 0) & ~((of_point >= 0) & held[of_point])]
    assets = pd.MultiIndex.from_frame(outages[["kind", "row"]])
    return np.asarray(assets.isin(pd.MultiIndex.from_arrays([floating["asset_kind"], floating["row"]])), dtype=bool)


def _shunts(outages: pd.DataFrame, node: Ints, y: Complexes) -> pd.DataFrame:
    return outages.assign(row_node=node, col_node=node, y=y)[ENTRIES]


def _gathered(entries: pd.DataFrame, count: int) -> Blocks:
    """Entries on nodes, as one small matrix an outage; unused places take a node of the same outage and zeros."""
    entries = entries[(entries["row_node"] >= 0) & (entries["col_node"] >= 0) & (entries["y"] != 0)]
    numbers = entries[["outage", "row_node", "col_node"]].astype(np.int64)
    touched = pd.concat(
        [numbers[["outage", side]].rename(columns={side: "node"}) for side in ("row_node", "col_node")]
    ).drop_duplicates()  # fmt: skip
    outage, at = touched["outage"].to_numpy(), touched["node"].to_numpy()
    place = touched.groupby("outage").cumcount().to_numpy(dtype=np.int64)
    width = int(place.max()) + 1 if place.size else 1
    node, y = np.zeros((count, width), dtype=np.int64), np.zeros((count, width, width), dtype=complex)
    first = place == 0
    node[outage[first]] = at[first, None]
    node[outage, place] = at
    places = pd.MultiIndex.from_arrays([outage, at])
    row, col = (
        place[places.get_indexer(pd.MultiIndex.from_frame(numbers[["outage", side]]))]
        for side in ("row_node", "col_node")
    )
    np.add.at(y, (numbers["outage"].to_numpy(), row, col), entries["y"].to_numpy(dtype=complex))
    return Blocks(node, y)
