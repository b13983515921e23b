"""What each ground relay sees in a ground fault: amperes, or volts at a neutral or of a broken delta."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.study.bounded import Bounded, anything, monotone, recorded
from groundcheck.study.context import Study
from groundcheck.study.currents.reach import sees, sees_voltage
from groundcheck.study.currents.readings import taken
from groundcheck.study.faults.zone_quantities import device_ohms
from groundcheck.study.records import Records, index_of

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


@dataclass(frozen=True)
class View:
    """
    Of each relay: what it sees in the weakest and in the strongest fault, in A or V, and whether it is volts.

    bus : at which it measures; -1 where it measures a neutral, or nothing on record.
    blind : relays whose quantity the study does not compute.
    """

    smallest: Bounded
    largest: Bounded
    voltage: Bools
    bus: Ints
    blind: Bools


def relay_view(study: Study) -> View:
    """
    Look through every relay.

    A current relay sees what relay_reach says. A voltage relay at a neutral sees the current of the neutral device
    times its impedance, or the displacement of the system where nothing carries current there; at a bus or a voltage
    transformer it sees 3V0 for a fault at that bus. An undervoltage relay watches the third harmonic of a sound
    machine, which is not computed.
    """
    records = study.records
    voltage = sees_voltage(records, study.policy)
    blind = np.array(
        [s is True for s in sees(records, study.policy, "ground_relay.undervoltage_functions")], dtype=bool
    )
    bus = measured_bus(records)
    read = study.readings
    ends = []
    for current, condition in ((read.relay_smallest, "min"), (read.relay_largest, "max")):
        amperes = Bounded(current.value, current.low, current.high)
        volts = _neutral_volts(study, amperes, condition)
        residual = _scaled(shift_v(study, condition), 3.0).take(bus)
        seen = _either(voltage & (bus >= 0), residual, _either(voltage & (bus < 0), volts, amperes))
        ends.append(seen)
    low, high = _ordered(*ends)
    return View(low, high, voltage, bus, blind)


def measured_bus(records: Records) -> Ints:
    """Bus at which each relay measures; -1 for a neutral."""
    found = np.full(len(records.tables["ground_relay"]), -1, dtype=np.int64)
    mentions = records.references
    mentions = mentions[(mentions["asset_kind"] == "ground_relay") & (mentions["field"] == "measures")]
    relay = index_of(records.tables["ground_relay"], "ground_relay").get_indexer(
        pd.MultiIndex.from_frame(mentions[["substation", "asset"]])
    )
    stands = {
        "bus": np.arange(len(records.bus)),
        "line": records.bus_of("line", "from_bus"),
        "instrument_transformer": records.bus_of("instrument_transformer", "bus"),
    }
    for kind, bus in stands.items():
        mine = (mentions["target_kind"] == kind).to_numpy() & (relay >= 0)
        row = index_of(records.tables[kind], kind).get_indexer(
            pd.MultiIndex.from_frame(mentions.loc[mine, ["target_substation", "target"]])
        )
        found[relay[mine][row >= 0]] = bus[row[row >= 0]]
    return found


def shift_v(study: Study, condition: str) -> Bounded:
    """V0 at every bus for a fault there, in V."""
    rows = study.faults[study.faults["condition"] == condition]
    value, low, high = (rows[f"neutral_shift_kv{end}"].to_numpy(dtype=float) * 1e3 for end in ("", "_low", "_high"))
    return Bounded(value, np.nan_to_num(low), np.where(np.isnan(high), np.inf, high))


def watched_device(study: Study) -> Ints:
    """Neutral device whose voltage a relay sees: the one it measures, or the one in the neutral that it measures."""
    of_point = study.neutrals.points["device"].to_numpy(dtype=np.int64)
    at_point = np.asarray(taken(of_point, study.measured.point, -1), dtype=np.int64)
    return np.where(study.measured.device >= 0, study.measured.device, at_point)


def _neutral_volts(study: Study, amperes: Bounded, condition: str) -> Bounded:
    """Voltage of the neutral: of its device, of the system where nothing carries current, none at a solid link."""
    device = watched_device(study)
    ohms = device_ohms(study)
    carries = np.isfinite(ohms.value)
    across = monotone(lambda a, z: a * z, rising=[amperes, ohms.take(device)])
    bus = np.asarray(taken(study.bus_of_point, _point_of(study, device), -1), dtype=np.int64)
    shift = shift_v(study, condition).take(bus)
    kv = study.records.nominal_kv
    ceiling = study.policy["study.displacement_factor"] * np.asarray(taken(kv, bus), dtype=float) * 1e3 / np.sqrt(3)
    open_neutral = np.asarray(taken(np.isinf(ohms.value), device, False), dtype=bool)
    on_record = np.asarray(taken(carries, device, False), dtype=bool)
    solid = study.measured.point >= 0
    treatment = words_at(study.neutrals.points["treatment"].to_numpy(dtype=object), study.measured.point)
    solid &= (device < 0) & (treatment == "solid")
    found = _either(open_neutral, shift, _either(on_record, across, anything(device.size)))
    found = _either(solid, recorded(np.zeros(device.size)), found)
    return found.within(np.zeros(device.size), np.where(np.isnan(ceiling), np.inf, ceiling))


def words_at(words: NDArray[np.object_], place: Ints) -> NDArray[np.object_]:
    """Words at places; None where a place is -1."""
    found = np.full(place.shape, None, dtype=object)
    found[place >= 0] = words[place[place >= 0]]
    return found


def _point_of(study: Study, device: Ints) -> Ints:
    """First neutral point in which each device stands; the measured point where there is no device."""
    first = np.full(max(study.neutrals.device_group.size, 1), -1, dtype=np.int64)
    links = study.neutrals.links.drop_duplicates("device")
    first[links["device"].to_numpy(dtype=np.int64)] = links["point"].to_numpy(dtype=np.int64)
    return np.where(device >= 0, first[device], study.measured.point)


def _either(chosen: Bools, first: Bounded, second: Bounded) -> Bounded:
    pairs = ((first.value, second.value), (first.low, second.low), (first.high, second.high))
    return Bounded(*(np.where(chosen, one, other) for one, other in pairs))


def _scaled(of: Bounded, factor: float) -> Bounded:
    return Bounded(of.value * factor, of.low * factor, of.high * factor)


def _ordered(one: Bounded, other: Bounded) -> tuple[Bounded, Bounded]:
    """The smaller and the larger of both: a voltage may be higher where the infeed is weak."""
    pairs = ((one.value, other.value), (one.low, other.low), (one.high, other.high))
    with np.errstate(invalid="ignore"):
        return (
            Bounded(*(np.minimum(a, b) for a, b in pairs)),
            Bounded(*(np.maximum(a, b) for a, b in pairs)),
        )
