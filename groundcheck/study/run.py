"""The study from end to end: reads the inventory, writes the study tables."""

from collections.abc import Callable

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.policy import Policy
from groundcheck.progress import Progress
from groundcheck.store import Store
from groundcheck.study.basis import basis_table
from groundcheck.study.blocked import Tracer, ask_for_supply, bus_rows, gather_gaps, neutral_rows, zone_rows
from groundcheck.study.context import Study
from groundcheck.study.currents.reach import measured_assets
from groundcheck.study.currents.readings import read_currents
from groundcheck.study.devices.coil_tuning import coil_tuning_tables
from groundcheck.study.devices.device_heating import device_heating_tables
from groundcheck.study.devices.duty_tables import duty_table, grounding_transformer_table
from groundcheck.study.devices.generator_grounding import generator_grounding_tables
from groundcheck.study.devices.grounding_transformer_size import grounding_transformer_size_tables
from groundcheck.study.devices.neutral_unbalance import neutral_unbalance_tables
from groundcheck.study.faults.contributions import contribution_tables
from groundcheck.study.faults.fault_table import fault_table, with_ratio_classes
from groundcheck.study.faults.zone_table import (
    name_zones,
    neutral_table,
    nullable,
    source_table,
    supply_on_record,
    zone_table,
)
from groundcheck.study.ledger import Ledger
from groundcheck.study.mat.bond_duty import bond_tables
from groundcheck.study.mat.ground_grids import ground_grid_tables
from groundcheck.study.networks.neutrals import find_neutrals, point_buses
from groundcheck.study.networks.solve import build_and_solve, solve_corners
from groundcheck.study.networks.solved_networks import Networks
from groundcheck.study.networks.zones import Topology, join_zones
from groundcheck.study.outages.outage_tables import outage_tables
from groundcheck.study.records import Records, read_records
from groundcheck.study.relays.clearing_gaps import clearing_gaps
from groundcheck.study.relays.coordination import coordination_tables
from groundcheck.study.relays.detector_output import detector_tables
from groundcheck.study.relays.durations import find_durations, mark_assumed
from groundcheck.study.relays.relay_operation import relay_operation_tables
from groundcheck.study.relays.relay_reach import reach_table
from groundcheck.study.relays.stator import stator_tables
from groundcheck.study.relays.vt_stress import vt_stress_tables
from groundcheck.study.relays.watch import write_ground_watch
from groundcheck.study.standing.ferroresonance_screen import ferroresonance_screen_tables
from groundcheck.study.standing.standing_fault import standing_fault_tables
from groundcheck.study.standing.transient_screen import transient_screen_tables
from groundcheck.study.stress import assume_highest_voltage, write_bus_stress
from groundcheck.study.typical import Typical

Bools = NDArray[np.bool_]
Tables = dict[str, pd.DataFrame]

# Each adds its tables, and under "blocked" what it could not compute; it has nothing to say where none of the kinds of
# assets beside it is on record.
TOPICS: tuple[tuple[Callable[[Study], Tables], tuple[str, ...]], ...] = (
    (contribution_tables, ("bus",)),
    (outage_tables, ("bus",)),
    (device_heating_tables, ("neutral_device",)),
    (neutral_unbalance_tables, ("neutral_device",)),
    (generator_grounding_tables, ("generator",)),
    (grounding_transformer_size_tables, ("grounding_transformer",)),
    (coil_tuning_tables, ("neutral_device",)),
    (standing_fault_tables, ("bus",)),
    (transient_screen_tables, ("bus",)),
    (ferroresonance_screen_tables, ("instrument_transformer",)),
    (bond_tables, ("bond", "ground_grid")),
    (ground_grid_tables, ("ground_grid", "line", "secondary_circuit")),
    (relay_operation_tables, ("ground_relay",)),
    (coordination_tables, ("ground_relay",)),
    (stator_tables, ("generator",)),
    (detector_tables, ("ground_detector", "instrument_transformer")),
    (vt_stress_tables, ("instrument_transformer",)),
)


def run_study(store: Store, policy: Policy, progress: Progress | None = None) -> None:
    """Compute every study table from the inventory of the store and the policy."""
    if progress is not None:
        progress.stage("study", None)
    store.clear("study")
    records = read_records(store)
    if not records.bus.empty:
        for name, table in _study_tables(study_networks(records, policy)).items():
            store.write("study", name, table)
    write_bus_stress(store, policy)
    write_ground_watch(store, records, policy)


