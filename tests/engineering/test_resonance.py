"""Zones grounded through an arc-suppression coil."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.engineering import (
    charging_current_a,
    coil_power_kva,
    coil_tuning_ohm,
    detuning,
    let_through_ceiling_a,
    line_to_ground_ka,
    residual_current_a,
    sound_neutral_voltage_kv,
    tuned_inductance_h,
)


def test_textbook_coil_for_50_km_of_132_kv_line():
    # Chakrabarti et al., Power System Engineering, example 16.1 (published): 0.0157 uF/km, 50 Hz: 4.3 H; its kVA
    # derived without rounding the inductance, 4297.02.
    assert tuned_inductance_h(0.0157 * 50, 50) == pytest.approx(4.3, abs=0.05)
    assert coil_power_kva(132, coil_tuning_ohm(0.0157 * 50, 50)) == pytest.approx(4297.02, abs=0.005)


def test_coil_for_20_kv_and_25_microfarad():
    # Derived, L = 1/(3 w^2 C0): 0.135095 H.
    assert tuned_inductance_h(25, 50) == pytest.approx(0.135095, abs=5e-7)


def test_residual_of_a_coil_5_percent_off_tune():
    # Derived: 272.07 A x sqrt(0.05^2 + 0.02^2) = 14.651 A.
    off_tune = detuning(272.07 * 1.05, 272.07)
    assert off_tune == pytest.approx(0.05)
    assert residual_current_a(272.07, off_tune, 0.02) == pytest.approx(14.651, abs=5e-4)


def test_zone_without_a_coil_leaves_the_whole_charging_current():
    assert residual_current_a(80, detuning(0, 80), 0) == pytest.approx(80)


@given(capacitance=st.floats(0.1, 100), reactance=st.floats(1, 5000), damping=st.floats(0.001, 0.2))
def test_residual_is_the_fault_current_of_coil_capacitance_and_leakage_in_parallel(capacitance, reactance, damping):
    susceptance = 2 * np.pi * 50 * capacitance * 1e-6
    y0 = damping * susceptance + 1j * susceptance + 1 / (3j * reactance)
    charging = charging_current_a(20, capacitance, 50)
    off_tune = detuning(let_through_ceiling_a(20, 1j * reactance, displacement=1), charging)
    fault = line_to_ground_ka(20, 0, 0, 1 / y0) * 1000
    assert residual_current_a(charging, off_tune, damping) == pytest.approx(fault)


def test_neutral_in_tune_rises_by_unbalance_over_damping():
    # Derived from Kirchhoff's current law: 1 % unbalance over 4 % damping is a quarter of V_LN.
    assert sound_neutral_voltage_kv(20, 0.01, 0, 0.04) == pytest.approx(20 / np.sqrt(3) / 4)


def test_open_neutral_rises_by_the_unbalance_alone():
    assert sound_neutral_voltage_kv(20, 0.01, -1, 0) == pytest.approx(0.2 / np.sqrt(3))


def test_in_tune_without_damping_the_neutral_has_no_limit():
    assert sound_neutral_voltage_kv(20, 0.01, 0, 0) == np.inf


def test_zone_without_capacitance_has_no_tune():
    assert tuned_inductance_h(0, 50) == np.inf
    assert detuning(10, 0) == np.inf


def test_what_is_not_on_record_stays_so():
    gap = np.nan
    assert np.isnan(tuned_inductance_h([gap, 1], [50, gap])).all()
    assert np.isnan(coil_power_kva([gap, 1], [1, gap])).all()
    assert np.isnan(detuning([gap, 1], [1, gap])).all()
    assert np.isnan(residual_current_a([gap, 1, 1], [0, gap, 0], [0, 0, gap])).all()
    assert np.isnan(sound_neutral_voltage_kv([gap, 1, 1, 1], [1, gap, 1, 1], [1, 1, gap, 1], [1, 1, 1, gap])).all()


@pytest.mark.parametrize(
    ("function", "arguments", "message"),
    [
        (tuned_inductance_h, (1, 0), "capacitance_uf must not be negative and frequency_hz must be positive"),
        (coil_power_kva, (1, 0), "voltage_kv must not be negative and reactance_ohm must be positive"),
        (detuning, (-1, 1), "coil_a and charging_a must not be negative"),
        (residual_current_a, (1, 0, -1), "charging_a and damping must not be negative"),
        (sound_neutral_voltage_kv, (1, -1, 0, 0), "voltage_kv, unbalance and damping must not be negative"),
    ],
)
def test_impossible_values_are_refused(function, arguments, message):
    with pytest.raises(ValueError, match=f"^{message}$"):
        function(*arguments)
