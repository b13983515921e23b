"""Neutral resistors, reactors, coils and loaded distribution transformers."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.engineering import (
    charging_current_a,
    coil_tuning_ohm,
    let_through_ceiling_a,
    line_to_ground_ka,
    nameplate_mismatch,
    neutral_shift_kv,
    referred_resistance_ohm,
    resistor_power_kw,
)


def test_textbook_generator_grounded_through_a_distribution_transformer():
    # Blackburn and Domin, Protective Relaying (recalled, recomputed): 18 kV, 18000/240 V, secondary 0.297 ohm, 1673 ohm
    # in the neutral, 6.21 A, 64.6 kW.
    primary = referred_resistance_ohm(0.297427, 18000, 240)
    assert primary == pytest.approx(1673, abs=0.5)  # printed to 1 ohm
    current = let_through_ceiling_a(18, primary, displacement=1)
    assert current == pytest.approx(6.21, abs=0.005)  # printed to 0.01 A
    assert resistor_power_kw(current, primary) == pytest.approx(64.6, abs=0.05)  # printed to 0.1 kW


# Derived, R = V_LN/I and P = V I; four digits given.
@pytest.mark.parametrize(
    ("voltage_kv", "current_a", "resistance_ohm", "power_kw"),
    [
        (13.8, 200, 39.837, 1593.5),
        (13.8, 400, 19.919, 3186.97),
        (13.8, 1000, 7.9674, 7967.4),
        (2.4, 5, 277.128, 6.9282),
    ],
)
def test_resistor_passes_its_rated_current_and_dissipates_it(voltage_kv, current_a, resistance_ohm, power_kw):
    assert let_through_ceiling_a(voltage_kv, resistance_ohm, displacement=1) == pytest.approx(current_a, rel=5e-5)
    assert resistor_power_kw(current_a, resistance_ohm) == pytest.approx(power_kw, rel=5e-5)


part = st.floats(0.01, 100)


@given(r1=part, x1=part, r0=part, x0=part, resistance=part)
def test_no_source_passes_more_than_the_ceiling(r1, x1, r0, x0, resistance):
    z1 = complex(r1, x1)
    current = line_to_ground_ka(13.8, z1, z1, complex(r0, x0) + 3 * resistance) * 1000
    assert current <= let_through_ceiling_a(13.8, resistance, displacement=1)


def test_ceiling_covers_the_displacement_of_a_zone_with_little_capacitance():
    # |V0|/E = |K|/|2 + K| is 1.05 at K = -42.
    resistance, z1 = 20.0, 1j
    shift_kv = neutral_shift_kv(13.8, z1, z1, -42 * z1)
    assert shift_kv * 1000 / resistance == pytest.approx(let_through_ceiling_a(13.8, resistance))


def test_solid_link_has_no_ceiling_and_an_open_neutral_passes_nothing():
    assert let_through_ceiling_a(13.8, [0, np.inf]).tolist() == [np.inf, 0]


def test_nameplate_of_a_rounded_resistance():
    # Derived: 13.8 kV, 400 A, 20 ohm: V/(I R) = 0.99593.
    assert nameplate_mismatch(13.8 / np.sqrt(3), 400, 20) == pytest.approx(-0.00407, abs=5e-6)


def test_line_to_line_voltage_on_a_nameplate_shows_as_73_percent():
    assert nameplate_mismatch(13.8, 400, 13800 / np.sqrt(3) / 400) == pytest.approx(np.sqrt(3) - 1)


def test_textbook_coil_for_50_km_of_132_kv_line():
    # Chakrabarti et al., Power System Engineering, example 16.1 (published): 0.0157 uF/km, 50 Hz: 4.3 H.
    reactance = coil_tuning_ohm(0.0157 * 50, 50)
    assert reactance / (2 * np.pi * 50) == pytest.approx(4.3, abs=0.05)  # printed to 0.1 H


@given(capacitance=st.floats(0.01, 1000))
def test_tuned_coil_carries_the_charging_current(capacitance):
    coil = let_through_ceiling_a(20, 1j * coil_tuning_ohm(capacitance, 50), displacement=1)
    assert coil == pytest.approx(charging_current_a(20, capacitance, 50))


def test_zone_without_capacitance_needs_an_infinite_coil():
    assert coil_tuning_ohm(0, 50) == np.inf


def test_what_is_not_on_record_stays_so():
    assert np.isnan(referred_resistance_ohm([np.nan, 1, 1], [1, np.nan, 1], [1, 1, np.nan])).all()
    assert np.isnan(resistor_power_kw([np.nan, 1], [1, np.nan])).all()
    assert np.isnan(let_through_ceiling_a([np.nan, 1], [1, np.nan])).all()
    assert np.isnan(nameplate_mismatch([np.nan, 1, 1], [1, np.nan, 1], [1, 1, np.nan])).all()
    assert np.isnan(coil_tuning_ohm([np.nan, 1], [50, np.nan])).all()


@pytest.mark.parametrize(
    ("function", "arguments", "message"),
    [
        (
            referred_resistance_ohm,
            (1, 0, 240),
            "secondary_ohm must not be negative; primary_v and secondary_v must be positive",
        ),
        (resistor_power_kw, (-1, 1), "current_a and resistance_ohm must not be negative"),
        (let_through_ceiling_a, (-1, 1), "voltage_kv and displacement must not be negative"),
        (
            nameplate_mismatch,
            (8, 0, 20),
            "voltage_kv must not be negative; current_a and resistance_ohm must be positive",
        ),
        (coil_tuning_ohm, (1, 0), "capacitance_uf must not be negative and frequency_hz must be positive"),
    ],
)
def test_impossible_values_are_refused(function, arguments, message):
    with pytest.raises(ValueError, match=f"^{message}$"):
        function(*arguments)
