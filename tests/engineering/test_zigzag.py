"""Zigzag windings and grounding transformers."""

import numpy as np
import pytest

from groundcheck.engineering import grounding_transformer_z0, line_to_ground_ka, zigzag_winding_z0


def test_zigzag_winding_has_a_tenth_of_the_leakage_reactance():
    # Kasikci, Short Circuits in Power Systems, tables 8.22 to 8.26 (published): Dzn0, Yzn11 R0 = 0.4 R1, X0 = 0.1 X1.
    assert zigzag_winding_z0(2 + 10j) == pytest.approx(0.8 + 1j)


def test_grounding_transformer_for_400_amperes():
    # Derived, X0 = 3 V_LN/I: 59.7558 ohm (six digits) gives 400 A at 13.8 kV behind an ideal source.
    z0 = grounding_transformer_z0(59.7558)
    assert line_to_ground_ka(13.8, 0, 0, z0) * 1000 == pytest.approx(400, abs=0.001)


def test_resistance_is_a_part_of_the_magnitude():
    assert grounding_transformer_z0(5, 3) == pytest.approx(3 + 4j)


def test_resistance_above_the_magnitude_is_no_answer():
    assert np.isnan(grounding_transformer_z0(5, 6))


def test_infinite_is_no_path():
    assert np.isinf(grounding_transformer_z0(np.inf, 3))
    assert np.isinf(zigzag_winding_z0(np.inf))


def test_what_is_not_on_record_stays_so():
    assert np.isnan(grounding_transformer_z0([np.nan, 5], [3, np.nan])).all()
    assert np.isnan(zigzag_winding_z0(np.nan))


def test_negative_impedance_is_refused():
    with pytest.raises(ValueError, match=r"^z0_ohm and r0_ohm must not be negative$"):
        grounding_transformer_z0(-5)


def test_negative_leakage_resistance_is_refused():
    with pytest.raises(ValueError, match=r"^z_leakage_ohm must not have a negative resistance$"):
        zigzag_winding_z0(-1 + 10j)
