"""Inverse-time curves."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.engineering import operating_time_s
from groundcheck.engineering.relay_curves import CURVES


# IEEE Std C37.112 and IEC 60255-151 equations (recalled, recomputed with the constants of several public programs);
# decimals as given; a value exact in decimals counts as printed to six.
@pytest.mark.parametrize(
    ("curve", "multiple", "seconds", "digits"),
    [
        ("ieee_moderately_inverse", 1.5, 6.4390, 4),
        ("ieee_moderately_inverse", 2, 3.8032, 4),
        ("ieee_moderately_inverse", 5, 1.6883, 4),
        ("ieee_moderately_inverse", 10, 1.2068, 4),
        ("ieee_very_inverse", 1.5, 16.179, 3),
        ("ieee_very_inverse", 2, 7.0277, 4),
        ("ieee_very_inverse", 10, 0.6891, 4),
        ("ieee_extremely_inverse", 1.5, 22.682, 3),
        ("ieee_extremely_inverse", 2, 9.5217, 4),
        ("ieee_extremely_inverse", 10, 0.4065, 4),
        ("iec_standard_inverse", 2, 10.029, 3),
        ("iec_standard_inverse", 10, 2.9706, 4),
        ("iec_very_inverse", 2, 13.5, 6),
        ("iec_very_inverse", 10, 1.5, 6),
        ("iec_extremely_inverse", 2, 26.667, 3),
        ("iec_extremely_inverse", 10, 0.80808, 5),
        ("iec_long_time_inverse", 2, 120, 6),
    ],
)
def test_published_operating_times(curve, multiple, seconds, digits):
    assert operating_time_s(multiple, curve, 1) == pytest.approx(seconds, abs=10**-digits / 2)


def test_interval_between_a_feeder_and_its_main():
    # Derived: 398.743 A, feeder pickup 60 A at 0.1, main 100 A at 0.2, both IEC very inverse: 0.6647 s.
    feeder, main = operating_time_s([398.743 / 60, 398.743 / 100], "iec_very_inverse", [0.1, 0.2])
    assert main - feeder == pytest.approx(0.6647, abs=5e-5)


@given(curve=st.sampled_from(sorted(CURVES)), multiple=st.floats(1.01, 100), more=st.floats(0.01, 100))
def test_more_current_never_operates_later(curve, multiple, more):
    assert operating_time_s(multiple + more, curve, 1) <= operating_time_s(multiple, curve, 1)


@given(curve=st.sampled_from(sorted(CURVES)), multiple=st.floats(1.01, 100))
def test_time_dial_scales_the_time(curve, multiple):
    assert operating_time_s(multiple, curve, 0.5) == pytest.approx(operating_time_s(multiple, curve, 1) / 2)


@pytest.mark.parametrize("curve", [*sorted(CURVES), None])
@pytest.mark.parametrize("multiple", [0, 0.5, 1])
def test_at_or_below_pickup_it_never_operates(curve, multiple):
    assert operating_time_s(multiple, curve, 1) == np.inf


def test_each_relay_has_its_own_curve():
    times = operating_time_s([2, 2], np.array(["iec_very_inverse", "iec_extremely_inverse"]), 1)
    assert times == pytest.approx([13.5, 80 / 3])


def test_what_is_not_on_record_stays_so():
    curves = np.array(["iec_very_inverse", None, "", float("nan"), "iec_very_inverse"], dtype=object)
    assert np.isnan(operating_time_s([np.nan, 2, 2, 2, 2], curves, [1, 1, 1, 1, np.nan])).all()


def test_unknown_curve_names_the_nearest():
    with pytest.raises(ValueError, match=r"^no curve 'iec_very_inverce'; nearest is 'iec_very_inverse'$"):
        operating_time_s([2, 2], ["iec_very_inverse", "iec_very_inverce"], 1)


def test_negative_time_dial_is_refused():
    with pytest.raises(ValueError, match=r"^multiple and time_dial must not be negative$"):
        operating_time_s(2, "iec_very_inverse", -1)
