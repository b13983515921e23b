"""What each ground relay sees, how many times its pickup that is, and how long it takes."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.engineering import element_time_s
from groundcheck.engineering.relay_elements import DEFINITE
from groundcheck.study.bounded import Bounded, monotone, recorded
from groundcheck.study.context import Study
from groundcheck.study.currents.readings import taken
from groundcheck.study.faults.zone_quantities import naming_bus
from groundcheck.study.gaps import assets_of, joined, own_field
from groundcheck.study.relays.relay_settings import Settings, missing_settings, operating_bounds_s, read_settings
from groundcheck.study.relays.relay_view import View, relay_view

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


def relay_operation_tables(study: Study) -> dict[str, pd.DataFrame]:
    """The rows of study.relay_operation, and what they wait for."""
    view, settings = relay_view(study), read_settings(study.records, study.policy, study.typical)
    frame = _frame(study, view, settings)
    return {"relay_operation": frame, "blocked": _blocked(study, view, settings, frame)}


def operating(settings: Settings, seen: Bounded, tolerance: float) -> Bounded:
    """Operating time at what each relay sees."""
    quick, slow = operating_bounds_s(settings, seen.low, seen.high, tolerance)
    return Bounded(element_time_s(seen.value, settings.element()), quick, slow)


def _frame(study: Study, view: View, settings: Settings) -> pd.DataFrame:
    records, tolerance = study.records, float(study.policy["tolerance.setting"])
    station, tag = records.tags("ground_relay")
    zone = study.measured.zone
    pickup = recorded(settings.pickup, tolerance)
    with np.errstate(divide="ignore", invalid="ignore"):
        multiples = [
            monotone(lambda seen, set_to: seen / set_to, [each], [pickup]) for each in (view.smallest, view.largest)
        ]
    slowest, fastest = (operating(settings, each, tolerance) for each in (view.smallest, view.largest))
    breaker = settings.breaker_s
    clearing = Bounded(
        slowest.value + breaker, slowest.low + np.nan_to_num(breaker),
        np.where(np.isnan(breaker), np.inf, slowest.high + np.nan_to_num(breaker)),
    )  # fmt: skip
    asked = ~view.blind
    trips = records.words("ground_relay", "action") != "alarm"
    minimum = study.faults.loc[study.faults["condition"] == "min", "provisional"].to_numpy(dtype=bool)
    marks = np.asarray(taken(minimum, naming_bus(study, zone), False), dtype=bool)
    return pd.DataFrame(
        {
            "substation": station,
            "ground_relay": tag,
            "quantity_kind": np.where(view.voltage, "voltage", "current"),
            "zone": [study.names.name[z] if z >= 0 else None for z in zone],
            "pickup": settings.pickup,
            **view.smallest.columns("smallest", asked),
            **view.largest.columns("largest", asked),
            **multiples[0].columns("smallest_multiple", asked),
            **multiples[1].columns("largest_multiple", asked),
            **slowest.columns("slowest_s", asked),
            **fastest.columns("fastest_s", asked),
            "breaker_s": breaker,
            **clearing.columns("clearing_s", asked & trips),
            "limited_by": _limits(settings, np.where(asked, slowest.value, np.nan)),
            "provisional": marks | settings.assumed,
        }
    )


def _limits(settings: Settings, slowest_s: Floats) -> NDArray[np.object_]:
    """What the time to clear the weakest fault is mostly made of."""
    word = np.where(settings.curve == DEFINITE, "definite_time", "curve").astype(object)
    word[settings.breaker_s >= slowest_s] = "breaker"
    word[np.isinf(slowest_s)] = "no_pickup"
    word[np.isnan(slowest_s)] = None
    return word


def _blocked(study: Study, view: View, settings: Settings, frame: pd.DataFrame) -> pd.DataFrame:
    """A relay waits for what it measures and its settings; and for whatever the fault waits for."""
    assets = assets_of(study.records, "ground_relay")
    placed = (study.measured.zone >= 0) | (study.measured.device >= 0)
    unseen = np.isnan(view.smallest.value) & ~view.blind
    gaps = {
        "measures": unseen & ~placed,
        **missing_settings(study.records, settings),
        "breaker_time": np.isnan(settings.breaker_s),
    }
    needs = {
        "smallest": ("measures",),
        "smallest_multiple": ("measures", "pickup"),
        "slowest_s": ("measures", "pickup", "curve", "time_dial", "definite_time"),
        "clearing_s": tuple(gaps),
    }
    at = naming_bus(study, study.measured.zone)
    rows = []
    for column, fields in needs.items():
        missing: Bools = frame[column].isna().to_numpy(dtype=bool) & ~frame[f"{column}_low"].isna().to_numpy(dtype=bool)
        name = f"relay_operation.{column}"
        rows += [own_field(assets, name, missing & gaps[field], field) for field in fields]
        rows.append(study.tracer.at_bus(assets, name, missing & unseen & placed, at, charging=True))
    return joined(rows)
