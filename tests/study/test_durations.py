"""How long ground faults stand, with the bounds of what is not on record."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st


def relay(**fields):
    return {"ground_relay": "R", "function": "51G", "measures": "NR2", "pickup": 80.0, "curve": "iec_very_inverse",
            "time_dial": 0.2, "breaker_time": 0.06, "action": "trip"} | fields  # fmt: skip


def duty(store):
    row = store.frame("SELECT * FROM study.neutral_duty WHERE neutral_device = 'NR2'").iloc[0]
    return row.duration_s_low, row.duration_s, row.duration_s_high


def zone(store):
    row = store.frame("SELECT * FROM study.zone WHERE zone = 'ELM:L'").iloc[0]
    return row.clearing_time_s_low, row.clearing_time_s, row.clearing_time_s_high


def without_bus_time(station):
    del station["bus"][2]["ground_fault_clearing_time"]
    return station


def test_time_on_record_has_no_width(study, station):
    assert zone(study(station)) == (1.5, 1.5, 1.5)
    assert duty(study(station)) == (1.5, 1.5, 1.5)


def test_nothing_on_record_may_be_anything(study, station):
    found = study(without_bus_time(station))
    assert zone(found) == (0, 3, np.inf)
    assert duty(found) == (0, 3, np.inf)


def test_zone_that_runs_on_has_no_end(study, station):
    station["bus"][2]["continuity_required"] = True
    assert zone(study(station)) == (np.inf, np.inf, np.inf)
    assert duty(study(station)) == (np.inf, np.inf, np.inf)


def test_bus_without_a_time_may_be_cleared_later_than_the_others(study, station):
    station["bus"].append({"bus": "L2", "nominal_voltage": 6.6})
    station["switch"] = [{"switch": "S", "bus_a": "L", "bus_b": "L2", "normal_state": "closed"}]
    assert zone(study(station)) == (1.5, 1.5, np.inf)


def test_zone_is_cleared_as_its_relay_clears_the_weakest_fault(study, station):
    station = without_bus_time(station) | {"ground_relay": [relay()]}
    station["infeed"][0] |= {"fault_level_3ph_min": 50.0}
    store = study(station)
    low, found, high = zone(store)
    seen = store.frame("SELECT * FROM study.relay_reach").iloc[0]
    # IEC 60255-151, curve B: 13.5 TMS/(M - 1), recalled; plus the breaker.
    assert found == pytest.approx(13.5 * 0.2 / (seen.smallest_fault_a / 80 - 1) + 0.06)
    assert duty(store)[1] == pytest.approx(13.5 * 0.2 / (seen.largest_fault_a / 80 - 1) + 0.06)
    assert found > duty(store)[1]
    assert low < found < high


def test_width_is_that_of_the_settings_where_the_current_does_not_matter(study, station):
    # Arithmetic: 0.4 s and 5 % either way, plus 0.06 s.
    definite = relay(curve="definite_time", definite_time=0.4, time_dial=None)
    found = study(without_bus_time(station) | {"ground_relay": [definite]}, {"tolerance": {"setting": 0.05}})
    assert duty(found) == pytest.approx((0.44, 0.46, 0.48))


def test_relay_that_may_not_pick_up_leaves_the_end_open(study, station):
    low, _, high = duty(study(without_bus_time(station) | {"ground_relay": [relay(pickup=400.0)]}))
    assert low == 0
    assert high == np.inf


def test_relay_that_may_be_anywhere_in_the_station_may_be_slower(study, station):
    stray = relay(ground_relay="R2", measures=None)
    low, found, high = duty(study(station | {"ground_relay": [relay(), stray]}))
    assert 0 < low < found
    assert high == np.inf


def test_overvoltage_relay_that_trips_clears_its_zone(study, station):
    volts = relay(function="59N", pickup=400.0, curve="definite_time", definite_time=1.0, time_dial=None)
    store = study(without_bus_time(station) | {"ground_relay": [volts]})
    assert zone(store)[1] == pytest.approx(1.06)
    assert duty(store) == pytest.approx((1.01, 1.06, 1.11))


def test_voltage_relay_set_above_the_phase_voltage_clears_nothing(study, station):
    volts = relay(function="59N", pickup=9000.0, curve="definite_time", definite_time=1.0, time_dial=None)
    assert zone(study(without_bus_time(station) | {"ground_relay": [volts]}))[1] == 3


NOTHING_ASSUMED = {"assume": {"any": False}}


@pytest.mark.parametrize("field", ["breaker_time", "time_dial", "pickup", "action", "function"])
def test_relay_not_fully_on_record_leaves_the_time_open_beside_that_of_the_bus(study, station, field):
    whole = study(station | {"ground_relay": [relay()]}, NOTHING_ASSUMED)
    thin = study(station | {"ground_relay": [relay(**{field: None})]}, NOTHING_ASSUMED)
    low, found, high = duty(thin)
    assert np.isnan(found)
    assert low <= min(duty(whole)[0], 1.5)
    assert high >= max(duty(whole)[2], 1.5)
    assert zone(thin) == (1.5, 1.5, 1.5)
    asked = thin.frame("SELECT field FROM study.blocked WHERE quantity = 'neutral_duty.duration_s' AND asset = 'NR2'")
    assert list(asked.field) == [field]


def test_time_of_the_bus_stands_in_for_that_of_a_relay_only_where_the_policy_allows(study, station):
    store = study(station | {"ground_relay": [relay(breaker_time=None)]})
    assert duty(store)[1] == 1.5
    assert bool(store.frame("SELECT provisional FROM study.neutral_duty WHERE neutral_device = 'NR2'").provisional[0])


def test_relay_whose_current_is_not_known_is_not_passed_over(study, station):
    del station["transformer"][1]["impedance"]
    store = study(station | {"ground_relay": [relay(time_dial=4.0)]}, NOTHING_ASSUMED)
    low, found, high = duty(store)
    assert np.isnan(found)
    assert 1.5 < low < high < np.inf
    asked = store.frame("SELECT field FROM study.blocked WHERE quantity = 'neutral_duty.duration_s' AND asset = 'NR2'")
    assert "impedance" in set(asked.field)


def test_definite_time_is_known_where_the_relay_surely_picks_up(study, station):
    # Arithmetic: 4 s and 0.06 s.
    definite = relay(curve="definite_time", definite_time=4.0, time_dial=None)
    del station["transformer"][1]["impedance"]
    assert duty(study(station | {"ground_relay": [definite]}, NOTHING_ASSUMED))[1] == pytest.approx(4.06)


def test_bus_without_a_time_is_not_taken_for_the_others_where_nothing_is_assumed(study, station):
    station["bus"].append({"bus": "L2", "nominal_voltage": 6.6})
    station["switch"] = [{"switch": "S", "bus_a": "L", "bus_b": "L2", "normal_state": "closed"}]
    store = study(station, NOTHING_ASSUMED)
    low, found, high = zone(store)
    assert (low, high) == (1.5, np.inf)
    assert np.isnan(found)
    asked = store.frame("SELECT blocking_asset FROM study.blocked WHERE quantity = 'zone.clearing_time_s'")
    assert list(asked.blocking_asset) == ["L2"]


FIELDS = ("function", "measures", "pickup", "curve", "time_dial", "breaker_time", "action")


@settings(max_examples=3, deadline=None)
@given(blank=st.sets(st.sampled_from(FIELDS), min_size=1), more=st.sets(st.sampled_from(FIELDS)))
def test_filling_a_blank_setting_only_narrows(study, blank, more):
    ends = [duty(study(_one_zone(blanks))) for blanks in (blank | more, blank, set())]
    for wide, narrow in pairwise(ends):
        assert wide[0] <= narrow[0] * (1 + 1e-12)
        assert wide[2] >= narrow[2] * (1 - 1e-12)
    assert ends[-1][0] <= ends[-1][1] <= ends[-1][2]


def _one_zone(blanks):
    return {
        "bus": [{"bus": "H", "nominal_voltage": 66.0}, {"bus": "L", "nominal_voltage": 6.6}],
        "infeed": [{"infeed": "Q", "bus": "H", "fault_level_3ph": 500.0, "x_over_r": 10.0, "grounded": False}],
        "transformer": [
            {"transformer": "T2", "hv_bus": "H", "lv_bus": "L", "rated_power": 10.0, "hv_voltage": 66.0,
             "lv_voltage": 6.6, "vector_group": "Dyn11", "impedance": 8.0, "x_over_r": 15.0, "z0": 8.0}
        ],
        "neutral_device": [
            {"neutral_device": "NR2", "connected_to": "T2", "winding": "lv", "kind": "resistor", "resistance": 9.5}
        ],
        "ground_relay": [{k: v for k, v in relay().items() if k not in blanks}],
    }  # fmt: skip
