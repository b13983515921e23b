"""Voltages that a person bears."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.engineering import surface_layer_factor, tolerable_voltage_v


def test_crushed_rock_of_the_annex_counts_for_three_quarters():
    # IEEE Std 80-2013, annex B.1: 0.102 m of 2500 ohm m on soil of 400 ohm m gives 0.74.
    assert surface_layer_factor(400.0, 2500.0, 0.102) == pytest.approx(0.74, abs=0.005)
    assert surface_layer_factor(400.0, 2500.0, 0.102) == pytest.approx(0.742857, rel=1e-6)  # derived


@pytest.mark.parametrize(("touch", "volts"), [(True, 838.2), (False, 2686.6)])
def test_limits_of_the_annex(touch, volts):
    # IEEE Std 80-2013, annex B.1: 70 kg, 0.5 s, C_s 0.74 on 2500 ohm m.
    assert tolerable_voltage_v(0.74 * 2500, 0.5, 70, touch=touch) == pytest.approx(volts, rel=1e-4)


def test_a_lighter_person_bears_less_by_the_ratio_of_the_constants():
    # IEEE Std 80-2013, 6.1: 0.116 and 0.157 A s^0.5 (recalled).
    ratio = tolerable_voltage_v(100.0, 1.0, 50, touch=True) / tolerable_voltage_v(100.0, 1.0, 70, touch=True)
    assert ratio == pytest.approx(0.116 / 0.157)


@given(soil=st.floats(1, 5000), surface=st.floats(1, 5000), thickness=st.floats(0, 1))
def test_footing_lies_between_soil_and_surfacing(soil, surface, thickness):
    # Derived: C_s rho_s is surface - (surface - soil) x 0.09/(2 h + 0.09).
    footing = surface_layer_factor(soil, surface, thickness) * surface
    assert min(soil, surface) * (1 - 1e-9) <= footing <= max(soil, surface) * (1 + 1e-9)


def test_the_longer_the_shock_the_less_is_borne():
    assert tolerable_voltage_v(0.0, [1.0, 4.0], 50, touch=True).tolist() == pytest.approx([116.0, 58.0])
    assert np.isnan(tolerable_voltage_v(np.nan, 1.0, 50, touch=True))


def test_another_body_weight_is_refused():
    with pytest.raises(ValueError, match=r"^body_kg \(60\) must be 50 or 70$"):
        tolerable_voltage_v(0.0, 1.0, 60, touch=True)
