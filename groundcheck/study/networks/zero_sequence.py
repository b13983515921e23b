"""The zero-sequence network of the fleet."""

import numpy as np
from numpy.typing import NDArray

from groundcheck.engineering import grounding_transformer_z0
from groundcheck.study.networks.equipment import Generators, Infeeds, Transformers
from groundcheck.study.networks.lines import Lines
from groundcheck.study.networks.neutrals import CARRIES_CURRENT, Neutrals, point_buses
from groundcheck.study.networks.positive_sequence import add_undecided_switches
from groundcheck.study.networks.sequence_network import GROUND, SequenceNetwork, reciprocal
from groundcheck.study.networks.zero_paths import (
    FLOATING,
    ZeroSequence,
    add_neutral_branch,
    add_unknown,
    probe_open_neutrals,
)
from groundcheck.study.networks.zero_transformers import add_transformers
from groundcheck.study.networks.zones import Topology, node_of
from groundcheck.study.records import Records
from groundcheck.study.typical import Typical

Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]


def zero_network(
    records: Records,
    topology: Topology,
    infeeds: Infeeds,
    generators: Generators,
    lines: Lines,
    transformers: Transformers,
    neutrals: Neutrals,
    typical: Typical,
) -> ZeroSequence:
    """Build the network without the infeeds' impedances, which differ by condition; note blocks and assumptions."""
    network = SequenceNetwork(topology.node_count)
    neutral_node = _neutral_nodes(records, neutrals, network)
    built = ZeroSequence(network, neutral_node, _point_nodes(neutrals, neutral_node))
    live = infeeds.node[(infeeds.node >= 0) & (infeeds.grounded != 0)]
    built.grounded.append(live)
    built.beyond_coil.append(live)
    _add_lines(built, topology, lines, records)
    _add_generators(built, records, neutrals, generators, typical)
    _add_grounding_transformers(built, records, topology, neutrals, typical)
    add_transformers(built, neutrals, transformers, typical, records)
    probe_open_neutrals(built, neutrals, node_of(topology.node, point_buses(records, transformers.bus, neutrals)))
    _add_devices(built, neutrals, typical)
    add_undecided_switches(network, typical.ledger, "zero")
    return built


def _neutral_nodes(records: Records, neutrals: Neutrals, network: SequenceNetwork) -> Ints:
    kinds = records.words("neutral_device", "kind")
    node = np.full(neutrals.group_count, FLOATING, dtype=np.int64)
    group = neutrals.device_group
    carrying = np.isin(kinds.astype(str), CARRIES_CURRENT) & (group >= 0)
    live = np.unique(group[carrying])
    node[live] = network.add_nodes(live.size)
    node[group[(kinds == "solid") & (group >= 0)]] = GROUND
    return node


def _point_nodes(neutrals: Neutrals, neutral_node: Ints) -> Ints:
    points = neutrals.points
    group = points["group"].to_numpy(dtype=np.int64)
    node = np.full(group.size, FLOATING, dtype=np.int64)
    if neutral_node.size:
        node = np.where(group >= 0, neutral_node[group], node)
    own = (group < 0) & (points["treatment"].to_numpy(dtype=object) == "solid")
    return np.where(own, GROUND, node)


def _add_lines(built: ZeroSequence, topology: Topology, lines: Lines, records: Records) -> None:
    at, through = topology.line_from, topology.line_to
    series = (at >= 0) & (through >= 0)
    built.network.add_branch(at[series], through[series], reciprocal(lines.z0[series]))
    known = (at >= 0) & ~np.isnan(lines.susceptance) & (lines.susceptance > 0)
    share = np.where(series, 0.5, 1.0)
    built.network.add_shunt(at[known], 1j * (lines.susceptance * share)[known])
    far = known & series
    built.network.add_shunt(through[far], 1j * (lines.susceptance * share)[far])
    built.capacitive.append(at[known])


def _add_generators(
    built: ZeroSequence, records: Records, neutrals: Neutrals, generators: Generators, typical: Typical
) -> None:
    point, row = _points_of(neutrals, "generator")
    node = generators.node[row]
    add_neutral_branch(built, neutrals, point, node, generators.z0[row])
    unknown = neutrals.unknown[point] & (node >= 0)
    add_unknown(built, point[unknown], node[unknown])
    which = np.zeros(generators.node.size, dtype=bool)
    which[row[unknown]] = True
    field_name = np.where(records.words("generator", "winding") == "wye", "neutral_device", "winding")
    for name in ("neutral_device", "winding"):
        typical.ledger.block("zero", "generator", which & (field_name == name), name, generators.node)