def study_networks(records: Records, policy: Policy) -> Study:
    """Solve the networks, and find what flows where and for how long."""
    ledger = Ledger(records)
    typical = Typical(ledger, policy)
    topology = join_zones(records, ledger)
    neutrals = find_neutrals(records, ledger, policy)
    networks = build_and_solve(records, topology, neutrals, typical)
    zero, solution, capacitance, transformers = (
        networks.zero, networks.solution, networks.capacitance, networks.transformers,
    )  # fmt: skip

    corners = solve_corners(records, topology, networks, typical)
    names = name_zones(records, topology)
    faults = fault_table(
        records, topology, solution, [corner.solution for corner in corners], capacitance,
        _provisional(topology, networks, ledger),
    )  # fmt: skip
    sources = source_table(records, topology, zero, networks.infeeds, transformers, neutrals, solution)
    supplied = supply_on_record(topology, transformers, solution)
    zones = zone_table(records, topology, names, sources, faults, supplied, neutrals, capacitance, policy)
    faults = with_ratio_classes(faults, topology, solution, zones["grounding_class"].to_numpy(dtype=object))

    bus_of_point = point_buses(records, transformers.bus, neutrals)
    zone_of_point = np.where(bus_of_point >= 0, topology.zone[bus_of_point], -1)
    measured = measured_assets(records, topology, neutrals, zone_of_point)
    possible = np.bincount(sources["zone"].to_numpy(dtype=np.int64), minlength=len(zones))
    readings = read_currents(topology, networks, corners, faults, measured, bus_of_point, possible, zones, policy)
    durations = find_durations(
        records, topology, neutrals, measured, readings, zone_of_point,
        zones["grounding_class"].to_numpy(dtype=object), policy, ledger,
    )  # fmt: skip
    zones = mark_assumed(zones, durations).assign(
        clearing_time_s=durations.zone_s,
        clearing_time_s_low=durations.zone_s_low,
        clearing_time_s_high=durations.zone_s_high,
        continuity_required=nullable(durations.continuity),
    )
    assume_highest_voltage(records, ledger, policy)
    ask_for_supply(records, topology, solution, ledger)
    clearing = clearing_gaps(records, topology, measured, policy)
    gaps = gather_gaps(records, topology, solution, ledger, capacitance, clearing)
    tracer = Tracer(topology, solution, gaps, durations.current_asked)
    return Study(
        records, policy, ledger, typical, topology, names, networks, corners, faults, sources, zones, bus_of_point,
        zone_of_point, measured, readings, durations, tracer,
    )  # fmt: skip


def _provisional(topology: Topology, networks: Networks, ledger: Ledger) -> dict[str, Bools]:
    """Of each bus, by condition, whether an assumed value stands in either of its networks."""
    solution = networks.solution
    marks = {}
    for sequence, part, count in (
        ("positive", solution.positive_part, solution.positive_part.size),
        ("minimum", solution.positive_part, solution.positive_part.size),
        ("zero", solution.zero_part, networks.zero.network.count),
    ):
        assumed = np.zeros(int(part.max()) + 1, dtype=bool)
        assumed[part[ledger.assumed(sequence, count)]] = True
        marks[sequence] = assumed[part[topology.node]]
    largest = marks["positive"] | marks["zero"]
    return {"max": largest, "min": largest | marks["minimum"]}


def _study_tables(study: Study) -> Tables:
    tables = _first_tables(study)
    blocked = [_blocked(study, tables)]
    for topic, kinds in TOPICS:
        if all(study.records.tables[kind].empty for kind in kinds):
            continue
        added = topic(study)
        if "blocked" in added:
            blocked.append(added.pop("blocked"))
        tables |= added
    return tables | {
        "left_out": _joined(study.ledger.left_out),
        "assumption": _joined(study.ledger.assumptions),
        "blocked": _joined(blocked),
    }


def _first_tables(study: Study) -> Tables:
    records, policy, names, zones = study.records, study.policy, study.names, study.zones
    topology, neutrals, readings, durations = study.topology, study.neutrals, study.readings, study.durations
    least = study.faults[study.faults["condition"] == "min"]["provisional"].groupby(topology.zone).any()
    definite = study.sources[study.sources["definite"]]
    return {
        "zone": zones,
        "zone_bus": records.bus[["substation", "bus"]].assign(zone=names.name[topology.zone]),
        "zone_basis": basis_table(records, topology, names.name, readings.device_zone, study.transformers.bus),
        "ground_source": definite.assign(zone=names.name[definite["zone"].to_numpy(dtype=np.int64)]),
        "neutral": neutral_table(records, topology, names, neutrals, study.bus_of_point),
        "bus_fault": study.faults,
        "neutral_duty": duty_table(records, neutrals, readings, durations, zones, policy),
        "grounding_transformer_duty": grounding_transformer_table(
            records, neutrals, readings, durations, study.zone_of_point, zones
        ),
        "relay_reach": reach_table(records, study.measured, readings, zones, least, policy),
    }


def _blocked(study: Study, tables: Tables) -> pd.DataFrame:
    tracer = study.tracer
    grounding = (study.neutrals.points["asset_kind"] == "grounding_transformer").to_numpy()
    transformer_duty = {"current_a": "fault", "duration_s": "clearing"}
    duty = transformer_duty | {"voltage_kv": "fault", "charging_a": "charging"}
    return pd.concat(
        [
            bus_rows(tracer, study.faults),
            zone_rows(tracer, study.zones),
            neutral_rows(
                tracer, tables["neutral_duty"], "neutral_device", study.readings.device_zone, duty
            ),
            neutral_rows(
                tracer, tables["grounding_transformer_duty"], "grounding_transformer",
                study.zone_of_point[grounding], transformer_duty,
            ),
            neutral_rows(
                tracer, tables["relay_reach"], "ground_relay", study.measured.zone,
                {"smallest_fault_a": "fault", "largest_fault_a": "fault"},
            ),
        ]
    )  # fmt: skip


def _joined(frames: list[pd.DataFrame]) -> pd.DataFrame:
    return pd.concat(frames, ignore_index=True).drop_duplicates() if frames else pd.DataFrame()
