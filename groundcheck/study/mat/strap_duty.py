"""What a conductor to or in the mat carries at the worst, and what area that needs."""

from dataclasses import dataclass
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.study.bounded import Bounded, monotone
from groundcheck.study.context import Study
from groundcheck.study.mat.bonded_equipment import Cases
from groundcheck.study.mat.fault_heat import FaultHeat
from groundcheck.study.worst import least_low, taken_words, worst

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


@dataclass(frozen=True)
class StrapDuty:
    """
    Of each conductor: heat and current of the worst fault that it may carry, with their bounds over all cases.

    bus : the bus of that fault, -1 where it is not known.
    """

    heat: Bounded
    current_a: Bounded
    duration_s: Bounded
    bus: Ints
    provisional: Bools


def strap_duty(cases: Cases, heat: FaultHeat) -> StrapDuty:
    """
    The worst over the buses whose fault each conductor may carry.

    Where it is not on record at which bus the equipment stands, the worst of the station counts, and the lower bound is
    that of its least bus.
    """
    count = cases.placed.size
    largest, governs = worst(cases.row, count, heat.heat.take(cases.bus))
    bus = np.where(governs >= 0, cases.bus[governs] if cases.bus.size else -1, -1)

    def of_governing(each: Bounded, scale: float = 1.0) -> Bounded:
        over_all, _ = worst(cases.row, count, each.take(cases.bus))
        low = least_low(cases.row, count, each.low[cases.bus])
        value = np.where(bus >= 0, each.value[bus], np.nan)
        return Bounded(value * scale, low * scale, over_all.high * scale)

    least = least_low(cases.row, count, heat.heat.low[cases.bus])
    marks = np.zeros(count, dtype=bool)
    np.logical_or.at(marks, cases.row, heat.provisional[cases.bus])
    return StrapDuty(
        Bounded(largest.value, np.where(cases.placed, largest.low, least), largest.high),
        of_governing(heat.current_ka, 1e3), of_governing(heat.duration_s), bus, marks,
    )  # fmt: skip


def fault_columns(study: Study, duty: StrapDuty, heat: FaultHeat) -> dict[str, NDArray[Any]]:
    """Columns that say which fault governs."""
    bus = study.records.bus
    return {
        **duty.current_a.columns("current_a"),
        **duty.duration_s.columns("duration_s"),
        "x_over_r": heat.x_over_r.take(duty.bus).value,
        "decrement": heat.decrement.take(duty.bus).value,
        "fault": taken_words(heat.fault, duty.bus),
        "fault_substation": taken_words(bus["substation"].to_numpy(dtype=object), duty.bus),
        "fault_bus": taken_words(bus["bus"].to_numpy(dtype=object), duty.bus),
    }


def area_columns(needed: Bounded, installed: Bounded, duty: StrapDuty) -> dict[str, Floats]:
    """Area needed, area installed, and the current that the latter bears for the time of the governing fault."""
    with np.errstate(divide="ignore", invalid="ignore"):
        bears = np.where(needed.value > 0, duty.current_a.value * installed.value / needed.value, np.inf)
    unknown = np.isnan(needed.value) | np.isnan(installed.value)
    return {
        **needed.columns("needed_mm2"),
        **installed.columns("installed_mm2"),
        "bears_a": np.where(unknown, np.nan, bears),
    }


def product(first: Bounded, second: Bounded) -> Bounded:
    """Of two quantities that are not negative."""

    def times(a: Floats, b: Floats) -> Floats:
        with np.errstate(invalid="ignore"):
            return np.where((a == 0) | (b == 0), np.where(np.isnan(a + b), np.nan, 0.0), a * b)

    return monotone(times, (first, second))


def fault_blocks(
    study: Study, cases: Cases, assets: pd.DataFrame, quantity: str, missing: Bools, heat: FaultHeat
) -> list[pd.DataFrame]:
    """Rows of study.blocked for what the faults at a conductor's buses leave open: current, duration, frequency."""
    of_case = assets.iloc[cases.row].reset_index(drop=True)
    bus = cases.bus
    waits = missing[cases.row] & np.isnan(heat.heat.value[bus])
    time = np.isnan(heat.duration_s.value[bus])
    tracer, zone = study.tracer, study.topology.zone[bus]
    station = study.records.bus["substation"].to_numpy(dtype=object)[bus]
    no_hz = waits & np.isnan(heat.frequency_hz.value[bus])
    hz = of_case.assign(
        quantity=quantity, blocking_substation=station, blocking_asset_kind="substation", blocking_asset=station,
        field="frequency",
    )  # fmt: skip
    current = waits & np.isnan(heat.current_ka.value[bus])
    return [
        tracer.at_bus(of_case, quantity, current & ~time, bus, charging=True),
        tracer.at_zone(of_case, quantity, current & ~time, zone, "disputed"),
        tracer.at_zone(of_case, quantity, waits & time, zone, "clearing"),
        hz[no_hz],
    ]
