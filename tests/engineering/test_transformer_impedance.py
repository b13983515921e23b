"""Leakage impedances from nameplates."""

from math import sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.engineering import leakage_ohm, scale_percent


def test_leakage_of_the_unit_transformer_of_the_iec_network():
    # IEC TR 60909-4 network, T1: 150 MVA, 115/21 kV, 16 %, 0.5 %, X0/X1 0.95, neutral reactor 22 ohm, G1 x''d 0.14 at
    # cos phi 0.85. Zero-sequence block 0.439059 + j79.340169 ohm with factor K_S (asserted by a public program, 1e-6).
    reactance = sqrt(0.16**2 - 0.005**2)
    k_s = (110 / 21) ** 2 * (21 / 115) ** 2 * 1.1 / (1 + abs(0.14 - reactance) * sqrt(1 - 0.85**2))
    zero_sequence_ratio = sqrt((0.95 * 0.16) ** 2 - 0.005**2) / 0.005
    z = k_s * leakage_ohm(0.95 * 16, zero_sequence_ratio, 115, 150) + 3j * 22
    assert z.real == pytest.approx(0.439059, abs=1e-6)
    assert z.imag == pytest.approx(79.340169, abs=1e-6)


def test_infinite_ratio_is_a_pure_reactance():
    assert leakage_ohm(10, np.inf, 10, 10) == pytest.approx(1j)


@given(percent=st.floats(0.1, 50), ratio=st.floats(0, 100))
def test_magnitude_is_the_per_cent_and_the_ratio_is_kept(percent, ratio):
    z = leakage_ohm(percent, ratio, 10, 1)
    assert abs(z) == pytest.approx(percent)
    assert z.imag == pytest.approx(ratio * z.real)


def test_same_leakage_from_both_sides_goes_with_the_square_of_the_ratio():
    assert leakage_ohm(10, 20, 115, 30) == pytest.approx(leakage_ohm(10, 20, 23, 30) * 25)


def test_infinite_per_cent_is_no_path():
    assert np.isinf(leakage_ohm(np.inf, 10, 10, 10))


def test_ten_per_cent_on_25_mva_is_40_on_100():
    assert scale_percent(10, 25, 100) == pytest.approx(40)


def test_what_is_not_on_record_stays_so():
    assert np.isnan(leakage_ohm([np.nan, 10, 10], [10, np.nan, 10], [10, 10, np.nan], 10)).all()
    assert np.isnan(scale_percent(10, [np.nan, 25], [100, np.nan])).all()


def test_negative_impedance_is_refused():
    with pytest.raises(ValueError, match=r"^impedance_percent and x_over_r must not be negative$"):
        leakage_ohm(-1, 10, 10, 10)


def test_rating_must_be_positive():
    with pytest.raises(ValueError, match=r"^rated_kv and rated_mva must be positive$"):
        leakage_ohm(10, 10, 10, 0)


def test_base_must_be_positive():
    with pytest.raises(ValueError, match=r"^from_mva and to_mva must be positive$"):
        scale_percent(10, 0, 100)
