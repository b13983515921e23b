"""Faults at every bus, in both conditions."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.engineering import (
    NetworkImpedances,
    coefficient_of_grounding,
    double_line_to_ground_ka,
    healthy_phase_bounds_kv,
    healthy_phase_kv,
    line_to_ground_ka,
    neutral_shift_kv,
    three_phase_ka,
)
from groundcheck.study.capacitance import Capacitance
from groundcheck.study.equipment import Generators, Infeeds
from groundcheck.study.network import SequenceNetwork
from groundcheck.study.positive_sequence import unsupplied
from groundcheck.study.records import Records
from groundcheck.study.zero_paths import ZeroSequence
from groundcheck.study.zones import Topology

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
    """

    z1: dict[str, Complexes]
    z2: dict[str, Complexes]
    z0: dict[str, Complexes]
    zero: dict[str, NetworkImpedances]
    positive_part: Ints
    zero_part: Ints
    charging_decides: Bools
    unsupplied: Bools


def solve_networks(
    topology: Topology,
    series: SequenceNetwork,
    zero: ZeroSequence,
    infeeds: Infeeds,
    generators: Generators,
    capacitance: Capacitance,
) -> Solution:
    """Invert all networks in batches and read the impedances at the buses."""
    node = topology.node
    positive_part = series.components()
    dark = unsupplied(positive_part, infeeds, generators)
    z1: dict[str, Complexes] = {}
    z2: dict[str, Complexes] = {}
    z0: dict[str, Complexes] = {}
    solved: dict[str, NetworkImpedances] = {}
    base = zero.network
    zero_part = base.components()
    grounded, beyond_coil, capacitive = (
        _parts_with(zero_part, nodes) for nodes in (zero.grounded, zero.beyond_coil, zero.capacitive)
    )
    incomplete = np.zeros(grounded.size, dtype=bool)
    incomplete[zero_part[node[np.isnan(capacitance.charging_a)[topology.zone]]]] = True
    no_path = ~grounded & ~capacitive
    decides = ~beyond_coil & incomplete
    for condition in CONDITIONS:
        if condition == "min" and _same(infeeds):
            z1["min"], z2["min"], z0["min"], solved["min"] = z1["max"], z2["max"], z0["max"], solved["max"]
            continue
        feed = (infeeds.node, infeeds.z1[condition])
        z1[condition] = (
            series.with_shunts(feed, (generators.node, generators.z1)).solve(positive_part, dark).driving_point()[node]
        )
        z2[condition] = (
            series.with_shunts(feed, (generators.node, generators.z2)).solve(positive_part, dark).driving_point()[node]
        )
        network = base.with_shunts((infeeds.node, infeeds.z0[condition]))
        solved[condition] = network.solve(zero_part, no_path[zero_part])
        z = solved[condition].driving_point()[node]
        unknown = _parts_with_gaps(network, zero_part, grounded.size)
        # A part that is known and yet has no inverse is a coil in tune: its impedance is without limit.
        endless = no_path | decides | ~unknown
        at = zero_part[node]
        z0[condition] = np.where(decides[at] | (np.isnan(z) & endless[at]), np.inf + 0j, z)
    return Solution(z1, z2, z0, solved, positive_part, zero_part, (decides | no_path)[zero_part[node]], dark[node])


def fault_table(
    records: Records, topology: Topology, solution: Solution, capacitance: Capacitance, provisional: Bools
) -> pd.DataFrame:
    """The rows of study.bus_fault."""
    kv = records.nominal_kv
    charging = capacitance.charging_a[topology.zone] if topology.zone.size else np.zeros(0)
    low, high = healthy_phase_bounds_kv(kv)
    frames = []
    for condition in CONDITIONS:
        z1, z2, z0 = solution.z1[condition], solution.z2[condition], solution.z0[condition]
        endless = np.isinf(z0)
        healthy = healthy_phase_kv(kv, z1, z2, z0)
        to_ground = line_to_ground_ka(kv, z1, z2, z0)
        double = double_line_to_ground_ka(kv, z1, z2, z0)
        open_charging = solution.charging_decides & np.isnan(charging)
        x1 = z1.imag
        path = np.where(endless, np.nan + 0j, z0)
        with np.errstate(divide="ignore", invalid="ignore"):
            frames.append(
                pd.DataFrame(
                    {
                        "substation": records.bus["substation"].to_numpy(dtype=object),
                        "bus": records.bus["bus"].to_numpy(dtype=object),
                        "condition": condition,
                        "r1_ohm": z1.real,
                        "x1_ohm": x1,
                        "r2_ohm": z2.real,
                        "x2_ohm": z2.imag,
                        "r0_ohm": path.real,
                        "x0_ohm": path.imag,
                        "three_phase_ka": three_phase_ka(kv, z1),
                        "line_to_ground_ka": np.where(open_charging, np.nan, to_ground),
                        "double_line_to_ground_ka": np.where(open_charging, np.nan, double),
                        "x0_over_x1": path.imag / x1,
                        "r0_over_x1": path.real / x1,
                        "cog": coefficient_of_grounding(healthy, kv),
                        "healthy_phase_kv": healthy,
                        "healthy_phase_kv_low": np.where(np.isnan(healthy), low, healthy),
                        "healthy_phase_kv_high": np.where(np.isnan(healthy), high, healthy),
                        "neutral_shift_kv": neutral_shift_kv(kv, z1, z2, z0),
                        "charging_a": charging,
                        "provisional": provisional,
                    }
                )
            )
    return pd.concat(frames, ignore_index=True)


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
