"""Which relays time the faults of each neutral device, neutral point and zone, and how long they take there."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.policy import Policy
from groundcheck.study.currents.reach import Measured, sees_voltage
from groundcheck.study.currents.readings import Readings, taken
from groundcheck.study.networks.neutrals import Neutrals
from groundcheck.study.networks.zones import Topology
from groundcheck.study.records import Records
from groundcheck.study.relays.clearing import longest, may_trip, surely_trips, trips
from groundcheck.study.relays.duration_bounds import Ends, Watched, longest_bounds
from groundcheck.study.relays.relay_settings import SeenCurrents, Settings, clearing_bounds_s, clearing_s, unplaced

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


def seen_at_neutrals(
    records: Records, neutrals: Neutrals, measured: Measured, readings: Readings, policy: Policy
) -> SeenCurrents:
    """What each relay sees at its neutral: a voltage relay the current there times the impedance of the device."""
    smallest, largest = readings.relay_smallest, readings.relay_largest
    voltage = sees_voltage(records, policy)
    of_point = neutrals.points["device"].to_numpy(dtype=np.int64)
    device = np.where(measured.device >= 0, measured.device, taken(of_point, measured.point, -1)).astype(np.int64)
    ohms = np.asarray(taken(np.abs(neutrals.z_device), device), dtype=float)
    ohms = np.where(np.isfinite(ohms), ohms, np.nan)
    off = float(policy["tolerance.resistance"])
    low, high = np.where(voltage, ohms * (1 - off), 1.0), np.where(voltage, ohms * (1 + off), 1.0)
    with np.errstate(invalid="ignore"):
        ends = [
            (np.nan_to_num(least * low), np.where(np.isnan(most * high), np.inf, most * high))
            for least, most in ((smallest.low, smallest.high), (largest.low, largest.high))
        ]
        by_ohms = np.where(voltage, ohms, 1.0)
        return SeenCurrents(smallest.value * by_ohms, largest.value * by_ohms, *ends[0], *ends[1])


class RelayTimes:
    """Every relay with what makes it count: its settings, whether it trips, and where it may stand."""

    def __init__(self, records: Records, topology: Topology, settings: Settings, policy: Policy) -> None:
        self.settings, self.topology, self.records = settings, topology, records
        self.tolerance = float(policy["tolerance.setting"])
        self.counts = trips(records, policy)
        self.sure, self.may = surely_trips(records, policy), may_trip(records, policy)
        self.adrift = set(records.tags("ground_relay")[0][self.may & unplaced(records)])

    def longest(self, at: Watched, current_a: Floats) -> Floats:
        """Longest time of the relays at each place; a relay that never picks up clears nothing."""
        seconds = np.where(self.counts, clearing_s(self.settings, current_a), np.nan)
        seconds = np.where(np.isinf(seconds), np.nan, seconds)
        return longest(at.place, seconds[at.relay], at.count)

    def deciding(self, value: Floats, low: Floats, high: Floats) -> Floats:
        """The current that each relay sees; where not known, its low end if the time is the same at both ends."""
        same = clearing_s(self.settings, low) == clearing_s(self.settings, high)
        return np.where(np.isnan(value) & same, low, value)

    def open(self, at: Watched, current_a: Floats) -> Bools:
        """Places with a relay that may trip, but of which the record does not tell whether, or in what time."""
        unknown = self.may & (~self.sure | self._untimed(current_a))
        marks = np.zeros(at.count, dtype=bool)
        marks[at.place[unknown[at.relay]]] = True
        return marks

    def blind(self, current_a: Floats) -> Bools:
        """Relays that may trip and whose time waits for the current that they see."""
        return np.asarray(self.may & np.isnan(current_a), dtype=bool)

    def _untimed(self, current_a: Floats) -> Bools:
        return np.isnan(clearing_s(self.settings, current_a)) | ~self.settings.told

    def ends(self, at: Watched, low_a: Floats, high_a: Floats, doubtful: Bools, otherwise: Ends) -> Ends:
        """Ends of `longest`."""
        quick, slow = clearing_bounds_s(self.settings, low_a, high_a, self.tolerance)
        return longest_bounds(at, quick, slow, self.sure, self.may, doubtful, otherwise)

    def doubtful(self, station: NDArray[np.object_]) -> Bools:
        """Places in a station with a relay of which the record does not tell what it measures."""
        return np.array([s in self.adrift for s in station], dtype=bool)

    def doubtful_zones(self) -> Bools:
        """Zones with a bus in such a station."""
        marks = np.zeros(self.topology.zone_count, dtype=bool)
        marks[self.topology.zone[self.doubtful(self.records.bus["substation"].to_numpy(dtype=object))]] = True
        return marks


def watched_places(
    neutrals: Neutrals, measured: Measured, devices: int, zone_of_point: Ints, topology: Topology
) -> tuple[Watched, Watched, Watched]:
    """Which relays time which device, point and zone: one at a transformer's neutral also times the device in it."""
    relay = np.arange(measured.device.size)
    links = neutrals.links[["device", "point"]]
    direct = pd.DataFrame({"relay": relay, "device": measured.device, "point": measured.point})
    on_device, on_point = direct[direct["device"] >= 0], direct[direct["point"] >= 0]
    of_device = pd.concat([on_device[["relay", "device"]], on_point[["relay", "point"]].merge(links, on="point")])
    of_point = pd.concat([on_point[["relay", "point"]], on_device[["relay", "device"]].merge(links, on="device")])
    of_zone = of_point.assign(zone=taken(zone_of_point, of_point["point"].to_numpy(dtype=np.int64), -1))

    def watched(frame: pd.DataFrame, place: str, count: int) -> Watched:
        pairs = frame[["relay", place]].drop_duplicates()
        pairs = pairs[pairs[place] >= 0]
        return Watched(pairs["relay"].to_numpy(dtype=np.int64), pairs[place].to_numpy(dtype=np.int64), count)

    return (
        watched(of_device, "device", devices),
        watched(of_point, "point", zone_of_point.size),
        watched(of_zone, "zone", topology.zone_count),
    )


def point_stations(records: Records, neutrals: Neutrals) -> NDArray[np.object_]:
    """Station of the asset of each neutral point."""
    kind, row = neutrals.points["asset_kind"].to_numpy(dtype=object), neutrals.points["row"].to_numpy(dtype=np.int64)
    station = np.full(row.size, None, dtype=object)
    for name in ("transformer", "generator", "grounding_transformer"):
        station[kind == name] = records.tags(name)[0][row[kind == name]]
    return station
