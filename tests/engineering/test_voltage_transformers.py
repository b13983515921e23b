"""Voltage transformers in a ground fault."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.engineering import (
    allowed_voltage_factor,
    broken_delta_v,
    damping_resistor_w,
    neutral_shift_kv,
    required_voltage_factor,
)


# IEC 61869-3, residual windings (recalled), and arithmetic: V_LL-rated 120 V units give 208 V, V_LN-rated ones 360 V,
# 14400:120 on 13.8 kV 199 V, 20 kV/sqrt(3) to 100/3 V gives 100 V; all with the full displacement.
@pytest.mark.parametrize(
    ("system_kv", "primary_v", "secondary_v", "volts"),
    [
        (13.8, 13800, 120, 207.846),
        (13.8, 13800 / np.sqrt(3), 120, 360.0),
        (13.8, 14400, 120, 199.186),
        (20.0, 20000 / np.sqrt(3), 100 / 3, 100.0),
    ],
)
def test_broken_delta_of_an_ungrounded_system(system_kv, primary_v, secondary_v, volts):
    shift = neutral_shift_kv(system_kv, 0.1j, 0.1j, np.inf)
    assert broken_delta_v(shift, primary_v, secondary_v) == pytest.approx(volts, rel=1e-5)


def test_broken_delta_near_a_solid_fault_with_equal_impedances():
    # IEC 61869-3 (recalled): units for effectively grounded systems have 100 V windings, for 100 V at a solid fault.
    shift = neutral_shift_kv(20.0, 1j, 1j, 1j)
    assert broken_delta_v(shift, 20000 / np.sqrt(3), 100.0) == pytest.approx(100.0)


def test_watts_of_a_damping_resistor():
    # Arithmetic: 207.846 V across 100 ohm.
    assert damping_resistor_w(207.846, 100.0) == pytest.approx(432.0, abs=0.05)


def test_unit_for_line_to_neutral_needs_1_73_on_an_ungrounded_system():
    # Arithmetic: 13.8 kV to ground on a unit of 7967.43 V.
    assert required_voltage_factor(13.8, 7967.43) == pytest.approx(1.73205, abs=5e-6)


# IEC 61869-3, table of rated voltage factors (recalled): 1.9 for 8 h, and 1.2 without limit.
@pytest.mark.parametrize(("duration_s", "factor"), [(10, 1.9), (28800, 1.9), (28801, 1.2), (np.inf, 1.2)])
def test_rated_factor_ends_with_the_rated_time(duration_s, factor):
    assert allowed_voltage_factor(1.9, 28800, duration_s, 1.2) == factor


def test_a_continuous_unit_needs_no_time():
    assert allowed_voltage_factor(1.2, np.nan, np.nan, 1.2) == 1.2
    assert np.isnan(allowed_voltage_factor(1.9, np.nan, 10, 1.2))
    assert np.isnan(allowed_voltage_factor(np.nan, 30, 10, 1.2))


@given(st.floats(0, 3), st.floats(0, 1e5), st.floats(0, 1e6), st.floats(0, 1e6))
def test_a_longer_fault_is_never_borne_better(factor, time, duration, more):
    assert allowed_voltage_factor(factor, time, duration + more, 1.2) <= allowed_voltage_factor(
        factor, time, duration, 1.2
    )


def test_ratings_of_zero_are_refused():
    with pytest.raises(ValueError, match=r"primary_v and secondary_v must be positive$"):
        broken_delta_v(1.0, 0, 100)
    with pytest.raises(ValueError, match=r"resistance_ohm must be positive$"):
        damping_resistor_w(1.0, 0)
    with pytest.raises(ValueError, match=r"rated_primary_v must be positive$"):
        required_voltage_factor(1.0, 0)
    with pytest.raises(ValueError, match=r"^factors and times must not be negative$"):
        allowed_voltage_factor(-1, 1, 1, 1)
