"""What each bus puts on insulation and arresters, and for how long."""

import math

import pandas as pd
import pytest

FACTORS = {"brief_factor": 2.0, "brief_time": 50.0, "short_time_factor": 1.25, "short_time": 500.0}


def stress(store, bus="L"):
    return store.frame("SELECT * FROM study.bus_stress WHERE bus = $bus", {"bus": bus}).iloc[0]


def fault(store, bus="L"):
    query = "SELECT * FROM study.bus_fault WHERE bus = $bus AND condition = 'max'"
    return store.frame(query, {"bus": bus}).iloc[0]


def test_every_bus_has_its_stress(study, station):
    assert sorted(study(station).frame("SELECT bus FROM study.bus_stress").bus) == ["H", "L", "M"]


@pytest.mark.parametrize(("highest", "policy", "ratio"), [
    (7.26, 1.0, 1.1),
    (6.6, 1.2, 1.0),
    (None, 1.2, 1.2),
    (0.66, 1.2, 1.2),
], ids=["above nominal", "nominal", "not on record", "below nominal is not believed"])  # fmt: skip
def test_voltages_are_taken_at_the_highest_voltage(study, station, highest, policy, ratio):
    station["bus"][2]["highest_voltage"] = highest
    store = study(station, {"insulation": {"highest_over_nominal": policy}})
    found = stress(store)
    assert found.ratio == pytest.approx(ratio)
    assert found.sound_kv == pytest.approx(6.6 / math.sqrt(3) * ratio)
    assert found.healthy_kv == pytest.approx(fault(store).healthy_phase_kv * ratio)
    if highest is not None and highest > 6.6:
        assert (found.ratio_low, found.ratio_high) == (found.ratio, found.ratio)
    assert found.healthy_kv_low < found.healthy_kv < found.healthy_kv_high


def test_a_highest_voltage_not_on_record_lies_between_nominal_and_the_most_admitted(study, station):
    found = stress(study(station, {"range": {"most": {"highest_over_nominal": 1.15}}, "assume": {"any": False}}))
    assert pd.isna(found.sound_kv)
    assert (found.ratio_low, found.ratio_high) == (1.0, 1.15)
    assert found.sound_kv_high == pytest.approx(6.6 / math.sqrt(3) * 1.15)


def test_healthy_phases_of_an_ungrounded_zone_are_at_line_to_line_voltage(study, station):
    station["neutral_device"][2]["kind"] = "open"
    found = stress(study(station))
    assert found.grounding_class == "ungrounded"
    assert found.healthy_kv == pytest.approx(6.6, rel=1e-3)  # no capacitance on record: the neutral shifts by V_LN


def test_what_is_not_computed_is_left_between_its_bounds(study, station):
    del station["neutral_device"][2]
    store = study(station)
    found, computed = stress(store), fault(store)
    assert pd.isna(found.healthy_kv)
    assert found.healthy_kv_low == pytest.approx(computed.healthy_phase_kv_low, nan_ok=True)
    assert found.healthy_kv_high == pytest.approx(1.2 * computed.healthy_phase_kv_high, nan_ok=True)
    assert found.sound_kv == pytest.approx(6.6 / math.sqrt(3))


def test_a_fault_lasts_as_long_as_the_zone_is_not_cleared(study, station):
    found = stress(study(station))
    assert found.duration_s_low == found.duration_s_high == 1.5


def test_a_zone_that_runs_on_bears_its_fault_without_limit(study, station):
    station["bus"][2]["continuity_required"] = True
    found = stress(study(station))
    assert found.duration_s_low == found.duration_s_high == math.inf


def test_where_nothing_tells_a_fault_may_last_any_time(study, station):
    del station["bus"][2]["ground_fault_clearing_time"]
    found = stress(study(station, {"assume": {"clearing_time": False}, "insulation": FACTORS}))
    assert (found.duration_s_low, found.duration_s_high) == (0.0, math.inf)
    assert (found.allowance_at_low, found.allowance_at_high) == (2.0, 1.0)


@pytest.mark.parametrize(
    ("seconds", "allowance"), [(49.0, 2.0), (50.0, 2.0), (51.0, 1.25), (500.0, 1.25), (501.0, 1.0)]
)
def test_insulation_bears_more_for_a_short_time(study, station, seconds, allowance):
    station["bus"][2]["ground_fault_clearing_time"] = seconds
    found = stress(study(station, {"insulation": FACTORS}))
    assert found.allowance_at_low == found.allowance_at_high == allowance


def test_an_assumed_clearing_time_makes_it_provisional(study, station):
    for bus in station["bus"]:
        bus["highest_voltage"] = bus["nominal_voltage"]
    sure = stress(study(station))
    del station["bus"][2]["ground_fault_clearing_time"]
    assumed = stress(study(station))
    assert assumed.provisional
    assert (assumed.duration_s, assumed.duration_s_low, assumed.duration_s_high) == (3.0, 0.0, math.inf)
    assert not sure.provisional
