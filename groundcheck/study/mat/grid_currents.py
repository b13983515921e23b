"""Current from each mat into the earth: the fault that raises it most, and the one that is worst for a person."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.engineering.touch_step import SHOCK_S
from groundcheck.study.bounded import Bounded, of_frame
from groundcheck.study.context import Study
from groundcheck.study.mat.earth_currents import EarthCurrents
from groundcheck.study.mat.fault_heat import FaultHeat, offset_bounds
from groundcheck.study.mat.grid_dimensions import GRID
from groundcheck.study.mat.shield_wires import WireEnds, split_of_pairs
from groundcheck.study.mat.strap_duty import product
from groundcheck.study.worst import least_low, worst

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


@dataclass(frozen=True)
class Pairs:
    """Pairs of a mat and a faulted bus: `row` of the mat, `bus`, and what belongs to the fault."""

    row: Ints
    bus: Ints
    earth_a: Bounded
    split: Bounded
    time: Bounded
    decrement: Bounded
    current_a: Bounded
    provisional: Bools


@dataclass(frozen=True)
class GridCurrents:
    """
    Of each mat.

    raises : number of the pair whose current is largest, -1 where not known; shocks : of the one that is worst for a
    person, by current and duration.
    current_a, shock_a : current of the first and of the second, with bounds over all.
    shock_s : duration of the second, with bounds over all faults that drive a current.
    """

    pairs: Pairs
    current_a: Bounded
    raises: Ints
    shock_a: Bounded
    shocks: Ints
    shock_s: Bounded
    provisional: Bools


def grid_currents(study: Study, earth: EarthCurrents, ends: WireEnds, heat: FaultHeat) -> GridCurrents:
    """The worst of all faults for each mat."""
    pairs = _pairs(study, earth, ends, heat)
    count = len(study.records.tables[GRID])
    largest, raises = worst(pairs.row, count, pairs.current_a)
    # What a person bears falls with the root of the duration, up to the last for which it is known.
    root = Bounded(*(np.sqrt(np.minimum(t, SHOCK_S[1])) for t in (pairs.time.value, pairs.time.low, pairs.time.high)))
    _, shocks = worst(pairs.row, count, product(pairs.current_a, root))
    flows = pairs.current_a.high > 0
    longest, _ = worst(pairs.row[flows], count, _where(pairs.time, flows))
    marks = np.zeros(count, dtype=bool)
    np.logical_or.at(marks, pairs.row, pairs.provisional & flows)
    value = np.where(shocks >= 0, pairs.current_a.value[shocks] if shocks.size and flows.size else np.nan, np.nan)
    seconds = np.where(shocks >= 0, pairs.time.value[shocks] if shocks.size and flows.size else np.nan, np.nan)
    # One duration on record is that of all faults, whichever is the worst.
    stated = study.records.numbers(GRID, "fault_duration")
    seconds = np.where(np.isnan(seconds) & (largest.high > 0), stated, seconds)
    low = least_low(pairs.row[flows], count, pairs.time.low[flows])
    return GridCurrents(
        pairs, largest, raises, Bounded(value, _least_shock(study, pairs, flows, largest), largest.high), shocks,
        Bounded(seconds, low, longest.high), marks,
    )  # fmt: skip


def _least_shock(study: Study, pairs: Pairs, flows: Bools, largest: Bounded) -> Floats:
    """With one duration for all faults the worst is the largest; else it may be any that drives a current."""
    stated = ~np.isnan(study.records.numbers(GRID, "fault_duration"))
    return np.where(stated, largest.low, least_low(pairs.row[flows], stated.size, pairs.current_a.low[flows]))


def _where(of: Bounded, which: Bools) -> Bounded:
    return Bounded(of.value[which], of.low[which], of.high[which])


def _pairs(study: Study, earth: EarthCurrents, ends: WireEnds, heat: FaultHeat) -> Pairs:
    records = study.records
    station, _ = records.tags(GRID)
    grids = pd.DataFrame({"substation": station, "row": np.arange(station.size)})
    each = pd.DataFrame({"substation": earth.station, "pair": np.arange(earth.bus.size)})
    joined = grids.merge(each, on="substation")
    row, pair = joined["row"].to_numpy(dtype=np.int64), joined["pair"].to_numpy(dtype=np.int64)
    bus = earth.bus[pair]
    current = earth.current_a.take(pair)
    estimate, typical = split_of_pairs(study, ends, earth.station, earth.bus)
    split, assumed = _split(study, row, estimate.take(pair), typical[pair], current)
    zone_time = of_frame(study.zones, "clearing_time_s").take(study.topology.zone[bus])
    own = records.numbers(GRID, "fault_duration")[row]
    stated = ~np.isnan(own)
    time = Bounded(*(np.where(stated, own, t) for t in (zone_time.value, zone_time.low, zone_time.high)))
    decrement = offset_bounds(time, heat.x_over_r.take(bus), heat.frequency_hz.take(bus))
    faults = study.faults[study.faults["condition"] == "max"]["provisional"].to_numpy(dtype=bool)
    clock = study.durations.assumed[study.topology.zone[bus]] & ~stated
    return Pairs(
        row, bus, current, split, time, decrement, product(product(current, split), decrement),
        faults[bus] | assumed | clock,
    )  # fmt: skip


def _split(study: Study, row: Ints, estimate: Bounded, typical: Bools, current: Bounded) -> tuple[Bounded, Bools]:
    """The split factor on record; else the estimate from shield wires, noted where a typical factor stands in it."""
    found = study.records.numbers(GRID, "split_factor")
    own = found[row]
    blank = np.isnan(own)
    assumed = blank & typical & (current.high > 0)
    which = np.zeros(found.size, dtype=bool)
    which[row[assumed]] = True
    factor = np.full(found.size, -np.inf)
    np.maximum.at(factor, row[assumed], estimate.value[assumed])
    study.ledger.assume(
        GRID, which, "split_factor", np.array([f"{f:.4g}" for f in factor], dtype=object),
        "split factor not on record; typical share beside the shield wires of the lines, EN 50522, recalled", {},
    )  # fmt: skip
    parts = ((own, estimate.value), (own, estimate.low), (own, estimate.high))
    return Bounded(*(np.where(blank, e, o) for o, e in parts)), assumed
