"""Fault currents and healthy-phase voltages."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.engineering import (
    coefficient_of_grounding,
    double_line_to_ground_ka,
    healthy_phase_bounds_kv,
    healthy_phase_kv,
    line_to_ground_ka,
    line_to_line_ka,
    neutral_shift_kv,
    three_phase_ka,
)

V_LN = 13.8 / np.sqrt(3)
Z1, Z0 = 0.05 + 0.6j, 0.06 + 0.5j

# Glover, Sarma, Overbye, Power System Analysis and Design, examples 10.3 to 10.5 (results recalled, recomputed):
# pu on 100 MVA and 13.8 kV, 1.05 pu before the fault.
BASE_OHM = 13.8**2 / 100
GLOVER_Z1 = BASE_OHM * 1 / (1 / 0.455j + 1 / 0.2j)
GLOVER_Z2 = BASE_OHM * 1 / (1 / 0.475j + 1 / 0.21j)
GLOVER = (1.05 * 13.8, GLOVER_Z1, GLOVER_Z2, BASE_OHM * 0.25j)

positive = st.floats(0.01, 100)
impedance = st.builds(complex, positive, positive)


def test_textbook_line_to_ground_current():
    assert line_to_ground_ka(*GLOVER) == pytest.approx(24.65, abs=0.005)  # printed to 0.01


def test_textbook_line_to_line_current():
    assert line_to_line_ka(*GLOVER[:3]) == pytest.approx(26.74, abs=0.005)  # printed to 0.01


def test_textbook_double_line_to_ground_current():
    assert double_line_to_ground_ka(*GLOVER) == pytest.approx(21.00, abs=0.01)  # printed to 0.01


def test_textbook_healthy_phase_voltage():
    assert healthy_phase_kv(*GLOVER) / V_LN == pytest.approx(1.179, abs=0.0005)  # printed to 0.001


# IEC TR 60909-4, clause 6 network (recalled; asserted by public programs), c = 1.1, printed to 0.0001 kA.
@pytest.mark.parametrize(
    ("voltage_kv", "z1", "z0", "published_ka"),
    [
        (380, 0.58075 + 5.90914j, 2.37833 + 17.33558j, 24.6526),
        (110, 0.73269 + 4.24215j, 2.09396 + 14.39889j, 9.0498),
    ],
)
def test_iec_network_line_to_ground_current(voltage_kv, z1, z0, published_ka):
    assert line_to_ground_ka(1.1 * voltage_kv, z1, z1, z0) == pytest.approx(published_ka, abs=0.0001)


# The same network, three-phase, from the recomputed Z1.
@pytest.mark.parametrize(("voltage_kv", "z1", "published_ka"), [(380, 0.58075 + 5.90914j, 40.6447)])
def test_iec_network_three_phase_current(voltage_kv, z1, published_ka):
    assert three_phase_ka(1.1 * voltage_kv, z1) == pytest.approx(published_ka, abs=0.0001)


# IEEE Std 80-2013, Annex B (published): 115 kV bus, Z1 = 4 + j10, Z0 = 10 + j40; 3I0 = 3180 A.
def test_ieee_80_annex_line_to_ground_current():
    assert line_to_ground_ka(115, 4 + 10j, 4 + 10j, 10 + 40j) == pytest.approx(3.180, abs=0.0005)


# Derived, equal to an independent network program to 1e-9: 13.8 kV, solid fault, 19.92 ohm in the neutral, 2 ohm in
# the fault; six digits given.
@pytest.mark.parametrize(
    ("z0", "fault_ohm", "current_ka", "healthy_kv", "shift_kv"),
    [
        (Z0, 0, 13.99831, 7.82802, 2.34979),
        (Z0 + 3 * 19.92, 0, 0.398743, 13.89790, 7.95122),
        (Z0, 2, 3.74042, 8.06420, 0.627876),
    ],
)
def test_resistance_in_neutral_or_fault(z0, fault_ohm, current_ka, healthy_kv, shift_kv):
    case = (13.8, Z1, Z1, z0, fault_ohm)
    assert line_to_ground_ka(*case) == pytest.approx(current_ka, rel=1e-5)
    assert healthy_phase_kv(*case) == pytest.approx(healthy_kv, rel=1e-5)
    assert neutral_shift_kv(*case) == pytest.approx(shift_kv, rel=1e-5)


# IEEE Std C62.92.1, table of classes (recalled): line-to-ground current in per cent of three-phase at the limits.
@pytest.mark.parametrize(
    ("x0_over_x1", "share", "digits"), [(1, 1.0, 0.005), (3, 0.60, 0.005), (10, 0.25, 0.005), (-40, 0.08, 0.005)]
)
def test_share_of_three_phase_current_by_reactance_ratio(x0_over_x1, share, digits):
    z1 = 1j
    ratio = line_to_ground_ka(10, z1, z1, x0_over_x1 * z1) / three_phase_ka(10, z1)
    assert ratio == pytest.approx(share, abs=digits)


# Derived from sqrt(3) sqrt(K^2 + K + 1)/|K + 2|; six digits given.
@pytest.mark.parametrize(
    ("z0", "ground_fault_factor"), [(1j, 1.0), (3j, 1.2490), (1 + 3j, 1.34731), (10j, 1.52069), (-40j, 1.80085)]
)
def test_ground_fault_factor_by_reactance_ratio(z0, ground_fault_factor):
    voltage = healthy_phase_kv(np.sqrt(3), 1j, 1j, z0)
    assert voltage == pytest.approx(ground_fault_factor, abs=5e-5)


def test_effective_grounding_limits_keep_cog_within_80_percent():
    # IEEE Std C62.92.1 (recalled): X0/X1 = 3 and R0/X1 = 1 are effective.
    assert coefficient_of_grounding(healthy_phase_kv(10, 1j, 1j, 1 + 3j), 10) <= 0.8


def test_coefficient_of_grounding_of_an_ungrounded_zone_is_one():
    assert coefficient_of_grounding(healthy_phase_kv(10, 1j, 1j, np.inf), 10) == pytest.approx(1)


@given(z=impedance)
def test_equal_sequence_impedances_give_line_to_ground_as_large_as_three_phase(z):
    assert line_to_ground_ka(10, z, z, z) == pytest.approx(three_phase_ka(10, z))
    assert double_line_to_ground_ka(10, z, z, z) == pytest.approx(three_phase_ka(10, z))


@given(z1=impedance, z0=impedance, neutral=positive, more=positive)
def test_growing_neutral_resistance_never_raises_the_current(z1, z0, neutral, more):
    less = line_to_ground_ka(10, z1, z1, z0 + 3 * (neutral + more))
    assert less <= line_to_ground_ka(10, z1, z1, z0 + 3 * neutral) * (1 + 1e-12)


@given(z1=impedance, z2=impedance, z0=impedance, fault=positive)
def test_phase_quantities_solve_the_circuit_of_one_faulted_phase(z1, z2, z0, fault):
    a = np.exp(2j * np.pi / 3)
    to_phases = np.array([[1, 1, 1], [1, a * a, a], [1, a, a * a]])
    phase_impedance = to_phases @ np.diag([z0, z1, z2]) @ np.linalg.inv(to_phases)
    source = 10 / np.sqrt(3) * np.array([1, a * a, a])
    current = source[0] / (fault + phase_impedance[0, 0])
    voltage = source - phase_impedance[:, 0] * current

    case = (10, z1, z2, z0, fault)
    assert line_to_ground_ka(*case) == pytest.approx(abs(current))
    assert healthy_phase_kv(*case) == pytest.approx(max(abs(voltage[1:])))
    assert neutral_shift_kv(*case) == pytest.approx(abs(voltage.sum() / 3))


@given(z1=impedance, z2=impedance, z0=impedance, fault=positive)
def test_double_fault_solves_the_circuit_of_two_faulted_phases(z1, z2, z0, fault):
    a = np.exp(2j * np.pi / 3)
    to_phases = np.array([[1, 1, 1], [1, a * a, a], [1, a, a * a]])
    phase_impedance = to_phases @ np.diag([z0, z1, z2]) @ np.linalg.inv(to_phases)
    source = 10 / np.sqrt(3) * np.array([1, a * a, a])
    current = np.linalg.solve(phase_impedance[1:, 1:] + fault, source[1:])
    assert double_line_to_ground_ka(10, z1, z2, z0, fault) == pytest.approx(abs(current.sum()), rel=1e-6, abs=1e-9)


@pytest.mark.parametrize("infinite", [np.inf, complex(np.inf), complex(0, np.inf), complex(np.inf, np.nan)])
def test_no_zero_sequence_path_passes_no_current_and_shifts_the_neutral_fully(infinite):
    case = (13.8, Z1, Z1, infinite)
    assert line_to_ground_ka(*case) == 0
    assert double_line_to_ground_ka(*case) == 0
    assert healthy_phase_kv(*case) == pytest.approx(13.8)
    assert neutral_shift_kv(*case) == pytest.approx(V_LN)


def test_no_zero_sequence_path_is_an_answer_even_if_the_source_is_not_on_record():
    assert line_to_ground_ka(13.8, np.nan, np.nan, np.inf) == 0
    assert healthy_phase_kv(13.8, np.nan, np.nan, np.inf) == pytest.approx(13.8)


def test_a_very_large_zero_sequence_impedance_approaches_no_path():
    assert healthy_phase_kv(13.8, Z1, Z1, 1e12j) == pytest.approx(healthy_phase_kv(13.8, Z1, Z1, np.inf))


def test_a_bus_that_is_not_fed_has_no_current_and_no_voltage():
    assert three_phase_ka(13.8, np.inf) == 0
    assert line_to_line_ka(13.8, np.inf, np.inf) == 0
    assert line_to_ground_ka(13.8, np.inf, np.inf, Z0) == 0
    assert double_line_to_ground_ka(13.8, np.inf, np.inf, Z0) == 0
    assert np.isnan(healthy_phase_kv(13.8, np.inf, np.inf, Z0))


def test_what_is_not_on_record_stays_so():
    z0 = np.array([np.nan, Z0])
    for function in (line_to_ground_ka, double_line_to_ground_ka, healthy_phase_kv, neutral_shift_kv):
        assert np.isnan(function(13.8, Z1, Z1, z0)).tolist() == [True, False]
        assert np.isnan(function(np.nan, Z1, Z1, Z0))
    assert np.isnan(three_phase_ka(np.nan, Z1))


def test_an_ideal_source_has_no_limit():
    assert three_phase_ka(13.8, 0) == np.inf
    assert line_to_ground_ka(13.8, 0, 0, 0) == np.inf


angle = st.floats(0, np.pi / 2)
size = st.floats(1e-3, 1e3)


@given(z1_angle=angle, z0_angle=angle, z0_size=size, fault=st.floats(0, 1e3))
def test_healthy_phase_stays_within_its_bounds(z1_angle, z0_angle, z0_size, fault):
    low, high = healthy_phase_bounds_kv(13.8)
    z1, z0 = np.exp(1j * z1_angle), z0_size * np.exp(1j * z0_angle)
    assert low * (1 - 1e-9) <= healthy_phase_kv(13.8, z1, z1, z0, fault) <= high * (1 + 1e-9)


@given(z1_angle=angle, z0_angle=st.floats(-np.pi / 2, np.pi / 2), fault=st.floats(0, 1e3), ratio=st.floats(1, 100))
def test_little_capacitance_keeps_the_healthy_phase_within_its_bounds(z1_angle, z0_angle, fault, ratio):
    low, high = healthy_phase_bounds_kv(13.8)
    z1, direction = np.exp(1j * z1_angle), np.exp(1j * z0_angle)
    assert low <= healthy_phase_kv(13.8, z1, z1, 21 * ratio * direction) <= high
    assert low <= healthy_phase_kv(13.8, z1, z1, 40 * ratio * direction, fault) <= high


def test_much_capacitance_exceeds_the_bounds():
    assert healthy_phase_kv(13.8, 1j, 1j, -10j) > healthy_phase_bounds_kv(13.8)[1]


def test_healthy_phase_bounds_are_reached():
    # Derived: the largest ground fault factor at X0 = 0 is 1.89564 (six digits), the smallest at Z0 = 0 is sqrt(3)/2.
    low, high = healthy_phase_bounds_kv(13.8)
    r0 = np.linspace(0, 10, 5001)
    worst = healthy_phase_kv(13.8, 1j, 1j, r0).max() / V_LN
    assert worst == pytest.approx(1.89564, abs=5e-6)
    assert high / V_LN == pytest.approx(1.89564, abs=5e-6)
    assert healthy_phase_kv(13.8, 1j, 1j, 0) == pytest.approx(low)


def test_negative_voltage_is_refused():
    with pytest.raises(ValueError, match=r"^voltage_kv must not be negative$"):
        three_phase_ka(-1, Z1)


def test_negative_fault_resistance_is_refused():
    with pytest.raises(ValueError, match=r"^fault_ohm must be finite and its resistance must not be negative$"):
        line_to_ground_ka(1, Z1, Z1, Z0, -1)


def test_coefficient_of_grounding_needs_a_voltage():
    with pytest.raises(ValueError, match=r"^healthy_phase_kv must not be negative and voltage_kv must be positive$"):
        coefficient_of_grounding(1, 0)
