"""Nodal admittance of transformers."""

from math import sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.engineering import (
    line_to_ground_ka,
    magnetizing_pairs,
    two_winding_admittance,
    winding_admittance,
    zero_sequence_admittance,
)

part = st.floats(0.5, 20)
leakage = st.builds(complex, part, part)
ratio = st.floats(0.2, 50)


def shunt_ohm(y):
    return 1 / y[0]


@given(z=leakage, n=ratio)
def test_delta_winding_blocks_zero_sequence(z, n):
    y = zero_sequence_admittance(two_winding_admittance(z, n), ("wye", "delta"))
    assert shunt_ohm(y[:, 0, 0]) == pytest.approx(z)
    assert (y[:, 1, :] == 0).all()
    assert (y[:, :, 1] == 0).all()


@given(z=leakage, n=ratio)
def test_delta_wye_is_a_shunt_at_the_low_side_in_its_own_ohms(z, n):
    y = zero_sequence_admittance(two_winding_admittance(z, n), ("delta", "wye"))
    assert shunt_ohm(y[:, 1, 1]) == pytest.approx(z / n**2)


@pytest.mark.parametrize(
    "connections", [("open", "wye"), ("wye", "open"), ("delta", "delta"), ("open", "delta"), ("open", "open")]
)
def test_without_delta_or_second_neutral_there_is_no_ground_source(connections):
    y = zero_sequence_admittance(two_winding_admittance([3j, np.nan], 7.3), connections)
    assert (y == 0).all()


@given(z=leakage, n=ratio)
def test_two_grounded_wyes_couple_the_zones(z, n):
    y = zero_sequence_admittance(two_winding_admittance(z, n), ("wye", "wye"))
    assert y[0, 0, 1] == pytest.approx(-n / z)
    assert y[0, 1, 1] == pytest.approx(n * n / z)


def pair(percent, resistance, own_percent, own_resistance, mva):
    """Pair impedance in ohm at 400 kV with the correction factor of IEC 60909-0, as in the published example."""
    reactance = sqrt(own_percent**2 - own_resistance**2)
    factor = 0.95 * 1.1 / (1 + 0.6 * reactance)
    return factor * complex(resistance, sqrt(percent**2 - resistance**2)) * 400**2 / mva


# Three-winding 400/120/30 kV transformer behind 380 kV, 1000 MVA, R/X 0.1, X0/X1 1, R0/X0 0.1, c = 1.1; currents to
# 1e-6 kA as asserted by a public short-circuit program against commercial results.
@pytest.mark.parametrize(
    ("connections", "bus", "published_ka"),
    [
        (("wye", "open", "delta"), "H", 1.783257),
        (("open", "wye", "delta"), "L", 3.339398),
        (("wye", "wye", "delta"), "L", 3.499335),
    ],
)
def test_published_three_winding_example(connections, bus, published_ka):
    magnitude = 1.1 * 380**2 / 1000
    reactance = magnitude / sqrt(1.01)
    source = complex(0.1 * reactance, reactance)
    hl1 = pair(0.21, 0.0026, 0.21, 0.0026, 350)
    hl0 = pair(0.441, 0.0026, 0.21, 0.0026, 350)
    lt0 = pair(0.062996, 0.0003714, 0.07, 0.0016, 50)
    ht0 = pair(0.062996, 0.0003714, 0.10, 0.0016, 50)
    y0 = zero_sequence_admittance(winding_admittance(hl0, ht0, lt0, 400 / 120, 400 / 30), connections)[0]
    y0[0, 0] += 1 / source
    z0 = np.linalg.inv(y0[:2, :2] + np.diag([0, 1e-12]) * (connections[1] == "open"))
    if bus == "H":
        current = line_to_ground_ka(1.1 * 380, source, source, z0[0, 0])
    else:
        z1 = (source + hl1) * (120 / 400) ** 2
        current = line_to_ground_ka(1.1 * 110, z1, z1, z0[1, 1])
    assert current == pytest.approx(published_ka, abs=1e-6)


