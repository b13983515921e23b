"""Share of a stator winding that its ground relays protect."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.engineering import current_coverage, voltage_coverage


def test_neutral_overvoltage_relay_on_a_distribution_transformer():
    # Derived from a 160 MVA, 18 kV machine grounded through 75:1 (Blackburn and Domin, Protective Relaying, recalled):
    # 18 kV/sqrt(3)/75 = 138.564 V at a full fault; pickup 5.4 V: 96.1 %.
    assert voltage_coverage(5.4, 138.564) == pytest.approx(0.96103, abs=5e-6)


def test_differential_relay_beside_a_neutral_resistor():
    # Wadhwa, Electrical Power Systems, example 14.4: 5 MVA, 6.6 kV, 8 ohm, 25 % of full load: 22.957 % unprotected
    # (printed result, carried to five digits by recomputation).
    full_load = 5e6 / (np.sqrt(3) * 6600)
    assert 1 - current_coverage(0.25 * full_load, 8.0, 6.6) == pytest.approx(0.22957, abs=5e-6)


@given(pickup=st.floats(0, 500), resistance=st.floats(0, 100), less=st.floats(0, 1))
def test_less_resistance_protects_no_less(pickup, resistance, less):
    assert current_coverage(pickup, resistance * less, 11.0) >= current_coverage(pickup, resistance, 11.0)


def test_a_pickup_above_all_there_is_protects_nothing():
    assert voltage_coverage(200.0, 138.6) == 0
    assert current_coverage(1000.0, 8.0, 6.6) == 0


def test_what_is_not_on_record_stays_so():
    assert np.isnan(voltage_coverage([np.nan, 5], [100, np.nan])).all()
    assert np.isnan(current_coverage([np.nan, 5, 5], [8, np.nan, 8], [6.6, 6.6, np.nan])).all()


def test_negative_settings_are_refused():
    with pytest.raises(ValueError, match=r"^pickup_v must not be negative and full_v must be positive$"):
        voltage_coverage(-1, 100)
    with pytest.raises(
        ValueError, match=r"^pickup_a and resistance_ohm must not be negative; voltage_kv must be positive$"
    ):
        current_coverage(10, 8, 0)
