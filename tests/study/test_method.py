"""What the method of the study changes, and what it leaves as it is."""

from math import sqrt

import numpy as np
import pandas as pd
import pytest

import groundcheck
from groundcheck.engineering import generator_correction, healthy_phase_kv, unit_correction, unit_correction_fixed_tap
from groundcheck.errors import PolicyError
from groundcheck.policy import load_policy, override_policy

IEC = {"study": {"method": "iec60909"}}


def bus_fault(store, bus, condition="max"):
    query = "SELECT * FROM study.bus_fault WHERE bus = $b AND condition = $c"
    return store.frame(query, {"b": bus, "c": condition}).iloc[0]


def ohm(store, bus, condition="max", sequence=1):
    row = bus_fault(store, bus, condition)
    return complex(row[f"r{sequence}_ohm"], row[f"x{sequence}_ohm"])


@pytest.mark.parametrize(
    ("own", "message"),
    [
        ({"method": "iec 60909"}, "policy: `study.method` is 'iec 60909'; expected 'nominal' or 'iec60909'"),
        ({"low_voltage_tolerance": 8.0}, "policy: `study.low_voltage_tolerance` is 8.0; expected 6.0 or 10.0"),
    ],
)
def test_method_that_there_is_not_is_refused(own, message):
    with pytest.raises(PolicyError) as refusal:
        override_policy(load_policy(), {"study": own})
    assert str(refusal.value) == message


@pytest.mark.parametrize("tolerance", [6, 10])
def test_tolerance_may_be_written_as_a_whole_number(tolerance):
    assert override_policy(load_policy(), {"study": {"low_voltage_tolerance": tolerance}})


@pytest.mark.parametrize(
    ("own", "said"),
    [({}, "nominal voltage before the fault, impedances uncorrected"), (IEC, "IEC 60909-0: currents with the voltage")],
)
def test_report_says_which_method_was_used(own, said, station):
    frames = {name: pd.DataFrame([{"substation": "ELM"} | row for row in rows]) for name, rows in station.items()}
    made = groundcheck.audit(frames, policy=override_policy(load_policy(), own))
    assert made.store.frame("SELECT method FROM audit.run").method[0].startswith(said)


HOLD_NO_CURRENT = (
    "zone_bus", "zone_basis", "ground_source", "neutral", "assumption", "left_out", "blocked",
)  # fmt: skip
COMPUTED = ("clearing_time_s", "clearing_time_s_low", "clearing_time_s_high")  # a relay's time follows the current


def test_method_changes_tables_of_currents_only(study, station):
    nominal, corrected = study(station), study(station, IEC)
    for table in HOLD_NO_CURRENT:
        rows = [store.frame(f"SELECT * FROM study.{table} ORDER BY ALL") for store in (nominal, corrected)]
        pd.testing.assert_frame_equal(*rows)
    zones = [store.frame("SELECT * FROM study.zone ORDER BY zone") for store in (nominal, corrected)]
    pd.testing.assert_frame_equal(*(zone.drop(columns=list(COMPUTED), errors="ignore") for zone in zones))
    assert bus_fault(nominal, "L").line_to_ground_ka != bus_fault(corrected, "L").line_to_ground_ka


@pytest.mark.parametrize("condition", ["max", "min"])
def test_healthy_phases_follow_the_nominal_voltage(study, station, condition):
    # Derived: the voltage factor of IEC 60909-0 belongs to currents; insulation is stressed by the voltage that is.
    store = study(station, IEC)
    row = bus_fault(store, "M", condition)
    z1, z0 = ohm(store, "M", condition), ohm(store, "M", condition, 0)
    assert row.healthy_phase_kv == pytest.approx(healthy_phase_kv(20.0, z1, z1, z0))
    assert row.neutral_shift_kv == pytest.approx(20.0 / sqrt(3) * abs(z0 / (2 * z1 + z0)))
    c = {"max": 1.1, "min": 1.0}[condition]
    assert row.line_to_ground_ka == pytest.approx(sqrt(3) * c * 20.0 / abs(2 * z1 + z0))


def test_current_of_a_neutral_resistor_rises_with_the_voltage_factor_and_keeps_within_its_bounds(study, station):
    # Derived: the resistor is nearly all of the loop, so that c_max 1.1 comes through nearly in full.
    query = "SELECT * FROM study.neutral_duty WHERE neutral_device = 'NR2'"
    nominal, corrected = (study(station, own).frame(query).iloc[0] for own in ({}, IEC))
    assert corrected.current_a / nominal.current_a == pytest.approx(1.1, rel=0.01)
    assert corrected.voltage_kv == pytest.approx(corrected.current_a * 9.5 / 1e3)
    assert corrected.current_a_low <= corrected.current_a <= corrected.current_a_high


def test_minimum_condition_is_without_impedance_corrections(study, station):
    # IEC 60909-0 (clause recalled): K_T is for the largest currents. Below: 0.95 c_max/(1 + 0.6 x_T), c_min = 1.
    station["infeed"][0] |= {"fault_level_3ph_min": 1000.0, "x_over_r_min": 10.0}
    nominal, corrected = study(station), study(station, IEC)
    assert ohm(corrected, "L", "min") == pytest.approx(ohm(nominal, "L", "min"))
    drop = {name: ohm(store, "M") - ohm(store, "H") * (20 / 110) ** 2
            for name, store in (("nominal", nominal), ("corrected", corrected))}  # fmt: skip
    x_t = 0.12 * 20 / np.hypot(1, 20)
    assert drop["corrected"] / drop["nominal"] == pytest.approx(0.95 * 1.1 / (1 + 0.6 * x_t))


