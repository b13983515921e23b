"""Voltage factor that each voltage transformer needs in a ground fault, and what it bears for as long."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.engineering import allowed_voltage_factor, required_voltage_factor
from groundcheck.study.bounded import Bounded, monotone
from groundcheck.study.context import Study
from groundcheck.study.currents.readings import taken
from groundcheck.study.faults.zone_quantities import zone_of_bus
from groundcheck.study.faults.zone_table import nullable
from groundcheck.study.gaps import assets_of, joined, own_field
from groundcheck.study.relays.relay_view import words_at
from groundcheck.study.relays.voltage_transformers import VoltageTransformers, voltage_transformers
from groundcheck.study.relays.vt_connection import KIND

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


def vt_stress_tables(study: Study) -> dict[str, pd.DataFrame]:
    """The rows of study.vt_stress, and what they wait for."""
    vts = voltage_transformers(study)
    frame = _frame(study, vts)
    return {"vt_stress": frame, "blocked": _blocked(study, vts, frame)}


def highest_ratio(study: Study) -> Bounded:
    """Highest voltage of each bus per unit of nominal; one below it is not believed."""
    records, policy = study.records, study.policy
    with np.errstate(invalid="ignore", divide="ignore"):
        own = records.numbers("bus", "highest_voltage") / records.nominal_kv
    believed = own >= 1
    typical = policy["insulation.highest_over_nominal"]
    stands_in = ~np.isnan(own) | policy.admits("highest_voltage")
    return Bounded(
        np.where(believed, own, np.where(stands_in, typical, np.nan)),
        np.where(believed, own, 1.0),
        np.where(believed, own, policy["range.most.highest_over_nominal"]),
    )


def _across(study: Study, vts: VoltageTransformers) -> Bounded:
    """Highest voltage across the primary: of a healthy phase to ground, or between lines where it stands there."""
    ratio = highest_ratio(study).take(vts.bus)
    rows = study.faults[study.faults["condition"] == "max"]
    value, low, high = (rows[f"healthy_phase_kv{end}"].to_numpy(dtype=float) for end in ("", "_low", "_high"))
    healthy = Bounded(value, np.nan_to_num(low), np.where(np.isnan(high), np.inf, high)).take(vts.bus)
    ground = monotone(np.multiply, rising=[healthy, ratio])
    kv = np.asarray(taken(study.records.nominal_kv, vts.bus), dtype=float)
    blank = np.isnan(kv)
    line = Bounded(kv * ratio.value, np.where(blank, 0.0, kv * ratio.low), np.where(blank, np.inf, kv * ratio.high))
    open_question = np.isnan(vts.to_ground)
    between = vts.to_ground == 0
    return Bounded(
        np.where(open_question, np.nan, np.where(between, line.value, ground.value)),
        np.where(open_question, np.minimum(line.low, ground.low), np.where(between, line.low, ground.low)),
        np.where(open_question, np.maximum(line.high, ground.high), np.where(between, line.high, ground.high)),
    )


def _durations(study: Study, vts: VoltageTransformers) -> Bounded:
    """How long: as the zone bears its fault; without limit where it stands between lines."""
    zone = zone_of_bus(study.topology, vts.bus)
    times = study.durations
    found = Bounded(times.zone_s, times.zone_s_low, times.zone_s_high).take(zone)
    lasts = vts.to_ground == 0
    doubt = np.isnan(vts.to_ground)
    return Bounded(
        np.where(lasts, np.inf, np.where(doubt, np.nan, found.value)),
        np.where(lasts, np.inf, found.low),
        np.where(lasts | doubt, np.inf, found.high),
    )


def _frame(study: Study, vts: VoltageTransformers) -> pd.DataFrame:
    records, policy = study.records, study.policy
    across, duration = _across(study, vts), _durations(study, vts)
    with np.errstate(invalid="ignore", divide="ignore"):
        factor = monotone(_factor, rising=[across], falling=[vts.unit_v])
    rated, time = records.numbers(KIND, "voltage_factor"), records.numbers(KIND, "voltage_factor_time")
    lasting = float(policy["standing_fault.vt_continuous_factor"])
    allowed = allowed_voltage_factor(rated, time, duration.value, lasting)
    low, high = _allowed_bounds(rated, time, duration, lasting)
    zone = zone_of_bus(study.topology, vts.bus)
    marks = study.zones["provisional"].to_numpy(dtype=bool)
    highest = np.asarray(taken(records.numbers("bus", "highest_voltage"), vts.bus), dtype=float)
    station, tag = records.tags(KIND)
    frame = pd.DataFrame(
        {
            "substation": station,
            "instrument_transformer": tag,
            "zone": words_at(study.names.name, zone),
            "to_ground": nullable(vts.to_ground),
            "rated_v": vts.unit_v.value,
            **across.columns("voltage_kv"),
            **factor.columns("factor"),
            **duration.columns("duration_s"),
            **Bounded(allowed, np.fmin(low, allowed), np.fmax(high, allowed)).columns("allowed"),
            "provisional": np.asarray(taken(marks, zone, False), dtype=bool) | np.isnan(highest),
        }
    )
    return frame[vts.is_vt].reset_index(drop=True)


def _factor(kilovolts: Floats, rated_v: Floats) -> Floats:
    return required_voltage_factor(kilovolts, np.where(rated_v == 0, np.nan, rated_v))


def _allowed_bounds(rated: Floats, time: Floats, duration: Bounded, lasting: float) -> tuple[Floats, Floats]:
    """A rated factor that is blank may be up to 3, a blank time any; every unit bears the continuous factor."""
    most = np.where(np.isnan(rated), 3.0, rated)
    low = allowed_voltage_factor(np.nan_to_num(rated, nan=lasting), np.nan_to_num(time), duration.high, lasting)
    high = allowed_voltage_factor(most, np.where(np.isnan(time), np.inf, time), duration.low, lasting)
    return low, high


def _blocked(study: Study, vts: VoltageTransformers, frame: pd.DataFrame) -> pd.DataFrame:
    """What the factor and the time wait for."""
    keep = np.flatnonzero(vts.is_vt)
    assets = assets_of(study.records, KIND).iloc[keep].reset_index(drop=True)
    bus = vts.bus[keep]
    zone = zone_of_bus(study.topology, bus)
    missing: dict[str, Bools] = {
        name: frame[name].isna().to_numpy(dtype=bool) for name in ("factor", "duration_s", "allowed")
    }
    rows = [
        own_field(assets, "vt_stress.factor", missing["factor"] & np.isnan(vts.to_ground[keep]), "connection"),
        own_field(
            assets, "vt_stress.factor",
            missing["factor"] & np.isnan(study.records.numbers(KIND, "primary")[keep]), "primary",
        ),
        study.tracer.at_bus(
            assets, "vt_stress.factor", missing["factor"] & frame["voltage_kv"].isna().to_numpy(), bus, charging=True
        ),
    ]  # fmt: skip
    rows += [own_field(assets, f"vt_stress.{name}", missing[name] & (bus < 0), "bus") for name in missing]
    doubt = np.isnan(vts.to_ground[keep])
    untold = np.isnan(np.asarray(taken(study.durations.zone_s, zone), dtype=float))
    for name in ("duration_s", "allowed"):
        waits = missing[name] & missing["duration_s"]
        rows.append(own_field(assets, f"vt_stress.{name}", waits & doubt, "connection"))
        rows.append(study.tracer.at_zone(assets, f"vt_stress.{name}", waits & untold, zone, "clearing"))
    for field in ("voltage_factor", "voltage_factor_time"):
        blank = np.isnan(study.records.numbers(KIND, field)[keep])
        rows.append(own_field(assets, "vt_stress.allowed", missing["allowed"] & blank, field))
    return joined(rows)
