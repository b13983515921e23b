"""How long each asset that a standing ground fault stresses may bear it."""

from functools import partial

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.study.bounded import Bounded, monotone, of_frame, recorded
from groundcheck.study.context import Study
from groundcheck.study.devices.device_heating import borne_s
from groundcheck.study.devices.duty_frames import device_duties, transformer_duties
from groundcheck.study.faults.zone_quantities import zone_of_bus
from groundcheck.study.relays.vt_connection import stands_to_ground

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]
CABLE_LEVELS = {100: "insulation.cable_100_time", 133: "insulation.cable_133_time"}


def run_on_limits(study: Study) -> pd.DataFrame:
    """
    Every limit: zone, substation, asset_kind, asset, field, value, low, high, waits.

    field : what decides it, or would settle it where value is NaN.
    waits : where value is NaN, 'field', or 'fault' where the stress itself is not known.
    """
    frames = [_devices(study), _grounding_transformers(study), _voltage_transformers(study), _cables(study)]
    return pd.concat([each for each in frames if len(each)] or frames[:1], ignore_index=True)


def lasting_s(continuous: Bounded, rated_a: Bounded, rated_s: Bounded, current: Bounded) -> Bounded:
    """Without limit up to the continuous current; above it the time in which the current puts in the rated heat."""
    always = np.isposinf(rated_s.value)
    short = monotone(partial(borne_s, always), [rated_a, rated_s], [current])

    def end(at: Floats, limit: Floats, otherwise: Floats) -> Floats:
        return np.where(at <= limit, np.inf, otherwise)

    value = end(current.value, continuous.value, short.value)
    # Above a continuous current that is blank a device may still bear it for ever.
    open_end = np.isnan(continuous.value) & (current.value > 0) & (current.value <= continuous.high)
    value = np.where(open_end & ~np.isposinf(short.value), np.nan, value)
    return Bounded(
        np.where(np.isnan(current.value), np.nan, value),
        end(current.high, continuous.low, short.low), end(current.low, continuous.high, short.high),
    )  # fmt: skip


def _devices(study: Study) -> pd.DataFrame:
    number = partial(study.records.numbers, "neutral_device")
    kinds = study.records.words("neutral_device", "kind").astype(str)
    carries = np.isin(kinds, ("resistor", "reactor", "arc_suppression_coil", "distribution_transformer"))
    current = of_frame(device_duties(study), "current_a")
    return _limits(
        study, "neutral_device", carries, study.readings.device_zone, current,
        number("rated_current"), number("rated_time"), number("continuous_current"),
        ("rated_current", "rated_time", "continuous_current"),
    )  # fmt: skip


def _grounding_transformers(study: Study) -> pd.DataFrame:
    kind = "grounding_transformer"
    number = partial(study.records.numbers, kind)
    zone = zone_of_bus(study.topology, study.records.bus_of(kind, "bus"))
    current = of_frame(transformer_duties(study), "current_a")
    return _limits(
        study, kind, np.ones(zone.size, dtype=bool), zone, current,
        number("rated_neutral_current"), number("rated_time"), number("continuous_neutral_current"),
        ("rated_neutral_current", "rated_time", "continuous_neutral_current"),
    )  # fmt: skip


def _limits(
    study: Study,
    kind: str,
    which: Bools,
    zone: Ints,
    current: Bounded,
    rated_a: Floats,
    rated_s: Floats,
    continuous_a: Floats,
    fields: tuple[str, str, str],
) -> pd.DataFrame:
    lasting = np.where(np.isposinf(rated_s), rated_a, np.nan)
    continuous = recorded(np.where(np.isnan(continuous_a), lasting, continuous_a))
    continuous = continuous.within(np.zeros(rated_a.size), np.where(np.isnan(rated_a), np.inf, rated_a))
    found = lasting_s(continuous, recorded(rated_a), recorded(rated_s), current)
    # Of blank fields the one that is asked for; else the one that decides.
    field = np.select(
        [np.isnan(rated_a), np.isnan(rated_s), np.isnan(continuous.value) & np.isnan(found.value)],
        [fields[0], fields[1], fields[2]], default=fields[1],
    )  # fmt: skip
    field = np.where(np.isposinf(found.value), fields[2], field)
    return _rows(study, kind, which, zone, field, found, current)


