"""Ratios behind the screens for transient overvoltage."""

import numpy as np
import pytest

from groundcheck.engineering import (
    charging_current_a,
    high_resistance_criterion_ohm,
    r0_over_x0,
    resistor_over_charging,
)


def test_resistor_of_a_third_of_the_capacitive_reactance_passes_the_charging_current():
    # IEEE Std 142 (recalled): R_n = X_C0/3 and I_R = 3 I_C0 are one criterion. 480 V, 1 uF, 60 Hz: 0.313424 A.
    charging = charging_current_a(0.48, 1, 60)
    resistive = 480 / np.sqrt(3) / high_resistance_criterion_ohm(0.48, charging)
    assert resistive == pytest.approx(0.313424, abs=1e-6)
    assert resistor_over_charging(resistive, charging) == pytest.approx(1)


def test_resistor_of_a_low_resistance_zone_is_far_above_its_reactance():
    # Derived: X0 0.5 ohm, 19.92 ohm in the neutral: R0/X0 = (0.06 + 59.76)/0.5.
    assert r0_over_x0(0.06 + 3 * 19.92 + 0.5j) == pytest.approx(119.64)


def test_capacitive_zone_is_judged_by_its_charging_current_instead():
    assert r0_over_x0(10 - 5j) == np.inf


def test_without_capacitance_or_reactance_the_ratio_has_no_limit():
    assert resistor_over_charging(5, 0) == np.inf
    assert r0_over_x0(5) == np.inf


def test_what_is_not_on_record_stays_so():
    assert np.isnan(resistor_over_charging([np.nan, 1, 0], [1, np.nan, 0])).all()
    assert np.isnan(r0_over_x0(np.nan))


def test_impossible_values_are_refused():
    with pytest.raises(ValueError, match=r"^resistive_a and charging_a must not be negative$"):
        resistor_over_charging(-1, 1)
    with pytest.raises(ValueError, match=r"^z0_ohm must not have a negative resistance$"):
        r0_over_x0(-1 + 1j)
