"""Ground sources and grounding class of every zone."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.engineering import classify_zone
from groundcheck.policy import Policy
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
    certain = _marks(definite["zone"], count)
    possible = _marks(sources["zone"], count) | topology.undecided
    has_source = np.where(certain, 1.0, np.where(possible | ~supplied, np.nan, 0.0))
    kinds = {
        # An open neutral is a source only where its auto-transformer passes on what grounds the other side.
        "solid": definite["treatment"].isin(["solid", "open", "surge_arrester"])
        & (definite["kind"] != "grounding_transformer"),
        "reactor": (definite["treatment"] == "reactor")
        | ((definite["treatment"] == "solid") & (definite["kind"] == "grounding_transformer")),
        "resistor": definite["treatment"].isin(["resistor", "distribution_transformer"]),
        "coil": definite["treatment"] == "arc_suppression_coil",
    }
    has = {name: _marks(definite.loc[which, "zone"], count) for name, which in kinds.items()}
    cog_max = _largest_cog(topology, faults, policy["grounding.effective_cog"])
    grounding = classify_zone(
        cog_max, has["solid"], has["reactor"], has["resistor"], has["coil"],
        _resistive_current(records, neutrals, definite[kinds["resistor"]], kv),
        policy["grounding.high_resistance_current"], ~np.isnan(has_source), policy["grounding.effective_cog"],
    )  # fmt: skip
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

    value, low, high = largest("cog"), largest("cog_low"), largest("cog_high")
    bound = np.select([high <= limit, low > limit], [high, low], default=np.nan)
    return np.where(np.isnan(value), bound, value)


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


def _marks(zones: pd.Series, count: int) -> Bools:
    marks = np.zeros(count, dtype=bool)
    marks[zones.to_numpy(dtype=np.int64)] = True
    return marks


def _resistive_current(records: Records, neutrals: Neutrals, resistors: pd.DataFrame, kv: Floats) -> Floats:
    """Sum of V_LN/R over the resistors of each zone; NaN if any is not on record."""
    group_of_point = neutrals.points["group"].to_numpy(dtype=np.int64)
    conductance = np.zeros(max(neutrals.group_count, 1))
    kinds = records.words("neutral_device", "kind")
    ohmic = np.isin(kinds.astype(str), ("resistor", "distribution_transformer")) & (neutrals.device_group >= 0)
    with np.errstate(divide="ignore", invalid="ignore"):
        np.add.at(conductance, neutrals.device_group[ohmic], 1 / neutrals.z_device.real[ohmic])
    pairs = resistors.assign(group=group_of_point[resistors["point"].to_numpy(dtype=np.int64)])
    pairs = pairs.drop_duplicates(["zone", "group"])
    total = np.zeros(kv.size)
    np.add.at(total, pairs["zone"].to_numpy(dtype=np.int64), conductance[pairs["group"].to_numpy(dtype=np.int64)])
    return np.asarray(kv * 1e3 / np.sqrt(3) * total, dtype=np.float64)
