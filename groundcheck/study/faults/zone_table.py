"""Ground sources and grounding class of every zone."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.policy import Policy
from groundcheck.study.faults.zone_classes import classify_by_sources, deciding_cog, marks_of
from groundcheck.study.networks.bus_faults import Solution
from groundcheck.study.networks.capacitance import Capacitance, first_bus, zone_voltage
from groundcheck.study.networks.equipment import Infeeds, Transformers
from groundcheck.study.networks.neutrals import Neutrals
from groundcheck.study.networks.zero_paths import ZeroSequence
from groundcheck.study.networks.zones import Topology, zone_extreme
from groundcheck.study.records import Records

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


@dataclass(frozen=True)
class ZoneNames:
    """Name, station and naming bus of each zone."""

    name: NDArray[np.object_]
    substation: NDArray[np.object_]
    bus: NDArray[np.object_]


def name_zones(records: Records, topology: Topology) -> ZoneNames:
    """A zone is named after its first bus, STATION:BUS."""
    first = first_bus(topology)
    station = records.bus["substation"].to_numpy(dtype=object)[first]
    bus = records.bus["bus"].to_numpy(dtype=object)[first]
    name = np.array([f"{s}:{b}" for s, b in zip(station, bus, strict=True)], dtype=object)
    return ZoneNames(name, station, bus)


def source_table(
    records: Records,
    topology: Topology,
    zero: ZeroSequence,
    infeeds: Infeeds,
    transformers: Transformers,
    neutrals: Neutrals,
    solution: Solution,
) -> pd.DataFrame:
    """One row a ground source: zone number, kind, row, treatment, definite (False: a record must decide)."""
    node_zone = _node_zones(topology)
    rows = []
    for point, node, definite in _all_sources(zero, solution):
        of_point = neutrals.points.iloc[point]
        rows.append(
            pd.DataFrame(
                {
                    "zone": node_zone[node],
                    "kind": of_point["asset_kind"].to_numpy(dtype=object),
                    "row": of_point["row"].to_numpy(dtype=np.int64),
                    "treatment": of_point["treatment"].to_numpy(dtype=object),
                    "point": point,
                    "definite": definite,
                }
            )
        )
    live = (infeeds.node >= 0) & (infeeds.grounded != 0)
    rows.append(
        pd.DataFrame(
            {
                "zone": node_zone[infeeds.node[live]] if live.any() else np.zeros(0, dtype=np.int64),
                "kind": "infeed",
                "row": np.flatnonzero(live),
                "treatment": "solid",
                "point": -1,
                "definite": infeeds.grounded[live] == 1,
            }
        )
    )
    frame = pd.concat([r for r in rows if len(r)], ignore_index=True) if any(map(len, rows)) else rows[-1]
    frame["definite"] = frame["definite"].astype(bool)
    for kind in ("transformer", "generator", "grounding_transformer", "infeed"):
        mine = frame["kind"] == kind
        station, tag = records.tags(kind)
        frame.loc[mine, "substation"] = station[frame.loc[mine, "row"]]
        frame.loc[mine, "asset"] = tag[frame.loc[mine, "row"]]
    return frame


def _all_sources(zero: ZeroSequence, solution: Solution) -> list[tuple[Ints, Ints, bool]]:
    """Sources with a delta or their own winding; and coupled windings whose part has a ground elsewhere."""
    part = solution.zero_part
    grounded = np.zeros(int(part.max()) + 1 if part.size else 0, dtype=bool)
    for nodes in zero.grounded:
        grounded[part[nodes[nodes >= 0]]] = True
    sources = list(zero.sources)
    for point, node in zero.coupled:
        backed = grounded[part[node]]
        sources.append((point[backed], node[backed], True))
    return sources


def _node_zones(topology: Topology) -> Ints:
    zone = np.zeros(topology.node_count, dtype=np.int64)
    zone[topology.node] = topology.zone
    return zone


def supply_on_record(topology: Topology, transformers: Transformers, solution: Solution) -> Bools:
    """Whether each zone has a source in its network, or a transformer that feeds it from a higher voltage."""
    supplied = np.zeros(topology.zone_count, dtype=bool)
    supplied[topology.zone[~solution.unsupplied]] = True
    for winding in (1, 2):
        bus = transformers.bus[transformers.usable, winding]
        supplied[topology.zone[bus[bus >= 0]]] = True
    return supplied


def zone_table(
    records: Records,
    topology: Topology,
    names: ZoneNames,
    sources: pd.DataFrame,
    faults: pd.DataFrame,
    supplied: Bools,
    neutrals: Neutrals,
    capacitance: Capacitance,
    policy: Policy,
) -> pd.DataFrame:
    """The rows of study.zone, but for how long a fault stands in each."""
    count = topology.zone_count
    kv = zone_voltage(records, topology)
    definite = sources[sources["definite"]]
    certain = marks_of(definite["zone"], count)
    possible = marks_of(sources["zone"], count) | topology.undecided
    has_source = np.where(certain, 1.0, np.where(possible | ~supplied, np.nan, 0.0))
    cog_max = _largest_cog(topology, faults, policy["grounding.effective_cog"])
    grounding = classify_by_sources(records, neutrals, definite, cog_max, kv, ~np.isnan(has_source), policy)
    largest = faults.loc[faults["condition"] == "max", "provisional"].to_numpy(dtype=bool)
    provisional = pd.Series(largest).groupby(topology.zone).any()
    return pd.DataFrame(
        {
            "zone": names.name,
            "substation": names.substation,
            "bus": names.bus,
            "nominal_kv": kv,
            "grounding_class": grounding,
            "ground_sources": np.bincount(definite["zone"].to_numpy(dtype=np.int64), minlength=count),
            "buses": np.bincount(topology.zone, minlength=count),
            "has_ground_source": nullable(has_source),
            "supply_on_record": supplied,
            "charging_a": capacitance.charging_a,
            "provisional": provisional.reindex(range(count)).to_numpy(dtype=bool),
        }
    )


def _largest_cog(topology: Topology, faults: pd.DataFrame, limit: float) -> Floats:
    """Of each zone, over its buses and both conditions; where not known, a bound of it that settles on which side."""

    def largest(column: str) -> Floats:
        by_bus = faults[column].to_numpy(dtype=float).reshape(2, -1).max(axis=0)  # NaN in either condition stays
        return zone_extreme(topology, by_bus, largest=True)

    return deciding_cog(largest("cog"), largest("cog_low"), largest("cog_high"), limit)


def nullable(values: Floats) -> pd.array:  # type: ignore[valid-type]  # pandas has no public type for its arrays
    """1.0, 0.0 and NaN as true, false and not on record."""
    return pd.array([None if np.isnan(v) else bool(v) for v in values], dtype="boolean")


def neutral_table(
    records: Records, topology: Topology, names: ZoneNames, neutrals: Neutrals, bus_of_point: Ints
) -> pd.DataFrame:
    """The rows of study.neutral: one for each point and each device in it."""
    points = neutrals.points.reset_index(names="point")
    frame = points.merge(neutrals.links, on="point", how="left", suffixes=("", "_each"))
    for kind in ("transformer", "generator", "grounding_transformer"):
        mine = frame["asset_kind"] == kind
        station, tag = records.tags(kind)
        frame.loc[mine, "substation"] = station[frame.loc[mine, "row"]]
        frame.loc[mine, "asset"] = tag[frame.loc[mine, "row"]]
    at = bus_of_point[frame["point"]]
    known: Bools = at >= 0
    frame["bus"], frame["zone"], frame["winding_kv"] = None, None, np.nan
    tags = records.bus["bus"].to_numpy(dtype=object)
    frame.loc[known, "bus"] = tags[at[known]]
    if topology.zone.size:
        frame.loc[known, "zone"] = names.name[topology.zone[at[known]]]
        frame.loc[known, "winding_kv"] = records.nominal_kv[at[known]]
    station, tag = records.tags("neutral_device")
    kind_words = records.words("neutral_device", "kind")
    device = frame["device_each"].fillna(-1).to_numpy(dtype=np.int64)
    has_device: Bools = device >= 0
    frame["device_substation"], frame["neutral_device"] = None, None
    frame.loc[has_device, "device_substation"] = station[device[has_device]]
    frame.loc[has_device, "neutral_device"] = tag[device[has_device]]
    frame.loc[has_device, "treatment"] = kind_words[device[has_device]]
    frame["has_neutral"] = nullable(frame["has_neutral"].to_numpy(dtype=float))
    return frame
