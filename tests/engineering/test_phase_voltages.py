"""Voltages of all three phases to ground."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.engineering import healthy_phase_kv, line_to_ground_ka, phase_voltages_kv

Z1, Z0 = 0.05 + 0.6j, 0.06 + 0.5j  # 13.8 kV, invented


# Derived, and equal to a power-grid-model solution of the same network; IEEE formulas for Z1 = Z2.
@pytest.mark.parametrize(
    ("z0", "fault_ohm", "volts"),
    [
        (Z0, 0.0, (0.0, 7667.39, 7828.02)),
        (Z0 + 3 * 19.92, 0.0, (0.0, 13658.94, 13897.90)),
        (Z0, 2.0, (2 * 3740.42, 7850.02, 8064.20)),
    ],
)
def test_three_phases_at_a_fault(z0, fault_ohm, volts):
    assert phase_voltages_kv(13.8, Z1, Z1, z0, fault_ohm) * 1e3 == pytest.approx(volts, rel=3e-6, abs=1e-9)


def test_textbook_generator_with_unequal_impedances():
    # Glover, Sarma, Overbye, Power System Analysis and Design, example 10.3 (data in public scripts;
    # result recalled and recomputed): 1.05 pu before the fault, Z1 0.13893, Z2 0.14562, Z0 0.25: 1.179 pu healthy.
    z1, z2 = 0.455j * 0.2j / 0.655j, 0.475j * 0.21j / 0.685j
    found = phase_voltages_kv(1.05 * np.sqrt(3), z1, z2, 0.25j)
    assert found == pytest.approx([0, 1.179, 1.179], abs=5e-4)


impedance = st.builds(complex, st.floats(0.01, 10), st.floats(0.01, 10))


@given(z1=impedance, z2=impedance, z0=impedance, fault_ohm=st.floats(0, 20))
def test_the_faulted_phase_has_what_the_current_drops_in_the_fault(z1, z2, z0, fault_ohm):
    found = phase_voltages_kv(13.8, z1, z2, z0, fault_ohm)
    assert found[0] == pytest.approx(line_to_ground_ka(13.8, z1, z2, z0, fault_ohm) * fault_ohm, abs=1e-9)
    assert found[1:].max() == healthy_phase_kv(13.8, z1, z2, z0, fault_ohm)


@given(z1=impedance, z0=impedance, fault_ohm=st.floats(0, 20))
def test_healthy_phases_stay_a_line_voltage_apart(z1, z0, fault_ohm):
    # Physics: with Z1 = Z2 the fault leaves the voltage between the healthy phases as it is.
    _, lags, leads = phase_voltages_kv(13.8, z1, z1, z0, fault_ohm)
    assert lags + leads >= 13.8 - 1e-9
    assert abs(lags - leads) <= 13.8 + 1e-9


def test_arrays_give_a_row_a_bus():
    assert phase_voltages_kv([13.8, 6.6], [Z1, Z1], [Z1, Z1], [Z0, np.inf]).shape == (2, 3)
    assert phase_voltages_kv(6.6, Z1, Z1, np.inf) == pytest.approx([0, 6.6, 6.6])
    assert np.isnan(phase_voltages_kv(6.6, np.nan, Z1, Z0)).all()
