"""Taking an element out of a network by update, against inverting the network without it."""

import numpy as np
import pytest

from groundcheck.engineering import impedance_after, outage_kernel


def random_network(rng, nodes, shunts):
    """Nodal admittance of a random network of resistance and reactance, and one element of it between three nodes."""
    y = np.zeros((nodes, nodes), dtype=complex)
    for a in range(nodes):
        for b in range(a):
            branch = (rng.random() < 0.6 or a == b + 1) / (rng.uniform(0.01, 1) + 1j * rng.uniform(0.1, 10))
            y[[a, b], [a, b]] += branch
            y[[a, b], [b, a]] -= branch
    for node in shunts:
        y[node, node] += 1 / (rng.uniform(0.1, 5) + 1j)
    star = np.diag(1 / (rng.uniform(0.1, 1, 3) + 1j * rng.uniform(1, 5, 3)))
    element = star - star @ np.ones((3, 3)) @ star / star.sum()
    return y, element


@pytest.mark.parametrize("seed", range(20))
def test_update_gives_what_the_inverse_without_the_element_gives(seed):
    rng = np.random.default_rng(seed)
    y, element = random_network(rng, 8, shunts=(0, 5))
    at = rng.choice(8, 3, replace=False)
    whole = y.copy()
    whole[np.ix_(at, at)] += element
    z, expected = np.linalg.inv(whole), np.linalg.inv(y)
    kernel = outage_kernel(z[np.ix_(at, at)][None], element[None])
    row, col = (index.ravel() for index in np.indices((8, 8)))
    found = impedance_after(z[row, col], z[row][:, at], np.repeat(kernel, 64, axis=0), z[at][:, col].T)
    assert found == pytest.approx(expected.ravel(), rel=1e-9)


@pytest.mark.parametrize("seed", range(5))
def test_a_part_that_is_cut_off_does_not_spoil_the_rest(seed):
    # Nodes 0 to 3 with a way to ground; nodes 4 and 5 hang on the element between 3 and 4 alone.
    rng = np.random.default_rng(seed)
    y, _ = random_network(rng, 4, shunts=(0,))
    tie, end = (1 / (0.1 + 1j * rng.uniform(1, 5)) for _ in range(2))
    whole = np.zeros((6, 6), dtype=complex)
    whole[:4, :4] = y
    block = np.array([[1, -1], [-1, 1]])
    whole[np.ix_([3, 4], [3, 4])] += tie * block
    whole[np.ix_([4, 5], [4, 5])] += end * block
    z, at = np.linalg.inv(whole), np.array([3, 4])
    kernel = outage_kernel(z[np.ix_(at, at)][None], (tie * block)[None])
    live = np.arange(4)
    found = impedance_after(z[live, live], z[live][:, at], np.repeat(kernel, 4, axis=0), z[at][:, live].T)
    assert found == pytest.approx(np.diag(np.linalg.inv(y)), rel=1e-9)


def test_a_part_left_to_a_tiny_capacitance_keeps_that_as_its_impedance():
    # Node 0 behind an ohm, which is taken out, with 2e-10 S of capacitance beside it.
    y, left = np.array([[[1.0 + 0j]]]), 2e-10j
    kernel = outage_kernel(1 / (y + left), y, cuts_off=[False])
    z = impedance_after(1 / (y[0, 0] + left), 1 / (y[0] + left), kernel, 1 / (y[0] + left))
    assert z == pytest.approx(1 / left, rel=1e-5)  # 1e-16 of the ohm beside 5e9 ohm


def test_what_is_not_on_record_stays_unknown():
    z = np.array([[[1.0 + 1j]], [[np.nan]]])
    kernel = outage_kernel(z, np.array([[[np.nan]], [[0.5]]]))
    assert np.isnan(kernel).all()


def test_shapes_that_do_not_fit_are_refused():
    with pytest.raises(
        ValueError, match=r"^z_at of shape \(1, 2, 2\) and y_removed of shape \(1, 3, 3\) must be equal"
    ):
        outage_kernel(np.ones((1, 2, 2)), np.ones((1, 3, 3)))
