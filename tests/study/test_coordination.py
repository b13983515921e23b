"""Intervals between relays, by what each of them sees."""

import numpy as np
import pytest


def rows(**main):
    """110 kV, 40 MVA Dyn to 13.8 kV with 19.92 ohm; a feeder relay and the main that backs it up."""
    return {
        "bus": [{"bus": "H", "nominal_voltage": 110.0}, {"bus": "M", "nominal_voltage": 13.8}],
        "infeed": [{"infeed": "Q", "bus": "H", "fault_level_3ph": 4000.0, "x_over_r": 10.0, "grounded": False}],
        "transformer": [
            {"transformer": "T1", "hv_bus": "H", "lv_bus": "M", "rated_power": 40.0, "hv_voltage": 110.0,
             "lv_voltage": 13.8, "vector_group": "Dyn11", "impedance": 12.0, "x_over_r": 20.0, "z0": 12.0}
        ],
        "neutral_device": [
            {"neutral_device": "NR", "connected_to": "T1", "winding": "lv", "kind": "resistor", "resistance": 19.92}
        ],
        "line": [{"line": "F", "from_bus": "M"}],
        "ground_relay": [
            {"ground_relay": "FDR", "function": "51N", "measures": "F", "pickup": 60.0, "curve": "iec_very_inverse",
             "time_dial": 0.1, "breaker_time": 0.08, "action": "trip"},
            {"ground_relay": "MAIN", "function": "51G", "measures": "NR", "pickup": 100.0, "time_dial": 0.2,
             "curve": "iec_very_inverse", "breaker_time": 0.08, "action": "trip", "backs_up": "FDR"} | main,
        ],
    }  # fmt: skip


def pair(store):
    return store.frame("SELECT * FROM study.coordination").iloc[0]


def test_main_behind_a_feeder_beside_a_400_ampere_resistor(study):
    # Derived (IEC very inverse, recalled): 0.66467 s at 398.743 A; here the current is 399 A, and the interval 0.664 s.
    found = pair(study(rows()))
    assert (found.ground_relay, found.backed_relay) == ("MAIN", "FDR")
    assert found.interval_s == pytest.approx(0.66467, abs=2e-3)
    assert found.at_value == pytest.approx(398.7, rel=2e-3)
    assert found.interval_s == pytest.approx(found.time_s - found.backed_time_s)
    assert found.backed_breaker_s == 0.08
    assert found.interval_s_low < found.interval_s < found.interval_s_high


def test_least_interval_is_not_at_the_strongest_fault_where_the_curves_cross(study):
    # Derived: definite 0.5 s behind an inverse curve is shortest at the weakest fault, here through 80 ohm.
    main = {"curve": "definite_time", "definite_time": 0.5, "time_dial": None, "pickup": 62.0}
    found = pair(study(rows(**main), {"ground_relay": {"fault_resistance": 80.0}}))
    assert found.at_value == pytest.approx(13800 / np.sqrt(3) / (19.92 + 80), rel=0.01)
    assert found.interval_s == pytest.approx(0.5 - 13.5 * 0.1 / (found.backed_at_value / 60 - 1))


def test_relay_below_the_one_it_backs_up_has_no_interval(study):
    main = {"pickup": 20.0}
    found = pair(study(rows(**main), {"ground_relay": {"fault_resistance": 150.0}}))
    assert found.interval_s == -np.inf


@pytest.mark.parametrize("field", ["pickup", "time_dial", "measures"])
def test_blank_setting_opens_the_interval_and_is_asked_for(study, field):
    full, store = pair(study(rows())), study(rows(**{field: None}))
    found = pair(store)
    assert np.isnan(found.interval_s)
    assert found.interval_s_low <= full.interval_s_low
    assert found.interval_s_high >= full.interval_s_high
    asked = store.frame("SELECT blocking_asset, field FROM study.blocked WHERE quantity = 'coordination.interval_s'")
    assert ("MAIN", field) in set(asked.itertuples(index=False, name=None))


def test_no_pair_where_nothing_is_backed_up(study):
    assert study(rows(backs_up=None)).frame("SELECT * FROM study.coordination").empty
