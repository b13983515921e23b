"""How hot the ground-fault duty makes each neutral resistor, against its nameplate."""

from functools import partial

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.engineering import (
    adiabatic_time_s,
    resistor_energy_kj,
    resistor_power_kw,
    temperature_rise_limit_k,
)
from groundcheck.study.bounded import Bounded, monotone, of_frame, recorded
from groundcheck.study.context import Study
from groundcheck.study.devices.duty_frames import device_duties
from groundcheck.study.faults.zone_quantities import device_ohms, naming_bus, phase_volts
from groundcheck.study.gaps import assets_of, joined, own_field

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
HEATED = ("resistor", "distribution_transformer")


def device_heating_tables(study: Study) -> dict[str, pd.DataFrame]:
    """study.device_heating, and what blocks it."""
    records = study.records
    number = partial(records.numbers, "neutral_device")
    duty = device_duties(study)
    current, duration = of_frame(duty, "current_a"), of_frame(duty, "duration_s")
    ohms, volts = device_ohms(study), _volts_at_most(study)
    rated_a, rated_s = recorded(number("rated_current")), recorded(number("rated_time"))
    energy = _not_above(monotone(resistor_energy_kj, [current, ohms, duration]), volts, current, duration)
    second = recorded(np.ones(len(duty)))
    power = _not_above(monotone(resistor_power_kw, [current, ohms]), volts, current, second)
    rated_energy = monotone(resistor_energy_kj, [rated_a, ohms, rated_s])
    borne = monotone(partial(borne_s, np.isposinf(rated_s.value)), [rated_a, rated_s], [current])
    frame = duty[["substation", "neutral_device", "zone", "provisional"]].assign(
        kind=records.words("neutral_device", "kind"),
        temperature_rise_limit_k=temperature_rise_limit_k(rated_s.value),
        **current.columns("current_a"), **duration.columns("duration_s"), **energy.columns("energy_kj"),
        **rated_energy.columns("rated_energy_kj"), **power.columns("power_kw"), **borne.columns("borne_s"),
    )  # fmt: skip
    shown = np.isin(frame["kind"].astype(str), HEATED)
    return {"device_heating": frame[shown], "blocked": _blocked(study, frame, shown)}


def _volts_at_most(study: Study) -> Floats:
    """The most that stands across each device: V_LN of its zone and the displacement; infinite where not known."""
    zone, volts = study.readings.device_zone, phase_volts(study)
    at = np.where(zone >= 0, volts[zone], np.nan) if volts.size else np.full(zone.size, np.nan)
    return np.where(np.isnan(at), np.inf, at * study.policy["study.displacement_factor"])


def _not_above(heat: Bounded, volts: Floats, current: Bounded, duration: Bounded) -> Bounded:
    """Whatever the ohms, heat is no more than the highest voltage across them times current times time. [kJ]"""
    with np.errstate(invalid="ignore"):
        ceiling = volts * current.high * duration.high / 1e3
    ceiling = np.where((current.high == 0) | (duration.high == 0), 0.0, ceiling)
    return Bounded(heat.value, heat.low, np.fmax(heat.low, np.fmin(heat.high, ceiling)))


def borne_s(continuous: Bools, rated_a: Floats, rated_s: Floats, current_a: Floats) -> Floats:
    """Time at the duty's current; none at all where a continuous rating is exceeded, for nothing is rated there."""
    blank = (rated_a == 0) | np.isinf(rated_a) | (rated_s == 0)
    with np.errstate(invalid="ignore"):
        found = adiabatic_time_s(np.where(blank, np.nan, rated_a), np.where(blank, np.nan, rated_s), current_a)
        over = continuous & (current_a > rated_a)
    return np.where(over, 0.0, found)


def _blocked(study: Study, frame: pd.DataFrame, shown: Bools) -> pd.DataFrame:
    records, tracer, zone = study.records, study.tracer, study.readings.device_zone
    assets = assets_of(records, "neutral_device")
    bus = naming_bus(study, zone)
    blank = {name: np.isnan(frame[name].to_numpy(dtype=float)) & shown for name in ("energy_kj", "power_kw", "borne_s")}
    rows = []
    for name, missing in blank.items():
        no_current = missing & frame["current_a"].isna().to_numpy(dtype=bool)
        rows.append(tracer.at_bus(assets, f"device_heating.{name}", no_current, bus, charging=True))
    late = blank["energy_kj"] & frame["duration_s"].isna().to_numpy(dtype=bool)
    rows.append(tracer.at_zone(assets, "device_heating.energy_kj", late, zone, "clearing"))
    for field in ("rated_current", "rated_time"):
        gap = shown & np.isnan(records.numbers("neutral_device", field))
        rows += [own_field(assets, f"device_heating.{name}", gap, field) for name in ("rated_energy_kj", "borne_s")]
        if field == "rated_time":
            rows.append(own_field(assets, "device_heating.temperature_rise_limit_k", gap, field))
    size = np.where(frame["kind"] == "distribution_transformer", "secondary_resistance", "resistance")
    for field in ("secondary_resistance", "resistance"):
        gap = shown & np.isnan(study.neutrals.z_device) & (size == field)
        rows.append(own_field(assets, "device_heating.rated_energy_kj", gap, field))
    return joined(rows)
