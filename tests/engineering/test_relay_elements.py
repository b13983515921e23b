"""Elements with a timed and an instantaneous stage."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.engineering import Element, definite_operating_time_s, element_time_s, operating_time_s, reset_time_s
from groundcheck.engineering.relay_curves import CURVES


def test_definite_time_does_not_depend_on_the_current():
    # IEC 60255-151, independent time characteristic (recalled).
    assert list(definite_operating_time_s([1.001, 2, 50, np.inf], 0.4)) == [0.4] * 4


@pytest.mark.parametrize("multiple", [0, 0.99, 1])
def test_definite_time_at_or_below_pickup_never_operates(multiple):
    assert definite_operating_time_s(multiple, 0.4) == np.inf


def test_the_stage_that_is_first_decides():
    # IEC 60255-151, curve B (recalled): 13.5 TMS/(M - 1); the instantaneous stage at 300 A takes 0.05 s.
    element = Element(60.0, "iec_very_inverse", 0.1, instantaneous_a=300.0, instantaneous_s=0.05)
    assert element_time_s([60, 120, 300, 301], element) == pytest.approx([np.inf, 1.35, 1.35 / 4, 0.05])


def test_an_instantaneous_stage_that_is_slower_than_the_curve_changes_nothing():
    # Derived: at 200 times pickup the curve takes 0.068 s and the other stage 0.1 s.
    element = Element(10.0, "iec_very_inverse", 1.0, instantaneous_a=50.0, instantaneous_s=0.1)
    assert element_time_s(2000.0, element) == pytest.approx(13.5 / 199)


@given(curve=st.sampled_from(sorted(CURVES)), current=st.floats(0, 1e5), pickup=st.floats(1, 1e4))
def test_without_an_instantaneous_stage_it_is_the_curve(curve, current, pickup):
    assert element_time_s(current, Element(pickup, curve, 0.3)) == operating_time_s(current / pickup, curve, 0.3)


@given(
    curve=st.sampled_from([*sorted(CURVES), "definite_time"]),
    current=st.floats(1, 1e5),
    more=st.floats(0, 1e5),
    fast=st.floats(1, 1e5),
)
def test_more_current_never_operates_later(curve, current, more, fast):
    element = Element(100.0, curve, 0.2, 0.7, fast, 0.04)
    assert element_time_s(current + more, element) <= element_time_s(current, element)


def test_what_is_not_on_record_stays_so():
    curves = np.array(["definite_time", "definite_time", None, "iec_very_inverse"], dtype=object)
    element = Element([np.nan, 60, 60, 60], curves, [np.nan, np.nan, 0.1, np.nan], [0.4, np.nan, np.nan, np.nan])
    assert np.isnan(element_time_s(200.0, element)).all()
    assert np.isnan(element_time_s(np.nan, Element(60.0, "definite_time", definite_s=0.4)))


def test_a_pickup_of_zero_is_refused():
    with pytest.raises(ValueError, match=r"^pickup_a and instantaneous_a must be positive$"):
        element_time_s(100.0, Element(0.0, "iec_very_inverse", 0.1))


def test_a_negative_delay_is_refused():
    with pytest.raises(ValueError, match=r"^multiple and delay_s must not be negative$"):
        definite_operating_time_s(2.0, -0.1)


# IEEE Std C37.112, reset characteristic (recalled): t_r/(1 - M^2) with t_r 4.85, 21.6, 29.1; at half pickup 4/3 of it.
@pytest.mark.parametrize(
    ("curve", "seconds"),
    [("ieee_moderately_inverse", 4.85), ("ieee_very_inverse", 21.6), ("ieee_extremely_inverse", 29.1)],
)
def test_published_reset_times(curve, seconds):
    assert reset_time_s([0, 0.5, 1], curve, 1) == pytest.approx([seconds, seconds / 0.75, np.inf])


def test_curves_without_a_reset_constant_have_no_reset_time():
    assert np.isnan(reset_time_s([0.5, 2], np.array(["iec_very_inverse", None], dtype=object), 1)).all()


def test_a_negative_time_dial_is_refused_for_the_reset_too():
    with pytest.raises(ValueError, match=r"^multiple and time_dial must not be negative$"):
        reset_time_s(0.5, "ieee_very_inverse", -1)
