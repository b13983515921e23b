"""Current of a second ground fault, on another phase at another place of a zone that runs on through the first."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.engineering import (
    NetworkImpedances,
    impedance_matrices,
    second_ground_fault_ceiling_ka,
    second_ground_fault_ka,
)
from groundcheck.study.bounded import Bounded, anything, of_frame
from groundcheck.study.context import Study
from groundcheck.study.networks.positive_sequence import series_network
from groundcheck.study.networks.sequence_network import SequenceNetwork, reciprocal

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


@dataclass(frozen=True)
class SecondFaults:
    """Smallest and largest current over the pairs of buses of each zone, in kA; NaN in zones not asked for."""

    smallest_ka: Bounded
    largest_ka: Bounded


def second_faults(study: Study, wanted: Bools) -> SecondFaults:
    """
    Smallest in the minimum condition, largest in the maximum one.

    Two faults at one bus draw sqrt(3)/2 of its three-phase current, and no pair draws more than the strongest bus so.
    The smallest is found from every pair of buses; in a zone of more than standing_fault.pair_limit, bounds alone.
    """
    count = len(study.records.bus)
    most = of_frame(study.faults.iloc[:count], "three_phase_ka")
    least = of_frame(study.faults.iloc[count:], "three_phase_ka")
    zone = study.topology.zone
    largest = Bounded(*(_of_zone(study, second_ground_fault_ceiling_ka(end), np.maximum) for end in _ends(most)))
    size = np.bincount(zone, minlength=study.topology.zone_count)
    few = wanted & (size <= study.policy["standing_fault.pair_limit"])
    first, second = _pairs(zone, few)
    if not first.size:
        return SecondFaults(anything(size.size), largest)
    kv = study.records.nominal_kv * study.solution.voltage_factor["min"]
    loop, loop_most = _line_loops(study, few, first, second)
    exact = np.full(study.topology.zone_count, np.inf)
    with np.errstate(invalid="ignore"):
        np.minimum.at(exact, zone[first], _pair_ka(study, kv[first], first, second, loop))
    low = np.full(study.topology.zone_count, np.inf)
    with np.errstate(invalid="ignore"):
        np.minimum.at(low, zone[first], _pair_floor_ka(kv[first], least.low[first], least.low[second], loop_most))
    weakest = _of_zone(study, least.low, np.minimum)
    by_sum = _pair_floor_ka(_of_zone(study, kv, np.minimum), weakest, weakest, _all_lines(study))
    same_bus = _of_zone(study, second_ground_fault_ceiling_ka(least.high), np.minimum)
    smallest = Bounded(
        np.where(np.isfinite(exact), exact, np.nan), np.nan_to_num(np.where(few, low, by_sum)),
        np.where(np.isnan(same_bus), np.inf, same_bus),
    )  # fmt: skip
    return SecondFaults(smallest, largest)


def _ends(of: Bounded) -> tuple[Floats, Floats, Floats]:
    return of.value, of.low, of.high


def _of_zone(study: Study, of_bus: Floats, extreme: np.ufunc) -> Floats:
    start = -np.inf if extreme is np.maximum else np.inf
    found = np.full(study.topology.zone_count, start)
    with np.errstate(invalid="ignore"):
        extreme.at(found, study.topology.zone, of_bus)
    return found


def _pairs(zone: Ints, few: Bools) -> tuple[Ints, Ints]:
    """Every two buses of one zone, each pair once, a bus with itself included."""
    buses = pd.DataFrame({"zone": zone, "bus": np.arange(zone.size)})[few[zone]]
    both = buses.merge(buses, on="zone", suffixes=("", "_other"))
    both = both[both["bus"] <= both["bus_other"]]
    return both["bus"].to_numpy(dtype=np.int64), both["bus_other"].to_numpy(dtype=np.int64)


def _pair_ka(study: Study, kv: Floats, first: Ints, second: Ints, loop: NDArray[np.complex128]) -> Floats:
    node = study.topology.node
    a, b = node[first], node[second]
    wanted = np.zeros(int(study.solution.positive_part.max()) + 1 if node.size else 0, dtype=bool)
    wanted[study.solution.positive_part[a]] = True
    series = series_network(
        study.topology, study.lines, study.transformers, study.ledger,
        np.concatenate([study.infeeds.node, study.generators.node]),
    )  # fmt: skip
    fed = series.with_shunts(
        (study.infeeds.node, study.infeeds.z1["min"]), (study.generators.node, study.generators.z1)
    )
    solved, place = _solve_some(fed, study.solution.positive_part, wanted)
    z = [solved.column_values(place[i], place[j]) for i, j in ((a, a), (b, b), (a, b))]
    return second_ground_fault_ka(kv, z[0], z[1], z[2], loop)


def _solve_some(network: SequenceNetwork, part: Ints, wanted: Bools) -> tuple[NetworkImpedances, Ints]:
    """Invert the parts wanted; and where each node stands among theirs."""
    keep = wanted[part]
    place = np.where(keep, np.cumsum(keep) - 1, -1)
    row, col, y = (np.concatenate(each) for each in (network.rows, network.cols, network.values))
    mine = keep[row]
    _, numbers = np.unique(part[keep], return_inverse=True)
    return impedance_matrices(numbers, place[row[mine]], place[col[mine]], y[mine]), place


def _line_loops(study: Study, few: Bools, first: Ints, second: Ints) -> tuple[NDArray[np.complex128], Floats]:
    """
    Zero-sequence impedance of the lines between two buses, the ground as return; and the most that it may be.

    The lines alone, tied to ground at one node of each zone, give it as Zii + Zjj - 2 Zij, whichever node that is.
    """
    topology = study.topology
    network = SequenceNetwork(topology.node_count)
    series = (topology.line_from >= 0) & (topology.line_to >= 0)
    network.add_branch(topology.line_from[series], topology.line_to[series], reciprocal(study.lines.z0[series]))
    zone_of_node = np.zeros(topology.node_count, dtype=np.int64)
    zone_of_node[topology.node] = topology.zone
    tie = np.unique(zone_of_node, return_index=True)[1].astype(np.int64)
    network.add_shunt(tie, np.ones(tie.size, dtype=complex))
    solved, place = _solve_some(network, zone_of_node, few)
    a, b = place[topology.node[first]], place[topology.node[second]]
    loop = solved.column_values(a, a) + solved.column_values(b, b) - 2 * solved.column_values(a, b)
    share = study.policy["tolerance.impedance"]
    sure = _on_record(study)[topology.zone[first]]
    same = topology.node[first] == topology.node[second]
    with np.errstate(invalid="ignore"):
        most = np.where(sure & ~np.isnan(loop), np.abs(loop) * (1 + share) ** 2, np.inf)
    return np.where(same, 0, loop), np.where(same, 0.0, most)


def _on_record(study: Study) -> Bools:
    """Of each zone, whether length, r0 and x0 of all its lines between buses are on record."""
    topology, number = study.topology, study.records.numbers
    series = (topology.line_from >= 0) & (topology.line_to >= 0)
    gap = np.isnan(number("line", "length") * number("line", "r0") * number("line", "x0")) & series
    zone_of_node = np.zeros(topology.node_count, dtype=np.int64)
    zone_of_node[topology.node] = topology.zone
    sure = np.ones(topology.zone_count, dtype=bool)
    sure[zone_of_node[topology.line_from[gap]]] = False
    return sure


def _all_lines(study: Study) -> Floats:
    """No path is longer than all lines of a zone together."""
    topology = study.topology
    series = (topology.line_from >= 0) & (topology.line_to >= 0)
    zone_of_node = np.zeros(topology.node_count, dtype=np.int64)
    zone_of_node[topology.node] = topology.zone
    total = np.zeros(topology.zone_count)
    np.add.at(total, zone_of_node[topology.line_from[series]], np.abs(study.lines.z0[series]))
    share = (1 + study.policy["tolerance.impedance"]) ** 2
    return np.where(_on_record(study) & ~np.isnan(total), total * share, np.inf)


def _pair_floor_ka(kv: Floats, first_ka: Floats, second_ka: Floats, loop_ohm: Floats) -> Floats:
    """At least this: the magnitudes of all impedances added up, and the positive-sequence loop left out."""
    with np.errstate(divide="ignore", invalid="ignore"):
        ohms = np.sqrt(3) * kv * (1 / first_ka + 1 / second_ka) + loop_ohm
        return np.asarray(3 * kv / ohms, dtype=np.float64)
