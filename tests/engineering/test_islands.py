"""Connected parts."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.engineering import connected


def test_parts_are_numbered_by_their_first_node():
    assert connected(6, [5, 2], [0, 3]).tolist() == [0, 1, 2, 2, 3, 0]


def test_no_edges_leave_every_node_alone():
    assert connected(3, [], []).tolist() == [0, 1, 2]
    assert connected(0, [], []).tolist() == []


def test_parallel_edges_and_loops_do_not_matter():
    assert connected(2, [0] * 300 + [1], [1] * 300 + [1]).tolist() == [0, 0]


@given(edges=st.lists(st.tuples(st.integers(0, 9), st.integers(0, 9))), seed=st.integers(0, 100))
def test_order_and_direction_of_edges_change_nothing(edges, seed):
    pairs = np.array(edges, dtype=int).reshape(-1, 2)
    shuffled = np.random.default_rng(seed).permutation(pairs)[:, ::-1]
    assert connected(10, pairs[:, 0], pairs[:, 1]).tolist() == connected(10, shuffled[:, 0], shuffled[:, 1]).tolist()


@given(edges=st.lists(st.tuples(st.integers(0, 9), st.integers(0, 9))))
def test_both_ends_of_an_edge_are_in_one_part(edges):
    pairs = np.array(edges, dtype=int).reshape(-1, 2)
    part = connected(10, pairs[:, 0], pairs[:, 1])
    assert (part[pairs[:, 0]] == part[pairs[:, 1]]).all()


def test_edge_to_a_node_that_does_not_exist_is_refused():
    with pytest.raises(ValueError, match=r"^edge_a and edge_b must be from 0 to 2$"):
        connected(3, [0], [3])


def test_edges_need_two_ends():
    with pytest.raises(ValueError, match=r"^edge_a has 2 entries and edge_b 1; they must have as many$"):
        connected(3, [0, 1], [2])
