"""The network study against a phase-by-phase solution of the same records, over random networks.

A run of the tests tries 40; `GROUNDCHECK_NETWORKS=1000` tries as many as it says, always the same.
"""

import os

import numpy as np
import pandas as pd
import pytest
from networks.expected import bus_answers, neutral_answers
from networks.phase_domain import PhaseDomain
from networks.random_networks import random_network
from networks.random_stations import as_frames, together

from groundcheck.ingest import ingest
from groundcheck.policy import load_policy
from groundcheck.store import Store
from groundcheck.study import run_study

NETWORKS = int(os.environ.get("GROUNDCHECK_NETWORKS", "40"))
AGREEMENT = 1e-6  # relative
KEY = ["substation", "bus", "condition"]
CURRENTS = ["line_to_ground_ka", "double_line_to_ground_ka", "three_phase_ka"]
VOLTAGES = ["healthy_phase_kv", "neutral_shift_kv"]


@pytest.fixture(scope="module")
def networks():
    return [random_network(seed) for seed in range(NETWORKS)]


@pytest.fixture(scope="module")
def store(networks):
    """All networks as one fleet, studied in one run."""
    store = Store()
    ingest(store, as_frames(together(networks)))
    for table in ("quarantine", "unread_cell"):
        assert store.sql(f"FROM raw.{table}").fetchall() == []
    run_study(store, load_policy())
    return store


@pytest.fixture(scope="module")
def answers(networks):
    """What the phase-domain solution says of buses in both conditions, and of neutrals in the maximum condition."""
    buses, neutrals = [], []
    for rows in networks:
        most, least = PhaseDomain(rows, "max"), PhaseDomain(rows, "min")
        buses += bus_answers(most) + bus_answers(least)
        neutrals += neutral_answers(most)
    return buses, pd.DataFrame(neutrals)


@pytest.fixture(scope="module")
def both(answers, store):
    """Every bus in both conditions: the study's columns, and those of the phase-domain solution with suffix _phase."""
    expected, _ = answers
    study = store.frame("SELECT * FROM study.bus_fault")
    joined = pd.DataFrame(expected).merge(study, on=KEY, suffixes=("_phase", ""), validate="one_to_one", how="outer")
    assert len(joined) == len(study) == len(expected)
    return joined


def assert_agrees(found, expected, names, floor):
    """Equal to the agreement, with what is below the floor counted as nothing."""
    found, expected = np.asarray(found), np.asarray(expected)
    assert (np.isnan(found) == np.isnan(expected)).all(), names[np.isnan(found) != np.isnan(expected)]
    off = np.abs(found - expected) > AGREEMENT * np.abs(expected) + floor
    table = pd.DataFrame(names[off]).assign(found=found[off], expected=expected[off])
    assert not off.any(), f"{off.sum()} of {off.size}\n{table.to_string(max_rows=20)}"


def test_the_phase_domain_solution_keeps_the_sequences_apart(both):
    # Every model is the same in the three phases, so what couples sequences would be a mistake made here.
    assert both["coupling"].max() < 1e-5


@pytest.mark.parametrize("column", CURRENTS)
def test_fault_current_is_that_of_the_phase_domain(both, column):
    assert_agrees(both[column], both[f"{column}_phase"], both[KEY], 1e-9)


@pytest.mark.parametrize("column", VOLTAGES)
def test_voltage_during_the_fault_is_that_of_the_phase_domain(both, column):
    assert_agrees(both[column], both[f"{column}_phase"], both[KEY], 1e-9)


@pytest.mark.parametrize("sequence", [1, 2, 0])
def test_sequence_impedance_is_that_of_the_phase_domain(both, sequence):
    found = both[f"r{sequence}_ohm"] + 1j * both[f"x{sequence}_ohm"]
    assert_agrees(found, both[f"z{sequence}"], both[KEY], 1e-9)


def test_line_to_line_current_follows_from_the_sequence_impedances(both, store):
    loop = both["r1_ohm"] + both["r2_ohm"] + 1j * (both["x1_ohm"] + both["x2_ohm"])
    kv = both.merge(store.frame("SELECT substation, bus, nominal_voltage FROM inventory.bus"))["nominal_voltage"]
    assert_agrees(kv / np.abs(loop), both["line_to_line_ka"], both[KEY], 1e-9)


@pytest.mark.parametrize(
    ("kind", "table"),
    [("neutral_device", "neutral_duty"), ("grounding_transformer", "grounding_transformer_duty")],
)
def test_neutral_current_is_that_of_the_phase_domain(answers, store, kind, table):
    _, expected = answers
    expected = expected[expected["kind"] == kind]
    study = store.frame(f"SELECT substation, {kind} AS asset, current_a FROM study.{table}")
    joined = expected.merge(study, on=["substation", "asset"], suffixes=("_phase", ""), validate="one_to_one")
    assert len(joined) == len(study) == len(expected)
    assert_agrees(joined["current_a"], joined["current_a_phase"], joined[["substation", "asset"]], 1e-6)
