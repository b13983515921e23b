"""Zones that hang together, laid out anew for each outage without what is out: what still reaches them."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.engineering import connected
from groundcheck.study.context import Study
from groundcheck.study.matching import matches
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
        at, feed = matches(numbers(self.rows, "zone"), numbers(feeds, "zone"))
        return self.spread(at[in_service(self.outages, numbers(self.rows, "outage")[at], feeds, feed)])

    def spread(self, at: Ints) -> Bools:
        """Rows that lie in a part with one of these."""
        marks = np.zeros(int(self.label.max()) + 1 if self.label.size else 0, dtype=bool)
        marks[self.label[at]] = True
        return marks[self.label]


def in_service(outages: pd.DataFrame, outage: Ints, assets: pd.DataFrame, at: Ints) -> Bools:
    """Of the assets (asset, groups of neutrals) at some places, each with an outage: whether they stay in service."""
    out, group = (numbers(outages, name)[outage] for name in ("asset", "group"))
    gone = numbers(assets, "asset")[at] == out
    for name in ("group", "other_group"):
        if name in assets:
            gone |= (group >= 0) & (numbers(assets, name)[at] == group)
    return np.asarray(~gone, dtype=bool)


def lay_out(outages: pd.DataFrame, own: pd.DataFrame, joins: pd.DataFrame, zone_count: int) -> Layout:
    """
    Lay out.

    own : outage, zone: where what is out stands. joins : asset, a, b: what holds two zones together.
    """
    a, b = numbers(joins, "a"), numbers(joins, "b")
    part = connected(zone_count, a, b)
    # An outage with a zone, or with a part of the zones, is one number.
    copies = np.unique(numbers(own, "outage") * zone_count + part[numbers(own, "zone")])
    outage, of_outage = np.divmod(copies, zone_count)
    copy, zone = matches(of_outage, part)
    key = np.sort(outage[copy] * zone_count + zone)
    copy, join = matches(of_outage, part[a])
    stays = in_service(outages, outage[copy], joins, join)
    copy, join = copy[stays], join[stays]
    start, end = (np.searchsorted(key, outage[copy] * zone_count + side[join]) for side in (a, b))
    rows = pd.DataFrame(dict(zip(("outage", "zone"), np.divmod(key, zone_count), strict=True)))
    return Layout(outages, rows, connected(len(rows), start, end))


def numbers(frame: pd.DataFrame, column: str) -> Ints:
    """A column of whole numbers."""
    return frame[column].to_numpy(dtype=np.int64)


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
