"""Galvanic zones, and the electrical nodes that closed switches make of several buses."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from groundcheck.engineering import connected
from groundcheck.study.ledger import Ledger
from groundcheck.study.records import Records

Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]
Floats = NDArray[np.float64]
SAME_VOLTAGE = 0.10  # two nominal voltages this close, relative, are one level (11 and 11.5 kV; not 11 and 13.8 kV)


@dataclass(frozen=True)
class Topology:
    """
    What is joined to what.

    node : of each bus; buses with a closed switch between them share one.
    zone : of each bus, numbered in the order of their first bus.
    line_from, line_to : node at the ends of each line; -1 where there is none (a radial feeder), or where the line is
        left out.
    undecided : of each zone, whether a switch of unknown state stands at its edge.
    """

    node: Ints
    node_count: int
    zone: Ints
    zone_count: int
    line_from: Ints
    line_to: Ints
    undecided: Bools


def join_zones(records: Records, ledger: Ledger) -> Topology:
    """Join buses over closed switches and lines; what would join two voltages is left out, and said so."""
    kv = records.nominal_kv
    count = kv.size
    side_a, side_b = records.bus_of("switch", "bus_a"), records.bus_of("switch", "bus_b")
    state = records.words("switch", "normal_state")
    usable = (side_a >= 0) & (side_b >= 0) & (side_a != side_b)
    clash = usable & differing_voltage(kv, side_a, side_b)
    ledger.leave_out("switch", clash & (state != "open"), "bus_b", _clash_texts(records, side_a, side_b))
    joins = usable & ~clash
    closed = joins & (state == "closed")
    node = connected(count, side_a[closed], side_b[closed])
    node_count = int(node.max()) + 1 if count else 0

    start, end = records.bus_of("line", "from_bus"), records.bus_of("line", "to_bus")
    between = (start >= 0) & (end >= 0)
    clash = between & differing_voltage(kv, start, end)
    ledger.leave_out("line", clash, "to_bus", _clash_texts(records, start, end))
    between &= ~clash
    zone = connected(
        count, np.concatenate([side_a[closed], start[between]]), np.concatenate([side_b[closed], end[between]])
    )
    zone_count = int(zone.max()) + 1 if count else 0

    doubtful = joins & np.array([word is None for word in state], dtype=bool)
    undecided = np.zeros(zone_count, dtype=bool)
    undecided[zone[side_a[doubtful]]] = True
    undecided[zone[side_b[doubtful]]] = True
    for side in (side_a, side_b):
        at = np.where(doubtful, node_of(node, side), -1)
        for network in ("positive", "zero"):
            ledger.block(network, "switch", doubtful, "normal_state", at)
    line_from = np.where(~clash, node_of(node, start), -1)
    line_to = np.where(between, node_of(node, end), -1)
    return Topology(node, node_count, zone, zone_count, line_from, line_to, undecided)


def differing_voltage(kv: Floats, a: Ints, b: Ints) -> Bools:
    """Whether the nominal voltages of two buses are of different levels; False where one is not known."""
    if kv.size == 0:
        return np.zeros(a.shape, dtype=bool)
    with np.errstate(invalid="ignore"):
        return np.asarray(np.abs(kv[a] / kv[b] - 1) > SAME_VOLTAGE, dtype=bool)


def zone_extreme(topology: Topology, of_bus: Floats, *, largest: bool) -> Floats:
    """Largest or smallest value over the buses of each zone; NaN if any of them is."""
    found = np.full(topology.zone_count, -np.inf if largest else np.inf)
    extreme = np.maximum if largest else np.minimum
    with np.errstate(invalid="ignore"):
        extreme.at(found, topology.zone, of_bus)
    return found


def node_of(node: Ints, bus: Ints) -> Ints:
    """Node of each bus number, -1 where there is no bus."""
    return np.where(bus >= 0, node[bus], -1) if node.size else np.full(bus.shape, -1, dtype=np.int64)


def _clash_texts(records: Records, a: Ints, b: Ints) -> NDArray[np.object_]:
    kv = records.nominal_kv
    tags = records.bus["bus"].to_numpy(dtype=object)
    texts = [
        f"it joins bus {tags[i]} of {kv[i]:g} kV and bus {tags[j]} of {kv[j]:g} kV" if i >= 0 and j >= 0 else ""
        for i, j in zip(a, b, strict=True)
    ]
    return np.array(texts, dtype=object)
