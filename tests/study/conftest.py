"""A small inventory, as frames, through ingest and study."""

from collections.abc import Callable
from typing import Any

import pandas as pd
import pytest

from groundcheck.ingest import ingest
from groundcheck.policy import load_policy, override_policy
from groundcheck.store import Store
from groundcheck.study import run_study

Rows = dict[str, list[dict[str, Any]]]
Study = Callable[..., Store]


MOST_KEPT = 30  # of 10 MB each


@pytest.fixture(scope="session")
def study() -> Study:
    """
    Give a function that studies rows of one station, or of those they name.

    The latest stores are kept, since many tests ask about the same record; a test only reads them.
    """
    kept: dict[str, Store] = {}

    def run(rows: Rows, policy: dict[str, Any] | None = None) -> Store:
        record = repr((rows, policy))
        store = kept.pop(record) if record in kept else _studied(rows, policy or {})
        kept[record] = store
        if len(kept) > MOST_KEPT:
            del kept[next(iter(kept))]
        return store

    return run


def _studied(rows: Rows, policy: dict[str, Any]) -> Store:
    store = Store()
    named = {table: pd.DataFrame([{"substation": "ELM", **row} for row in each]) for table, each in rows.items()}
    ingest(store, named)
    run_study(store, override_policy(load_policy(), policy))
    return store


@pytest.fixture
def station() -> Rows:
    """110 kV infeed, 40 MVA YNd to 20 kV with a zigzag and a resistor, 10 MVA Dyn to 6.6 kV with a resistor."""
    return {
        "substation": [{"frequency": 50.0}],
        "bus": [
            {"bus": "H", "nominal_voltage": 110.0, "ground_fault_clearing_time": 0.5},
            {"bus": "M", "nominal_voltage": 20.0, "ground_fault_clearing_time": 1.0},
            {"bus": "L", "nominal_voltage": 6.6, "ground_fault_clearing_time": 1.5},
        ],
        "infeed": [
            {"infeed": "Q", "bus": "H", "fault_level_3ph": 1000.0, "x_over_r": 10.0, "fault_current_1ph": 5.0,
             "grounded": True}
        ],
        "transformer": [
            {"transformer": "T1", "hv_bus": "H", "lv_bus": "M", "rated_power": 40.0, "hv_voltage": 110.0,
             "lv_voltage": 20.0, "vector_group": "YNd11", "impedance": 12.0, "x_over_r": 20.0, "z0": 12.0},
            {"transformer": "T2", "hv_bus": "M", "lv_bus": "L", "rated_power": 10.0, "hv_voltage": 20.0,
             "lv_voltage": 6.6, "vector_group": "Dyn11", "impedance": 8.0, "x_over_r": 15.0, "z0": 8.0},
        ],
        "grounding_transformer": [{"grounding_transformer": "GT", "bus": "M", "connection": "zigzag", "z0": 15.0}],
        "neutral_device": [
            {"neutral_device": "LINK", "connected_to": "T1", "winding": "hv", "kind": "solid"},
            {"neutral_device": "NR1", "connected_to": "GT", "kind": "resistor", "resistance": 20.0},
            {"neutral_device": "NR2", "connected_to": "T2", "winding": "lv", "kind": "resistor", "resistance": 9.5},
        ],
    }  # fmt: skip
