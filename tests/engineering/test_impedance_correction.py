"""Impedance correction factors of IEC 60909-0."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.engineering import (
    generator_correction,
    line_to_ground_ka,
    transformer_correction,
    unit_correction,
    unit_correction_fixed_tap,
)


def reactance(impedance, resistance):
    return np.sqrt(impedance**2 - resistance**2)


# IEC TR 60909-4, clause 6, T3 and T4 (data and results recalled, equal in the tests of pandapower, test_iec60909_4.py).
@pytest.mark.parametrize(
    ("impedance", "resistance", "expected"),
    [(0.21, 0.0026, 0.928072), (0.10, 0.0016, 0.985856), (0.07, 0.0016, 1.002890)],
)
def test_pairs_of_a_three_winding_transformer_have_the_published_factors(impedance, resistance, expected):
    assert transformer_correction(reactance(impedance, resistance), 1.1) == pytest.approx(expected, abs=1e-6)


def test_zero_sequence_of_a_grounded_star_with_a_delta_takes_the_factor_of_that_pair():
    # IEC TR 60909-4, clause 6, bus 1 (recalled, recomputed): Z1 = 0.58075 + j5.90914 ohm; the infeed's Z0 with
    # X0/X1 = 3 and R0/X0 = 0.15; T3 400 kV, 350 MVA, X0 = 2.1 times the HV-MV reactance: 24.6526 kA.
    x1 = 1.1 * 380 / (np.sqrt(3) * 38) / np.sqrt(1.01)
    infeed = 3 * x1 * (0.15 + 1j)
    winding = (0.0026 + 2.1j * reactance(0.21, 0.0026)) * 400**2 / 350
    winding = winding * transformer_correction(reactance(0.10, 0.0016), 1.1)
    z1, z0 = 0.58075 + 5.90914j, 1 / (1 / infeed + 1 / winding)
    assert line_to_ground_ka(1.1 * 380, z1, z1, z0) == pytest.approx(24.6526, abs=1e-4)


def test_unit_with_tap_changer_has_the_published_factor():
    # IEC TR 60909-4, clause 6, G1 and T1 (recalled): zero-sequence impedance 15.2 %, 0.5 % on 115 kV, 150 MVA, with a
    # reactor of 22 ohm in the neutral; 0.439059 + j79.340169 ohm in the tests of pandapower (test_1ph.py).
    k_s = unit_correction(110.0, 21.0, 115 / 21, 0.14, reactance(0.16, 0.005), 0.85, 1.1)
    base = 115**2 / 150
    assert k_s * 0.005 * base == pytest.approx(0.439059, abs=1e-6)
    assert k_s * reactance(0.152, 0.005) * base + 3 * 22 == pytest.approx(79.340169, abs=1e-6)


def test_unit_without_tap_changer_has_the_factor_of_the_formula():
    # G2 and T2 of the same network: 110/(10.5 x 1.075) x 10.5/120 x 1.1/(1 + 0.16 x 0.43589), by hand.
    found = unit_correction_fixed_tap(110.0, 10.5, 120 / 10.5, 0.16, 0.9, 0.075, 1.1)
    assert found == pytest.approx(0.876832, abs=1e-6)


def test_generator_at_its_own_bus_has_the_factor_of_the_formula():
    # G3 of the same network: 10/10.5 x 1.1/(1 + 0.1 x 0.6), by hand.
    assert generator_correction(10.0, 10.5, 0.1, 0.8, 1.1) == pytest.approx(0.988320, abs=1e-6)


@given(x=st.floats(0.01, 1), step=st.floats(1e-3, 0.5))
def test_correction_never_turns_a_larger_impedance_into_a_smaller(x, step):
    larger = x + step
    assert larger * transformer_correction(larger, 1.1) > x * transformer_correction(x, 1.1)


@given(x=st.floats(0.05, 0.5), phi=st.floats(0.5, 1))
def test_machine_whose_rating_fits_its_system_is_the_one_without_unit_transformer(x, phi):
    # Derived: with a transformer of no reactance, of nominal ratio, K_S = K_G for U_rG = U_n.
    unit = unit_correction(110.0, 10.0, 11.0, x, 0.0, phi, 1.1)
    assert unit == pytest.approx(generator_correction(10.0, 10.0, x, phi, 1.1))


def test_what_is_not_on_record_stays_so():
    assert np.isnan(transformer_correction([np.nan, 0.1], [1.1, np.nan])).all()
    assert np.isnan(generator_correction(10.0, 10.5, [np.nan, 0.1], [0.8, np.nan], 1.1)).all()
    assert np.isnan(unit_correction(110.0, 21.0, 5.5, [np.nan, 0.1], 0.16, [0.8, np.nan], 1.1)).all()
    assert np.isnan(unit_correction_fixed_tap(110.0, 21.0, 5.5, 0.1, 0.8, [np.nan], 1.1)).all()


def test_power_factor_must_be_one():
    with pytest.raises(ValueError, match=r"^power_factor must be within 0 to 1$"):
        generator_correction(10.0, 10.5, 0.1, 80.0, 1.1)


def test_reactances_must_not_be_negative():
    with pytest.raises(ValueError, match=r"^x_pu must not be negative$"):
        transformer_correction(-0.1, 1.1)
    with pytest.raises(ValueError, match=r"^transformer_x_pu must not be negative$"):
        unit_correction(110.0, 21.0, 5.5, 0.1, -0.1, 0.8, 1.1)


def test_voltages_and_factors_must_be_positive():
    with pytest.raises(ValueError, match=r"^voltage_factor must be positive$"):
        transformer_correction(0.1, 0.0)
    with pytest.raises(ValueError, match=r"^voltages and turns_ratio must be positive$"):
        unit_correction(110.0, 0.0, 5.5, 0.1, 0.16, 0.8, 1.1)


def test_voltage_range_must_not_be_negative():
    with pytest.raises(ValueError, match=r"^voltage_range must not be negative$"):
        unit_correction_fixed_tap(110.0, 21.0, 5.5, 0.1, 0.8, -0.05, 1.1)
