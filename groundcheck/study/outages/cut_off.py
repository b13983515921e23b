"""Zones that hang together, laid out anew for each outage without what is out: what still reaches them."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.engineering import connected
from groundcheck.study.context import Study
from groundcheck.study.outages.listed import asset_code, passing_points

Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]


@dataclass(frozen=True)
class Layout:
    """
    For each outage the zones that hang together with its own, all outages side by side.

    rows : outage, zone; in this order. label : of each row, the part in which it lies with the outage.
    """

    outages: pd.DataFrame
    rows: pd.DataFrame
    label: Ints

    def reached(self, feeds: pd.DataFrame) -> Bools:
        """Whether each row's part holds anything in `feeds` (asset, group, zone) that is not out itself."""
        at = self.rows.rename_axis("at").reset_index().merge(feeds, on="zone")
        return self.spread(at.loc[in_service(self.outages, at), "at"].to_numpy(dtype=np.int64))

    def spread(self, at: Ints) -> Bools:
        """Rows that lie in a part with one of these."""
        marks = np.zeros(int(self.label.max()) + 1 if self.label.size else 0, dtype=bool)
        marks[self.label[at]] = True
        return marks[self.label]


def in_service(outages: pd.DataFrame, rows: pd.DataFrame) -> Bools:
    """Of rows with outage, asset and groups of neutrals: whether they stay in service in that outage."""
    outage = rows["outage"].to_numpy(dtype=np.int64)
    out, group = (outages[name].to_numpy(dtype=np.int64)[outage] for name in ("asset", "group"))
    gone = rows["asset"].to_numpy(dtype=np.int64) == out
    for name in ("group", "other_group"):
        if name in rows:
            gone |= (group >= 0) & (rows[name].to_numpy(dtype=np.int64) == group)
    return np.asarray(~gone, dtype=bool)


def lay_out(outages: pd.DataFrame, own: pd.DataFrame, joins: pd.DataFrame, zone_count: int) -> Layout:
    """
    Lay out.

    own : outage, zone: where what is out stands. joins : asset, a, b: what holds two zones together.
    """
    part = connected(zone_count, joins["a"].to_numpy(dtype=np.int64), joins["b"].to_numpy(dtype=np.int64))
    copies = own.assign(part=part[own["zone"].to_numpy(dtype=np.int64)])[["outage", "part"]].drop_duplicates()
    zones = pd.DataFrame({"zone": np.arange(zone_count), "part": part})
    rows = copies.merge(zones, on="part")[["outage", "zone"]].sort_values(["outage", "zone"], ignore_index=True)
    between = copies.merge(joins.assign(part=part[joins["a"].to_numpy(dtype=np.int64)]), on="part")
    between = between[in_service(outages, between)]
    key = _keys(rows, "zone", zone_count)
    start, end = (np.searchsorted(key, _keys(between, side, zone_count)) for side in ("a", "b"))
    return Layout(outages, rows, connected(len(rows), start, end))


def _keys(rows: pd.DataFrame, side: str, zone_count: int) -> Ints:
    return np.asarray(rows["outage"].to_numpy(dtype=np.int64) * zone_count + rows[side].to_numpy(dtype=np.int64))


def transformers_between(study: Study) -> pd.DataFrame:
    """Transformers that feed one zone from another."""
    transformers, zone = study.transformers, study.topology.zone
    rows = []
    for side in (1, 2):
        usable = transformers.usable & (transformers.bus[:, 0] >= 0) & (transformers.bus[:, side] >= 0)
        row = np.flatnonzero(usable)
        a, b = zone[transformers.bus[row, 0]], zone[transformers.bus[row, side]]
        rows.append(pd.DataFrame({"asset": asset_code("transformer", row), "a": a, "b": b}))
    return pd.concat(rows, ignore_index=True)


def windings_between(study: Study) -> pd.DataFrame:
    """Windings that pass zero-sequence current from one zone to another: asset, a, b and their neutrals' groups."""
    none = np.zeros(0, dtype=np.int64)
    parts = [(point, terminal, node) for point, node, _, terminal in study.zero.probes]
    point, a, b = (np.concatenate([none, *(part[i] for part in parts)]) for i in range(3))
    at_bus = (b < study.topology.node_count) & (a != b)
    point, a, b = point[at_bus], a[at_bus], b[at_bus]
    points = study.neutrals.points
    kind, row, group = (points[name].to_numpy()[point] for name in ("asset_kind", "row", "group"))
    # Opened, the neutral of such a winding leaves the way to the other open.
    group = np.where(np.isin(point, passing_points(study)), -1, group)
    ends = pd.DataFrame({"asset": asset_code(kind.astype(object), row), "a": a, "b": b, "group": group})
    back = ends.rename(columns={"a": "b", "b": "a", "group": "other_group"})
    zone = zones_of_nodes(study)
    joined = ends.merge(back, on=["asset", "a", "b"])
    return joined.assign(a=zone[joined["a"].to_numpy(dtype=np.int64)], b=zone[joined["b"].to_numpy(dtype=np.int64)])


def zones_of_nodes(study: Study) -> Ints:
    """Zone of each node of a bus."""
    zone = np.full(study.topology.node_count, -1, dtype=np.int64)
    zone[study.topology.node] = study.topology.zone
    return zone