# Two-winding 115/21 kV, 150 MVA, Dyn and YNd (same program): 17.245191 kA at 20 kV, 6.324033 kA at 110 kV.
def test_published_two_winding_example():
    reactance = 1.1 * 110**2 / 1000 / sqrt(1.01)
    source = complex(0.1 * reactance, reactance)
    per_unit = 115**2 / 150
    factor = 0.95 * 1.1 / (1 + 0.6 * sqrt(0.16**2 - 0.005**2))
    positive = factor * complex(0.005, sqrt(0.16**2 - 0.005**2)) * per_unit
    windings = two_winding_admittance(factor * complex(0.005, sqrt(0.152**2 - 0.005**2)) * per_unit, 115 / 21)

    low = zero_sequence_admittance(windings, ("delta", "wye"))[0, 1, 1]
    z1 = (source + positive) * (21 / 115) ** 2
    assert line_to_ground_ka(22, z1, z1, 1 / low) == pytest.approx(17.245191, abs=1e-6)

    high = zero_sequence_admittance(windings, ("wye", "delta"))[0, 0, 0]
    assert line_to_ground_ka(121, source, source, 1 / (high + 1 / source)) == pytest.approx(6.324033, abs=1e-6)


def test_autotransformer_grounded_through_an_impedance():
    # Derived, equal to the direct solution of the circuit: V_H/V_L = 2.5, Zn = 4 ohm, star 3j, 2j, 9j ohm at H, L
    # shorted to ground; 0.153249 A into H per volt (six digits).
    n, neutral_ohm = 2.5, 4.0
    windings = winding_admittance(3j + 2j, 3j + 9j, 2j + 9j, n, 10.0)
    y = zero_sequence_admittance(windings, ("wye", "wye", "delta"))[0]
    # Nodes H, L, common neutral N: a winding's voltage is its terminal less N.
    to_nodes = np.array([[1, 0, -1], [0, 1, -1], [0, 0, 0]])
    nodal = to_nodes.T @ y @ to_nodes
    nodal[2, 2] += 1 / (3 * neutral_ohm)
    at_neutral = -nodal[2, 0] / nodal[2, 2]
    assert abs(nodal[0, 0] + nodal[0, 2] * at_neutral) == pytest.approx(0.153249, abs=5e-7)


@given(z_h=leakage, z_l=leakage, z_t=leakage, neutral=part, n=st.floats(1.2, 6))
def test_autotransformer_star_has_the_textbook_neutral_terms(z_h, z_l, z_t, neutral, n):
    # Derived: -3Zn(n-1) in H, 3Zn n(n-1) in L, 3Zn n in T, all in ohms of H.
    y = zero_sequence_admittance(winding_admittance(z_h + z_l, z_h + z_t, z_l + z_t, n, 3.0), ("wye", "wye", "delta"))[
        0
    ]
    to_nodes = np.array([[1, 0, -1], [0, 1, -1], [0, 0, 0]])
    nodal = to_nodes.T @ y @ to_nodes
    nodal[2, 2] += 1 / (3 * neutral)
    seen = nodal[:2, :2] - np.outer(nodal[:2, 2], nodal[2, :2]) / nodal[2, 2]

    h, low, t = z_h - 3 * neutral * (n - 1), z_l + 3 * neutral * n * (n - 1), z_t + 3 * neutral * n
    star = np.linalg.inv(np.array([[h + t, t], [t, low + t]]))
    assert seen == pytest.approx(star * np.outer([1, n], [1, n]), rel=1e-6)


@given(z=leakage, magnetizing=leakage, n=ratio)
def test_three_limb_core_grounds_a_wye_weakly(z, magnetizing, n):
    z_ht, z_lt = magnetizing_pairs(z, magnetizing)
    y = zero_sequence_admittance(winding_admittance(z, z_ht, z_lt, n, 1), ("open", "wye", "delta"))
    assert shunt_ohm(y[:, 1, 1]) == pytest.approx((z / 2 + magnetizing) / n**2)


