"""The star that stands for several windings."""

import numpy as np
import pytest

from groundcheck.engineering import (
    magnetizing_pairs,
    star_admittance,
    star_arms,
    winding_admittance,
    zero_sequence_admittance,
)

HL, HT, LT = 12.0j + 0.3, 20.0j + 0.5, 7.0j + 0.2


def test_star_of_three_windings_is_their_pair_impedances():
    # Two independent ways to one matrix: the star point eliminated, and the pairs inverted.
    ratios = np.array([[1.0, 3.5, 10.0]])
    by_pairs = winding_admittance([HL], [HT], [LT], [3.5], [10.0])
    assert star_admittance(star_arms([HL], [HT], [LT]), ratios) == pytest.approx(by_pairs, rel=1e-9)


def test_third_winding_left_open_leaves_the_two_winding_three_limb_transformer():
    # The magnetizing impedance behind the middle of the leakage: Wang and Lascu, three-legged core type transformers.
    z_m = 60j
    arms = np.array([[HL / 2, HL / 2, 5j, z_m]])
    three = zero_sequence_admittance(star_admittance(arms, np.ones((1, 4))), ("wye", "wye", "open", "delta"))
    two = zero_sequence_admittance(
        winding_admittance([HL], *magnetizing_pairs([HL], [z_m]), [1.0], [1.0]), ("wye", "wye", "delta")
    )
    assert three[0, :2, :2] == pytest.approx(two[0, :2, :2], rel=1e-9)


def test_arm_without_impedance_ties_its_winding_to_the_star_point():
    y = star_admittance(np.array([[2j, 0, 4j]]), np.ones((1, 3)))
    assert y[0, 1, 1] == pytest.approx(1 / 2j + 1 / 4j, rel=1e-6)


def test_shapes_that_do_not_fit_are_refused():
    with pytest.raises(ValueError, match=r"^z_arms of shape \(1, 3\) and ratios of shape \(1, 2\) must"):
        star_admittance(np.ones((1, 3)), np.ones((1, 2)))
