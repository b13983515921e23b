"""Generator neutrals grounded through a distribution transformer: two whole examples, and the overload table."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.engineering import (
    charging_current_a,
    distribution_transformer_kva,
    high_resistance_criterion_ohm,
    let_through_ceiling_a,
    overload_multiple,
    primary_rating_kv,
    referred_resistance_ohm,
    resistive_and_charging_a,
    resistor_power_kw,
    secondary_current_a,
    secondary_voltage_v,
)


def test_textbook_example_of_18_kv():
    # Blackburn and Domin, Protective Relaying, 160 MVA 18 kV 60 Hz generator (recalled, recomputed): 0.24 + 0.25 +
    # 0.004 + 0.03 + 0.004 + 0.0005 uF; 1673 ohm, 18000/240 V, 0.297 ohm, 138.6 V, 466 A, 64.6 kW, 6.21 A.
    capacitance_uf = 0.24 + 0.25 + 0.004 + 0.03 + 0.004 + 0.0005
    charging = charging_current_a(18, capacitance_uf, 60)
    criterion = high_resistance_criterion_ohm(18, charging)
    assert criterion == pytest.approx(1673, abs=0.5)
    secondary_ohm = criterion / 75**2
    assert secondary_ohm == pytest.approx(0.297, abs=0.0005)
    assert referred_resistance_ohm(secondary_ohm, 18000, 240) == pytest.approx(criterion)
    current = let_through_ceiling_a(18, criterion, displacement=1)
    assert current == pytest.approx(6.21, abs=0.005)
    assert secondary_voltage_v(18, 18000, 240) == pytest.approx(138.6, abs=0.05)
    assert secondary_current_a(current, 18000, 240) == pytest.approx(466, abs=0.5)
    assert resistor_power_kw(current, criterion) == pytest.approx(64.6, abs=0.05)
    # Derived: at the criterion the total is sqrt(2) times the resistor's current, 8.78465 A.
    total = resistive_and_charging_a(current, charging)
    assert total == pytest.approx(8.78465, abs=5e-6)
    # Derived: 18 kV x 6.21 A / 4.7 for 1 min, 23.789 kVA.
    assert distribution_transformer_kva(18, current, 60) == pytest.approx(23.789, abs=0.001)


def test_textbook_example_of_24_kv():
    # Published textbook problem 18.7, 810 MVA 24 kV 60 Hz, 0.4422 uF, 14400/240 V (data); results derived: 1999.53 ohm,
    # 0.555426 ohm, 230.940 V, 415.789 A, 96.0224 kW, 6.92982 A, 9.80024 A.
    charging = charging_current_a(24, 0.4422, 60)
    criterion = high_resistance_criterion_ohm(24, charging)
    assert criterion == pytest.approx(1999.53, abs=0.005)
    assert criterion / 60**2 == pytest.approx(0.555426, abs=5e-7)
    current = let_through_ceiling_a(24, criterion, displacement=1)
    assert current == pytest.approx(6.92982, abs=5e-6)
    assert secondary_voltage_v(24, 14400, 240) == pytest.approx(230.940, abs=5e-4)
    assert secondary_current_a(current, 14400, 240) == pytest.approx(415.789, abs=5e-4)
    assert resistor_power_kw(current, criterion) == pytest.approx(96.0224, abs=5e-5)
    total = resistive_and_charging_a(current, charging)
    assert total == pytest.approx(9.80024, abs=5e-6)


# IEEE Std C37.101, short-time overload of distribution transformers (recalled).
@pytest.mark.parametrize(
    ("duration_s", "multiple"), [(10, 10.5), (60, 4.7), (600, 2.6), (1800, 1.9), (7200, 1.4), (np.inf, 1)]
)
def test_overload_table(duration_s, multiple):
    assert overload_multiple(duration_s) == pytest.approx(multiple)


def test_overload_between_two_points_is_interpolated_in_logarithms():
    # Derived: the geometric mean of the times gives the geometric mean of the loads.
    assert overload_multiple(np.sqrt(10 * 60)) == pytest.approx(np.sqrt(10.5 * 4.7))


def test_overload_beyond_the_table_is_no_more_than_it_states():
    assert overload_multiple([0, 1, 9.99]).tolist() == pytest.approx([10.5] * 3)
    assert overload_multiple([7201, 1e6]).tolist() == [1, 1]


@given(first=st.floats(0, 1e5), second=st.floats(0, 1e5))
def test_longer_duty_never_bears_more(first, second):
    short, long = min(first, second), max(first, second)
    assert overload_multiple(long) <= overload_multiple(short) * (1 + 1e-12)


def test_primary_voltage_holds_field_forcing():
    # Published sizing sheet: 1.3 times line-to-neutral voltage. 18 kV: 13.510 kV, derived.
    assert primary_rating_kv(18) == pytest.approx(13.510, abs=5e-4)
    assert primary_rating_kv(18, np.sqrt(3)) == pytest.approx(18)


def test_zone_without_capacitance_needs_no_resistor():
    assert high_resistance_criterion_ohm(18, 0) == np.inf


def test_what_is_not_on_record_stays_so():
    gap = np.nan
    assert np.isnan(high_resistance_criterion_ohm([gap, 1], [1, gap])).all()
    assert np.isnan(secondary_voltage_v([gap, 1, 1], [1, gap, 1], [1, 1, gap])).all()
    assert np.isnan(secondary_current_a([gap, 1, 1], [1, gap, 1], [1, 1, gap])).all()
    assert np.isnan(resistive_and_charging_a([gap, 1], [1, gap])).all()
    assert np.isnan(distribution_transformer_kva([gap, 1, 1], [1, gap, 1], [1, 1, gap])).all()
    assert np.isnan(overload_multiple(gap))
    assert np.isnan(primary_rating_kv(gap))


@pytest.mark.parametrize(
    ("function", "arguments", "message"),
    [
        (
            high_resistance_criterion_ohm,
            (0, 1),
            "voltage_kv must be positive and charging_a must not be negative",
        ),
        (
            secondary_voltage_v,
            (1, 0, 1),
            "voltage_kv must not be negative; primary_v and secondary_v must be positive",
        ),
        (secondary_current_a, (1, 1, 0), "current_a must not be negative; primary_v and secondary_v must be positive"),
        (resistive_and_charging_a, (-1, 1), "resistive_a and charging_a must not be negative"),
        (overload_multiple, (-1,), "duration_s must not be negative"),
        (distribution_transformer_kva, (-1, 1, 1), "primary_kv and current_a must not be negative"),
        (primary_rating_kv, (18, 0.9), "voltage_kv must not be negative and forcing must be 1 or more"),
    ],
)
def test_impossible_values_are_refused(function, arguments, message):
    with pytest.raises(ValueError, match=f"^{message}$"):
        function(*arguments)
