"""Zones that may run on through a ground fault: what it draws, what a second one would draw, and for how long."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.study.bounded import Bounded, of_frame
from groundcheck.study.context import Study
from groundcheck.study.devices.coil_tuning import zone_residual
from groundcheck.study.faults.zone_quantities import charging_bounds
from groundcheck.study.gaps import foreign_field, joined
from groundcheck.study.networks.capacitance import first_bus
from groundcheck.study.standing.run_on_limits import run_on_limits
from groundcheck.study.standing.second_faults import second_faults

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
RUNS_ON = ("ungrounded", "resonant", "high_resistance")
MAY_BE = ("resistance", "None")  # size or source not on record: may turn out to be one of those
NAMES = ["limit_substation", "limit_kind", "limit_asset", "limit_field"]


def standing_fault_tables(study: Study) -> dict[str, pd.DataFrame]:
    """study.standing_fault and study.run_on_limit."""
    zones = study.zones
    classes = zones["grounding_class"].astype(object).where(zones["grounding_class"].notna(), "None")
    wanted = classes.isin([*RUNS_ON, *MAY_BE]).to_numpy(dtype=bool)
    charging = charging_bounds(study)
    standing = _standing(study)
    second = second_faults(study, wanted)
    limits = run_on_limits(study)
    limits = limits[wanted[limits["zone"].to_numpy(dtype=np.int64)]]
    lasts, names = _shortest(limits, len(zones))
    frame = zones[["zone", "substation", "bus", "nominal_kv", "grounding_class", "provisional"]].assign(
        **charging.columns("charging_a"), **standing.columns("standing_a"),
        **second.smallest_ka.columns("second_smallest_ka"), **second.largest_ka.columns("second_largest_ka"),
        **lasts.columns("may_run_s"),
    )  # fmt: skip
    coil = (frame["grounding_class"] == "resonant") & frame["standing_a"].notna()
    frame["provisional"] |= coil.to_numpy(dtype=bool)  # on the damping that the policy takes
    frame = frame.join(names)
    assets = frame.rename(columns={"bus": "asset"}).assign(asset_kind="bus")[["substation", "asset_kind", "asset"]]
    named = limits.assign(zone=study.names.name[limits["zone"].to_numpy(dtype=np.int64)])
    named = named.rename(columns={"value": "bears_s", "low": "bears_s_low", "high": "bears_s_high"})
    return {
        "standing_fault": frame[wanted],
        "run_on_limit": named,
        "blocked": _blocked(study, frame, assets, limits, wanted),
    }


def _standing(study: Study) -> Bounded:
    """Largest line-to-ground current in each zone, in A; beside a coil the residual, losses of the zone included."""
    count, zone = len(study.records.bus), study.topology.zone
    current = of_frame(study.faults.iloc[:count], "line_to_ground_ka")
    residual = zone_residual(study)
    resonant = (study.zones["grounding_class"] == "resonant").to_numpy(dtype=bool)
    ends = []
    for end, left in zip(
        (current.value, current.low, current.high), (residual.value, residual.low, residual.high), strict=True
    ):
        found = np.zeros(study.topology.zone_count)
        with np.errstate(invalid="ignore"):
            np.maximum.at(found, zone, end * 1e3)  # a NaN stays
        ends.append(np.where(resonant, left, found))
    return Bounded(*ends)


def _shortest(limits: pd.DataFrame, count: int) -> tuple[Bounded, pd.DataFrame]:
    """The least of the limits of each zone, and the asset and field of the least that is sure; none: without limit."""
    by_zone = limits.groupby("zone")
    ends = {name: by_zone[name].min().reindex(range(count)).fillna(np.inf) for name in ("value", "low", "high")}
    unknown = limits.loc[limits["value"].isna(), "zone"].unique()
    value = ends["value"].to_numpy(dtype=float, copy=True)
    # One that surely bears nothing settles it, whatever the others.
    settled = ends["high"].to_numpy() <= ends["low"].to_numpy()
    open_zone = np.zeros(count, dtype=bool)
    open_zone[unknown] = True
    value[open_zone & ~settled] = np.nan
    sure = limits.assign(bears=np.fmin(limits["value"], limits["high"]))
    sure = sure[np.isfinite(sure["bears"])]
    first = sure.sort_values(["zone", "bears", "substation", "asset_kind", "asset"]).drop_duplicates("zone")
    names = first.set_index("zone")[["substation", "asset_kind", "asset", "field"]].set_axis(NAMES, axis=1)
    names = names.reindex(range(count)).astype(object)
    return Bounded(value, ends["low"].to_numpy(), ends["high"].to_numpy()), names.where(names.notna(), None)


def _blocked(
    study: Study, frame: pd.DataFrame, assets: pd.DataFrame, limits: pd.DataFrame, wanted: Bools
) -> pd.DataFrame:
    tracer, zone = study.tracer, np.arange(len(frame), dtype=np.int64)
    bus = first_bus(study.topology)

    def missing(name: str) -> Bools:
        return wanted & frame[name].isna().to_numpy(dtype=bool)

    rows = [
        tracer.at_zone(assets, "standing_fault.charging_a", missing("charging_a"), zone, "charging"),
        tracer.at_bus(assets, "standing_fault.standing_a", missing("standing_a"), bus, charging=True),
        tracer.at_zone(assets, "standing_fault.standing_a", missing("standing_a"), zone, "charging"),
    ]
    rows += [
        tracer.at_bus(assets, f"standing_fault.{name}", missing(name), bus, charging=False)
        for name in ("second_smallest_ka", "second_largest_ka")
    ]
    open_limits = limits[limits["value"].isna()]
    at = open_limits["zone"].to_numpy(dtype=np.int64)
    on_fault = (open_limits["waits"] == "fault").to_numpy(dtype=bool)
    may_run, bears = "standing_fault.may_run_s", "run_on_limit.bears_s"
    open_zone = np.zeros(len(frame), dtype=bool)
    open_zone[at[on_fault]] = True
    own = open_limits[["substation", "asset_kind", "asset"]].reset_index(drop=True)
    field = open_limits["field"].to_numpy(dtype=object)
    rows += [
        tracer.at_bus(assets, may_run, open_zone & missing("may_run_s"), bus, charging=True),
        tracer.at_bus(own, bears, on_fault, bus[at], charging=True),
        foreign_field(assets.iloc[at], may_run, missing("may_run_s")[at] & ~on_fault, own, field),
        foreign_field(own, bears, ~on_fault, own, field),
    ]
    return joined(rows)
