"""Ratios of each zone that tell whether an arcing ground fault can build up overvoltage, and what would cure it."""

from collections.abc import Callable
from itertools import product

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.engineering import (
    high_resistance_criterion_ohm,
    neutral_reactance_ohm,
    r0_over_x0,
    resistor_over_charging,
)
from groundcheck.study.bounded import Bounded, monotone
from groundcheck.study.context import Study
from groundcheck.study.faults.zone_quantities import charging_bounds, current_of_kinds
from groundcheck.study.gaps import joined
from groundcheck.study.networks.bus_faults import CONDITIONS, Solution
from groundcheck.study.networks.capacitance import first_bus, zone_voltage

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ratio = Callable[[Floats, Floats], Floats]
Parts = Callable[[Solution, str], tuple[Floats, Floats]]


def transient_screen_tables(study: Study) -> dict[str, pd.DataFrame]:
    """study.transient_screen: a row for each zone; a ratio is blank where the zone has no such device."""
    policy, zones = study.policy, study.zones
    kv = zone_voltage(study.records, study.topology)
    charging = charging_bounds(study)
    resistor, with_resistor = current_of_kinds(study, ("resistor", "distribution_transformer"))
    with_reactor = _with_reactor(study)
    passed = monotone(resistor_over_charging, [resistor], [charging])
    behind_reactor = _over_corners(study, _reactances, _x0_over_x1, np.maximum)
    behind_resistor = _over_corners(study, _resistances, _r0_over_x0, np.minimum)
    x0, x1 = _worst_reactances(study)
    positive = np.where(kv > 0, kv, np.nan)
    wanted = charging.value * policy["transient.charging_ratio"]
    frame = zones[["zone", "substation", "bus", "nominal_kv", "grounding_class", "provisional"]].assign(
        **charging.columns("charging_a"), **resistor.columns("resistor_a", with_resistor),
        **passed.columns("resistor_over_charging", with_resistor),
        **behind_reactor.columns("x0_over_x1", with_reactor),
        **behind_resistor.columns("r0_over_x0", with_resistor),
        largest_resistance_ohm=np.where(with_resistor, high_resistance_criterion_ohm(positive, wanted), np.nan),
        reactance_change_ohm=np.where(
            with_reactor, neutral_reactance_ohm(x0, x1, policy["transient.reactance_ratio"]), np.nan
        ),
        resistance_change_ohm=np.where(with_resistor, _resistance_change(study), np.nan),
    )  # fmt: skip
    return {"transient_screen": frame, "blocked": _blocked(study, frame, with_resistor, with_reactor)}


def _with_reactor(study: Study) -> Bools:
    """Zones with a reactor in a neutral, or a grounding transformer tied to the mat, and nothing solid beside it."""
    sources = study.sources[study.sources["definite"]]
    tied = (sources["kind"] == "grounding_transformer") & (sources["treatment"] == "solid")
    reactor = (sources["treatment"] == "reactor") | tied
    marks = np.zeros(len(study.zones), dtype=bool)
    marks[sources.loc[reactor, "zone"].to_numpy(dtype=np.int64)] = True
    return marks


def _reactances(solution: Solution, condition: str) -> tuple[Floats, Floats]:
    """X0, infinite where there is no path, and X1."""
    z0, z1 = solution.z0[condition], solution.z1[condition]
    x0 = np.where(np.isinf(z0), np.inf, np.where(np.isnan(z0), np.nan, z0.imag))
    return x0, np.where(np.isnan(z1), np.nan, z1.imag)


def _resistances(solution: Solution, condition: str) -> tuple[Floats, Floats]:
    """R0 and X0; no path leaves no ratio."""
    z0 = solution.z0[condition]
    useless = np.isinf(z0) | np.isnan(z0) | (z0.real < 0)
    return np.where(useless, np.nan, z0.real), np.where(useless, np.nan, z0.imag)


