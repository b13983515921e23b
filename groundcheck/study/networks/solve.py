"""From records to solved networks; done once for the values on record, and once for each corner of their intervals."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from groundcheck.study.ledger import Ledger
from groundcheck.study.networks.bus_faults import CONDITIONS, solve_networks
from groundcheck.study.networks.capacitance import station_frequency, zone_capacitance
from groundcheck.study.networks.corners import CORNERS, Corner, records_at
from groundcheck.study.networks.equipment import Infeeds, read_generators, read_infeeds, read_transformers
from groundcheck.study.networks.lines import read_lines
from groundcheck.study.networks.method import choose_method
from groundcheck.study.networks.neutrals import Neutrals, device_impedance
from groundcheck.study.networks.positive_sequence import block_tertiaries, series_network
from groundcheck.study.networks.sequence_network import SequenceNetwork
from groundcheck.study.networks.solved_networks import Networks
from groundcheck.study.networks.supply import unfed_buses, with_supply
from groundcheck.study.networks.zero_paths import ZeroSequence
from groundcheck.study.networks.zero_sequence import zero_network
from groundcheck.study.networks.zones import Topology
from groundcheck.study.records import Records
from groundcheck.study.typical import Typical


def build_and_solve(
    records: Records,
    topology: Topology,
    neutrals: Neutrals,
    typical: Typical,
    feed: Callable[[Infeeds], Infeeds] | None = None,
    corner: Corner | None = None,
) -> Networks:
    """Read the equipment, build both sequence networks, and solve them in both conditions; `feed` adds infeeds."""
    ledger, policy = typical.ledger, typical.policy
    infeeds = read_infeeds(records, topology, typical)
    on_record = infeeds.node
    if feed is not None:
        infeeds = feed(infeeds)
    generators = read_generators(records, topology, typical)
    transformers = read_transformers(records, topology, typical)
    block_tertiaries(transformers, ledger)
    line_hz = station_frequency(records, ledger, policy, "line")
    machine_hz = station_frequency(records, ledger, policy, "generator")
    lines = read_lines(records, topology, typical, line_hz)
    capacitance = zone_capacitance(records, topology, lines, generators, line_hz, machine_hz)
    method = choose_method(records, topology, infeeds, generators, transformers, typical, corner)
    infeeds = method.infeeds(infeeds)
    series: dict[str, SequenceNetwork] = {}
    zero: dict[str, ZeroSequence] = {}
    for condition in CONDITIONS:
        if condition == "min" and not method.corrected:
            series["min"], zero["min"] = series["max"], zero["max"]
            continue
        machines, banks = method.generators(generators, condition), method.transformers(transformers, condition)
        series[condition] = series_network(topology, lines, banks, ledger, np.concatenate([on_record, generators.node]))
        zero[condition] = zero_network(records, topology, infeeds, machines, lines, banks, neutrals, typical)
        zero[condition].add_machine_capacitance(generators.node, capacitance.machine)
    solution = solve_networks(topology, series, zero, infeeds, generators, capacitance, method)
    return Networks(
        records, infeeds, generators, lines, transformers, neutrals, zero["max"], capacitance, solution, zero, method
    )


def solve_corners(records: Records, topology: Topology, nominal: Networks, typical: Typical) -> list[Networks]:
    """The networks at each corner of what the record leaves open; nothing is noted in the ledger."""
    policy = typical.policy
    unfed = unfed_buses(records, topology, nominal.solution)
    solved = []
    for corner in CORNERS:
        moved = records_at(records, policy, corner)
        neutrals = replace(nominal.neutrals, z_device=device_impedance(moved, policy))
        silent = Typical(Ledger(moved), policy)

        def feed(infeeds: Infeeds, corner: Corner = corner) -> Infeeds:
            return with_supply(infeeds, unfed, topology, records, policy, corner)

        solved.append(build_and_solve(moved, topology, neutrals, silent, feed, corner))
    return solved
