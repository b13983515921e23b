"""How large each grounding transformer must be, and what zero-sequence impedance would ground its bus how firmly."""

from functools import partial

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.engineering import grounding_transformer_kva, short_duty_factors, winding_current_a
from groundcheck.study.bounded import Bounded, monotone, of_frame
from groundcheck.study.context import Study
from groundcheck.study.devices.duty_frames import transformer_duties
from groundcheck.study.faults.zone_quantities import naming_bus, zone_of_bus
from groundcheck.study.gaps import assets_of, joined, own_field

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
KIND = "grounding_transformer"


def grounding_transformer_size_tables(study: Study) -> dict[str, pd.DataFrame]:
    """study.grounding_transformer_size, and what blocks it."""
    records = study.records
    number = partial(records.numbers, KIND)
    bus = records.bus_of(KIND, "bus")
    kv = np.where(bus >= 0, records.nominal_kv[bus], np.nan)
    duty = transformer_duties(study)
    current, duration = of_frame(duty, "current_a"), of_frame(duty, "duration_s")
    factor = _factor(duration, records.words(KIND, "connection"))
    needed = monotone(partial(grounding_transformer_kva, kv), [current, factor])
    first = len(records.bus)
    x1 = study.faults["x1_ohm"].to_numpy(dtype=float)[:first]  # those of the maximum condition
    x1 = np.where(bus >= 0, x1[bus], np.nan)
    neutral = number("rated_neutral_current")
    frame = duty[["substation", KIND, "zone", "provisional"]].assign(
        nominal_kv=kv, **current.columns("current_a"), **duration.columns("duration_s"),
        **monotone(winding_current_a, [current]).columns("phase_current_a"),
        **factor.columns("duty_factor"), **needed.columns("kva_needed"), rated_kva=number("rated_power"),
        short_time_kva=kv / np.sqrt(3) * neutral, short_time_kva_line=kv * neutral, z0_ohm=number("z0"), x1_ohm=x1,
        effective_x0_ohm=study.policy["grounding_transformer.effective_ratio"] * x1,
        transient_x0_ohm=study.policy["transient.reactance_ratio"] * x1,
    )  # fmt: skip
    return {"grounding_transformer_size": frame, "blocked": _blocked(study, frame, bus)}


def _factor(duration: Bounded, connection: NDArray[np.object_]) -> Bounded:
    """Rating over V_LN I_n: a zigzag needs the least, a wye-delta the most; blank may be either."""
    words = connection.astype(str)
    zigzag, wye_delta = words == "zigzag", words == "wye_delta"
    low = short_duty_factors(duration.low, ~wye_delta)[0]
    high = short_duty_factors(duration.high, zigzag)[1]
    least, most = short_duty_factors(duration.value, zigzag)
    known = (zigzag | wye_delta) & (least == most)
    return Bounded(np.where(known, least, np.nan), low, high)


def _blocked(study: Study, frame: pd.DataFrame, bus: Ints) -> pd.DataFrame:
    tracer, zone = study.tracer, zone_of_bus(study.topology, bus)
    assets = assets_of(study.records, KIND)
    at = naming_bus(study, zone)
    no_current, late = frame["current_a"].isna().to_numpy(), frame["duration_s"].isna().to_numpy()
    names = ("current_a", "phase_current_a", "kva_needed")
    rows = [tracer.at_bus(assets, f"grounding_transformer_size.{n}", no_current, at, charging=True) for n in names]
    rows.append(tracer.at_zone(assets, "grounding_transformer_size.kva_needed", late, zone, "clearing"))
    blank = np.array([word is None for word in study.records.words(KIND, "connection")], dtype=bool)
    rows.append(own_field(assets, "grounding_transformer_size.kva_needed", blank, "connection"))
    return joined(rows)
