"""Heat in neutral resistors, and the size of grounding transformers, from their records."""

import numpy as np
import pytest

NAMEPLATE = {"rated_current": 600.0, "rated_time": 10.0, "rated_voltage": 11.547}


def heating(store, device):
    return store.frame("SELECT * FROM study.device_heating").set_index("neutral_device").loc[device]


def test_duty_of_one_second_is_a_tenth_of_the_rated_heat_at_the_same_current(study, station):
    # Derived, E = I^2 R t.
    station["neutral_device"][1] |= NAMEPLATE
    found = heating(study(station), "NR1")
    assert found.energy_kj == pytest.approx(found.current_a**2 * 20.0 * 1.0 / 1000)
    assert found.rated_energy_kj == pytest.approx(600.0**2 * 20 * 10 / 1000)
    assert found.power_kw == pytest.approx(found.current_a**2 * 20 / 1000)
    assert found.borne_s == pytest.approx(10 * (600 / found.current_a) ** 2)
    # IEEE Std 32-1972 as quoted by a maker: 760 K at 10 s.
    assert found.temperature_rise_limit_k == 760


def test_resistor_behind_an_unknown_supply_still_has_a_ceiling_of_heat(study, station):
    # Derived: no more than V_LN stands across it, 5 % displacement and 10 % less resistance allowed for.
    del station["infeed"]
    found = heating(study(station), "NR2")
    volts, ohms = 1.05 * 6600 / np.sqrt(3), 9.5 * 0.9
    assert np.isnan(found.energy_kj)
    assert found.energy_kj_low < found.energy_kj_high <= volts**2 / ohms * 1.5 / 1000 * (1 + 1e-9)


def test_overloaded_continuous_resistor_bears_no_time_at_all(study, station):
    station["neutral_device"][1] |= {"rated_current": 5.0, "rated_time": np.inf}
    found = heating(study(station), "NR1")
    assert (found.borne_s, found.temperature_rise_limit_k) == (0, 385)


def test_rating_not_on_record_is_asked_for(study, station):
    store = study(station)
    asked = store.frame("SELECT field FROM study.blocked WHERE asset = 'NR2' AND quantity = 'device_heating.borne_s'")
    assert sorted(asked.field) == ["rated_current", "rated_time"]


def test_zigzag_for_a_short_duty(study, station):
    # Westinghouse Electrical Transmission and Distribution Reference Book (as quoted): 0.064 V_LN I_n for 10 s, which
    # the duty of 1 s counts as.
    found = study(station).frame("SELECT * FROM study.grounding_transformer_size").iloc[0]
    assert found.kva_needed == pytest.approx(0.064 * 20 / np.sqrt(3) * found.current_a)
    assert found.phase_current_a == pytest.approx(found.current_a / 3)
    # IEEE C62.92.1 (recalled): X0/X1 of 3; IEEE 142 (as quoted): 10.
    assert found.effective_x0_ohm == pytest.approx(3 * found.x1_ohm)
    assert found.transient_x0_ohm == pytest.approx(10 * found.x1_ohm)
