"""A secondary circuit grounded at two points."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.engineering import bypassed_share, loop_current_a, wire_resistance_ohm


def test_copper_of_one_square_millimeter_has_seventeen_milliohms_a_meter():
    # IEC 60028 (recalled): 1.7241 uohm cm. IEC 60228 (recalled) gives 7.41 ohm/km for 2.5 mm2, joints and lay included.
    assert wire_resistance_ohm(1.0, 1.0) == pytest.approx(0.017241, rel=1e-4)
    assert wire_resistance_ohm(2.5, 1000.0) == pytest.approx(7.41, rel=0.08)


def test_the_mat_takes_nearly_all_of_the_residual_current():
    # Derived from two nodes: 0.5 ohm of wire beside 0.02 ohm of mat, 5 A residual, 10 V across the mat.
    share = bypassed_share(0.5, 0.02)
    assert share == pytest.approx(0.961538, rel=2e-6)  # derived, to six digits as all of these
    assert 5.0 * (1 - share) == pytest.approx(0.192308, rel=2e-6)
    assert loop_current_a(10.0, 0.5, 0.02) == pytest.approx(19.2308, rel=2e-6)
    assert 5.0 * (1 - bypassed_share(0.5 + 1.0, 0.02)) == pytest.approx(0.0657895, rel=2e-6)  # with a relay of 1 ohm


@given(current=st.floats(0, 100), wire=st.floats(1e-3, 10), mat=st.floats(1e-3, 10), volts=st.floats(0, 1000))
def test_currents_balance_at_both_grounds_and_voltages_around_the_loop(current, wire, mat, volts):
    # Kirchhoff: the wire's part of the residual current, and what the mat's voltage drives on top of it.
    in_wire = current * (1 - bypassed_share(wire, mat)) + loop_current_a(volts, wire, mat)
    assert in_wire * wire == pytest.approx((current - in_wire) * mat + volts, abs=1e-6, rel=1e-9)


def test_ends_of_the_loop():
    assert loop_current_a([0.0, 10.0, 10.0], [0.0, 1.0, 0.0], [0.0, np.inf, 0.0]).tolist() == [0.0, 0.0, np.inf]
    assert np.isnan(loop_current_a(10.0, np.nan, 0.1))


def test_a_wire_without_area_is_refused():
    with pytest.raises(ValueError, match=r"^area_mm2 and resistivity must be positive and length_m must not be"):
        wire_resistance_ohm(0.0, 1.0)