def _add_grounding_transformers(
    built: ZeroSequence, records: Records, topology: Topology, neutrals: Neutrals, typical: Typical
) -> None:
    point, row = _points_of(neutrals, "grounding_transformer")
    node = node_of(topology.node, records.bus_of("grounding_transformer", "bus"))
    z0 = records.numbers("grounding_transformer", "z0")
    r0 = typical.fill(
        "grounding_transformer", "r0", records.numbers("grounding_transformer", "r0"), "grounding_transformer_r0", 0.0,
        unit="ohm", why="r0 not on record; small beside the reactance", nodes={"zero": node},
    )  # fmt: skip
    z = grounding_transformer_z0(z0, np.minimum(r0, np.where(np.isnan(z0), np.inf, z0)))
    add_neutral_branch(built, neutrals, point, node[row], z[row])
    typical.ledger.block("zero", "grounding_transformer", np.isnan(z0), "z0", node)
    typical.ledger.block("zero", "grounding_transformer", np.isnan(r0) & ~np.isnan(z0), "r0", node)
    unknown = neutrals.unknown[point] & (node[row] >= 0)
    add_unknown(built, point[unknown], node[row][unknown])
    which = np.zeros(node.size, dtype=bool)
    which[row[unknown]] = True
    typical.ledger.block("zero", "grounding_transformer", which, "neutral_device", node)


def _points_of(neutrals: Neutrals, kind: str) -> tuple[Ints, Ints]:
    """Numbers of the points of a kind of asset, and the rows of those assets."""
    points = neutrals.points
    of_kind = (points["asset_kind"] == kind).to_numpy()
    return np.flatnonzero(of_kind).astype(np.int64), points.loc[of_kind, "row"].to_numpy(dtype=np.int64)


def _add_devices(built: ZeroSequence, neutrals: Neutrals, typical: Typical) -> None:
    """The devices themselves: three times their impedance, from neutral to ground."""
    group = neutrals.device_group
    node = np.full(group.size, FLOATING, dtype=np.int64)
    if built.neutral_node.size:
        node = np.where(group >= 0, built.neutral_node[group], node)
    conducts = (node >= 0) & ~np.isinf(neutrals.z_device)
    built.network.add_shunt(node[conducts], reciprocal(3 * neutrals.z_device[conducts]))
    kinds = typical.ledger.records.words("neutral_device", "kind")
    size_field = {
        "reactor": "reactance",
        "arc_suppression_coil": "reactance",
        "distribution_transformer": "secondary_resistance",
    }
    field_name = np.array([size_field.get(k, "resistance") for k in kinds], dtype=object)
    for name in ("reactance", "resistance"):
        _assume_ohms(neutrals, typical, conducts & (field_name == name), name, node)
    for name in np.unique(field_name.astype(str)) if kinds.size else []:
        which = conducts & np.isnan(neutrals.z_device) & (field_name == name)
        typical.ledger.block("zero", "neutral_device", which, str(name), node)


def _assume_ohms(neutrals: Neutrals, typical: Typical, which: Bools, field: str, node: Ints) -> None:
    """Note the devices whose ohms stand on the rest of their nameplate, and the coils taken without resistance."""
    if not typical.policy.admits("neutral_device_ohms"):
        return
    records = typical.ledger.records
    known = ~np.isnan(neutrals.z_device)
    ohms = np.abs(neutrals.z_device)
    typical.ledger.assume(
        "neutral_device", which & known & np.isnan(records.numbers("neutral_device", field)), field,
        np.array([f"{value:.4g} ohm" for value in ohms], dtype=object), "rated voltage over rated current",
        {"zero": node},
    )  # fmt: skip
    if field == "reactance":
        typical.ledger.assume(
            "neutral_device", which & known & np.isnan(records.numbers("neutral_device", "resistance")), "resistance",
            "0 ohm", "resistance not on record; small beside the reactance", {"zero": node},
        )  # fmt: skip
