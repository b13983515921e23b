"""
What fewer records may change: an answer may be lost, never turned round.

Without assumptions, since a typical value is a guess that the right one may contradict; what rests on one is said to be
provisional. More draws: GROUNDCHECK_BLANKINGS=n.
"""

import os
from pathlib import Path

import numpy as np
import pytest
from networks.random_networks import random_network
from networks.random_stations import as_frames, together
from soundness.blanking import answers, blank, contradictions, decided, whole_inventory
from soundness.random_ratings import add_ratings

from groundcheck.audit.discovery import load_rulebooks
from groundcheck.ingest import ingest
from groundcheck.policy import load_policy, override_policy
from groundcheck.store import Store

SAMPLE = Path(__file__).parents[2] / "sample_inventory"
DRAWS = int(os.environ.get("GROUNDCHECK_BLANKINGS", "1"))
FEWEST_DECIDED = {0.25: 0.79, 0.5: 0.75}  # measured on the sample fleet: 0.81 to 0.82, and 0.77 to 0.78


def nothing_assumed():
    return override_policy(load_policy(), {"assume": {"any": False}})


@pytest.fixture(scope="module")
def book():
    return load_rulebooks(try_queries=False)


@pytest.fixture(scope="module")
def sample(book):
    store = Store()
    ingest(store, [SAMPLE])
    return store, whole_inventory(store), answers(store, book, nothing_assumed())


@pytest.fixture(scope="module")
def networks(book):
    """Twenty networks, whose equipment is now and then unsound."""
    rng = np.random.default_rng(7)
    store = Store()
    ingest(store, as_frames(together(add_ratings(random_network(3000 + n), rng) for n in range(20))))
    return store, whole_inventory(store), answers(store, book, nothing_assumed())


@pytest.mark.parametrize("share", [0.25, 0.5])
@pytest.mark.parametrize("draw", range(DRAWS))
def test_blanks_turn_no_answer_of_the_sample_fleet(sample, book, share, draw):
    store, whole, before = sample
    assert blank(store, whole, share, np.random.default_rng([draw, int(100 * share)])) > 100
    after = answers(store, book, nothing_assumed())
    assert contradictions(before, after) == []
    assert decided(after) > FEWEST_DECIDED[share]


@pytest.mark.parametrize("share", [0.05, 0.25, 0.5])
@pytest.mark.parametrize("draw", range(DRAWS))
def test_blanks_turn_no_answer_of_random_networks(networks, book, share, draw):
    store, whole, before = networks
    assert blank(store, whole, share, np.random.default_rng([draw, int(100 * share)])) > 50
    assert contradictions(before, answers(store, book, nothing_assumed())) == []


def test_random_networks_have_all_outcomes(networks):
    _, _, before = networks
    for rule in ("insulation/healthy-phase-voltage", "arresters/continuous-voltage", "neutral-devices/rated-current",
                 "detection/reach"):  # fmt: skip
        assert {"satisfied", "exception"} <= set(before[before.index.get_level_values("rule") == rule])
