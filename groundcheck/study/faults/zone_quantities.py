"""Charging current, resistors and coils of every zone, between bounds."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.study.bounded import Bounded, recorded
from groundcheck.study.context import Study
from groundcheck.study.currents.readings import taken
from groundcheck.study.networks.capacitance import first_bus, zone_voltage
from groundcheck.study.networks.zones import Topology

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]


def zone_of_bus(topology: Topology, bus: Ints) -> Ints:
    """Zone of each bus number; -1 where there is no bus."""
    return np.where(bus >= 0, topology.zone[bus], -1) if topology.zone.size else np.full(bus.shape, -1, dtype=np.int64)


def naming_bus(study: Study, zone: Ints) -> Ints:
    """The first bus of each zone, from which a tracer looks; -1 where the zone is -1."""
    return np.asarray(taken(first_bus(study.topology), zone, -1), dtype=np.int64)


def phase_volts(study: Study) -> Floats:
    """Line-to-neutral voltage of each zone, in V."""
    return np.asarray(zone_voltage(study.records, study.topology) * 1e3 / np.sqrt(3), dtype=np.float64)


def charging_bounds(study: Study) -> Bounded:
    """
    Charging current of each zone.

    A line or machine whose capacitance is blank may add anything, whether or not a typical value stands in for it.
    """
    records, topology = study.records, study.topology
    share = study.policy["tolerance.impedance"]
    known = np.zeros(topology.zone_count)
    given = ~np.isnan(records.numbers("line", "c0")) | ~np.isnan(records.numbers("line", "charging_current"))
    parts = (
        (zone_of_bus(topology, records.bus_of("line", "from_bus")), study.lines.susceptance, given),
        (
            zone_of_bus(topology, study.generators.bus), study.capacitance.machine,
            ~np.isnan(study.capacitance.machine),
        ),
    )  # fmt: skip
    counted = np.zeros(topology.zone_count, dtype=bool)
    blank = np.zeros(topology.zone_count, dtype=bool)
    for zone, susceptance, on_record in parts:
        sure = (zone >= 0) & on_record & ~np.isnan(susceptance)
        np.add.at(known, zone[sure], susceptance[sure])
        counted[zone[zone >= 0]] = True
        blank[zone[(zone >= 0) & ~sure]] = True
    amperes = 3 * phase_volts(study) * known
    low = np.nan_to_num(amperes * (1 - share))
    high = np.where(blank | ~counted | np.isnan(amperes), np.inf, amperes * (1 + share))
    return Bounded(study.capacitance.charging_a, low, high)


def device_ohms(study: Study) -> Bounded:
    """Magnitude of the impedance of each neutral device."""
    ohms = np.abs(study.neutrals.z_device)
    return recorded(ohms, study.policy["tolerance.resistance"])


def group_zones(study: Study) -> tuple[Ints, Ints]:
    """Pairs of a neutral device and a zone that it stands in; several where its neutral is shared over zones."""
    links = study.neutrals.links
    pairs = pd.DataFrame(
        {
            "device": links["device"].to_numpy(dtype=np.int64),
            "zone": study.zone_of_point[links["point"].to_numpy(dtype=np.int64)],
        }
    )
    pairs = pairs[pairs["zone"] >= 0].drop_duplicates()
    return pairs["device"].to_numpy(dtype=np.int64), pairs["zone"].to_numpy(dtype=np.int64)


def current_of_kinds(study: Study, kinds: tuple[str, ...]) -> tuple[Bounded, Bools]:
    """V_LN/|Z| of the devices of these kinds in each zone together, and whether there are any."""
    device, zone = group_zones(study)
    of_kind = np.isin(study.records.words("neutral_device", "kind").astype(str), kinds)
    device, zone = device[of_kind[device]], zone[of_kind[device]]
    volts, ohms = phase_volts(study), device_ohms(study)
    count = study.topology.zone_count

    def total(of: Floats) -> Floats:
        found = np.zeros(count)
        with np.errstate(divide="ignore", invalid="ignore"):
            np.add.at(found, zone, 1 / of[device])
        return found

    some = np.zeros(count, dtype=bool)
    some[zone] = True
    with np.errstate(invalid="ignore"):
        low = np.nan_to_num(volts * total(ohms.high), posinf=np.inf)
        high = volts * total(ohms.low)
        found = Bounded(volts * total(ohms.value), low, np.where(np.isnan(high), np.where(some, np.inf, 0), high))
    return found, some
