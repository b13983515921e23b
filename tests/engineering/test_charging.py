"""Charging current."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.engineering import (
    capacitance_uf_from_charging,
    capacitive_susceptance_s,
    charging_current_a,
    line_to_ground_ka,
)


# Kasikci, Short Circuits in Power Systems, table 8.19 (published): single-core cable, ground-fault current per km at
# 50 Hz, printed to 0.1 A.
@pytest.mark.parametrize(
    ("voltage_kv", "capacitance_uf", "current_a"), [(10, 0.44, 2.4), (20, 0.32, 3.5), (30, 0.19, 3.1), (10, 0.22, 1.2)]
)
def test_charging_current_of_cables(voltage_kv, capacitance_uf, current_a):
    assert charging_current_a(voltage_kv, capacitance_uf, 50) == pytest.approx(current_a, abs=0.05)


# Derived, sqrt(3) w C0 V_LL; six digits given.
@pytest.mark.parametrize(
    ("voltage_kv", "capacitance_uf", "frequency_hz", "current_a"), [(20, 25, 50, 272.070), (0.48, 1, 60, 0.313424)]
)
def test_charging_current_of_whole_zones(voltage_kv, capacitance_uf, frequency_hz, current_a):
    assert charging_current_a(voltage_kv, capacitance_uf, frequency_hz) == pytest.approx(current_a, rel=2e-6)


def test_capacitive_reactance_of_a_generator_circuit():
    # Blackburn and Domin, Protective Relaying (recalled, recomputed): 0.5285 uF at 60 Hz is 5019 ohm.
    assert 1 / capacitive_susceptance_s(0.5285, 60) == pytest.approx(5019, abs=0.5)  # printed to 1 ohm


@given(voltage=st.floats(0.1, 500), capacitance=st.floats(1e-4, 1e3), frequency=st.sampled_from([50, 60]))
def test_capacitance_comes_back_from_its_charging_current(voltage, capacitance, frequency):
    current = charging_current_a(voltage, capacitance, frequency)
    assert capacitance_uf_from_charging(voltage, current, frequency) == pytest.approx(capacitance)


def test_fault_in_an_ungrounded_zone_draws_the_charging_current():
    z0 = 1 / (1j * capacitive_susceptance_s(2, 50))
    assert line_to_ground_ka(20, 0, 0, z0) * 1000 == pytest.approx(charging_current_a(20, 2, 50))


def test_what_is_not_on_record_stays_so():
    assert np.isnan(charging_current_a([np.nan, 1, 1], [1, np.nan, 1], [50, 50, np.nan])).all()
    assert np.isnan(capacitance_uf_from_charging([np.nan, 1, 1], [1, np.nan, 1], [50, 50, np.nan])).all()


@pytest.mark.parametrize(
    ("function", "arguments", "message"),
    [
        (charging_current_a, (-1, 1, 50), "voltage_kv must not be negative"),
        (
            capacitive_susceptance_s,
            (-1, 50),
            "capacitance_uf must not be negative and frequency_hz must be positive",
        ),
        (
            capacitance_uf_from_charging,
            (0, 1, 50),
            "charging_a must not be negative; voltage_kv and frequency_hz must be positive",
        ),
    ],
)
def test_impossible_values_are_refused(function, arguments, message):
    with pytest.raises(ValueError, match=f"^{message}$"):
        function(*arguments)
