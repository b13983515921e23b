"""By how much each relay waits for the one that it backs up."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.engineering import Element, element_time_s, least_interval_s
from groundcheck.study.bounded import Bounded
from groundcheck.study.context import Study
from groundcheck.study.currents.readings import taken
from groundcheck.study.faults.zone_quantities import naming_bus
from groundcheck.study.gaps import assets_of, foreign_field, joined
from groundcheck.study.records import Records, index_of
from groundcheck.study.relays.relay_settings import Settings, missing_settings, read_settings
from groundcheck.study.relays.relay_view import View, relay_view

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
BATCH = 4000  # pairs of which the curves are searched at once


def coordination_tables(study: Study) -> dict[str, pd.DataFrame]:
    """The rows of study.coordination, and what they wait for."""
    waits, goes = _pairs(study.records)
    view, settings = relay_view(study), read_settings(study.records, study.policy, study.typical)
    frame = _frame(study, view, settings, waits, goes)
    return {"coordination": frame, "blocked": _blocked(study, view, settings, frame, waits, goes)}


def _pairs(records: Records) -> tuple[Ints, Ints]:
    """Relays with one that they back up, and that one."""
    mentions = records.references
    mentions = mentions[(mentions["asset_kind"] == "ground_relay") & (mentions["field"] == "backs_up")]
    relays = index_of(records.tables["ground_relay"], "ground_relay")
    waits = relays.get_indexer(pd.MultiIndex.from_frame(mentions[["substation", "asset"]]))
    goes = relays.get_indexer(pd.MultiIndex.from_frame(mentions[["target_substation", "target"]]))
    both = (waits >= 0) & (goes >= 0) & (waits != goes)
    return waits[both].astype(np.int64), goes[both].astype(np.int64)


def interval_bounds(
    view: View, settings: Settings, waits: Ints, goes: Ints, tolerance: float
) -> tuple[Bounded, Floats, Floats]:
    """
    Least interval of each pair, and what both see there.

    Each relay has its own range, from what it sees in the weakest fault to what it sees in the strongest: one in a
    neutral sees a share of what one in a feeder sees. Both are taken to go from end to end together. Over the ends of
    both ranges and of the settings, the interval of a fast backup behind a slow relay is the least that there is; with
    either range open, nothing is known of it.
    """
    known = [~np.isnan(each.value) for each in (view.smallest, view.largest)]
    usable = (known[0] & known[1])[waits] & (known[0] & known[1])[goes]
    least, at_waits, at_goes = (np.full(waits.size, np.nan) for _ in range(3))
    rows = np.flatnonzero(usable & ~_gaps(settings)[waits] & ~_gaps(settings)[goes])
    ranges = [_range(view.smallest.value, view.largest.value, each[rows]) for each in (waits, goes)]
    exact = _least(settings, waits[rows], goes[rows], (1.0, 1.0), ranges)
    least[rows], at_waits[rows], at_goes[rows] = exact
    low, high = np.full(waits.size, -np.inf), np.full(waits.size, np.inf)
    bounded = np.isfinite(view.largest.high)
    told = settings.told & ~_gaps(settings) & ~settings.assumed
    sure = np.flatnonzero(bounded[waits] & bounded[goes] & told[waits] & told[goes])
    wide = [_range(view.smallest.low, view.largest.high, each[sure]) for each in (waits, goes)]
    wait, go = waits[sure], goes[sure]
    less, more = 1 - tolerance, 1 + tolerance
    low[sure] = _least(settings, wait, go, (less, more), wide)[0]
    inner = [_range(view.smallest.high, view.largest.low, each) for each in (wait, go)]
    # Where the ends of a range overlap it may be a single current anywhere between: then the most is the bound.
    single = np.any([view.smallest.high[each] > view.largest.low[each] for each in (wait, go)], axis=0)
    most = -_least(settings, go, wait, (less, more), inner[::-1])[0]
    high[sure] = np.where(single, most, _least(settings, wait, go, (more, less), inner)[0])
    return Bounded(least, np.fmin(low, least), np.fmax(high, least)), at_waits, at_goes


def _least(
    settings: Settings, waits: Ints, goes: Ints, off: tuple[float, float], ranges: list[tuple[Floats, Floats]]
) -> tuple[Floats, Floats, Floats]:
    """Least interval of each pair with the settings off by these factors; in batches, because each has many points."""
    found = [np.zeros(waits.size) for _ in range(3)]
    for batch in np.array_split(np.arange(waits.size), waits.size // BATCH + 1):
        first, second = ((low[batch], high[batch]) for low, high in ranges)
        late, early = (_of(settings, each[batch], by, by) for each, by in zip((waits, goes), off, strict=True))
        for all_of, part in zip(found, least_interval_s(late, early, first, second), strict=True):
            all_of[batch] = part
    return found[0], found[1], found[2]


def _of(settings: Settings, rows: Ints, low: float = 1.0, high: float = 1.0) -> Element:
    return Element(
        settings.pickup[rows] * low, settings.curve[rows], settings.time_dial[rows] * high,
        settings.definite_s[rows] * high,
    )  # fmt: skip


def _range(weakest: Floats, strongest: Floats, rows: Ints) -> tuple[Floats, Floats]:
    one, other = weakest[rows], strongest[rows]
    return np.minimum(one, other), np.maximum(one, other)


def _gaps(settings: Settings) -> Bools:
    """Relays whose time is not known at any current."""
    return np.asarray(np.isnan(element_time_s(np.inf, settings.element())), dtype=bool)


def _frame(study: Study, view: View, settings: Settings, waits: Ints, goes: Ints) -> pd.DataFrame:
    station, tag = study.records.tags("ground_relay")
    interval, at_waits, at_goes = interval_bounds(view, settings, waits, goes, float(study.policy["tolerance.setting"]))
    minimum = study.faults.loc[study.faults["condition"] == "min", "provisional"].to_numpy(dtype=bool)
    marks = np.asarray(taken(minimum, naming_bus(study, study.measured.zone), False), dtype=bool) | settings.assumed
    asked = ~(view.blind[waits] | view.blind[goes])
    return pd.DataFrame(
        {
            "substation": station[waits],
            "ground_relay": tag[waits],
            "backed_substation": station[goes],
            "backed_relay": tag[goes],
            **interval.columns("interval_s", asked),
            "at_value": at_waits,
            "backed_at_value": at_goes,
            "time_s": element_time_s(at_waits, _of(settings, waits)),
            "backed_time_s": element_time_s(at_goes, _of(settings, goes)),
            "backed_breaker_s": settings.breaker_s[goes],
            "provisional": marks[waits] | marks[goes],
        }
    )


def _blocked(
    study: Study, view: View, settings: Settings, frame: pd.DataFrame, waits: Ints, goes: Ints
) -> pd.DataFrame:
    """The interval waits for the settings of both relays, and for whatever the faults that they see wait for."""
    relays = assets_of(study.records, "ground_relay")
    assets = relays.iloc[waits].reset_index(drop=True)
    missing = frame["interval_s"].isna().to_numpy(dtype=bool)
    missing = missing & ~(view.blind[waits] | view.blind[goes])
    gaps = {
        **missing_settings(study.records, settings),
        "measures": (study.measured.zone < 0) & (study.measured.device < 0),
    }
    rows = []
    for each in (waits, goes):
        blocking = relays.iloc[each].reset_index(drop=True)
        for field, gap in gaps.items():
            at = missing & gap[each]
            rows.append(foreign_field(assets, "coordination.interval_s", at, blocking, field))
        unseen = missing & np.isnan(view.smallest.value[each])
        bus = naming_bus(study, study.measured.zone[each])
        rows.append(study.tracer.at_bus(assets, "coordination.interval_s", unseen, bus, charging=True))
    return joined(rows)