def _x0_over_x1(x0: Floats, x1: Floats) -> Floats:
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.asarray(x0 / x1, dtype=np.float64)


def _r0_over_x0(r0: Floats, x0: Floats) -> Floats:
    return r0_over_x0(np.where(np.isnan(r0 + x0), np.nan, r0 + 1j * x0))


def _over_corners(study: Study, parts: Parts, ratio: Ratio, worst: np.ufunc) -> Bounded:
    """
    The worst over the buses of each zone in both conditions, and its ends over what the record leaves open.

    parts : what stands above and below in the ratio; the ends come from every pair of corners.
    """
    corners = [corner.solution for corner in study.corners]
    value, low, high = (
        np.full(study.topology.zone_count, -np.inf if worst is np.maximum else np.inf) for _ in range(3)
    )
    for condition in CONDITIONS:
        above, below = parts(study.solution, condition)
        own = ratio(above, below)
        pairs = [parts(corner, condition) for corner in corners]
        ends = np.stack([ratio(a, b) for (a, _), (_, b) in product(pairs, pairs)])
        unknown = np.isnan(ends).any(axis=0)
        least, most = np.fmin(ends.min(axis=0), own), np.fmax(ends.max(axis=0), own)
        with np.errstate(invalid="ignore"):
            worst.at(value, study.topology.zone, own)
            worst.at(low, study.topology.zone, np.where(unknown, 0.0, least))
            worst.at(high, study.topology.zone, np.where(unknown, np.inf, most))
    return Bounded(value, low, high)


def _worst_reactances(study: Study) -> tuple[Floats, Floats]:
    """X0 and X1 of the bus of each zone with the largest X0/X1 in the maximum condition."""
    x0, x1 = _reactances(study.solution, "max")
    order = pd.DataFrame({"zone": study.topology.zone, "ratio": _x0_over_x1(x0, x1), "bus": np.arange(x1.size)})
    top = order.sort_values(["zone", "ratio"], ascending=[True, False]).drop_duplicates("zone")
    bus = top.set_index("zone")["bus"].reindex(range(study.topology.zone_count)).to_numpy(dtype=np.int64)
    return np.where(np.isinf(x0[bus]), np.nan, x0[bus]), np.where(x1[bus] > 0, x1[bus], np.nan)


def _resistance_change(study: Study) -> Floats:
    """Ohms to add to the only neutral resistor of a zone for the wanted R0/X0 at every bus; not below zero."""
    r0, x0 = _resistances(study.solution, "max")
    needed = study.policy["transient.resistance_ratio"] * x0 - r0
    found = np.full(study.topology.zone_count, 0.0)
    with np.errstate(invalid="ignore"):
        np.maximum.at(found, study.topology.zone, needed / 3)
    return found


def _blocked(study: Study, frame: pd.DataFrame, with_resistor: Bools, with_reactor: Bools) -> pd.DataFrame:
    tracer, number, bus = study.tracer, np.arange(len(frame), dtype=np.int64), first_bus(study.topology)
    assets = frame.rename(columns={"bus": "asset"}).assign(asset_kind="bus")[["substation", "asset_kind", "asset"]]
    gap = {name: frame[name].isna().to_numpy(dtype=bool) for name in ("charging_a", "x0_over_x1", "r0_over_x0")}
    ratio = "transient_screen.resistor_over_charging"
    unsized = with_resistor & frame["resistor_a"].isna().to_numpy(dtype=bool)
    return joined(
        [
            tracer.at_zone(assets, ratio, gap["charging_a"] & with_resistor, number, "charging"),
            tracer.at_bus(assets, ratio, unsized, bus, charging=False),
            tracer.at_bus(assets, "transient_screen.x0_over_x1", gap["x0_over_x1"] & with_reactor, bus, charging=True),
            tracer.at_bus(assets, "transient_screen.r0_over_x0", gap["r0_over_x0"] & with_resistor, bus, charging=True),
        ]
    )
