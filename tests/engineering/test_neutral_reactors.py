"""Neutral reactors."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.engineering import line_to_ground_ka, line_to_ground_share, neutral_reactance_ohm, three_phase_ka


def test_reactor_for_the_usual_limit():
    # Derived: X1 0.6 ohm, X0 0.5 ohm, X0/X1 of 10 wants (6 - 0.5)/3 = 1.83333 ohm.
    assert neutral_reactance_ohm(0.5, 0.6, 10) == pytest.approx(1.83333, abs=5e-6)


def test_neutral_above_the_wanted_ratio_gives_a_negative_reactance():
    assert neutral_reactance_ohm(9, 0.6, 10) == pytest.approx(-1)


# IEEE Std C62.92.1, table of grounding classes (recalled): 25 % at X0/X1 of 10, 60 % at 3, 8 % at -40.
@pytest.mark.parametrize(("ratio", "share"), [(1, 1), (3, 0.60), (10, 0.25), (-40, 0.079)])
def test_share_of_the_three_phase_current(ratio, share):
    assert line_to_ground_share(ratio) == pytest.approx(share, abs=0.0005)


@given(x1=st.floats(0.01, 100), x0=st.floats(0.01, 100), ratio=st.floats(0.5, 20))
def test_reactor_of_that_size_gives_the_share_of_that_ratio(x1, x0, ratio):
    x0_with = x0 + 3 * neutral_reactance_ohm(x0, x1, ratio)
    current = line_to_ground_ka(13.8, 1j * x1, 1j * x1, 1j * x0_with)
    assert current / three_phase_ka(13.8, 1j * x1) == pytest.approx(line_to_ground_share(ratio))


def test_no_path_passes_nothing_and_series_resonance_has_no_limit():
    assert line_to_ground_share([np.inf, -2]).tolist() == [0, np.inf]


def test_what_is_not_on_record_stays_so():
    assert np.isnan(neutral_reactance_ohm([np.nan, 1, 1], [1, np.nan, 1], [3, 3, np.nan])).all()
    assert np.isnan(line_to_ground_share(np.nan))


def test_impossible_values_are_refused():
    with pytest.raises(ValueError, match=r"^x1_ohm must be positive and ratio must not be negative$"):
        neutral_reactance_ohm(1, 0, 3)
    with pytest.raises(TypeError, match=r"^x0_over_x1 must be real$"):
        line_to_ground_share(1 + 1j)