def _voltage_transformers(study: Study) -> pd.DataFrame:
    """The rated voltage factor is borne for its time; the continuous one without limit; more than that not at all."""
    kind = "instrument_transformer"
    records = study.records
    bus = records.bus_of(kind, "bus")
    zone = zone_of_bus(study.topology, bus)
    which = (records.words(kind, "kind") == "vt") & (stands_to_ground(study) != 0)
    count = len(records.bus)
    healthy = of_frame(study.faults.iloc[:count], "healthy_phase_kv").take(bus)
    rated_kv = np.where(bus >= 0, records.nominal_kv[bus], np.nan) / np.sqrt(3)
    raised = monotone(lambda kv: kv / rated_kv, [healthy])
    factor, time = (records.numbers(kind, name) for name in ("voltage_factor", "voltage_factor_time"))
    lasting = study.policy["standing_fault.vt_continuous_factor"]

    def end(pu: Floats, bears: Floats, seconds: Floats) -> Floats:
        # 1.9 is the factor for neutrals that may rise to line-to-neutral voltage, sqrt(3) and a little.
        known = np.where(pu <= bears, seconds, 0.0)
        return np.where(pu <= lasting, np.inf, np.where(np.isnan(pu) | np.isnan(bears), np.nan, known))

    value = end(raised.value, factor, time)
    low = end(raised.high, np.where(np.isnan(factor), 0.0, factor), np.where(np.isnan(time), 0.0, time))
    high = end(raised.low, np.where(np.isnan(factor), np.inf, factor), np.where(np.isnan(time), np.inf, time))
    field = np.where(np.isnan(factor), "voltage_factor", "voltage_factor_time")
    unsure = np.isnan(stands_to_ground(study))
    found = Bounded(np.where(unsure, np.nan, value), low, np.where(unsure, np.inf, high))
    return _rows(study, kind, which, zone, np.where(unsure, "connection", field), found, healthy)


def _cables(study: Study) -> pd.DataFrame:
    """A cable bears the healthy phases without limit by its rating to ground or at 173 %, else for its level's time."""
    records = study.records
    bus = records.bus_of("insulation", "bus")
    count = len(records.bus)
    healthy = of_frame(study.faults.iloc[:count], "healthy_phase_kv").take(bus)
    level = records.numbers("insulation", "cable_insulation_level")
    rated, line = (records.numbers("insulation", f"rated_{of}_voltage") for of in ("ground", "line"))
    rated = np.where(np.isnan(rated), line / np.sqrt(3), rated)
    seconds = np.select(
        [np.isnan(level), *(level == percent for percent in CABLE_LEVELS)],
        [np.nan, *(study.policy[entry] for entry in CABLE_LEVELS.values())],
        default=np.inf,
    )
    margin = study.policy["insulation.margin"]
    lasts = {end: getattr(healthy, end) * margin <= rated for end in ("value", "low", "high")}
    # Where neither is on record the level is asked for.
    value = np.where(lasts["value"], np.inf, seconds)
    low = np.where(lasts["high"], np.inf, np.nan_to_num(seconds, nan=0.0, posinf=np.inf))
    high = np.where(lasts["low"] | np.isnan(level) | np.isnan(rated), np.inf, seconds)
    which = records.words("insulation", "kind") == "cable"
    field = np.where(lasts["value"], "rated_ground_voltage", "cable_insulation_level")
    found = Bounded(value, low, high)
    return _rows(study, "insulation", which, zone_of_bus(study.topology, bus), field, found, healthy)


def _rows(
    study: Study,
    kind: str,
    which: Bools,
    zone: Ints,
    field: NDArray[np.generic],
    found: Bounded,
    stress: Bounded,
) -> pd.DataFrame:
    station, tag = study.records.tags(kind)
    frame = pd.DataFrame(
        {
            "zone": zone,
            "substation": station,
            "asset_kind": kind,
            "asset": tag,
            "field": field.astype(object),
            "value": found.value,
            "low": found.low,
            "high": found.high,
            "waits": np.where(np.isnan(stress.value), "fault", "field"),
        }
    )
    return frame[which & (zone >= 0)]
