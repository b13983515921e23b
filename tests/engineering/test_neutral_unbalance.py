"""Current through neutral devices without a fault."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.engineering import detuning, sound_neutral_voltage_kv, unbalance_current_a


def test_solid_link_carries_the_unbalance_of_the_charging_current():
    # Derived: 2 % of 50 A.
    assert unbalance_current_a(20, 0, 50, 0.02) == pytest.approx(1)


def test_resistor_at_the_high_resistance_criterion_carries_that_over_root_two():
    # Derived: at R = X_C0/3 device and capacitance take equal currents at right angles.
    resistance = 20000 / np.sqrt(3) / 50
    assert unbalance_current_a(20, resistance, 50, 0.02) == pytest.approx(1 / np.sqrt(2))


@given(
    charging=st.floats(1, 500), coil=st.floats(1, 500), unbalance=st.floats(0.001, 0.1), damping=st.floats(0.01, 0.2)
)
def test_coil_carries_the_neutral_voltage_over_its_reactance(charging, coil, unbalance, damping):
    reactance = 20000 / np.sqrt(3) / coil
    off_tune = detuning(coil, charging)
    neutral_v = sound_neutral_voltage_kv(20, unbalance, off_tune, damping) * 1000
    current = unbalance_current_a(20, 1j * reactance, charging, unbalance, damping)
    assert current == pytest.approx(neutral_v / reactance)


def test_capacitances_of_three_phases_solved_in_full():
    # Derived from Kirchhoff's current law with the three capacitances written out: 1.00, 1.05, 0.97 uF, 50 ohm, 50 Hz.
    a = np.exp(2j * np.pi / 3)
    susceptance = 2j * np.pi * 50e-6 * np.array([1.00, 1.05, 0.97])
    source = 20000 / np.sqrt(3) * np.array([1, a**2, a])
    neutral = -(susceptance * source).sum() / (susceptance.sum() + 1 / 50)
    unbalance = abs((susceptance * [1, a**2, a]).sum()) / abs(susceptance.sum())
    charging = 20000 / np.sqrt(3) * abs(susceptance.sum())
    assert unbalance_current_a(20, 50, charging, unbalance) == pytest.approx(abs(neutral) / 50)


def test_lossless_coil_in_tune_has_no_limit():
    assert unbalance_current_a(20, 1j * 20000 / np.sqrt(3) / 50, 50, 0.02) > 1e12


def test_open_neutral_carries_nothing():
    assert unbalance_current_a(20, np.inf, 50, 0.02) == 0


def test_what_is_not_on_record_stays_so():
    gap = np.nan
    assert np.isnan(unbalance_current_a([gap, 1, 1, 1], [1, gap, 1, 1], [1, 1, gap, 1], [1, 1, 1, gap])).all()
    assert np.isnan(unbalance_current_a(20, [1, np.inf], [50, gap], 0.02, [gap, 0])).all()


def test_impossible_values_are_refused():
    with pytest.raises(
        ValueError, match=r"^voltage_kv must be positive; charging_a, unbalance and damping must not be negative$"
    ):
        unbalance_current_a(0, 1, 1, 0.02)
