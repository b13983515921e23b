"""Which zones an outage cuts off: from anything that feeds them, or from anything that grounds them."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.engineering import connected
from groundcheck.study.context import Study
from groundcheck.study.networks.supply import unfed_buses

Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]


def dead_zones(study: Study, outages: pd.DataFrame, pairs: pd.DataFrame) -> Bools:
    """Of each pair (outage, zone), whether the zone has lost its supply."""
    return _cut_off(study, outages, pairs, _transformers(study), _supplies(study))


def ungrounded_zones(study: Study, outages: pd.DataFrame, pairs: pd.DataFrame) -> Bools:
    """Of each pair (outage, zone), whether the zone has lost every ground source that is surely one."""
    return _cut_off(study, outages, pairs, _couplings(study), _grounds(study))


def _cut_off(
    study: Study, outages: pd.DataFrame, pairs: pd.DataFrame, joins: pd.DataFrame, feeds: pd.DataFrame
) -> Bools:
    """
    Whether no way is left from a zone to anything in `feeds`, over `joins` between zones.

    For every outage the zones that hang together with its own are laid out anew without it, all outages side by side.
    An outage takes out the rows of its asset, and those of its group of neutrals.
    """
    count = study.topology.zone_count
    part = connected(count, joins["a"].to_numpy(dtype=np.int64), joins["b"].to_numpy(dtype=np.int64))
    asked = pairs[["outage", "zone"]].assign(part=part[pairs["zone"]], pair=np.arange(len(pairs)))
    copies = asked.drop_duplicates(["outage", "part"])[["outage", "part"]].reset_index(drop=True)
    copies = copies.assign(copy=np.arange(len(copies)))
    whose = outages.rename(columns={"kind": "out", "row": "out_row", "group": "out_group"}).reset_index(names="outage")
    zones = copies.merge(pd.DataFrame({"zone": np.arange(count), "part": part}), on="part")
    place = pd.MultiIndex.from_frame(zones[["copy", "zone"]])

    def laid_out(what: pd.DataFrame, side: str) -> pd.DataFrame:
        rows = copies.merge(what.assign(part=part[what[side]]), on="part").merge(whose, on="outage")
        same_group = (rows["out_group"] >= 0) & (
            (rows["out_group"] == rows["group"]) | (rows["out_group"] == rows["other_group"])
        )
        return rows[~((rows["kind"] == rows["out"]) & (rows["row"] == rows["out_row"])) & ~same_group]

    def number(rows: pd.DataFrame, side: str) -> Ints:
        keys = pd.MultiIndex.from_arrays([rows["copy"], rows[side]])
        return place.get_indexer(keys).astype(np.int64) + len(copies)  # the first numbers are the feed of each copy

    between, fed = laid_out(joins, "a"), laid_out(feeds, "zone")
    start = np.concatenate([number(between, "a"), fed["copy"].to_numpy(dtype=np.int64)])
    end = np.concatenate([number(between, "b"), number(fed, "zone")])
    label = connected(len(copies) + len(zones), start, end)
    at = asked.merge(copies, on=["outage", "part"]).sort_values("pair")
    return np.asarray(label[number(at, "zone")] != label[at["copy"]], dtype=bool)


def _transformers(study: Study) -> pd.DataFrame:
    """Transformers between zones: kind, row, a, b."""
    transformers, zone = study.transformers, study.topology.zone
    rows = []
    for side in (1, 2):
        usable = transformers.usable & (transformers.bus[:, 0] >= 0) & (transformers.bus[:, side] >= 0)
        row = np.flatnonzero(usable)
        a, b = zone[transformers.bus[row, 0]], zone[transformers.bus[row, side]]
        rows.append(pd.DataFrame({"kind": "transformer", "row": row, "a": a, "b": b}))
    return pd.concat(rows, ignore_index=True).assign(group=-1, other_group=-1)


def _supplies(study: Study) -> pd.DataFrame:
    """What feeds each zone: kind, row, zone; where nothing on record does, the buses at which supply is asked for."""
    zone = study.topology.zone
    rows = []
    for kind, bus in (("infeed", study.infeeds.bus), ("generator", study.generators.bus)):
        row = np.flatnonzero(bus >= 0)
        rows.append(pd.DataFrame({"kind": kind, "row": row, "zone": zone[bus[row]]}))
    unfed = unfed_buses(study.records, study.topology, study.solution)
    rows.append(pd.DataFrame({"kind": "asked", "row": -1, "zone": zone[unfed]}))
    return pd.concat(rows, ignore_index=True).assign(group=-1, other_group=-1)


def _couplings(study: Study) -> pd.DataFrame:
    """Transformers whose grounded windings pass zero-sequence current on to one another."""
    windings = _windings(study, [(point, node) for point, node in study.zero.coupled])
    ahead = windings.groupby("row").shift(-1)
    chained = windings.assign(b=ahead["zone"], other_group=ahead["group"]).dropna(subset=["b"])
    return chained.rename(columns={"zone": "a"}).astype({"b": np.int64, "other_group": np.int64})


def _grounds(study: Study) -> pd.DataFrame:
    """What grounds each zone by itself: windings beside a delta, machines, grounding transformers, grounded infeeds."""
    own = _windings(study, [(point, node) for point, node, definite in study.zero.sources if definite])
    infeeds = study.sources[(study.sources["kind"] == "infeed") & study.sources["definite"]]
    supplies = infeeds[["kind", "row", "zone"]].assign(group=-1)
    return pd.concat([own, supplies], ignore_index=True).assign(other_group=-1)


def _windings(study: Study, found: list[tuple[Ints, Ints]]) -> pd.DataFrame:
    """Kind, row, zone and group of neutrals of windings given by point and node."""
    none = np.zeros(0, dtype=np.int64)
    point, node = (np.concatenate([each[i] for each in found] or [none]) for i in (0, 1))
    zone_of_node = np.zeros(study.zero.network.count, dtype=np.int64)
    zone_of_node[study.topology.node] = study.topology.zone
    points = study.neutrals.points
    return pd.DataFrame(
        {
            "kind": points["asset_kind"].to_numpy(dtype=object)[point],
            "row": points["row"].to_numpy(dtype=np.int64)[point],
            "zone": zone_of_node[node],
            "group": points["group"].to_numpy(dtype=np.int64)[point],
        }
    )
