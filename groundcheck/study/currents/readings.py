"""Ground-fault currents read at neutral devices, at neutral points, over zones and by relays, in both conditions."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.policy import Policy
from groundcheck.study.bounded import Bounded
from groundcheck.study.currents.ceilings import device_ceilings, point_ceilings
from groundcheck.study.currents.meters import (
    Meters,
    at_own_bus,
    device_meters,
    extremes,
    over_zones,
    point_meters,
    shares,
)
from groundcheck.study.currents.reach import Measured
from groundcheck.study.networks.resistive_faults import share_bounds, share_through
from groundcheck.study.networks.solved_networks import Networks
from groundcheck.study.networks.zones import Topology, zone_extreme

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


@dataclass(frozen=True)
class Currents(Bounded):
    """In A; `bus`: the one whose fault gives it, -1 where that is open."""

    bus: Ints

    def at(self, place: Ints) -> "Currents":
        """The currents at these places; nothing is known at -1."""
        found = self.take(place)
        return Currents(found.value, found.low, found.high, np.asarray(taken(self.bus, place, -1), dtype=np.int64))

    def where(self, chosen: Bools, other: "Currents") -> "Currents":
        """These where chosen, the others elsewhere."""
        return Currents(
            np.where(chosen, self.value, other.value),
            np.where(chosen, self.low, other.low),
            np.where(chosen, self.high, other.high),
            np.where(chosen, self.bus, other.bus),
        )


@dataclass(frozen=True)
class Readings:
    """Largest currents in the maximum condition, smallest in the minimum condition."""

    device_zone: Ints
    device_max: Currents
    point_max: Currents
    relay_largest: Currents
    relay_smallest: Currents

    @property
    def relay_largest_a(self) -> Floats:
        """Largest current that each relay sees."""
        return self.relay_largest.value

    @property
    def relay_smallest_a(self) -> Floats:
        """Smallest current that each relay must see."""
        return self.relay_smallest.value


@dataclass(frozen=True)
class Places:
    """
    Where meters stand: zone and bus, -1 where not on record.

    shared : the zone has, or may have, several ground sources.
    beside : another device stands in the same neutral.
    open_share : and what part each takes is not on record.
    """

    zone: Ints
    bus: Ints
    ceiling_a: Floats
    shared: Bools
    beside: Bools
    open_share: Bools


def read_currents(
    topology: Topology,
    networks: Networks,
    corners: list[Networks],
    faults: pd.DataFrame,
    measured: Measured,
    bus_of_point: Ints,
    sources_of_zone: Ints,
    zones: pd.DataFrame,
    policy: Policy,
) -> Readings:
    """
    Read every meter: the largest current over its whole zone, the smallest over what a relay there must see.

    A relay in the only grounded neutral of a zone must see faults in all of it. Where several neutrals share the fault
    current, those far from a relay are for the others: what it must see is a fault at its own bus.
    """
    neutrals = networks.neutrals
    bus_of_device = np.full(neutrals.device_group.size, -1, dtype=np.int64)
    first = neutrals.links.drop_duplicates("device")
    bus_of_device[first["device"]] = bus_of_point[first["point"]]
    zone_of_device, zone_of_point = (
        np.where(bus >= 0, topology.zone[bus], -1) for bus in (bus_of_device, bus_of_point)
    )
    volts = zones["nominal_kv"].to_numpy(dtype=float)
    several = sources_of_zone > 1
    assumed = several & zones["provisional"].to_numpy(dtype=bool)
    of_device = device_ceilings(np.asarray(taken(volts, zone_of_device), dtype=float), corners, policy)
    of_point = point_ceilings(
        np.asarray(taken(volts, zone_of_point), dtype=float), neutrals, of_device, corners, policy
    )
    beside, split = same_neutral(corners, neutrals.device_group, float(policy["tolerance.resistance"]))
    nowhere = np.zeros(zone_of_point.size, dtype=bool)
    devices, points = (
        Places(
            zone, bus, ceiling, taken(several, zone, False).astype(bool), near,
            taken(assumed, zone, False).astype(bool) | open_part,
        )
        for zone, bus, ceiling, near, open_part in (
            (zone_of_device, bus_of_device, of_device, beside, split),
            (zone_of_point, bus_of_point, of_point, nowhere, nowhere),
        )
    )  # fmt: skip
    currents = {condition: _fault_amperes(faults, condition) for condition in ("max", "min")}
    currents["min"] = _through(currents["min"], networks, corners, float(policy["ground_relay.fault_resistance"]))

    def read(meters: Callable[..., Meters], places: Places, condition: str) -> Currents:
        most = condition == "max"
        far = places.shared & (not most)
        cases = pd.concat(
            [over_zones(np.where(far, -1, places.zone), topology), at_own_bus(np.where(far, places.bus, -1))],
            ignore_index=True,
        )
        parts = [
            shares(meters(n.neutrals, n.zero_of[condition]), cases, topology, n.solution, condition)
            for n in (networks, *corners)
        ]
        return bounded_reading(cases, parts, currents[condition], places, float(policy["tolerance.impedance"]), most)

    device_max, point_max = read(device_meters, devices, "max"), read(point_meters, points, "max")
    return Readings(
        zone_of_device,
        device_max,
        point_max,
        _by_relay(measured, device_max, point_max, _over_zones(topology, currents["max"], True)),
        _by_relay(
            measured, read(device_meters, devices, "min"), read(point_meters, points, "min"),
            _over_zones(topology, currents["min"], False),
        ),
    )  # fmt: skip


def same_neutral(corners: list[Networks], group: Ints, tolerance: float) -> tuple[Bools, Bools]:
    """
    Devices with another in their neutral; and those of which neither their own ohms nor those of another are known.

    No corner shows one of two small and the other large.
    """
    ohms = np.abs(np.stack([each.neutrals.z_device for each in corners]))
    with np.errstate(invalid="ignore"):
        settled = (ohms == ohms[0]).all(axis=0) | (
            ohms.max(axis=0) <= ohms.min(axis=0) * (1 + tolerance) / (1 - tolerance) * (1 + 1e-9)
        )
    stands = group >= 0

    def others(marks: Bools) -> Bools:
        count = np.bincount(group[marks & stands], minlength=int(group.max(initial=-1)) + 1)
        return np.asarray(stands & (np.asarray(taken(count, group, 0)) > marks), dtype=bool)

    return others(np.ones(group.size, dtype=bool)), ~settled & others(~settled)


def taken(values: NDArray[np.generic], place: Ints, missing: float | bool = np.nan) -> NDArray[np.generic]:
    """Values at places, `missing` where a place is -1."""
    if values.size == 0:
        return np.full(place.shape, missing)
    return np.where(place >= 0, values[place], missing)


def _fault_amperes(faults: pd.DataFrame, condition: str) -> Currents:
    rows = faults[faults["condition"] == condition]
    value, low, high = (rows[f"line_to_ground_ka{end}"].to_numpy(dtype=float) * 1e3 for end in ("", "_low", "_high"))
    return Currents(value, low, high, np.arange(value.size, dtype=np.int64))


def _through(fault: Currents, networks: Networks, corners: list[Networks], fault_ohm: float) -> Currents:
    """The weakest fault that a relay must see, which is one through resistance."""
    least, most = share_bounds([each.solution for each in (networks, *corners)], fault_ohm, "min")
    share = share_through(networks.solution, fault_ohm, "min")
    return Currents(fault.value * share, fault.low * least, fault.high * most, fault.bus)


def bounded_reading(
    cases: pd.DataFrame, parts: list[Floats], fault: Currents, places: Places, tolerance: float, most: bool
) -> Currents:
    """Largest or smallest over the cases; its bounds by the corners' shares of the bounds of the fault current."""
    meter, bus = cases["meter"].to_numpy(dtype=np.int64), cases["bus"].to_numpy(dtype=np.int64)
    count = places.zone.size
    corner = np.stack(parts[1:])
    unknown = np.isnan(corner).any(axis=0) | places.open_share[meter]
    # Of several sources, or devices in one neutral, one may be strong where the others are weak: no corner shows that.
    wider = np.where((places.shared | places.beside)[meter], (1 + tolerance) / (1 - tolerance), 1.0)
    with np.errstate(invalid="ignore"):
        low = np.where(unknown, 0.0, corner.min(axis=0) / wider * fault.low[bus])
        high = np.where(unknown, np.inf, corner.max(axis=0) * wider * fault.high[bus])
    high = np.fmin(np.nan_to_num(high, nan=np.inf, posinf=np.inf), places.ceiling_a[meter])
    found = extremes(meter, bus, parts[0] * fault.value[bus], count)
    least, greatest = extremes(meter, bus, np.nan_to_num(low), count), extremes(meter, bus, high, count)
    if most:
        value, ends = found.largest_a, (least.largest_a, greatest.largest_a)
    else:
        value, ends = found.smallest_a, (least.smallest_a, greatest.smallest_a)
    # A meter without a case is one whose bus is not on record.
    low, high = np.nan_to_num(ends[0]), np.where(np.isnan(ends[1]), places.ceiling_a, ends[1])
    return Currents(value, np.fmin(low, value), np.fmax(high, value), np.where(np.isnan(value), -1, found.worst_bus))


def _over_zones(topology: Topology, fault: Currents, most: bool) -> Currents:
    value, low, high = (zone_extreme(topology, of_bus, largest=most) for of_bus in (fault.value, fault.low, fault.high))
    return Currents(value, low, high, np.full(topology.zone_count, -1, dtype=np.int64))


def _by_relay(measured: Measured, of_device: Currents, of_point: Currents, of_zone: Currents) -> Currents:
    """What a relay measures: its neutral device, else its neutral, else the total fault current of its zone."""
    at_neutral = of_device.at(measured.device).where(measured.device >= 0, of_point.at(measured.point))
    neutral = (measured.device >= 0) | (measured.point >= 0)
    return at_neutral.where(neutral, of_zone.at(measured.zone))
