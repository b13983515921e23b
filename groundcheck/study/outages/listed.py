"""Each ground source as something that may be out: the networks' nodes that it touches, and what it takes with it."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.study.context import Study
from groundcheck.study.currents.meters import gathered_probes
from groundcheck.study.currents.readings import taken
from groundcheck.study.networks.positive_sequence import transformer_admittances
from groundcheck.study.networks.sequence_network import reciprocal
from groundcheck.study.networks.solved_networks import Networks

Ints = NDArray[np.int64]
Complexes = NDArray[np.complex128]
ENTRIES = ["outage", "row_node", "col_node", "y"]


@dataclass(frozen=True)
class Blocks:
    """Admittance of each outage between the nodes that it touches, padded to the widest: (n, k) and (n, k, k)."""

    node: Ints
    y: Complexes


def list_outages(study: Study) -> pd.DataFrame:
    """
    One row an outage: kind and row of the asset, group of the neutral device (-1 for another kind).

    An asset goes with its positive-sequence branches; a neutral device opens, and leaves its machine in service.
    """
    sources = study.sources[study.sources["definite"]]
    assets = sources[["kind", "row"]].drop_duplicates().assign(group=-1)
    z, group = study.neutrals.z_device, study.neutrals.device_group
    impedance = np.flatnonzero((group >= 0) & np.isfinite(z) & (z != 0))
    carrying = _groups(study, sources)
    devices = pd.DataFrame({"kind": "neutral_device", "row": impedance, "group": group[impedance]})
    # Of two devices in one neutral, neither leaves it open.
    alone = ~pd.Series(group).duplicated(keep=False).to_numpy()[impedance]
    devices = devices[devices["group"].isin(carrying[carrying >= 0]) & alone]
    return pd.concat([assets, devices]).sort_values(["kind", "row"]).reset_index(drop=True)


def affected_sources(study: Study, outages: pd.DataFrame) -> pd.DataFrame:
    """Sources that each outage takes out: outage, zone."""
    sources = study.sources[study.sources["definite"]]
    numbered = outages.reset_index(names="outage")
    own = sources.merge(numbered[numbered["group"] < 0], on=["kind", "row"])
    held = sources.assign(group=_groups(study, sources)).merge(
        numbered[numbered["group"] >= 0][["outage", "group"]], on="group"
    )
    columns = ["outage", "zone", "kind", "row", "point"]
    both = [own[columns], held[columns]]
    return pd.concat(both, ignore_index=True)


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


def _groups(study: Study, sources: pd.DataFrame) -> Ints:
    """Group of devices in the neutral of each source, -1 where there is none."""
    groups = study.neutrals.points["group"].to_numpy(dtype=np.int64)
    return np.asarray(taken(groups, sources["point"].to_numpy(dtype=np.int64), -1), dtype=np.int64)


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
