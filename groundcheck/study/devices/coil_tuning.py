"""How far each arc-suppression coil is from tune with its zone, and what that leaves at a fault."""

from functools import partial

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.engineering import (
    coil_power_kva,
    detuning,
    residual_current_a,
    sound_neutral_voltage_kv,
)
from groundcheck.study.bounded import Bounded, monotone
from groundcheck.study.context import Study
from groundcheck.study.currents.readings import taken
from groundcheck.study.devices.neutral_unbalance import assumed_unbalance
from groundcheck.study.faults.zone_quantities import (
    charging_bounds,
    current_of_kinds,
    device_ohms,
    phase_volts,
)
from groundcheck.study.gaps import assets_of, joined, own_field

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
COIL = "arc_suppression_coil"


def coil_tuning_tables(study: Study) -> dict[str, pd.DataFrame]:
    """study.coil_tuning: a row for each coil, with the coils of its zone together."""
    records, zone = study.records, study.readings.device_zone
    coil = np.flatnonzero((records.words("neutral_device", "kind") == COIL) & (zone >= 0))
    at = zone[coil]
    volts = np.asarray(taken(phase_volts(study), at), dtype=float)
    ohms, charging = device_ohms(study).take(coil), charging_bounds(study).take(at)
    own = monotone(partial(_coil_a, volts), [], [ohms])
    together = current_of_kinds(study, (COIL,))[0].take(at)
    tune = _detuning(together, charging)
    used = ~np.isnan(tune.value)
    _note_damping(study, coil[used])
    damping = _damping(study, at.size)
    residual = _residual(together, charging, tune, damping)
    neutral = _neutral_kv(study, volts * np.sqrt(3) / 1e3, tune, damping, at[used])
    with np.errstate(divide="ignore", invalid="ignore"):
        wanted = volts / (charging.value - (together.value - own.value))  # what the zone's other coils leave to it
    station, tag = records.tags("neutral_device")
    frame = pd.DataFrame(
        {
            "substation": station[coil],
            "neutral_device": tag[coil],
            "zone": study.names.name[at],
            "nominal_kv": volts * np.sqrt(3) / 1e3,
            "reactance_ohm": ohms.value,
            "tuned_ohm": np.where(wanted > 0, wanted, np.nan),
            "coil_kvar": coil_power_kva(volts * np.sqrt(3) / 1e3, np.where(ohms.value > 0, ohms.value, np.nan)),
            **own.columns("coil_a"),
            **together.columns("coils_a"),
            **charging.columns("charging_a"),
            **tune.columns("detuning"),
            **damping.columns("damping"),
            **residual.columns("residual_a"),
            **neutral.columns("neutral_kv"),
            "provisional": study.zones["provisional"].to_numpy(dtype=bool)[at],
            "residual_provisional": used & study.policy.admits("coil_damping"),  # the damping is never on record
        }
    )
    return {"coil_tuning": frame, "blocked": _blocked(study, coil, at)}


def _coil_a(volts: Floats, ohms: Floats) -> Floats:
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.asarray(volts / ohms, dtype=np.float64)


def _detuning(coils: Bounded, charging: Bounded) -> Bounded:
    """(I_L - I_C)/I_C; -1 at the least."""
    found = monotone(detuning, [coils], [charging])
    none = (coils.low == 0) | np.isinf(charging.high)  # no coil current, or any charging current, is possible
    return Bounded(found.value, np.where(none, -1.0, found.low), found.high)


def zone_residual(study: Study) -> Bounded:
    """Residual current of each zone with its coils."""
    coils, charging = current_of_kinds(study, (COIL,))[0], charging_bounds(study)
    return _residual(coils, charging, _detuning(coils, charging), _damping(study, charging.value.size))


def _damping(study: Study, count: int) -> Bounded:
    policy, ones = study.policy, np.ones(count)
    value = policy["assume.value.coil_damping"] if policy.admits("coil_damping") else np.nan
    least, most = policy["range.least.coil_damping"], policy["range.most.coil_damping"]
    return Bounded(value * ones, least * ones, most * ones)


def _note_damping(study: Study, coil: Ints) -> None:
    if not study.policy.admits("coil_damping"):
        return
    which = np.zeros(study.readings.device_zone.size, dtype=bool)
    which[coil] = True
    study.ledger.assume(
        "neutral_device", which, "damping", f"{study.policy['assume.value.coil_damping']:.3g}",
        "no record has it; resistive share of the charging current, Kasikci, section 7.1", {},
    )  # fmt: skip


def _residual(coils: Bounded, charging: Bounded, tune: Bounded, damping: Bounded) -> Bounded:
    """I_C sqrt(d^2 + v^2), with the least and the greatest difference of coil and charging current."""
    value = residual_current_a(charging.value, tune.value, damping.value)
    with np.errstate(invalid="ignore"):
        apart = np.fmax(0, np.fmax(coils.low - charging.high, charging.low - coils.high))
        far = np.fmax(coils.high - charging.low, charging.high - coils.low)
        low, high = np.hypot(apart, damping.low * charging.low), np.hypot(far, damping.high * charging.high)
    return Bounded(value, np.nan_to_num(low), np.where(np.isnan(high), np.inf, high))


def _neutral_kv(study: Study, kv: Floats, tune: Bounded, damping: Bounded, zone: Ints) -> Bounded:
    """Neutral voltage without a fault; greatest in tune, least farthest from it."""
    share = assumed_unbalance(study, zone)
    least, most = (study.policy[f"range.{end}.capacitive_unbalance"] for end in ("least", "most"))
    with np.errstate(invalid="ignore"):
        value = sound_neutral_voltage_kv(kv, share, tune.value, damping.value)
        near = np.where((tune.low <= 0) & (tune.high >= 0), 0.0, np.fmin(np.abs(tune.low), np.abs(tune.high)))
        far = np.fmax(np.abs(tune.low), np.abs(tune.high))
        high = sound_neutral_voltage_kv(kv, most, near, damping.low)
        low = sound_neutral_voltage_kv(kv, least, far, damping.high)
    return Bounded(value, np.nan_to_num(low), np.where(np.isnan(high), np.inf, high))


def _blocked(study: Study, coil: Ints, zone: Ints) -> pd.DataFrame:
    assets = assets_of(study.records, "neutral_device").iloc[coil].reset_index(drop=True)
    blank = np.isnan(charging_bounds(study).value[zone])
    size = np.isnan(study.neutrals.z_device[coil])
    on_charging = ("charging_a", "tuned_ohm", "detuning", "residual_a", "neutral_kv")
    rows = [study.tracer.at_zone(assets, f"coil_tuning.{n}", blank, zone, "charging") for n in on_charging]
    on_size = ("coil_a", "coils_a", "tuned_ohm", "detuning", "residual_a", "neutral_kv", "coil_kvar")
    rows += [own_field(assets, f"coil_tuning.{n}", size, "reactance") for n in on_size]
    return joined(rows)
