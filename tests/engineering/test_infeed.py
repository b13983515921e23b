"""Sequence impedances of infeeds."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.engineering import infeed_z0_ohm, infeed_z1_ohm, line_to_ground_ka, three_phase_ka


def test_impedance_of_a_strong_bus():
    # Derived from V^2/S: 34.5 kV, 500 MVA, 2.3805 ohm (five digits).
    assert abs(infeed_z1_ohm(34.5, 500, 10)) == pytest.approx(2.3805, abs=5e-5)


@given(level=st.floats(1, 1e5), ratio=st.floats(0, 100))
def test_declared_fault_level_comes_back_as_current(level, ratio):
    z1 = infeed_z1_ohm(20, level, ratio)
    assert three_phase_ka(20, z1) * np.sqrt(3) * 20 == pytest.approx(level)
    assert z1.imag == pytest.approx(ratio * z1.real)


@given(share=st.floats(0.01, 1.499))
def test_declared_line_to_ground_current_comes_back(share):
    z1 = infeed_z1_ohm(20, 500, 12)
    current = share * three_phase_ka(20, z1)
    assert line_to_ground_ka(20, z1, z1, infeed_z0_ohm(20, z1, current)) == pytest.approx(current)


@given(share=st.floats(0.01, 1.3), ratio=st.floats(0, 3))
def test_declared_current_comes_back_at_the_angle_on_record(share, ratio):
    z1 = infeed_z1_ohm(20, 500, 12)
    current = share * three_phase_ka(20, z1)
    z0 = infeed_z0_ohm(20, z1, current, ratio)
    assert np.isnan(z0) or line_to_ground_ka(20, z1, z1, z0) == pytest.approx(current)
    assert np.isnan(z0) or z0.real == pytest.approx(ratio * z0.imag)
    assert not (np.isnan(z0) and share < 1)


def test_equal_currents_mean_equal_impedances():
    z1 = infeed_z1_ohm(20, 500, 12)
    assert infeed_z0_ohm(20, z1, three_phase_ka(20, z1)) == pytest.approx(z1)


def test_one_and_a_half_times_the_three_phase_current_is_the_limit():
    z1 = infeed_z1_ohm(20, 500, 12)
    at_limit, above = infeed_z0_ohm(20, z1, np.array([1.5, 1.51]) * three_phase_ka(20, z1))
    assert at_limit == pytest.approx(0)
    assert np.isnan(above)


def test_no_ground_current_means_no_path():
    assert np.isinf(infeed_z0_ohm(20, [1j, np.nan, np.inf], 0)).all()


def test_zero_fault_level_feeds_nothing_and_infinite_is_ideal():
    nothing, ideal = infeed_z1_ohm(20, [0, np.inf], 10)
    assert np.isinf(nothing)
    assert ideal == 0


def test_infinite_ratio_is_a_pure_reactance():
    assert infeed_z1_ohm(20, 400, np.inf) == pytest.approx(1j)


def test_ideal_source_takes_the_ground_impedance_as_reactance():
    assert infeed_z0_ohm(np.sqrt(3), 0, 1) == pytest.approx(3j)


def test_what_is_not_on_record_stays_so():
    assert np.isnan(infeed_z1_ohm([20, np.nan, 20], [np.nan, 500, 500], [10, 10, np.nan])).all()
    assert np.isnan(infeed_z0_ohm([20, np.nan, 20], [np.nan, 1j, 1j], [5, 5, np.nan])).all()


def test_negative_fault_level_is_refused():
    message = r"^voltage_kv must be positive; fault_level_mva and x_over_r must not be negative$"
    with pytest.raises(ValueError, match=message):
        infeed_z1_ohm(20, -1, 10)


def test_negative_current_is_refused():
    message = r"^voltage_kv must be positive; line_to_ground_ka and r0_over_x0 must not be negative$"
    with pytest.raises(ValueError, match=message):
        infeed_z0_ohm(20, 1j, -1)
    with pytest.raises(ValueError, match=message):
        infeed_z0_ohm(20, 1j, 5, -0.1)
