"""The supply of networks that nothing on record feeds: asked for, and for bounds anything that the policy admits."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from groundcheck.engineering import infeed_z1_ohm
from groundcheck.policy import Policy
from groundcheck.study.networks.bus_faults import Solution
from groundcheck.study.networks.capacitance import first_bus
from groundcheck.study.networks.corners import Corner
from groundcheck.study.networks.equipment import Infeeds
from groundcheck.study.networks.zones import Topology, node_of
from groundcheck.study.records import Records

Ints = NDArray[np.int64]


def unfed_buses(records: Records, topology: Topology, solution: Solution) -> Ints:
    """Buses at which the supply of an unfed network is asked for: the naming buses of its highest voltage."""
    kv = np.nan_to_num(records.nominal_kv)
    part = solution.positive_part[topology.node]
    top = np.full(int(part.max()) + 1 if part.size else 0, -np.inf)
    np.maximum.at(top, part, kv)
    naming = np.zeros(kv.size, dtype=bool)
    naming[first_bus(topology)] = True
    return np.flatnonzero(solution.unsupplied & naming & (kv == top[part])).astype(np.int64)


def with_supply(
    infeeds: Infeeds, bus: Ints, topology: Topology, records: Records, policy: Policy, corner: Corner
) -> Infeeds:
    """The infeeds, and one more at each of these buses as the corner has it; not known whether grounded."""
    kv = records.nominal_kv[bus]
    end, angle = ("least" if corner.weak else "most"), ("most" if corner.reactive else "least")
    level = np.sqrt(3) * kv * policy[f"range.{end}.infeed_fault_current"]
    ratio = np.full(bus.size, policy[f"range.{angle}.infeed_x_over_r"])
    z1 = infeed_z1_ohm(kv, level, ratio)
    open_z0 = np.full(bus.size, np.nan + 0j)
    return replace(
        infeeds,
        bus=np.concatenate([infeeds.bus, bus]),
        node=np.concatenate([infeeds.node, node_of(topology.node, bus)]),
        z1={condition: np.concatenate([z, z1]) for condition, z in infeeds.z1.items()},
        z0={condition: np.concatenate([z, open_z0]) for condition, z in infeeds.z0.items()},
        grounded=np.concatenate([infeeds.grounded, np.full(bus.size, np.nan)]),
    )
