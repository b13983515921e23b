"""Voltage factor of IEC 60909-0."""

import numpy as np
import pytest

from groundcheck.engineering import voltage_factor_max, voltage_factor_min

VOLTAGES = [0.4, 1.0, 1.1, 20.0, 380.0]


# IEC 60909-0:2016, table 1 (recalled); the factors also stand in the tests of pandapower (build_bus.py).
@pytest.mark.parametrize(
    ("factor", "tolerance", "expected"),
    [
        (voltage_factor_max, 6.0, [1.05, 1.05, 1.10, 1.10, 1.10]),
        (voltage_factor_max, 10.0, [1.10, 1.10, 1.10, 1.10, 1.10]),
        (voltage_factor_min, 6.0, [0.95, 0.95, 1.00, 1.00, 1.00]),
        (voltage_factor_min, 10.0, [0.90, 0.90, 1.00, 1.00, 1.00]),
    ],
)
def test_factor_is_that_of_the_table(factor, tolerance, expected):
    assert factor(VOLTAGES, tolerance).tolist() == expected


@pytest.mark.parametrize("factor", [voltage_factor_max, voltage_factor_min])
def test_unknown_voltage_has_no_factor(factor):
    assert np.isnan(factor([np.nan])).all()


@pytest.mark.parametrize("factor", [voltage_factor_max, voltage_factor_min])
def test_only_the_two_tolerances_of_the_table_have_a_factor(factor):
    with pytest.raises(ValueError, match=r"^low_voltage_tolerance \(8 %\) must be 6 or 10$"):
        factor(0.4, 8.0)


@pytest.mark.parametrize("factor", [voltage_factor_max, voltage_factor_min])
def test_voltage_must_be_positive(factor):
    with pytest.raises(ValueError, match=r"^nominal_kv must be positive$"):
        factor([20.0, 0.0])
