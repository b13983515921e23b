"""
What a study quantity may be: its value within its bounds, and within those that it had with fewer records.

More draws: GROUNDCHECK_BLANKINGS=n.
"""

import os

import numpy as np
import pytest
from networks.random_networks import random_network
from networks.random_stations import as_frames, together
from soundness.blanking import blank, whole_inventory
from soundness.random_ratings import add_ratings

from groundcheck.ingest import ingest
from groundcheck.policy import load_policy, override_policy
from groundcheck.store import Store
from groundcheck.study import run_study

DRAWS = int(os.environ.get("GROUNDCHECK_BLANKINGS", "1"))
SLACK = 1e-9  # relative
KEYS = {"zone": ["zone"], "bus_stress": ["substation", "bus"], "neutral_duty": ["substation", "neutral_device"],
        "grounding_transformer_duty": ["substation", "grounding_transformer"],
        "device_heating": ["substation", "neutral_device"]}  # fmt: skip


@pytest.fixture(scope="module")
def networks():
    """Twenty networks with relays and clearing times."""
    rng = np.random.default_rng(7)
    store = Store()
    ingest(store, as_frames(together(add_ratings(random_network(3000 + n), rng) for n in range(20))))
    return store, whole_inventory(store)


def studied(store, assumes):
    run_study(store, override_policy(load_policy(), {"assume": {"any": assumes}}))
    return store


def bounded_columns(store):
    """Of each study table, the quantities that have bounds."""
    rows = store.connection.execute(
        "SELECT table_name, list(column_name) FROM information_schema.columns WHERE table_schema = 'study' GROUP BY ALL"
    ).fetchall()
    found = {}
    for table, columns in rows:
        names = [name.removesuffix("_low") for name in columns if name.endswith("_low")]
        found[table] = [name for name in names if {name, f"{name}_high"} <= set(columns)]
    return {table: names for table, names in found.items() if names}


def interval(frame, name):
    return (frame[each].to_numpy(dtype=float, na_value=np.nan) for each in (name, f"{name}_low", f"{name}_high"))


def beyond(inner, low, high):
    """Where something surely lies outside; what is not known lies nowhere."""
    with np.errstate(invalid="ignore"):
        return (inner < low - SLACK * np.abs(np.where(np.isinf(low), 0, low))) | (inner > high * (1 + SLACK))


@pytest.mark.parametrize("assumes", [False, True])
@pytest.mark.parametrize("share", [0.0, 0.05, 0.25, 0.5])
@pytest.mark.parametrize("draw", range(DRAWS))
def test_value_lies_within_its_bounds(networks, assumes, share, draw):
    store, whole = networks
    blank(store, whole, share, np.random.default_rng([draw, int(100 * share)]))
    studied(store, assumes)
    outside, known = [], 0
    for table, names in bounded_columns(store).items():
        frame = store.frame(f'SELECT * FROM study."{table}"')
        for name in names:
            value, low, high = interval(frame, name)
            known += int((~np.isnan(value)).sum())
            wrong = beyond(value, low, high) | beyond(low, low, high)
            outside += [(table, name, *frame.iloc[row, :4]) for row in np.flatnonzero(wrong)]
    assert outside == []
    assert known > 1000


@pytest.mark.parametrize("share", [0.05, 0.25, 0.5])
@pytest.mark.parametrize("draw", range(DRAWS))
def test_filling_a_blank_leaves_a_duration_within_its_earlier_bounds(networks, share, draw):
    store, whole = networks
    blank(store, whole, 0.0, np.random.default_rng(0))
    studied(store, False)
    before = {table: store.frame(f"SELECT * FROM study.{table}").set_index(key) for table, key in KEYS.items()}
    blank(store, whole, share, np.random.default_rng([draw, int(100 * share)]))
    studied(store, False)
    outside = []
    for table, key in KEYS.items():
        name = "clearing_time_s" if table == "zone" else "duration_s"
        thin = store.frame(f"SELECT * FROM study.{table}").set_index(key).reindex(before[table].index)
        value, low, high = interval(before[table], name)
        settled, wider_low, wider_high = interval(thin, name)
        wrong = beyond(value, wider_low, wider_high) | beyond(low, wider_low, wider_high)
        wrong |= beyond(high, wider_low, wider_high)
        # What was known stays as it was, but for the current that a relay sees.
        wrong |= beyond(settled, low, high)
        at = np.flatnonzero(wrong)
        numbers = np.stack([value, low, high, settled, wider_low, wider_high], axis=1)
        outside += [(table, before[table].index[row], *numbers[row]) for row in at]
    assert outside == []
