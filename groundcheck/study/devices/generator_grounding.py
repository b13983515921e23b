"""Generators whose neutral is grounded through a resistor or a loaded distribution transformer."""

from functools import partial

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.engineering import (
    distribution_transformer_kva,
    high_resistance_criterion_ohm,
    primary_rating_kv,
    resistive_and_charging_a,
    resistor_over_charging,
    resistor_power_kw,
    secondary_current_a,
    secondary_voltage_v,
)
from groundcheck.study.bounded import Bounded, monotone, of_frame, recorded
from groundcheck.study.context import Study
from groundcheck.study.devices.duty_frames import device_duties
from groundcheck.study.faults.zone_quantities import charging_bounds, device_ohms
from groundcheck.study.gaps import foreign_field, joined
from groundcheck.study.networks.capacitance import zone_voltage

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
OHMIC = ("resistor", "distribution_transformer")


def generator_grounding_tables(study: Study) -> dict[str, pd.DataFrame]:
    """study.generator_grounding: a row for each generator and each such device in its neutral."""
    pairs = _pairs(study)
    device, zone = pairs["device"].to_numpy(dtype=np.int64), pairs["zone"].to_numpy(dtype=np.int64)
    kv = zone_voltage(study.records, study.topology)[zone]
    charging, ohms = charging_bounds(study).take(zone), device_ohms(study).take(device)
    duration = of_frame(device_duties(study), "duration_s").take(device)
    number = partial(study.records.numbers, "neutral_device")
    primary, secondary = number("primary_voltage")[device], number("secondary_voltage")[device]

    resistor = monotone(partial(_resistor_a, kv), [], [ohms])
    criterion = monotone(partial(high_resistance_criterion_ohm, _positive(kv)), [], [charging])
    total = monotone(resistive_and_charging_a, [resistor, charging])
    power = monotone(partial(_power_kw, kv), [], [ohms])
    of_secondary = monotone(lambda a: secondary_current_a(a, primary, secondary), [resistor])
    needed = monotone(distribution_transformer_kva, [recorded(primary / 1e3), resistor, duration])
    frame = pairs[["substation", "generator", "device_substation", "neutral_device", "kind"]].assign(
        zone=study.names.name[zone], nominal_kv=kv, **charging.columns("charging_a"),
        **Bounded(3 * criterion.value, 3 * criterion.low, 3 * criterion.high).columns("xc0_ohm"),
        **criterion.columns("criterion_ohm"), **ohms.columns("referred_ohm"), **resistor.columns("resistor_a"),
        **monotone(resistor_over_charging, [resistor], [charging]).columns("resistor_over_charging"),
        **total.columns("total_fault_a"), **power.columns("power_kw"), **duration.columns("duration_s"),
        secondary_v=secondary_voltage_v(kv, primary, secondary), **of_secondary.columns("secondary_a"),
        **needed.columns("kva_needed"), rated_kva=number("rated_power")[device], primary_kv=primary / 1e3,
        primary_kv_needed=primary_rating_kv(kv, study.policy["generator.neutral_forcing"]),
        provisional=study.zones["provisional"].to_numpy(dtype=bool)[zone],
    )  # fmt: skip
    return {"generator_grounding": frame, "blocked": _blocked(study, frame, device, zone)}


def _pairs(study: Study) -> pd.DataFrame:
    """Generators and the devices in their neutrals."""
    records, links = study.records, study.neutrals.links
    points = study.neutrals.points.iloc[links["point"].to_numpy(dtype=np.int64)].reset_index(drop=True)
    kinds = records.words("neutral_device", "kind")
    row, device = points["row"].to_numpy(dtype=np.int64), links["device"].to_numpy(dtype=np.int64)
    zone = study.zone_of_point[links["point"].to_numpy(dtype=np.int64)]
    keep = (points["asset_kind"] == "generator").to_numpy() & np.isin(kinds[device].astype(str), OHMIC) & (zone >= 0)
    (station, tag), (device_station, device_tag) = records.tags("generator"), records.tags("neutral_device")
    device, row, zone = device[keep], row[keep], zone[keep]
    return pd.DataFrame(
        {
            "substation": station[row],
            "generator": tag[row],
            "device_substation": device_station[device],
            "neutral_device": device_tag[device],
            "kind": kinds[device],
            "device": device,
            "zone": zone,
        }
    )


def _positive(kv: Floats) -> Floats:
    return np.where(kv > 0, kv, np.nan)


def _resistor_a(kv: Floats, ohms: Floats) -> Floats:
    with np.errstate(divide="ignore"):
        return np.asarray(kv * 1e3 / np.sqrt(3) / ohms, dtype=np.float64)


def _power_kw(kv: Floats, ohms: Floats) -> Floats:
    """V_LN^2/R."""
    amperes = _resistor_a(kv, ohms)
    with np.errstate(invalid="ignore"):
        return np.where(ohms == 0, np.inf, resistor_power_kw(amperes, ohms))


def _blocked(study: Study, frame: pd.DataFrame, device: Ints, zone: Ints) -> pd.DataFrame:
    records, tracer = study.records, study.tracer
    assets = _named(frame, "substation", "generator", "generator")
    devices = _named(frame, "device_substation", "neutral_device", "neutral_device")
    charging, late = frame["charging_a"].isna().to_numpy(), frame["duration_s"].isna().to_numpy()
    rows = [
        tracer.at_zone(assets, f"generator_grounding.{name}", charging, zone, "charging")
        for name in ("charging_a", "xc0_ohm", "criterion_ohm", "total_fault_a", "resistor_over_charging")
    ]
    rows.append(tracer.at_zone(assets, "generator_grounding.kva_needed", late, zone, "clearing"))
    loaded = (frame["kind"] == "distribution_transformer").to_numpy()
    ohms = frame["referred_ohm"].isna().to_numpy()
    on_ohms = ("referred_ohm", "resistor_a", "resistor_over_charging", "total_fault_a", "power_kw", "kva_needed")
    waits = {
        "resistance": (ohms & ~loaded, on_ohms),
        "secondary_resistance": (ohms & loaded, (*on_ohms, "secondary_a")),
        "primary_voltage": (loaded, ("referred_ohm", "secondary_v", "secondary_a", "kva_needed")),
        "secondary_voltage": (loaded, ("referred_ohm", "secondary_v", "secondary_a")),
    }
    for field, (which, names) in waits.items():
        gap = which & np.isnan(records.numbers("neutral_device", field)[device])
        rows += [
            foreign_field(assets, f"generator_grounding.{name}", gap & frame[name].isna().to_numpy(), devices, field)
            for name in names
        ]
    return joined(rows)


def _named(frame: pd.DataFrame, station: str, tag: str, kind: str) -> pd.DataFrame:
    return pd.DataFrame({"substation": frame[station], "asset_kind": kind, "asset": frame[tag]})
