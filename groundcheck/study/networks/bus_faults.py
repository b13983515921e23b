"""Sequence impedances at every bus, in both conditions."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from groundcheck.engineering import NetworkImpedances
from groundcheck.study.networks.capacitance import Capacitance
from groundcheck.study.networks.equipment import Generators, Infeeds
from groundcheck.study.networks.method import Method
from groundcheck.study.networks.positive_sequence import unsupplied
from groundcheck.study.networks.sequence_network import SequenceNetwork
from groundcheck.study.networks.zero_paths import ZeroSequence
from groundcheck.study.networks.zones import Topology

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Complexes = NDArray[np.complex128]
CONDITIONS = ("max", "min")


@dataclass(frozen=True)
class Solution:
    """
    Impedances at every bus, by condition, and the parts of the networks that they were found in.

    z0 is infinite where there is no path to ground, and where only capacitance or a coil leads there and the
    capacitance is not on record in full (`charging_decides`); NaN where the record leaves it open.
    no_path : of each bus, whether nothing leads to ground, not even capacitance.
    open_charging : of each bus, whether capacitance decides that is not on record in full anywhere in its network.
    voltage_factor : voltage that drives a fault current over the nominal voltage.
    """

    z1: dict[str, Complexes]
    z2: dict[str, Complexes]
    z0: dict[str, Complexes]
    positive: dict[str, NetworkImpedances]
    negative: dict[str, NetworkImpedances]
    zero: dict[str, NetworkImpedances]
    positive_part: Ints
    zero_part: Ints
    charging_decides: Bools
    unsupplied: Bools
    no_path: Bools
    open_charging: Bools
    voltage_factor: dict[str, Floats]


def solve_networks(
    topology: Topology,
    series: dict[str, SequenceNetwork],
    zero: dict[str, ZeroSequence],
    infeeds: Infeeds,
    generators: Generators,
    capacitance: Capacitance,
    method: Method,
) -> Solution:
    """Invert all networks in batches and read the impedances at the buses."""
    node = topology.node
    positive_part = series["max"].components()
    dark = unsupplied(positive_part, infeeds, generators)
    z1: dict[str, Complexes] = {}
    z2: dict[str, Complexes] = {}
    positive: dict[str, NetworkImpedances] = {}
    negative: dict[str, NetworkImpedances] = {}
    z0: dict[str, Complexes] = {}
    solved: dict[str, NetworkImpedances] = {}
    paths = zero["max"]  # the same in both conditions
    zero_part = paths.network.components()
    grounded, beyond_coil, capacitive = (
        _parts_with(zero_part, nodes) for nodes in (paths.grounded, paths.beyond_coil, paths.capacitive)
    )
    incomplete = np.zeros(grounded.size, dtype=bool)
    incomplete[zero_part[node[np.isnan(capacitance.charging_a)[topology.zone]]]] = True
    no_path = ~grounded & ~capacitive
    decides = ~beyond_coil & incomplete
    for condition in CONDITIONS:
        if condition == "min" and not method.corrected and _same(infeeds):
            z1["min"], z2["min"], z0["min"] = z1["max"], z2["max"], z0["max"]
            positive["min"], negative["min"], solved["min"] = positive["max"], negative["max"], solved["max"]
            continue
        feed = (infeeds.node, infeeds.z1[condition])
        machines = method.generators(generators, condition)
        for z_at_bus, inverse, z_machine in ((z1, positive, machines.z1), (z2, negative, machines.z2)):
            fed = series[condition].with_shunts(feed, (machines.node, z_machine))
            inverse[condition] = fed.solve(positive_part, dark)
            z_at_bus[condition] = inverse[condition].driving_point()[node]
        network = zero[condition].network.with_shunts((infeeds.node, infeeds.z0[condition]))
        solved[condition] = network.solve(zero_part, no_path[zero_part])
        z = solved[condition].driving_point()[node]
        unknown = _parts_with_gaps(network, zero_part, grounded.size)
        # A part that is known and yet has no inverse is a coil in tune: its impedance is without limit.
        endless = no_path | decides | ~unknown
        at = zero_part[node]
        z0[condition] = np.where(decides[at] | (np.isnan(z) & endless[at]), np.inf + 0j, z)
    at = zero_part[node]
    return Solution(
        z1,
        z2,
        z0,
        positive,
        negative,
        solved,
        positive_part,
        zero_part,
        (decides | no_path)[at],
        dark[node],
        no_path[at],
        ((decides | no_path) & incomplete)[at],
        method.voltage,
    )


def _parts_with(part: Ints, nodes: list[Ints]) -> Bools:
    marks = np.zeros(int(part.max()) + 1 if part.size else 0, dtype=bool)
    for at in nodes:
        marks[part[at[at >= 0]]] = True
    return marks


def _parts_with_gaps(network: SequenceNetwork, part: Ints, count: int) -> Bools:
    marks = np.zeros(count, dtype=bool)
    for rows, values in zip(network.rows, network.values, strict=True):
        marks[part[rows[np.isnan(values)]]] = True
    return marks


def _same(infeeds: Infeeds) -> bool:
    return all(np.array_equal(z["max"], z["min"], equal_nan=True) for z in (infeeds.z1, infeeds.z0))
