"""From records to solved networks; done once for the values on record, and once for each corner of their intervals."""

from groundcheck.study.bus_faults import solve_networks
from groundcheck.study.capacitance import station_frequency, zone_capacitance
from groundcheck.study.context import Networks
from groundcheck.study.equipment import read_generators, read_infeeds, read_lines, read_transformers
from groundcheck.study.neutrals import Neutrals
from groundcheck.study.positive_sequence import block_tertiaries, series_network
from groundcheck.study.records import Records
from groundcheck.study.typical import Typical
from groundcheck.study.zero_sequence import zero_network
from groundcheck.study.zones import Topology


def build_and_solve(records: Records, topology: Topology, neutrals: Neutrals, typical: Typical) -> Networks:
    """Read the equipment, build both sequence networks, and solve them in both conditions."""
    ledger, policy = typical.ledger, typical.policy
    infeeds = read_infeeds(records, topology, typical)
    generators = read_generators(records, topology, typical)
    transformers = read_transformers(records, topology, typical)
    block_tertiaries(transformers, ledger)
    line_hz = station_frequency(records, ledger, policy, "line")
    machine_hz = station_frequency(records, ledger, policy, "generator")
    lines = read_lines(records, topology, typical, line_hz)
    capacitance = zone_capacitance(records, topology, lines, generators, line_hz, machine_hz)
    series = series_network(topology, lines, transformers, ledger)
    zero = zero_network(records, topology, infeeds, generators, lines, transformers, neutrals, typical)
    zero.add_machine_capacitance(generators.node, capacitance.machine)
    solution = solve_networks(topology, series, zero, infeeds, generators, capacitance)
    return Networks(infeeds, generators, lines, transformers, neutrals, zero, capacitance, solution)
