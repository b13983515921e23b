"""Impedances of machines."""

import numpy as np
import pytest

from groundcheck.engineering import machine_impedance_ohm


def test_subtransient_impedance_of_a_generator():
    # IEC TR 60909-4 network (recalled), G1: 150 MVA, 21 kV, x''d 0.14: 0.4116 ohm by hand.
    assert machine_impedance_ohm(0.14, 0, 21, 150) == pytest.approx(0.4116j, abs=5e-5)


def test_resistance_is_on_the_same_base():
    assert machine_impedance_ohm(0.2, 0.01, 10, 50) == pytest.approx(0.02 + 0.4j)


def test_delta_winding_has_no_zero_sequence_path():
    assert np.isinf(machine_impedance_ohm(np.inf, 0.01, 10, 50))


def test_what_is_not_on_record_stays_so():
    assert np.isnan(machine_impedance_ohm([np.nan, 0.2, 0.2], [0.01, np.nan, 0.01], [10, 10, np.nan], 50)).all()


def test_rating_must_be_positive():
    with pytest.raises(ValueError, match=r"^rated_kv and rated_mva must be positive$"):
        machine_impedance_ohm(0.2, 0, 0, 50)
