"""The decrement factor."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.engineering import decrement_factor

# IEEE Std 80-2013, table 10 (recalled): duration in s at 60 Hz; D_f at X/R of 10, 20, 30, 40. Printed to 0.001.
TABLE_10 = {
    0.00833: (1.576, 1.648, 1.675, 1.688),
    0.05: (1.232, 1.378, 1.462, 1.515),
    0.10: (1.125, 1.232, 1.316, 1.378),
    0.20: (1.064, 1.125, 1.181, 1.232),
    0.30: (1.043, 1.085, 1.125, 1.163),
    0.40: (1.033, 1.064, 1.095, 1.125),
    0.50: (1.026, 1.052, 1.077, 1.101),
    0.75: (1.018, 1.035, 1.052, 1.068),
    1.00: (1.013, 1.026, 1.039, 1.052),
}


@pytest.mark.parametrize("duration_s", TABLE_10)
def test_it_is_that_of_the_table(duration_s):
    found = decrement_factor(duration_s, [10.0, 20.0, 30.0, 40.0], 60.0)
    assert found == pytest.approx(TABLE_10[duration_s], abs=1.05e-3)


def test_its_ends():
    # Derived: a purely reactive loop keeps its offset, so that the square has a mean of 3; a resistive one has none.
    assert decrement_factor([1.0, 0.0, 1.0, np.inf], [np.inf, 10.0, 0.0, 10.0], 50.0) == pytest.approx(
        [np.sqrt(3), np.sqrt(3), 1.0, 1.0]
    )
    assert np.isnan(decrement_factor([np.nan, 1.0], [10.0, np.nan], 50.0)).all()


@given(duration_s=st.floats(1e-4, 100), x_over_r=st.floats(0.01, 1000), longer=st.floats(1.0, 10))
def test_heat_never_falls_as_the_fault_lasts_and_never_rises_as_the_loop_gets_more_resistive(
    duration_s, x_over_r, longer
):
    def stress(t, ratio):
        return decrement_factor(t, ratio, 50.0) * np.sqrt(t)

    assert stress(duration_s * longer, x_over_r) >= stress(duration_s, x_over_r) * (1 - 1e-9)
    assert stress(duration_s, x_over_r * longer) >= stress(duration_s, x_over_r) * (1 - 1e-9)


def test_a_negative_duration_is_refused():
    with pytest.raises(ValueError, match=r"^duration_s and x_over_r must not be negative and frequency_hz must be"):
        decrement_factor(-1.0, 10.0, 50.0)
