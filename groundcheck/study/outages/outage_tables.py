"""Each ground source out of service in turn: what is left of the zones that it grounds or feeds."""

from collections.abc import Callable

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.study.bounded import Bounded
from groundcheck.study.context import Study
from groundcheck.study.faults.zone_classes import classify_by_sources, deciding_cog
from groundcheck.study.networks.zones import zone_extreme
from groundcheck.study.outages.bus_quantities import BusesAfter, larger
from groundcheck.study.outages.listed import list_outages, tags_of
from groundcheck.study.outages.pairs import Pairs, find_pairs
from groundcheck.study.outages.relays import outage_relay_table
from groundcheck.study.outages.waiting import outage_gaps

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
WORSE = 1 + 1e-6  # of the healthy-phase voltage before: less than that is rounding


def outage_tables(study: Study) -> dict[str, pd.DataFrame]:
    """Rows of study.source_outage, outage_bus and outage_relay, and what they wait for."""
    outages = list_outages(study)
    pairs = find_pairs(study, outages)
    after = BusesAfter(study, pairs)
    tags = tags_of(study, outages)
    zones = _zone_rows(study, pairs, after, tags)
    buses = _bus_rows(study, after, tags)
    relays = outage_relay_table(study, pairs, after, tags)
    return {
        "source_outage": zones,
        "outage_bus": buses,
        "outage_relay": relays,
        "blocked": outage_gaps(study, pairs, after.pair_by_charging, zones, buses, relays),
    }


def _zone_rows(study: Study, pairs: Pairs, after: BusesAfter, tags: pd.DataFrame) -> pd.DataFrame:
    count = len(pairs.rows)
    zone = pairs.rows["zone"].to_numpy(dtype=np.int64)
    kv = study.zones["nominal_kv"].to_numpy(dtype=float)[zone]
    healthy = larger(*(after.over_pairs(after.healthy[c], np.maximum, count) for c in ("max", "min")))
    cog = Bounded(*(end / kv for end in (healthy.value, healthy.low, healthy.high)))
    before = _cog_before(study).take(zone)
    dead = pairs.column("dead")
    smallest = after.over_pairs(after.line_to_ground["min"], np.minimum, count)
    largest = after.over_pairs(after.line_to_ground["max"], np.maximum, count)
    provisional = study.faults["provisional"].to_numpy(dtype=bool).reshape(2, -1).any(axis=0)
    of_zone = zone_extreme(study.topology, provisional.astype(float), largest=True) > 0
    return tags.iloc[pairs.rows["outage"]].assign(
        zone=study.names.name[zone],
        result=_results(pairs, before, cog, float(study.policy["grounding.effective_cog"])),
        sources_left=pairs.rows["left"].to_numpy(dtype=np.int64),
        grounding_class=_classes(study, pairs, cog, kv),
        **before.columns("cog_before"),
        **cog.columns("cog", ~dead),
        **healthy.columns("healthy_phase_kv", ~dead),
        **smallest.columns("line_to_ground_ka", ~dead),
        **largest.columns("largest_line_to_ground_ka", ~dead),
        provisional=of_zone[zone],
    )


def _results(pairs: Pairs, before: Bounded, cog: Bounded, limit: float) -> NDArray[np.object_]:
    """A zone that was not effectively grounded is kept as long as it has a ground source at all."""
    effective, ineffective = (_settled(cog, side) for side in (lambda x: x <= limit, lambda x: x > limit))
    was, was_not = (_settled(before, side) for side in (lambda x: x <= limit, lambda x: x > limit))
    marks = [pairs.column(name) for name in ("dead", "doubtful", "ungrounded", "unsure")]
    found: NDArray[np.object_] = np.select(
        [*marks, was_not, effective, ineffective & was],
        ["dead", "unknown", "ungrounded", "unknown", "kept", "kept", "lost_effectiveness"],
        default="unknown",
    ).astype(object)
    return found


def _settled(quantity: Bounded, side: Callable[[Floats], Bools]) -> Bools:
    """Where a quantity is surely on a side of the limit."""
    with np.errstate(invalid="ignore"):
        return np.where(np.isnan(quantity.value), side(quantity.low) & side(quantity.high), side(quantity.value))


def _classes(study: Study, pairs: Pairs, cog: Bounded, kv: Floats) -> NDArray[np.object_]:
    """Grounding class of the zone with the outage; none where it is dead, or a record decides."""
    rows = pairs.rows
    none_before = ~study.zones["has_ground_source"].fillna(True).to_numpy(dtype=bool)
    none = pairs.column("ungrounded") | (pairs.column("apart") & none_before[rows["zone"].to_numpy(dtype=np.int64)])
    known = ((rows["left"] > 0).to_numpy() | none) & ~pairs.column("dead")
    deciding = deciding_cog(cog.value, cog.low, cog.high, float(study.policy["grounding.effective_cog"]))
    left = pairs.left.assign(zone=pairs.left["pair"])
    return classify_by_sources(
        study.records, study.neutrals, left, deciding, kv, known & ~pairs.column("doubtful"), study.policy
    )


def _bus_rows(study: Study, after: BusesAfter, tags: pd.DataFrame) -> pd.DataFrame:
    """Buses whose healthy phases rise further, or may."""
    faults = study.faults[study.faults["condition"] == "max"]
    before = Bounded(
        *(faults[f"healthy_phase_kv{end}"].to_numpy(dtype=float)[after.bus] for end in ("", "_low", "_high"))
    )
    healthy = after.healthy["max"]
    with np.errstate(invalid="ignore"):
        known = ~np.isnan(before.value) & ~np.isnan(healthy.value)
        least = np.where(np.isnan(before.value), before.low, before.value)
        most = np.where(np.isnan(healthy.value), healthy.high, healthy.value)
        worse = np.where(known, healthy.value > before.value * WORSE, ~(most <= least * WORSE))
    at = np.flatnonzero(worse)
    bus, records = after.bus[at], study.records.bus

    def chosen(of: Bounded) -> Bounded:
        return Bounded(of.value[at], of.low[at], of.high[at])

    return tags.iloc[after.outage[at]].assign(
        substation=records["substation"].to_numpy(dtype=object)[bus],
        bus=records["bus"].to_numpy(dtype=object)[bus],
        **chosen(healthy).columns("healthy_phase_kv"),
        **chosen(after.line_to_ground["max"]).columns("line_to_ground_ka"),
        provisional=faults["provisional"].to_numpy(dtype=bool)[bus],
    )


def _cog_before(study: Study) -> Bounded:
    """Largest coefficient of grounding of each zone with all in service."""

    def largest(end: str) -> Floats:
        by_bus = study.faults[f"cog{end}"].to_numpy(dtype=float).reshape(2, -1).max(axis=0)
        return zone_extreme(study.topology, by_bus, largest=True)

    return Bounded(largest(""), largest("_low"), largest("_high"))
