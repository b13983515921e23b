"""Faults at every bus of a zone with an outage: each quantity with its bounds."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.engineering import healthy_phase_kv, line_to_ground_ka
from groundcheck.study.bounded import Bounded
from groundcheck.study.context import Study
from groundcheck.study.faults.fault_table import widened
from groundcheck.study.faults.intervals import of_impedances
from groundcheck.study.networks.bus_faults import CONDITIONS
from groundcheck.study.outages.impedances import After, Places, impedances_after
from groundcheck.study.outages.pairs import Pairs

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


class BusesAfter:
    """
    Faults at the buses of every pair whose zone is not dead.

    pair, outage, bus : of each row. pair_by_charging : of each pair, whether capacitance decides its current that is
    not on record in full. after : impedances, of the networks on record and of each corner.
    healthy, line_to_ground : in kV and kA, by condition.
    """

    def __init__(self, study: Study, pairs: Pairs) -> None:
        topology = study.topology
        zones = pd.DataFrame({"zone": topology.zone, "bus": np.arange(topology.zone.size)})
        alive = pairs.rows.rename_axis("pair").reset_index()[~pairs.column("dead")]
        rows = alive[["pair", "outage", "zone"]].merge(zones, on="zone").sort_values(["pair", "bus"])
        self.pair, self.outage, self.bus = (rows[name].to_numpy(dtype=np.int64) for name in ("pair", "outage", "bus"))
        self.kv = study.records.nominal_kv[self.bus]
        places = Places(self.outage, self.bus, topology.node[self.bus], pairs.column("apart")[self.pair])
        self.after: list[After] = []
        for networks in (study.networks, *study.corners):
            endless, nothing, open_charging = pairs.endless(study, networks)
            if networks is study.networks:
                self.nothing, self.pair_by_charging = nothing[self.pair], open_charging
                self.open_charging = open_charging[self.pair]
            cuts_off = np.zeros(len(pairs.outages), dtype=bool)
            cuts_off[pairs.rows["outage"].to_numpy(dtype=np.int64)[nothing & ~pairs.column("apart")]] = True
            self.after.append(impedances_after(networks, pairs.outages, places, endless[self.pair], cuts_off))
        # Where a record decides whether anything grounds the zone, neither current nor voltage is known.
        self.untold = pairs.column("unsure")[self.pair]
        self.healthy: dict[str, Bounded] = {}
        self.line_to_ground: dict[str, Bounded] = {}
        for condition in CONDITIONS:
            self._bound(study, condition)

    def _bound(self, study: Study, condition: str) -> None:
        z = [each.z[condition] for each in self.after]
        driving = self.kv * study.solution.voltage_factor[condition][self.bus]
        ends = widened(of_impedances(self.kv, driving, z), self.open_charging)
        healthy = np.where(self.untold, np.nan, healthy_phase_kv(self.kv, *z[0]))
        self.healthy[condition] = Bounded(healthy, *ends["healthy_phase_kv"])
        current = np.where(self.open_charging | self.untold, np.nan, line_to_ground_ka(driving, *z[0]))
        self.line_to_ground[condition] = Bounded(current, *ends["line_to_ground_ka"])

    def over_pairs(self, of_bus: Bounded, extreme: np.ufunc, count: int) -> Bounded:
        """Largest or smallest of each pair; not known where any bus is not, or the zone is dead."""
        return Bounded(*(_reduced(self.pair, count, end, extreme) for end in (of_bus.value, of_bus.low, of_bus.high)))


def larger(one: Bounded, other: Bounded) -> Bounded:
    """The larger of two."""
    return Bounded(np.maximum(one.value, other.value), np.maximum(one.low, other.low), np.maximum(one.high, other.high))


def _reduced(pair: Ints, count: int, values: Floats, extreme: np.ufunc) -> Floats:
    found = np.full(count, np.nan)
    if values.size:
        first = np.flatnonzero(np.r_[True, pair[1:] != pair[:-1]])  # rows are in the order of pairs
        with np.errstate(invalid="ignore"):
            found[pair[first]] = extreme.reduceat(values, first)
    return found
