"""How much of each generator's stator winding its ground relays protect."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.engineering import current_coverage, voltage_coverage
from groundcheck.study.bounded import Bounded, monotone, recorded
from groundcheck.study.context import Study
from groundcheck.study.currents.readings import taken
from groundcheck.study.faults.zone_quantities import device_ohms, naming_bus
from groundcheck.study.gaps import assets_of, foreign_field, joined
from groundcheck.study.relays.relay_settings import read_settings
from groundcheck.study.relays.relay_view import View, relay_view, watched_device

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


def stator_tables(study: Study) -> dict[str, pd.DataFrame]:
    """The rows of study.stator_coverage, and what they wait for."""
    view = relay_view(study)
    relay, generator = _pairs(study, view)
    pickup = read_settings(study.records, study.policy).pickup
    frame, full = _frame(study, view, relay, generator, pickup)
    return {"stator_coverage": frame, "blocked": _blocked(study, frame, full, relay, generator, pickup)}


def _pairs(study: Study, view: View) -> tuple[Ints, Ints]:
    """Relays at a generator's neutral or the device in it, and voltage relays at its bus; with that generator."""
    points = study.neutrals.points
    machine = points[points["asset_kind"] == "generator"]
    of_point = pd.Series(machine["row"].to_numpy(), index=machine.index)
    links = study.neutrals.links
    links = links[links["point"].isin(of_point.index)]
    relay = np.arange(study.measured.device.size)
    seen = pd.DataFrame({"relay": relay, "device": study.measured.device, "point": study.measured.point})
    by_device = seen[seen["device"] >= 0][["relay", "device"]].merge(links[["device", "point"]], on="device")
    by_point = seen[seen["point"].isin(of_point.index)]
    neutral = pd.concat([by_device[["relay", "point"]], by_point[["relay", "point"]]])
    neutral = neutral.assign(generator=of_point.reindex(neutral["point"]).to_numpy())[["relay", "generator"]]
    bus = study.records.bus_of("generator", "bus")
    machines = pd.DataFrame({"generator": np.arange(bus.size), "bus": bus})
    at_bus = pd.DataFrame({"relay": relay, "bus": view.bus})[view.voltage & (view.bus >= 0)].merge(machines, on="bus")
    pairs = pd.concat([neutral, at_bus[["relay", "generator"]]]).drop_duplicates().sort_values(["generator", "relay"])
    pairs = pairs[~view.blind[pairs["relay"].to_numpy(dtype=np.int64)]]
    return pairs["relay"].to_numpy(dtype=np.int64), pairs["generator"].to_numpy(dtype=np.int64)


def _frame(study: Study, view: View, relay: Ints, generator: Ints, pickup: Floats) -> tuple[pd.DataFrame, Bounded]:
    """A voltage relay by the voltage that it sees at most; a current relay by the resistor that limits its current."""
    policy, records = study.policy, study.records
    voltage = view.voltage[relay]
    set_to = recorded(pickup[relay], float(policy["tolerance.setting"]))
    kv = records.nominal_kv
    bus = records.bus_of("generator", "bus")[generator]
    volts = np.asarray(taken(kv, bus), dtype=float) * 1e3 / np.sqrt(3)
    ohms = device_ohms(study).take(watched_device(study)[relay])
    with np.errstate(divide="ignore", invalid="ignore"):
        amperes = Bounded(volts / ohms.value, volts / ohms.high, volts / ohms.low)
    seen = view.smallest.take(relay)
    full = Bounded(*(np.where(voltage, v, a) for v, a in zip(_parts(seen), _parts(amperes), strict=True)))
    by_voltage = monotone(_voltage_share, rising=[seen], falling=[set_to])
    by_current = monotone(lambda set_a, z: current_coverage(set_a, z, _kv(volts)), rising=[], falling=[set_to, ohms])
    carries = np.isfinite(ohms.value) & (ohms.value > 0)
    by_current = Bounded(
        np.where(carries, by_current.value, np.nan), np.where(carries, by_current.low, 0.0),
        np.where(carries, by_current.high, 1.0),
    )  # fmt: skip
    parts = zip(_parts(by_voltage), _parts(by_current), strict=True)
    coverage = Bounded(*(np.where(voltage, v, a) for v, a in parts)).within(np.zeros(relay.size), np.ones(relay.size))
    station, tag = records.tags("generator")
    relay_station, relay_tag = records.tags("ground_relay")
    marks = study.faults.loc[study.faults["condition"] == "min", "provisional"].to_numpy(dtype=bool)
    zone = np.asarray(taken(study.topology.zone, bus, -1), dtype=np.int64)
    frame = pd.DataFrame(
        {
            "substation": station[generator],
            "generator": tag[generator],
            "relay_substation": relay_station[relay],
            "ground_relay": relay_tag[relay],
            "quantity_kind": np.where(voltage, "voltage", "current"),
            "pickup": pickup[relay],
            **full.columns("full"),
            **coverage.columns("coverage"),
            "zone": [study.names.name[z] if z >= 0 else None for z in zone],
            "provisional": np.asarray(taken(marks, naming_bus(study, zone), False), dtype=bool) & voltage,
        }
    )
    return frame, full


def _parts(of: Bounded) -> tuple[Floats, Floats, Floats]:
    return of.value, of.low, of.high


def _kv(volts: Floats) -> Floats:
    kilovolts: Floats = volts * np.sqrt(3) / 1e3
    return kilovolts


def _voltage_share(full_v: Floats, pickup_v: Floats) -> Floats:
    """Coverage; none where there is nothing to see."""
    nothing = full_v == 0
    endless = np.isinf(pickup_v)
    share = voltage_coverage(np.where(endless, 0.0, pickup_v), np.where(nothing, 1.0, full_v))
    return np.where(nothing | endless, np.where(np.isnan(full_v + pickup_v), np.nan, 0.0), share)


def _blocked(
    study: Study, frame: pd.DataFrame, full: Bounded, relay: Ints, generator: Ints, pickup: Floats
) -> pd.DataFrame:
    assets = assets_of(study.records, "generator").iloc[generator].reset_index(drop=True)
    relays = assets_of(study.records, "ground_relay").iloc[relay].reset_index(drop=True)
    devices = assets_of(study.records, "neutral_device")
    missing: Bools = frame["coverage"].isna().to_numpy(dtype=bool)
    unseen = missing & np.isnan(full.value)
    voltage = (frame["quantity_kind"] == "voltage").to_numpy(dtype=bool)
    quantity = "stator_coverage.coverage"
    bus = study.records.bus_of("generator", "bus")[generator]
    rows = [
        foreign_field(assets, quantity, missing & np.isnan(pickup[relay]), relays, "pickup"),
        study.tracer.at_bus(assets, quantity, unseen & voltage, bus, charging=True),
    ]
    if len(devices):
        device = watched_device(study)[relay]
        blocking = devices.iloc[np.maximum(device, 0)].reset_index(drop=True)
        blank = np.isnan(np.asarray(taken(np.abs(study.neutrals.z_device), device), dtype=float)) & (device >= 0)
        rows.append(foreign_field(assets, quantity, missing & blank, blocking, "resistance"))
    return joined(rows)
