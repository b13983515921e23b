"""Rows of the table of characteristics of grounding: IEEE Std C62.92.1 (recalled)."""

import numpy as np
import pytest

from groundcheck.engineering import classify_bus


def of(x, r, share=0.5, path=True, coil=False):
    return classify_bus([x], [r], [share], [path], [coil])[0]


@pytest.mark.parametrize(
    ("x", "r", "share", "name"),
    [
        (0.9, 0.1, 1.0, "very_effective"),
        (1.0, 0.2, 0.95, "effective"),
        (3.0, 1.0, 0.6, "effective"),
        (3.1, 1.0, 0.58, "low_inductance"),
        (10.0, 0.9, 0.25, "low_inductance"),
        (11.0, 0.9, 0.23, "high_inductance"),
        (5.0, 10.0, 0.2, "low_resistance"),
        (11.0, 23.0, 0.1, "inductance_and_resistance"),
        (-90.0, 120.0, 0.009, "high_resistance"),
        (2.0, 120.0, 0.02, "low_resistance"),
        (-41.0, 0.1, 0.07, "ungrounded_a"),
        (-39.0, 0.1, 0.08, "ungrounded_b"),
        (2.0, 1.5, 0.6, "none"),
    ],
)
def test_ratios_fall_into_the_row_of_the_table(x, r, share, name):
    assert of(x, r, share) == name


def test_share_of_an_effective_bus_is_above_three_fifths():
    # The table's column of current: 3/|2 + K| for pure reactances, 60 % at K = 3, 25 % at K = 10.
    k = np.linspace(0, 10, 101)
    names = classify_bus(k, np.zeros(101), 3 / (2 + k), np.ones(101, bool), np.zeros(101, bool))
    assert (3 / (2 + k))[np.isin(names, ("very_effective", "effective"))].min() == pytest.approx(0.6)
    assert (3 / (2 + k))[names == "low_inductance"].min() == pytest.approx(0.25)


def test_without_a_path_it_is_ungrounded_whatever_the_ratios():
    assert of(np.nan, np.nan, 0.0, path=False) == "ungrounded_a"


def test_a_coil_alone_makes_it_resonant():
    assert of(500.0, 900.0, 0.001, coil=True) == "resonant"


def test_ratios_not_on_record_leave_it_open():
    assert of(np.nan, 1.0) is None


def test_negative_share_is_refused():
    with pytest.raises(ValueError, match=r"^ground_fault_share must not be negative$"):
        of(1.0, 1.0, -0.1)
