"""What each neutral device and grounding transformer carries, for faults anywhere in its zone, and for how long."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.policy import Policy
from groundcheck.study.bounded import Bounded
from groundcheck.study.currents.readings import Currents, Readings, taken
from groundcheck.study.networks.neutrals import Neutrals
from groundcheck.study.records import Records
from groundcheck.study.relays.durations import Durations

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Complexes = NDArray[np.complex128]


def duty_table(
    records: Records,
    neutrals: Neutrals,
    readings: Readings,
    durations: Durations,
    zones: pd.DataFrame,
    policy: Policy,
) -> pd.DataFrame:
    """The rows of study.neutral_duty."""
    station, tag = records.tags("neutral_device")
    z, zone = neutrals.z_device, readings.device_zone
    kv = _of_zone(zones, "nominal_kv", zone)
    open_neutral = np.isinf(z)
    nothing = np.zeros(z.size)
    current = readings.device_max.where(~open_neutral, Currents(nothing, nothing, nothing, np.full(z.size, -1)))
    tags = records.bus["bus"].to_numpy(dtype=object)
    stations = records.bus["substation"].to_numpy(dtype=object)
    finite = np.isfinite(z)
    return pd.DataFrame(
        {
            "substation": station,
            "neutral_device": tag,
            **current.columns("current_a"),
            **_voltage(z, kv, current, policy).columns("voltage_kv"),
            "duration_s": durations.device_s,
            "duration_s_low": durations.device_s_low,
            "duration_s_high": durations.device_s_high,
            "fault_substation": [stations[b] if b >= 0 else None for b in current.bus],
            "fault_bus": [tags[b] if b >= 0 else None for b in current.bus],
            "zone": _names(zones, zone),
            "zone_kv": kv,
            "resistance_ohm": np.where(finite, z.real, np.nan),
            "reactance_ohm": np.where(finite, z.imag, np.nan),
            "charging_a": _of_zone(zones, "charging_a", zone),
            "provisional": _provisional(zones, zone),
        }
    )


def grounding_transformer_table(
    records: Records,
    neutrals: Neutrals,
    readings: Readings,
    durations: Durations,
    zone_of_point: Ints,
    zones: pd.DataFrame,
) -> pd.DataFrame:
    """The rows of study.grounding_transformer_duty."""
    mine = (neutrals.points["asset_kind"] == "grounding_transformer").to_numpy()
    point = np.flatnonzero(mine).astype(np.int64)
    row = neutrals.points.loc[mine, "row"].to_numpy(dtype=np.int64)
    station, tag = records.tags("grounding_transformer")
    zone = zone_of_point[point]
    return pd.DataFrame(
        {
            "substation": station[row],
            "grounding_transformer": tag[row],
            **readings.point_max.at(point).columns("current_a"),
            "duration_s": durations.point_s[point],
            "duration_s_low": durations.point_s_low[point],
            "duration_s_high": durations.point_s_high[point],
            "zone": _names(zones, zone),
            "provisional": _provisional(zones, zone),
        }
    )


def _voltage(z: Complexes, kv: Floats, current: Currents, policy: Policy) -> Bounded:
    """Across a device: current times impedance, never more than the neutral can shift; an open neutral shifts."""
    size, off = np.abs(z), float(policy["tolerance.resistance"])
    finite, shift = np.isfinite(z), kv / np.sqrt(3)
    most = shift * policy["study.displacement_factor"]
    with np.errstate(invalid="ignore"):
        value, low, high = (
            np.where(finite, amperes * size * factor / 1e3, np.nan)
            for amperes, factor in ((current.value, 1.0), (current.low, 1 - off), (current.high, 1 + off))
        )
    low, high = np.nan_to_num(low), np.where(size == 0, 0.0, np.fmin(high, most))
    return Bounded(*(np.where(np.isinf(z), shift, end) for end in (value, low, np.fmax(high, np.nan_to_num(value)))))


def _of_zone(zones: pd.DataFrame, column: str, zone: Ints) -> Floats:
    return np.asarray(taken(zones[column].to_numpy(dtype=float), zone), dtype=np.float64)


def _names(zones: pd.DataFrame, zone: Ints) -> list[str | None]:
    names = zones["zone"].to_numpy(dtype=object)
    return [names[z] if z >= 0 else None for z in zone]


def _provisional(zones: pd.DataFrame, zone: Ints) -> NDArray[np.bool_]:
    return np.asarray(taken(zones["provisional"].to_numpy(dtype=bool), zone, False), dtype=bool)
