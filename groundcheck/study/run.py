"""The study from end to end: reads the inventory, writes the study tables."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.policy import Policy
from groundcheck.progress import Progress
from groundcheck.store import Store
from groundcheck.study.basis import basis_table
from groundcheck.study.blocked import (
    Tracer,
    ask_for_supply,
    bus_rows,
    gather_gaps,
    neutral_rows,
    zone_rows,
)
from groundcheck.study.bus_faults import Solution, fault_table, solve_networks
from groundcheck.study.capacitance import Capacitance, station_frequency, zone_capacitance, zone_voltage
from groundcheck.study.durations import Durations, find_durations, mark_assumed
from groundcheck.study.duties import duty_table, grounding_transformer_table
from groundcheck.study.equipment import (
    Generators,
    Infeeds,
    Transformers,
    read_generators,
    read_infeeds,
    read_lines,
    read_transformers,
)
from groundcheck.study.ledger import Ledger
from groundcheck.study.neutrals import Neutrals, find_neutrals, point_buses
from groundcheck.study.positive_sequence import block_tertiaries, series_network
from groundcheck.study.reach import Measured, measured_assets, reach_table
from groundcheck.study.readings import Readings, read_currents, taken
from groundcheck.study.records import Records, read_records
from groundcheck.study.stress import write_bus_stress
from groundcheck.study.typical import Typical
from groundcheck.study.watch import write_ground_watch
from groundcheck.study.zero_paths import ZeroSequence
from groundcheck.study.zero_sequence import zero_network
from groundcheck.study.zone_table import (
    ZoneNames,
    name_zones,
    neutral_table,
    nullable,
    source_table,
    supply_on_record,
    zone_table,
)
from groundcheck.study.zones import Topology, join_zones

Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]


def run_study(store: Store, policy: Policy, progress: Progress | None = None) -> None:
    """Compute every study table from the inventory of the store and the policy."""
    if progress is not None:
        progress.stage("study", None)
    store.clear("study")
    records = read_records(store)
    if not records.bus.empty:
        _study_networks(store, records, policy)
    write_bus_stress(store, policy)
    write_ground_watch(store, records, policy)


def _study_networks(store: Store, records: Records, policy: Policy) -> None:
    ledger = Ledger(records)
    typical = Typical(ledger, policy)
    topology = join_zones(records, ledger)
    infeeds = read_infeeds(records, topology, typical)
    generators = read_generators(records, topology, typical)
    transformers = read_transformers(records, topology, typical)
    block_tertiaries(transformers, ledger)
    neutrals = find_neutrals(records, ledger, policy)
    zero, solution, capacitance = _solve(records, topology, infeeds, generators, transformers, neutrals, typical)

    names = name_zones(records, topology)
    faults = fault_table(records, topology, solution, capacitance, _provisional(topology, zero, solution, ledger))
    sources = source_table(records, topology, zero, infeeds, transformers, neutrals, solution)
    supplied = supply_on_record(topology, transformers, solution)
    zones = zone_table(records, topology, names, sources, faults, supplied, neutrals, capacitance, policy)

    bus_of_point = point_buses(records, transformers.bus, neutrals)
    zone_of_point = np.where(bus_of_point >= 0, topology.zone[bus_of_point], -1)
    measured = measured_assets(records, topology, neutrals, zone_of_point)
    readings = read_currents(
        topology, neutrals, zero, solution, faults, measured, bus_of_point,
        zones["ground_sources"].to_numpy(dtype=np.int64),
    )  # fmt: skip
    durations = find_durations(
        records, topology, neutrals, measured, readings, zone_of_point,
        zones["grounding_class"].to_numpy(dtype=object), policy, ledger,
    )  # fmt: skip
    zones = mark_assumed(zones, durations).assign(
        clearing_time_s=durations.zone_s, continuity_required=nullable(durations.continuity)
    )
    tables = _tables_of_neutrals(
        records, topology, neutrals, readings, durations, measured, zones, zone_of_point, names, capacitance, policy
    )
    ask_for_supply(records, topology, solution, ledger)
    tracer = Tracer(topology, solution, gather_gaps(records, topology, solution, ledger, capacitance))
    blocked = _blocked(tracer, faults, zones, tables, readings, measured, neutrals, zone_of_point)

    definite = sources[sources["definite"]]
    tables |= {
        "zone": zones,
        "zone_bus": records.bus[["substation", "bus"]].assign(zone=names.name[topology.zone]),
        "zone_basis": basis_table(records, topology, names.name, readings.device_zone, transformers.bus),
        "ground_source": definite.assign(zone=names.name[definite["zone"].to_numpy(dtype=np.int64)]),
        "neutral": neutral_table(records, topology, names, neutrals, bus_of_point),
        "bus_fault": faults,
        "left_out": _joined(ledger.left_out),
        "assumption": _joined(ledger.assumptions),
        "blocked": blocked.drop_duplicates(),
    }
    for name, table in tables.items():
        store.write("study", name, table)


def _solve(
    records: Records,
    topology: Topology,
    infeeds: Infeeds,
    generators: Generators,
    transformers: Transformers,
    neutrals: Neutrals,
    typical: Typical,
) -> tuple[ZeroSequence, Solution, Capacitance]:
    ledger, policy = typical.ledger, typical.policy
    line_hz = station_frequency(records, ledger, policy, "line")
    machine_hz = station_frequency(records, ledger, policy, "generator")
    lines = read_lines(records, topology, typical, line_hz)
    capacitance = zone_capacitance(records, topology, lines, generators, line_hz, machine_hz)
    series = series_network(topology, lines, transformers, ledger)
    zero = zero_network(records, topology, infeeds, generators, lines, transformers, neutrals, typical)
    zero.add_machine_capacitance(generators.node, capacitance.machine)
    return zero, solve_networks(topology, series, zero, infeeds, generators, capacitance), capacitance


def _provisional(topology: Topology, zero: ZeroSequence, solution: Solution, ledger: Ledger) -> Bools:
    """Of each bus, whether an assumed value stands in either of its networks."""
    marks = np.zeros(topology.node.size, dtype=bool)
    for sequence, part, count in (
        ("positive", solution.positive_part, solution.positive_part.size),
        ("zero", solution.zero_part, zero.network.count),
    ):
        assumed = np.zeros(int(part.max()) + 1, dtype=bool)
        assumed[part[ledger.assumed(sequence, count)]] = True
        marks |= assumed[part[topology.node]]
    return marks


def _tables_of_neutrals(
    records: Records,
    topology: Topology,
    neutrals: Neutrals,
    readings: Readings,
    durations: Durations,
    measured: Measured,
    zones: pd.DataFrame,
    zone_of_point: Ints,
    names: ZoneNames,
    capacitance: Capacitance,
    policy: Policy,
) -> dict[str, pd.DataFrame]:
    kv = zone_voltage(records, topology)
    marks = zones["provisional"].to_numpy(dtype=bool)
    return {
        "neutral_duty": duty_table(
            records, neutrals, readings.device_zone, readings.device_max, durations.device_s, names.name, kv,
            capacitance.charging_a, taken(marks, readings.device_zone, False).astype(bool), policy,
        ),
        "grounding_transformer_duty": grounding_transformer_table(
            records, neutrals, readings.point_max, durations.point_s, zone_of_point, names.name, kv, marks, policy
        ),
        "relay_reach": reach_table(
            records, measured, readings.relay_smallest_a, readings.relay_largest_a, names.name,
            taken(marks, measured.zone, False).astype(bool), policy,
        ),
    }  # fmt: skip


def _blocked(
    tracer: Tracer,
    faults: pd.DataFrame,
    zones: pd.DataFrame,
    tables: dict[str, pd.DataFrame],
    readings: Readings,
    measured: Measured,
    neutrals: Neutrals,
    zone_of_point: Ints,
) -> pd.DataFrame:
    grounding = (neutrals.points["asset_kind"] == "grounding_transformer").to_numpy()
    transformer_duty = {"current_a": "fault", "duration_s": "clearing"}
    duty = transformer_duty | {"voltage_kv": "fault", "charging_a": "charging"}
    return pd.concat(
        [
            bus_rows(tracer, faults),
            zone_rows(tracer, zones),
            neutral_rows(
                tracer, tables["neutral_duty"], "neutral_device", readings.device_zone, duty
            ),
            neutral_rows(
                tracer, tables["grounding_transformer_duty"], "grounding_transformer", zone_of_point[grounding],
                transformer_duty,
            ),
            neutral_rows(
                tracer, tables["relay_reach"], "ground_relay", measured.zone,
                {"smallest_fault_a": "fault", "largest_fault_a": "fault"},
            ),
        ]
    )  # fmt: skip


def _joined(frames: list[pd.DataFrame]) -> pd.DataFrame:
    return pd.concat(frames, ignore_index=True).drop_duplicates() if frames else pd.DataFrame()
