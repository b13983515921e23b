"""What neutral devices, grounding transformers and relays see, and for how long."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from groundcheck.engineering import operating_time_s


def duty(store):
    return store.frame("SELECT * FROM study.neutral_duty").set_index("neutral_device")


def test_devices_of_one_zone_share_the_fault_current(study, station):
    # Kirchhoff: with no capacitance, what the neutrals carry sums to the fault current.
    station["grounding_transformer"].append(
        {"grounding_transformer": "GT2", "bus": "M", "connection": "zigzag", "z0": 22.0}
    )
    store = study(station)
    fault = store.frame("SELECT line_to_ground_ka FROM study.bus_fault WHERE bus = 'M' AND condition = 'max'").iloc[
        0, 0
    ]
    both = store.frame("SELECT current_a FROM study.grounding_transformer_duty").current_a
    assert len(both) == 2
    # The two branches differ in angle, so that magnitudes sum to a little more than the total.
    assert fault * 1e3 <= both.sum() * (1 + 1e-9)
    assert both.max() < fault * 1e3


def test_one_resistor_shared_by_two_transformers_carries_the_whole_fault_current(study, station):
    station["transformer"].append(station["transformer"][1] | {"transformer": "T3"})
    station["neutral_device"][2]["connected_to"] = "T2; T3"
    store = study(station)
    fault = store.frame("SELECT line_to_ground_ka FROM study.bus_fault WHERE bus = 'L' AND condition = 'max'").iloc[
        0, 0
    ]
    assert duty(store).current_a["NR2"] == pytest.approx(fault * 1e3, rel=1e-9)


def test_two_solid_neutrals_in_parallel_carry_half_each(study, station):
    station["transformer"].append(station["transformer"][1] | {"transformer": "T3"})
    station["neutral_device"][2:] = [
        {"neutral_device": f"N{t}", "connected_to": t, "winding": "lv", "kind": "solid"} for t in ("T2", "T3")
    ]
    store = study(station)
    fault = store.frame("SELECT line_to_ground_ka FROM study.bus_fault WHERE bus = 'L' AND condition = 'max'").iloc[
        0, 0
    ]
    assert list(duty(store).current_a[["NT2", "NT3"]]) == pytest.approx([fault * 500] * 2, rel=1e-9)


def test_distribution_transformer_refers_its_resistor_by_the_square_of_its_ratio(study, station):
    station["neutral_device"][2] = {
        "neutral_device": "NR2", "connected_to": "T2", "winding": "lv", "kind": "distribution_transformer",
        "primary_voltage": 6600.0, "secondary_voltage": 220.0, "secondary_resistance": 0.5,
    }  # fmt: skip
    assert duty(study(station)).resistance_ohm["NR2"] == pytest.approx(0.5 * 30**2)


def test_without_infeed_a_resistor_is_still_bounded(study, station):
    del station["infeed"]
    found = duty(study(station)).loc["NR2"]
    assert np.isnan(found.current_a)
    # The weakest supply that the policy admits still drives most of V_LN / R; the resistor is 10 % off at most.
    ohmic = 6600 / np.sqrt(3) / 9.5
    assert 0.8 * ohmic < found.current_a_low < ohmic < found.current_a_high
    assert found.current_a_high <= 1.05 * ohmic / 0.9


def test_a_resistor_of_two_that_share_a_zone_is_bounded_by_its_own_ohms(study, station):
    del station["infeed"]
    station["transformer"].append(station["transformer"][1] | {"transformer": "T3"})
    station["neutral_device"].append(station["neutral_device"][2] | {"neutral_device": "NR3", "connected_to": "T3"})
    found = duty(study(station)).loc["NR2"]
    assert np.isnan(found.current_a)
    # V_LN / R, 5 % for the displacement of a capacitive zone, 10 % for the ohms.
    assert found.current_a_high <= 1.05 * 6600 / np.sqrt(3) / (0.9 * 9.5) * (1 + 1e-9)


@pytest.mark.parametrize("kind", ["reactor", "arc_suppression_coil", "resistor"])
def test_ratings_bound_no_current_where_nothing_is_assumed(study, station, kind):
    device = {"neutral_device": "NR2", "connected_to": "T2", "winding": "lv", "kind": kind}
    found = []
    for ratings in ({}, {"rated_voltage": 3.8, "rated_current": 10.0}):
        station["neutral_device"][2] = device | ratings
        found.append(duty(study(station, {"assume": {"any": False}})).loc["NR2"])
    assert found[0].current_a_high == found[1].current_a_high > 1000
    assert found[0].voltage_kv_high == found[1].voltage_kv_high


def test_relay_and_breaker_time_come_before_the_bus(study, station):
    relay = {"ground_relay": "R", "function": "51G", "measures": "NR2", "pickup": 80.0, "curve": "iec_very_inverse",
             "time_dial": 0.2, "breaker_time": 0.06, "action": "trip"}  # fmt: skip
    without = duty(study(station)).loc["NR2"]
    assert without.duration_s == 1.5
    found = duty(study(station | {"ground_relay": [relay]})).loc["NR2"]
    # IEC 60255-151, curve B: 13.5 TMS / (M - 1), recalled; plus the breaker.
    assert found.duration_s == pytest.approx(13.5 * 0.2 / (found.current_a / 80 - 1) + 0.06)
    assert found.duration_s == pytest.approx(
        float(operating_time_s(found.current_a / 80, "iec_very_inverse", 0.2)) + 0.06
    )


def test_relay_that_only_alarms_clears_nothing(study, station):
    relay = {"ground_relay": "R", "function": "51G", "measures": "NR2", "pickup": 80.0, "curve": "definite_time",
             "definite_time": 0.3, "breaker_time": 0.06, "action": "alarm"}  # fmt: skip
    assert duty(study(station | {"ground_relay": [relay]})).duration_s["NR2"] == 1.5


def test_zone_that_runs_on_is_without_time_limit(study, station):
    station["bus"][2]["continuity_required"] = True
    assert np.isinf(duty(study(station)).duration_s["NR2"])


def test_policy_time_stands_in_only_where_the_policy_allows_and_is_listed(study, station):
    del station["bus"][2]["ground_fault_clearing_time"]
    store = study(station)
    assert duty(store).duration_s["NR2"] == 3.0
    assert bool(duty(store).provisional["NR2"]) is True
    listed = store.frame("SELECT asset, value FROM study.assumption WHERE field = 'ground_fault_clearing_time'")
    assert list(listed.itertuples(index=False, name=None)) == [("L", "3 s")]
    store = study(station, {"assume": {"clearing_time": False}})
    assert np.isnan(duty(store).duration_s["NR2"])
    asked = store.frame("SELECT field FROM study.blocked WHERE quantity = 'neutral_duty.duration_s'")
    assert list(asked.field) == ["ground_fault_clearing_time"]


def test_minimum_condition_gives_the_smallest_fault_a_relay_must_see(study, station):
    station["infeed"][0] |= {"fault_level_3ph_min": 200.0}
    station["neutral_device"][2] = {"neutral_device": "NR2", "connected_to": "T2", "winding": "lv", "kind": "solid"}
    relay = {"ground_relay": "R", "function": "51G", "measures": "NR2", "pickup": 80.0}
    store = study(station | {"ground_relay": [relay]})
    reach = store.frame("SELECT * FROM study.relay_reach").iloc[0]
    faults = store.frame("SELECT * FROM study.bus_fault WHERE bus = 'L'").set_index("condition").line_to_ground_ka
    assert reach.smallest_fault_a == pytest.approx(faults["min"] * 1e3)
    assert reach.largest_fault_a == pytest.approx(faults["max"] * 1e3)
    assert faults["min"] < faults["max"]


def test_order_of_the_records_changes_nothing(study, station):
    turned = {table: rows[::-1] for table, rows in station.items()}
    order = "SELECT * FROM study.bus_fault ORDER BY substation, bus, condition"
    one, other = study(station).frame(order), study(turned).frame(order)
    numbers = one.select_dtypes("number").columns
    assert np.allclose(one[numbers], other[numbers], rtol=1e-12, equal_nan=True)


def test_charging_current_is_that_of_the_cable_table(study, station):
    # Kasikci, Short Circuits in Power Systems, table 8.19: 20 kV, 300 mm2, 0.32 uF/km gives 3.5 A/km at 50 Hz.
    station["line"] = [{"line": "F", "from_bus": "M", "length": 10.0, "construction": "cable", "c0": 320.0}]
    charging = study(station).frame("SELECT charging_a FROM study.zone WHERE zone = 'ELM:M'").charging_a[0]
    assert charging == pytest.approx(35, abs=0.5)


def test_charging_current_not_on_record_in_full_is_asked_for(study, station):
    station["line"] = [
        {"line": "F", "from_bus": "M", "length": 10.0, "c0": 320.0},
        {"line": "F2", "from_bus": "M", "length": 3.0},
    ]
    store = study(station)
    assert store.frame("SELECT charging_a FROM study.zone WHERE zone = 'ELM:M'").charging_a.isna().all()
    asked = store.frame(
        "SELECT blocking_asset, field FROM study.blocked WHERE quantity = 'zone.charging_a' AND asset = 'M'"
    )
    assert list(asked.itertuples(index=False, name=None)) == [("F2", "c0")]


@settings(max_examples=2, deadline=None)
@given(ohms=st.lists(st.floats(0.1, 500), min_size=8, max_size=8, unique=True).map(sorted))
def test_more_resistance_never_gives_more_current(study, ohms):
    # Without capacitance; physics, no source.
    rows = {
        "infeed": {"infeed": "Q", "bus": "H", "fault_level_3ph": 500.0, "x_over_r": 10.0, "grounded": False},
        "transformer": {"transformer": "T", "hv_bus": "H", "lv_bus": "L", "rated_power": 20.0, "hv_voltage": 66.0,
                        "lv_voltage": 11.0, "vector_group": "Dyn11", "impedance": 10.0, "x_over_r": 20.0},
        "neutral_device": {"neutral_device": "N", "connected_to": "T", "winding": "lv", "kind": "resistor"},
    }  # fmt: skip
    fleet = {table: [{"substation": f"S{n}", **row} for n in range(len(ohms))] for table, row in rows.items()}
    for device, ohm in zip(fleet["neutral_device"], ohms, strict=True):
        device["resistance"] = ohm
    currents = study(fleet).frame("SELECT current_a FROM study.neutral_duty ORDER BY substation").current_a
    assert len(currents) == len(ohms)
    assert (currents.to_numpy()[1:] <= currents.to_numpy()[:-1] * (1 + 1e-12)).all()