def test_core_without_tank_path_grounds_nothing():
    z_ht, z_lt = magnetizing_pairs(5j, [np.inf, 30j])
    y = zero_sequence_admittance(winding_admittance(5j, z_ht, z_lt, 7.3, 1), ("open", "wye", "delta"))
    assert (y[0] == 0).all()
    assert y[1, 1, 1] != 0


@given(hl=leakage, ht=leakage, lt=leakage, n=ratio)
def test_open_tertiary_leaves_the_two_winding_transformer(hl, ht, lt, n):
    three = zero_sequence_admittance(winding_admittance(hl, ht, lt, n, 9.0), ("wye", "wye", "open"))
    two = two_winding_admittance(hl, n)
    assert three[:, :2, :2] == pytest.approx(two, rel=1e-6)


@given(hl=leakage, ht=leakage, lt=leakage, n=ratio, m=ratio)
def test_equal_volts_per_turn_drive_no_current(hl, ht, lt, n, m):
    y = winding_admittance(hl, ht, lt, n, m)[0]
    assert y @ np.array([1, 1 / n, 1 / m]) == pytest.approx(np.zeros(3), abs=1e-9 * abs(y).max())


def test_a_batch_gives_what_each_transformer_gives():
    hl, ht, lt = np.array([3j, 4j, 5j]), np.array([6j, 7j, 8j]), np.array([5j, 5j, np.nan])
    batch = zero_sequence_admittance(winding_admittance(hl, ht, lt, 2, 3), ("wye", "open", "delta"))
    for i in range(3):
        single = zero_sequence_admittance(winding_admittance(hl[i], ht[i], lt[i], 2, 3), ("wye", "open", "delta"))
        assert np.array_equal(batch[i], single[0], equal_nan=True)


def test_what_is_not_on_record_stays_so():
    assert np.isnan(winding_admittance(3j, np.nan, 5j, 2, 3)).all()
    y = zero_sequence_admittance(two_winding_admittance(np.nan, 2), ("wye", "delta"))
    assert np.isnan(y[0, 0, 0])
    assert np.isnan(magnetizing_pairs(3j, np.nan)).all()


def test_pairs_that_no_transformer_has_give_no_answer():
    assert np.isnan(winding_admittance(4j, 1j, 1j, 2, 3)).all()


def test_infinite_leakage_couples_nothing():
    assert (two_winding_admittance(np.inf, 2) == 0).all()


def test_zero_leakage_is_refused():
    with pytest.raises(ValueError, match=r"^z_hl must not be zero$"):
        two_winding_admittance(0, 2)
    with pytest.raises(ValueError, match=r"^z_hl, z_ht and z_lt must not be zero$"):
        winding_admittance(1j, 0, 1j, 2, 2)
    with pytest.raises(ValueError, match=r"^z_m must not be zero$"):
        magnetizing_pairs(1j, 0)


def test_ratio_must_be_positive():
    with pytest.raises(ValueError, match=r"^ratio_l must be positive$"):
        two_winding_admittance(1j, 0)
    with pytest.raises(ValueError, match=r"^ratio_l and ratio_t must be positive$"):
        winding_admittance(1j, 1j, 1j, 2, -1)


def test_unknown_connection_is_refused():
    with pytest.raises(ValueError, match=r"^connection 'star' is none of wye, open, delta$"):
        zero_sequence_admittance(two_winding_admittance(1j, 2), ("wye", "star"))


def test_connections_must_fit_the_windings():
    with pytest.raises(ValueError, match=r"^y_windings of shape \(1, 2, 2\) does not fit 3 connections$"):
        zero_sequence_admittance(two_winding_admittance(1j, 2), ("wye", "wye", "delta"))
