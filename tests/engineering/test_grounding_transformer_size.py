"""Rating and impedance of grounding transformers."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.engineering import (
    grounding_transformer_kva,
    line_to_ground_ka,
    short_duty_factors,
    winding_current_a,
    x0_for_current_ohm,
)


# Westinghouse Electrical Transmission and Distribution Reference Book, zigzag 2.4 to 13.8 kV as quoted; wye-delta
# recalled.
@pytest.mark.parametrize(
    ("zigzag", "seconds", "factors"),
    [
        (True, [10, 60, 120, 180, 240, 300], [0.064, 0.104, 0.139, 0.170, 0.196, 0.220]),
        (False, [60, 120, 180, 240, 300], [0.170, 0.240, 0.295, 0.340, 0.380]),
    ],
)
def test_factors_of_the_table(zigzag, seconds, factors):
    low, high = short_duty_factors(seconds, zigzag)
    assert low.tolist() == high.tolist() == pytest.approx(factors)


# Derived from the same table: 13.8 kV, 400 A: 203.966 kVA for 10 s, 331.445 for 1 min; 12 kV, 4000 A: 1773.62 kVA.
@pytest.mark.parametrize(
    ("voltage_kv", "current_a", "seconds", "kva"),
    [(13.8, 400, 10, 203.966), (13.8, 400, 60, 331.445), (12, 4000, 10, 1773.62)],
)
def test_rating_of_a_zigzag(voltage_kv, current_a, seconds, kva):
    factor, _ = short_duty_factors(seconds, True)
    assert grounding_transformer_kva(voltage_kv, current_a, factor) == pytest.approx(kva, rel=3e-6)


def test_continuous_zigzag_needs_58_percent_of_a_wye_delta():
    # Common practice: six windings of V_LN/sqrt(3) against three of V_LN, 1/sqrt(3) = 0.577.
    zigzag, wye_delta = short_duty_factors([np.inf, np.inf], [True, False])[0]
    assert zigzag / wye_delta == pytest.approx(0.577, abs=0.0005)


def test_duty_between_the_table_and_continuous_is_bounded_by_both():
    low, high = short_duty_factors([301, 301], [True, False])
    assert low.tolist() == pytest.approx([0.220, 0.380])
    assert high.tolist() == pytest.approx([1 / np.sqrt(3), 1])


def test_duty_shorter_than_the_table_counts_as_its_shortest():
    assert short_duty_factors([1, 1], [True, False])[1].tolist() == pytest.approx([0.064, 0.170])


@given(first=st.floats(0, 1e4), second=st.floats(0, 1e4), zigzag=st.booleans())
def test_longer_duty_never_needs_less(first, second, zigzag):
    short, long = min(first, second), max(first, second)
    for end in (0, 1):
        assert short_duty_factors(short, zigzag)[end] <= short_duty_factors(long, zigzag)[end] * (1 + 1e-12)


def test_each_phase_carries_a_third():
    # Common practice: a 1200 A bank carries 400 A a phase.
    assert winding_current_a(1200) == 400


def test_reactance_for_a_wanted_current_from_an_infinite_source():
    # Derived: 3 x 13800/sqrt(3)/400 = 59.7558 ohm.
    assert x0_for_current_ohm(13.8, 400, 0) == pytest.approx(59.7558, abs=5e-5)


def test_reactance_three_times_that_of_the_source_draws_60_percent():
    # Derived: 34.5 kV, 500 MVA, X1 2.3805 ohm; X0 = 3 X1 draws 5020.44 A.
    assert x0_for_current_ohm(34.5, 5020.44, 2.3805j) == pytest.approx(3 * 2.3805, rel=2e-6)


@given(x1=st.floats(0.05, 10), r1=st.floats(0, 2), resistance=st.floats(0, 5), current=st.floats(50, 500))
def test_fault_behind_that_reactance_draws_the_wanted_current(x1, r1, resistance, current):
    z1 = complex(r1, x1)
    x0 = x0_for_current_ohm(13.8, current, z1, resistance)
    assert line_to_ground_ka(13.8, z1, z1, 1j * x0 + 3 * resistance) * 1000 == pytest.approx(current)


def test_current_that_the_resistor_forbids_is_reached_by_no_reactance():
    assert np.isnan(x0_for_current_ohm(13.8, 1000, 0, 20))


def test_what_is_not_on_record_stays_so():
    assert np.isnan(short_duty_factors(np.nan, True)).all()
    assert np.isnan(short_duty_factors(np.nan, False)).all()
    assert np.isnan(grounding_transformer_kva([np.nan, 1, 1], [1, np.nan, 1], [1, 1, np.nan])).all()
    assert np.isnan(winding_current_a(np.nan))
    assert np.isnan(x0_for_current_ohm([np.nan, 1, 1], [1, np.nan, 1], [0, 0, np.nan])).all()


@pytest.mark.parametrize(
    ("function", "arguments", "message"),
    [
        (short_duty_factors, (-1, True), "duration_s must not be negative"),
        (
            grounding_transformer_kva,
            (1, -1, 1),
            "voltage_kv, neutral_current_a and factor must not be negative",
        ),
        (winding_current_a, (-1,), "neutral_current_a must not be negative"),
        (
            x0_for_current_ohm,
            (1, 0, 0),
            "voltage_kv and neutral_resistance_ohm must not be negative and current_a must be positive",
        ),
    ],
)
def test_impossible_values_are_refused(function, arguments, message):
    with pytest.raises(ValueError, match=f"^{message}$"):
        function(*arguments)
