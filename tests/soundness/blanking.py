"""Records left blank at random, and what the rules then say."""

from collections.abc import Mapping

import numpy as np
import pandas as pd

from groundcheck.audit.discovery import Rulebook
from groundcheck.audit.engine import run_rules
from groundcheck.policy import Policy
from groundcheck.store import Store
from groundcheck.study import run_study

KEY = ["rule", "substation", "asset_kind", "asset", "item"]
# Ratings, impedances, infeeds and times. Capacitance is not among them: where it is not on record it is left out beside
# a neutral, and the study says so.
BLANKABLE: Mapping[str, tuple[str, ...]] = {
    "bus": ("highest_voltage", "ground_fault_clearing_time"),
    "infeed": (
        "fault_level_3ph", "fault_current_3ph", "x_over_r", "fault_current_1ph", "fault_level_3ph_min",
        "fault_current_3ph_min", "x_over_r_min", "fault_current_1ph_min",
    ),
    "generator": ("xd_subtransient", "x2", "x0", "r"),
    "transformer": ("impedance", "x_over_r", "z0", "hv_tv_impedance", "lv_tv_impedance", "neutral_bil"),
    "line": ("length", "r1", "x1", "r0", "x0"),
    "neutral_device": (
        "resistance", "reactance", "rated_voltage", "rated_current", "rated_time", "continuous_current",
        "secondary_resistance",
    ),
    "grounding_transformer": ("z0", "r0", "rated_neutral_current", "rated_time", "rated_power"),
    "arrester": ("mcov", "rated_voltage"),
    "insulation": ("rated_line_voltage", "rated_ground_voltage", "bil", "cable_insulation_level"),
    "ground_relay": ("pickup", "time_dial", "definite_time", "breaker_time"),
}  # fmt: skip


def answers(store: Store, rulebook: Rulebook, policy: Policy) -> pd.Series:
    """Study and audit the inventory of a store: outcome by rule and asset."""
    run_study(store, policy)
    run_rules(store, rulebook, policy)
    found = store.frame(f"SELECT {', '.join(KEY)}, outcome FROM audit.result")
    return found.fillna({"item": ""}).set_index(KEY)["outcome"]


def blank(store: Store, whole: Mapping[str, pd.DataFrame], share: float, rng: np.random.Generator) -> int:
    """Put the whole inventory back into a store, but for a share of its blankable cells; say how many."""
    count = 0
    for table, fields in BLANKABLE.items():
        frame = whole[table].copy()
        for field in fields:
            gone = frame[field].notna().to_numpy() & (rng.random(len(frame)) < share)
            count += int(gone.sum())
            frame[field] = frame[field].mask(gone)
        store.clear("inventory", table)
        store.write("inventory", table, frame)
    return count


def whole_inventory(store: Store) -> dict[str, pd.DataFrame]:
    """The tables that cells are blanked in, as they stand."""
    return {table: store.frame(f'SELECT * FROM inventory."{table}"') for table in BLANKABLE}


def contradictions(whole: pd.Series, thin: pd.Series) -> list[tuple[str, ...]]:
    """Answers that fewer records turned round, or made of nothing."""
    both = pd.concat({"whole": whole, "thin": thin}, axis=1)
    turned = ((both["whole"] == "satisfied") & (both["thin"] == "exception")) | (
        (both["whole"] == "exception") & (both["thin"] == "satisfied")
    )
    from_nothing = both["whole"].isin(["not_assessable"]) & both["thin"].isin(["satisfied", "exception"])
    return [(*key, *row) for key, row in both[turned | from_nothing].iterrows()]


def decided(outcomes: pd.Series) -> float:
    """Share of answers that are satisfied or exception."""
    return float((outcomes != "not_assessable").mean())
