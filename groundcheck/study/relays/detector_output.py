"""What ground detectors and broken deltas give in a solid ground fault at their bus."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.engineering import broken_delta_v, damping_resistor_w, phase_voltages_kv
from groundcheck.study.bounded import Bounded, monotone, recorded
from groundcheck.study.context import Study
from groundcheck.study.currents.reach import sees_voltage
from groundcheck.study.currents.readings import taken
from groundcheck.study.faults.zone_quantities import zone_of_bus
from groundcheck.study.gaps import assets_of, foreign_field, joined, own_field
from groundcheck.study.records import Records, index_of
from groundcheck.study.relays.relay_view import shift_v, words_at
from groundcheck.study.relays.voltage_transformers import VoltageTransformers, voltage_transformers
from groundcheck.study.relays.vt_connection import KIND

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]


def detector_tables(study: Study) -> dict[str, pd.DataFrame]:
    """The rows of study.detector_output, and what they wait for."""
    vts = voltage_transformers(study)
    asked = _asked(study.records, vts)
    frame, residual = _frame(study, vts, asked)
    return {"detector_output": frame, "blocked": _blocked(study, vts, asked, frame, residual)}


def _asked(records: Records, vts: VoltageTransformers) -> pd.DataFrame:
    """Detectors and voltage transformers with a broken delta: asset_kind, row, vt, bus, relay (-1: none)."""
    fed = _target(records, "ground_detector", "instrument_transformer", KIND)
    driven = _target(records, "ground_detector", "relay", "ground_relay")
    bus = records.bus_of("ground_detector", "bus")
    detectors = pd.DataFrame(
        {"asset_kind": "ground_detector", "row": np.arange(bus.size), "vt": fed, "bus": bus, "relay": driven}
    )
    delta = np.flatnonzero(vts.is_vt & vts.broken_delta)
    own = pd.DataFrame({"asset_kind": KIND, "row": delta, "vt": delta, "bus": vts.bus[delta], "relay": -1})
    frame = pd.concat([detectors, own], ignore_index=True).astype({"row": np.int64, "vt": np.int64})
    return frame.assign(bus=frame["bus"].astype(np.int64), relay=frame["relay"].astype(np.int64))


def _target(records: Records, kind: str, field: str, target_kind: str) -> Ints:
    """Row of the asset that a field of each asset of a kind refers to; -1 where it does not."""
    mentions = records.references
    mentions = mentions[(mentions["asset_kind"] == kind) & (mentions["field"] == field)]
    mentions = mentions[mentions["target_kind"] == target_kind]
    at = index_of(records.tables[kind], kind).get_indexer(pd.MultiIndex.from_frame(mentions[["substation", "asset"]]))
    row = index_of(records.tables[target_kind], target_kind).get_indexer(
        pd.MultiIndex.from_frame(mentions[["target_substation", "target"]])
    )
    found = np.full(len(records.tables[kind]), -1, dtype=np.int64)
    found[at[at >= 0]] = row[at >= 0]
    return found


def _most_sensitive(study: Study, asked: pd.DataFrame) -> Ints:
    """The voltage relay of lowest pickup on each: the one that a detector drives, and those that measure the VT."""
    records = study.records
    measured = _target(records, "ground_relay", "measures", KIND)
    pickup = records.numbers("ground_relay", "pickup")
    voltage = sees_voltage(records, study.policy)
    relays = pd.DataFrame({"relay": np.arange(pickup.size), "vt": measured})[voltage & (measured >= 0)]
    numbered = asked.assign(number=np.arange(len(asked)))
    driven = numbered[numbered["relay"] >= 0][["number", "relay"]]
    on_vt = numbered[numbered["vt"] >= 0][["number", "vt"]].merge(relays, on="vt")[["number", "relay"]]
    both = pd.concat([driven, on_vt]).drop_duplicates()
    both = both.assign(pickup=pickup[both["relay"].to_numpy(dtype=np.int64)]).sort_values(["number", "pickup", "relay"])
    first = both.drop_duplicates("number").set_index("number")["relay"]
    return first.reindex(range(len(asked))).fillna(-1).to_numpy(dtype=np.int64)


def _frame(study: Study, vts: VoltageTransformers, asked: pd.DataFrame) -> tuple[pd.DataFrame, Bounded]:
    records, policy = study.records, study.policy
    vt, bus = asked["vt"].to_numpy(dtype=np.int64), asked["bus"].to_numpy(dtype=np.int64)
    shift = shift_v(study, "max").take(bus)
    kilovolts = Bounded(shift.value * 3e-3, shift.low * 3e-3, shift.high * 3e-3)
    ratio = vts.delta_ratio.take(vt)
    with np.errstate(invalid="ignore", divide="ignore"):
        secondary = monotone(_delta_volts, rising=[shift], falling=[ratio])
    ohms = np.asarray(taken(records.numbers(KIND, "damping_resistor"), vt), dtype=float)
    watts = monotone(lambda v: damping_resistor_w(v, ohms), rising=[secondary])
    relay = _most_sensitive(study, asked)
    pickup = np.asarray(taken(records.numbers("ground_relay", "pickup"), relay), dtype=float)
    with np.errstate(invalid="ignore", divide="ignore"):
        share = monotone(
            lambda set_to, seen: set_to / seen, [recorded(pickup, policy["tolerance.setting"])],
            [Bounded(shift.value * 3, shift.low * 3, shift.high * 3)],
        )  # fmt: skip
    solution = study.solution
    z = (np.append(of["max"], np.nan + 0j)[bus] for of in (solution.z1, solution.z2, solution.z0))
    phases = phase_voltages_kv(np.append(records.nominal_kv, np.nan)[bus], *z)
    vt_station, vt_tag = records.tags(KIND)
    relay_name = np.array([f"{s}:{t}" for s, t in zip(*records.tags("ground_relay"), strict=True)], dtype=object)
    zone = zone_of_bus(study.topology, bus)
    marks = study.faults.loc[study.faults["condition"] == "max", "provisional"].to_numpy(dtype=bool)
    names = _names(records, asked)
    has_vt, has_relay, has_resistor = vt >= 0, relay >= 0, ~np.isnan(ohms)
    frame = pd.DataFrame(
        {
            **names,
            "vt_substation": words_at(vt_station, vt),
            "instrument_transformer": words_at(vt_tag, vt),
            "zone": words_at(study.names.name, zone),
            **kilovolts.columns("residual_kv"),
            **secondary.columns("broken_delta_v", has_vt),
            **{f"{name}_phase_kv": phases[:, column] for column, name in enumerate(("faulted", "lagging", "leading"))},
            "relay": words_at(relay_name, relay),
            "relay_pickup_v": pickup,
            **share.columns("pickup_share", has_relay),
            "damping_resistor_ohm": ohms,
            **watts.columns("damping_w", has_vt & has_resistor),
            "provisional": np.asarray(taken(marks, bus, False), dtype=bool),
        }
    )
    return frame, kilovolts


def _delta_volts(shift_volts: Floats, ratio: Floats) -> Floats:
    return broken_delta_v(shift_volts / 1e3, np.where(ratio == 0, np.nan, ratio), 1.0)


def _names(records: Records, asked: pd.DataFrame) -> dict[str, NDArray[np.object_]]:
    named = {kind: assets_of(records, kind) for kind in ("ground_detector", KIND)}
    parts = [named[str(kind)].iloc[rows["row"]].set_index(rows.index) for kind, rows in asked.groupby("asset_kind")]
    if not parts:
        return {column: np.zeros(0, dtype=object) for column in ("substation", "asset_kind", "asset")}
    frame = pd.concat(parts).sort_index()
    return {column: frame[column].to_numpy(dtype=object) for column in ("substation", "asset_kind", "asset")}


def _blocked(
    study: Study, vts: VoltageTransformers, asked: pd.DataFrame, frame: pd.DataFrame, residual: Bounded
) -> pd.DataFrame:
    """The voltage waits for the fault; what the broken delta gives of it for the ratio; the share for a pickup."""
    assets = frame[["substation", "asset_kind", "asset"]]
    bus, vt = asked["bus"].to_numpy(dtype=np.int64), asked["vt"].to_numpy(dtype=np.int64)
    unseen = np.isnan(residual.value)
    own_bus = (bus < 0) & (asked["asset_kind"] == KIND).to_numpy()
    rows = []
    for column in ("residual_kv", "broken_delta_v", "pickup_share", "damping_w"):
        asked_for = ~frame[f"{column}_low"].isna().to_numpy()
        missing = frame[column].isna().to_numpy(dtype=bool) & asked_for & unseen
        rows.append(study.tracer.at_bus(assets, f"detector_output.{column}", missing, bus, charging=True))
        rows.append(own_field(assets, f"detector_output.{column}", missing & own_bus, "bus"))
    transformers = assets_of(study.records, KIND)
    if len(transformers):
        blocking = transformers.iloc[np.maximum(vt, 0)].reset_index(drop=True)
        for field in ("primary", "secondary"):
            blank = np.isnan(np.asarray(taken(study.records.numbers(KIND, field), vt), dtype=float)) & (vt >= 0)
            for column in ("broken_delta_v", "damping_w"):
                asked_for = ~frame[f"{column}_low"].isna().to_numpy()
                rows.append(foreign_field(assets, f"detector_output.{column}", blank & asked_for, blocking, field))
    return joined(rows)