def test_minimum_that_is_not_on_record_leaves_the_infeed_as_it_is(study, station):
    # Derived: with no minimum level on record the network behind is the same one, and only the voltage is lower.
    found = study(station, IEC)
    assert ohm(found, "H", "min") == pytest.approx(ohm(found, "H", "max"))
    assert bus_fault(found, "H", "min").three_phase_ka == pytest.approx(bus_fault(found, "H").three_phase_ka / 1.1)


# A machine of 100 MVA at 15.75 kV behind its own transformer, alone on a 220 kV bus.
X_G, X_T = 0.2, 0.14
COSINE, PART = 0.8, 0.05


@pytest.fixture
def unit():
    return {
        "bus": [{"bus": "H", "nominal_voltage": 220.0}, {"bus": "U", "nominal_voltage": 15.75}],
        "generator": [
            {"generator": "G", "bus": "U", "rated_power": 100.0, "rated_voltage": 15.75, "xd_subtransient": X_G,
             "x2": X_G, "x0": 0.1, "r": 0.0, "winding": "wye", "power_factor": COSINE,
             "voltage_regulation_pg": 100 * PART}
        ],
        "transformer": [
            {"transformer": "T", "hv_bus": "H", "lv_bus": "U", "rated_power": 100.0, "hv_voltage": 240.0,
             "lv_voltage": 15.75, "vector_group": "YNd5", "impedance": 100 * X_T, "x_over_r": 1e9, "z0": 100 * X_T,
             "tap_changer": True}
        ],
        "neutral_device": [
            {"neutral_device": "N", "connected_to": "T", "winding": "hv", "kind": "solid"},
            {"neutral_device": "NG", "connected_to": "G", "kind": "open"},
        ],
    }  # fmt: skip


K_S = unit_correction(220.0, 15.75, 240 / 15.75, X_G, X_T, COSINE, 1.1)
K_SO = unit_correction_fixed_tap(220.0, 15.75, 240 / 15.75, X_G, COSINE, PART, 1.1)
BASE = 240.0**2 / 100


@pytest.mark.parametrize(("on_load", "factor"), [(True, K_S), (False, K_SO)])
def test_unit_is_corrected_as_a_whole(study, unit, on_load, factor):
    unit["transformer"][0]["tap_changer"] = on_load
    store = study(unit, IEC)
    assert ohm(store, "H").imag == pytest.approx(factor * (X_G + X_T) * BASE)
    assert ohm(store, "H", sequence=0).imag == pytest.approx(factor * X_T * BASE)


def test_generator_with_a_line_beside_it_is_no_unit(study, unit):
    unit["line"] = [{"line": "F1", "from_bus": "U", "length": 1.0, "r1": 0.1, "x1": 0.1}]
    k_t = 0.95 * 1.1 / (1 + 0.6 * X_T)
    k_g = generator_correction(15.75, 15.75, X_G, COSINE, 1.1)
    assert ohm(study(unit, IEC), "H").imag == pytest.approx((k_g * X_G + k_t * X_T) * BASE)


def assumed(store, field):
    return store.frame("SELECT asset_kind, asset, value FROM study.assumption WHERE field = $f", {"f": field})


def test_tap_changer_not_on_record_is_assumed_and_said(study, unit):
    unit["transformer"][0]["tap_changer"] = None
    store = study(unit, IEC)
    assert ohm(store, "H").imag == pytest.approx(K_S * (X_G + X_T) * BASE)
    assert assumed(store, "tap_changer").values.tolist() == [["transformer", "T", "yes"]]
    assert bus_fault(store, "H").provisional
    assert assumed(study(unit), "tap_changer").empty


@pytest.mark.parametrize(
    ("kind", "asset", "field", "switch"),
    [
        ("transformer", "T", "tap_changer", "unit_tap_changer"),
        ("generator", "G", "power_factor", "generator_power_factor"),
        ("generator", "G", "voltage_regulation_pg", "generator_voltage_regulation"),
    ],
)
def test_what_a_unit_lacks_is_asked_for_where_nothing_may_be_assumed(study, unit, kind, asset, field, switch):
    unit["transformer"][0]["tap_changer"] = False
    unit[kind][0][field] = None
    store = study(unit, IEC | {"assume": {switch: False}})
    row = bus_fault(store, "H")
    assert pd.isna(row.three_phase_ka)
    blocked = store.frame(
        "SELECT DISTINCT blocking_asset_kind, blocking_asset, field FROM study.blocked WHERE asset = 'H' AND "
        "quantity = 'bus_fault.three_phase_ka'"
    )
    assert [kind, asset, field] in blocked.values.tolist()


@pytest.mark.parametrize("filled", [{"tap_changer": True}, {"tap_changer": False}])
def test_filling_in_the_tap_changer_only_narrows_the_bounds(study, unit, filled):
    unit["transformer"][0]["tap_changer"] = None
    open_row = bus_fault(study(unit, IEC), "H")
    unit["transformer"][0] |= filled
    row = bus_fault(study(unit, IEC), "H")
    assert open_row.three_phase_ka_low <= row.three_phase_ka_low * (1 + 1e-9)
    assert row.three_phase_ka_high <= open_row.three_phase_ka_high * (1 + 1e-9)
