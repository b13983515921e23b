"""Two ground faults in a zone without a neutral path."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.engineering import second_ground_fault_ceiling_ka, second_ground_fault_ka, three_phase_ka

A = np.exp(2j * np.pi / 3)
FROM_SEQUENCE = np.array([[1, 1, 1], [1, A**2, A], [1, A, A**2]])


def phases(z0, z1):
    """Phase impedance matrix of an element with equal positive and negative sequence."""
    return FROM_SEQUENCE @ np.diag([z0, z1, z1]) @ np.linalg.inv(FROM_SEQUENCE)


def test_one_feeder_in_the_form_of_the_standard():
    # IEC 60909-3 (recalled): 3 c Un/|6 Z1d + 2 Z1f + Z0f| with c = 1:
    # 4042.26 A, derived.
    source, feeder = 0.2 + 1j, 0.5 + 1.6j
    current = second_ground_fault_ka(20, source, source + feeder, source, 1.4 + 5.2j)
    assert current * 1000 == pytest.approx(4042.26, abs=0.005)


def test_faults_on_two_feeders_agree_with_a_solution_in_phases():
    # Derived in phase quantities: phase b is grounded at the end of one feeder, phase c at the end of the other. The
    # current flows out in b of the first and back in c of the second; no other phase and no neutral carries any.
    source, first, second = (0.2 + 1j, 0.4 + 1.2j), (0.5 + 1.6j, 1.4 + 5.2j), (0.9 + 1.1j, 1.9 + 4.0j)
    out = np.array([0, 1, -1])  # through the source, whose zero sequence plays no part
    drop_source = phases(7.0, source[0]) @ out
    drop_first = phases(first[1], first[0]) @ np.array([0, 1, 0])
    drop_second = phases(second[1], second[0]) @ np.array([0, 0, -1])
    loop = drop_source[1] - drop_source[2] + drop_first[1] - drop_second[2]
    current = second_ground_fault_ka(20, source[0] + first[0], source[0] + second[0], source[0], first[1] + second[1])
    assert current == pytest.approx(20 / abs(loop))


def test_two_faults_at_one_bus_draw_the_line_to_line_current():
    # Kasikci, Short Circuits in Power Systems, chapter 7, prints 0.85 of the three-phase current; sqrt(3)/2 is derived.
    z1 = 0.2 + 1j
    current = second_ground_fault_ka(20, z1, z1, z1, 0)
    assert current == pytest.approx(second_ground_fault_ceiling_ka(three_phase_ka(20, z1)))
    assert current / three_phase_ka(20, z1) == pytest.approx(0.85, abs=0.02)


part = st.floats(0.01, 10)


@given(source=part, other=part, line=part, excess=st.floats(0, 10))
def test_no_pair_of_places_draws_more_than_the_ceiling(source, other, line, excess):
    # A line between two sources; its zero-sequence impedance is not below the positive-sequence one.
    whole = source + other + line
    first, second = source * (other + line) / whole, other * (source + line) / whole
    transfer = source * other / whole
    current = second_ground_fault_ka(20, 1j * first, 1j * second, 1j * transfer, 1j * (line + excess))
    strongest = three_phase_ka(20, 1j * min(first, second))
    assert current <= second_ground_fault_ceiling_ka(strongest) * (1 + 1e-12)


def test_what_is_not_on_record_stays_so():
    gap = np.nan
    pairs = np.where(np.eye(5, dtype=bool), gap, 1)
    assert np.isnan(second_ground_fault_ka(*pairs)).all()
    assert np.isnan(second_ground_fault_ceiling_ka(gap))


def test_impossible_values_are_refused():
    with pytest.raises(ValueError, match=r"^voltage_kv must not be negative$"):
        second_ground_fault_ka(-1, 1, 1, 1, 1)
    with pytest.raises(ValueError, match=r"^three_phase_ka must not be negative$"):
        second_ground_fault_ceiling_ka(-1)
