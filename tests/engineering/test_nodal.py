"""Nodal impedance matrices of many networks."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.engineering import group_by_size, impedance_matrices


def chain(numbers, shunt=0.01j):
    """Entries of networks in which each node is joined by 1j ohm to the next of its network; the first has a shunt."""
    numbers = np.asarray(numbers)
    row, col, y = [], [], []
    for network in np.unique(numbers):
        nodes = np.flatnonzero(numbers == network)
        row += [nodes[0]]
        col += [nodes[0]]
        y += [shunt]
        for a, b in pairwise(nodes):
            row += [a, b, a, b]
            col += [a, b, b, a]
            y += [-1j, -1j, 1j, 1j]
    return numbers, row, col, y


def dense(row, col, y, nodes):
    matrix = np.zeros((nodes, nodes), dtype=complex)
    np.add.at(matrix, (row, col), y)
    return matrix


def test_voltage_divides_along_a_chain():
    # By hand: shunt of 2j ohm at node 0, 1j ohm to node 1: Z = [[2j, 2j], [2j, 3j]].
    z = impedance_matrices([0, 0], [0, 0, 1, 0, 1], [0, 0, 1, 1, 0], [-0.5j, -1j, -1j, 1j, 1j])
    assert z.driving_point() == pytest.approx([2j, 3j])
    assert z.column_values([0, 1], [1, 0]) == pytest.approx([2j, 2j])


@given(numbers=st.lists(st.integers(0, 5), min_size=1, max_size=40))
def test_every_network_is_inverted_as_if_it_were_alone(numbers):
    numbers, row, col, y = chain(numbers, shunt=0.02 - 0.3j)
    z = impedance_matrices(numbers, row, col, y)
    inverse = np.linalg.inv(dense(row, col, y, numbers.size))
    all_rows, all_cols = np.meshgrid(np.arange(numbers.size), np.arange(numbers.size), indexing="ij")
    assert z.column_values(all_rows, all_cols) == pytest.approx(inverse, rel=1e-9)
    assert z.driving_point() == pytest.approx(inverse.diagonal(), rel=1e-9)


def test_networks_do_not_feel_each_other():
    z = impedance_matrices(*chain([0, 1, 0, 1]))
    assert z.column_values(0, 1) == 0
    assert z.column_values(0, 2) != 0


def test_network_without_ground_spoils_no_other():
    numbers, row, col, y = chain([0, 0, 1, 1, 2, 2])
    y[row.index(2)] = 0  # the shunt of network 1
    z = impedance_matrices(numbers, row, col, y).driving_point()
    assert np.isnan(z).tolist() == [False, False, True, True, False, False]


def test_ground_path_lost_in_rounding_is_no_path():
    numbers, row, col, y = chain([0, 0, 0, 1, 1, 1])
    y[row.index(3)] = 1e-15j
    z = impedance_matrices(numbers, row, col, y).driving_point()
    assert np.isnan(z).tolist() == [False] * 3 + [True] * 3


@pytest.mark.parametrize("unknown", [np.nan, np.inf])
def test_network_with_an_entry_not_on_record_is_unknown_throughout(unknown):
    numbers, row, col, y = chain([0, 0, 0, 1, 1, 1])
    y[row.index(1)] = unknown
    z = impedance_matrices(numbers, row, col, y)
    assert np.isnan(z.driving_point()).tolist() == [True] * 3 + [False] * 3
    assert np.isnan(z.column_values(0, 2))
    assert z.column_values(0, 3) == 0


def test_stations_of_very_different_voltage_keep_their_digits():
    # A 400 kV and a 0.4 kV winding of one transformer: admittances a million times apart, ratio 1000.
    ratio, leakage, source = 1000.0, 1 / 50j, 1 / 20j
    z = impedance_matrices(
        [0, 0],
        [0, 0, 0, 1, 1],
        [0, 0, 1, 0, 1],
        [source, leakage, -ratio * leakage, -ratio * leakage, ratio**2 * leakage],
    )
    assert z.driving_point() == pytest.approx([20j, 70j / ratio**2], rel=1e-9)


def test_capacitance_alone_is_a_path_to_ground():
    # 1 nF per phase at 50 Hz against a line of 0.1 ohm.
    shunt = 2j * np.pi * 50 * 1e-9
    z = impedance_matrices([0, 0], [0, 0, 1, 0, 1], [0, 0, 1, 1, 0], [shunt, -10j, -10j, 10j, 10j])
    assert z.driving_point()[0] == pytest.approx(1 / shunt, rel=1e-6)


def test_gaps_in_the_numbers_and_no_nodes_at_all_are_allowed():
    assert np.isfinite(impedance_matrices(*chain([7, 7, 3])).driving_point()).all()
    nothing = impedance_matrices([], [], [], [])
    assert nothing.driving_point().size == 0
    assert nothing.column_values([], []).size == 0


def test_a_large_network_is_inverted_too():
    numbers, row, col, y = chain(np.zeros(600, dtype=int))
    assert impedance_matrices(numbers, row, col, y).driving_point()[-1] == pytest.approx(-100j + 599j, rel=1e-6)


def test_buckets_are_few_and_hold_every_network_once():
    sizes = np.arange(0, 700)
    buckets = group_by_size(sizes)
    assert [width for width, _ in buckets][:12] == [1, 2, 3, 4, 6, 8, 12, 16, 24, 32, 48, 64]
    assert sorted(np.concatenate([members for _, members in buckets]).tolist()) == list(range(1, 700))
    assert all((sizes[members] <= width).all() for width, members in buckets)
    assert len([width for width, _ in buckets if width <= 512]) == 18


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (([-1], [], [], []), "node_network must not be negative"),
        (([0], [0], [0], []), "entries_row, entries_col and entries_y differ in length: 1, 1, 0"),
        (([0], [0], [1], [1]), "entries_row and entries_col must be from 0 to 0"),
        (([0, 1], [0], [1], [1]), "an entry joins two networks; its row and column must be in one"),
    ],
)
def test_entries_that_fit_no_matrix_are_refused(arguments, message):
    with pytest.raises(ValueError, match=f"^{message}$"):
        impedance_matrices(*arguments)


def test_negative_size_is_refused():
    with pytest.raises(ValueError, match=r"^sizes must not be negative$"):
        group_by_size([-1])
