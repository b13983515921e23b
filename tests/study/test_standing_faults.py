"""Zones that run on through a ground fault."""

import numpy as np
import pandas as pd
import pytest

CABLE = {"line": "F1", "from_bus": "U", "to_bus": "U2", "length": 3.0, "construction": "cable", "r1": 0.1, "x1": 0.12,
         "r0": 0.4, "x0": 0.5, "c0": 300.0}  # fmt: skip


@pytest.fixture
def zone():
    """10 kV, ungrounded, 3 km of cable between two buses, behind an infeed of 100 MVA."""
    return {
        "substation": [{"frequency": 50.0}],
        "bus": [{"bus": "U", "nominal_voltage": 10.0}, {"bus": "U2", "nominal_voltage": 10.0}],
        "infeed": [
            {"infeed": "Q", "bus": "U", "fault_level_3ph": 100.0, "x_over_r": 10.0, "fault_level_3ph_min": 100.0,
             "x_over_r_min": 10.0, "grounded": False}
        ],
        "line": [dict(CABLE)],
    }  # fmt: skip


def standing(store):
    return store.frame("SELECT * FROM study.standing_fault").iloc[0]


def test_second_fault_at_the_end_of_a_feeder(study, zone):
    # IEC 60909-3 (recalled): 3 c Un/|6 Z1d + 2 Z1f + Z0f| with c = 1.
    ohm = 10.0**2 / 100
    source = ohm * (1 + 10j) / abs(1 + 10j)
    feeder, feeder0 = 3 * (0.1 + 0.12j), 3 * (0.4 + 0.5j)
    one_bus_each = 3 * 10 / abs(6 * source + 2 * feeder + feeder0)
    at_far_bus = np.sqrt(3) / 2 * 10 / np.sqrt(3) / abs(source + feeder)
    found = standing(study(zone))
    assert found.second_smallest_ka == pytest.approx(min(one_bus_each, at_far_bus))
    # Kasikci, Short Circuits in Power Systems, chapter 7: 0.85 of the three-phase current; sqrt(3)/2 is derived.
    assert found.second_largest_ka == pytest.approx(np.sqrt(3) / 2 * 10 / np.sqrt(3) / abs(source))
    assert found.second_smallest_ka_low <= found.second_smallest_ka <= found.second_smallest_ka_high


def test_zone_of_more_buses_than_are_paired_keeps_its_bounds(study, zone):
    exact = standing(study(zone))
    found = standing(study(zone, {"standing_fault": {"pair_limit": 1}}))
    assert np.isnan(found.second_smallest_ka)
    assert found.second_smallest_ka_low <= exact.second_smallest_ka <= found.second_smallest_ka_high


def test_standing_fault_draws_the_charging_current(study, zone):
    # Kasikci, section 7.1: sqrt(3) w C0 V_LL, 0.3 uF/km over 3 km at 10 kV and 50 Hz.
    charging = np.sqrt(3) * 2 * np.pi * 50 * 0.9e-6 * 10e3
    found = standing(study(zone))
    assert found.charging_a == pytest.approx(charging)
    assert found.standing_a == pytest.approx(charging, rel=0.01)  # the source's reactance adds a little


# ICEA practice: 100 % cables 1 min, 133 % cables 1 h, 173 % cables without limit.
@pytest.mark.parametrize(("level", "seconds"), [(100, 60), (133, 3600), (173, np.inf)])
def test_cable_level_limits_how_long_a_zone_runs_on(study, zone, level, seconds):
    zone["insulation"] = [
        {"insulation": "C1", "bus": "U", "kind": "cable", "rated_line_voltage": 10.0, "cable_insulation_level": level}
    ]
    found = standing(study(zone))
    assert found.may_run_s == seconds
    assert found.limit_field == (None if level == 173 else "cable_insulation_level")


def test_shortest_of_several_limits_counts(study, zone):
    zone["insulation"] = [
        {"insulation": "C1", "bus": "U", "kind": "cable", "rated_line_voltage": 10.0, "cable_insulation_level": 133}
    ]
    zone["instrument_transformer"] = [
        {"instrument_transformer": "VT1", "bus": "U2", "kind": "vt", "connection": "YNyn", "voltage_factor": 1.9,
         "voltage_factor_time": 30.0}
    ]  # fmt: skip
    found = standing(study(zone))
    assert found.may_run_s == 30
    assert (found.limit_asset, found.limit_field) == ("VT1", "voltage_factor_time")


def test_cable_of_unknown_level_is_asked_for(study, zone):
    zone["insulation"] = [{"insulation": "C1", "bus": "U", "kind": "cable", "rated_line_voltage": 10.0}]
    store = study(zone)
    found = standing(store)
    assert np.isnan(found.may_run_s)
    assert (found.may_run_s_low, found.may_run_s_high) == (0, np.inf)
    asked = store.frame("SELECT blocking_asset, field FROM study.blocked WHERE quantity = 'standing_fault.may_run_s'")
    assert list(asked.itertuples(index=False, name=None)) == [("C1", "cable_insulation_level")]


def test_voltage_transformer_to_ground_in_an_ungrounded_zone_is_prone_to_ferroresonance(study, zone):
    vt = {"bus": "U", "kind": "vt"}
    zone["instrument_transformer"] = [
        vt | {"instrument_transformer": "A", "connection": "YNyn"},
        vt | {"instrument_transformer": "B", "connection": "line to line"},
        vt | {"instrument_transformer": "C", "connection": "broken delta", "damping_resistor": 25.0},
        vt | {"instrument_transformer": "D"},
    ]
    store = study(zone)
    prone = store.frame("SELECT * FROM study.ferroresonance_screen").set_index("instrument_transformer").prone
    assert [None if pd.isna(p) else bool(p) for p in prone] == [True, False, False, None]
    asked = store.frame("SELECT asset, field FROM study.blocked WHERE quantity = 'ferroresonance_screen.prone'")
    assert list(asked.itertuples(index=False, name=None)) == [("D", "connection")]


def test_grounded_zone_has_no_row(study, zone):
    zone["infeed"][0] |= {"grounded": True, "fault_current_1ph": 4.0}
    assert study(zone).frame("SELECT * FROM study.standing_fault").empty
