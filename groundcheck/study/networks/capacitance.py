"""Capacitance to ground of every zone, and what is missing to know it."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.engineering import capacitive_susceptance_s
from groundcheck.policy import Policy
from groundcheck.study.ledger import Ledger
from groundcheck.study.networks.equipment import Generators
from groundcheck.study.networks.lines import Lines
from groundcheck.study.networks.zones import Topology
from groundcheck.study.records import Records

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Capacitance:
    """
    Of each zone: charging current in A, NaN where not complete; blocks: zone, blocking asset and field.

    machine : susceptance of each generator and what is connected to it, in S.
    """

    charging_a: Floats
    machine: Floats
    blocks: pd.DataFrame


def station_frequency(records: Records, ledger: Ledger, policy: Policy, kind: str) -> Floats:
    """Frequency at the station of each asset of a kind; NaN where not on record."""
    stations = records.tables["substation"]
    known = pd.Series(records.numbers("substation", "frequency"), index=stations["substation"])
    found = np.asarray(known.reindex(records.tables[kind]["substation"]), dtype=np.float64)
    if policy.admits("frequency"):
        gaps = np.isnan(found)
        ledger.assume(
            kind, gaps, "frequency", f"{policy['assume.value.frequency']:g} Hz", "frequency not on record", {}
        )
        found = np.where(gaps, np.float64(policy["assume.value.frequency"]), found)
    return found


def zone_capacitance(
    records: Records, topology: Topology, lines: Lines, generators: Generators, line_hz: Floats, machine_hz: Floats
) -> Capacitance:
    """Add up the capacitance of lines and machines in each zone."""
    line_bus = records.bus_of("line", "from_bus")
    line_zone = _zone_of(topology, line_bus)
    per_machine = records.numbers("generator", "capacitance_to_ground")
    machine = capacitive_susceptance_s(per_machine, machine_hz)
    machine_zone = _zone_of(topology, generators.bus)

    total = np.zeros(topology.zone_count)
    counted = np.zeros(topology.zone_count, dtype=bool)
    for zone, susceptance in ((line_zone, lines.susceptance), (machine_zone, machine)):
        at = zone >= 0
        np.add.at(total, zone[at], susceptance[at])
        counted[zone[at]] = True
    kv = zone_voltage(records, topology)
    charging = np.where(counted, np.sqrt(3) * kv * 1e3 * total, np.nan)
    blocks = [
        _line_blocks(records, line_zone, lines, line_hz),
        _machine_blocks(records, machine_zone, machine, machine_hz),
    ]
    first = first_bus(topology)
    empty = np.flatnonzero(~counted)
    blocks.append(
        pd.DataFrame(
            {
                "zone": empty,
                "blocking_substation": records.bus["substation"].to_numpy(dtype=object)[first[empty]],
                "blocking_asset_kind": "bus",
                "blocking_asset": records.bus["bus"].to_numpy(dtype=object)[first[empty]],
                "field": "line",
            }
        )
    )
    return Capacitance(charging, machine, pd.concat(blocks, ignore_index=True))


def zone_voltage(records: Records, topology: Topology) -> Floats:
    """Nominal voltage of each zone: that of its first bus; NaN where the record contradicts itself."""
    kv = records.nominal_kv
    return np.asarray(kv[first_bus(topology)], dtype=np.float64)


def first_bus(topology: Topology) -> NDArray[np.int64]:
    """The bus that names each zone: its first in the order of station and tag."""
    first = np.full(topology.zone_count, -1, dtype=np.int64)
    buses = np.arange(topology.zone.size)[::-1]
    first[topology.zone[buses]] = buses
    return first


def _zone_of(topology: Topology, bus: NDArray[np.int64]) -> NDArray[np.int64]:
    if topology.zone.size == 0:
        return np.full(bus.shape, -1, dtype=np.int64)
    return np.where(bus >= 0, topology.zone[bus], -1)


def _line_blocks(records: Records, zone: NDArray[np.int64], lines: Lines, hz: Floats) -> pd.DataFrame:
    missing = (zone >= 0) & np.isnan(lines.susceptance)
    c0, km = records.numbers("line", "c0"), records.numbers("line", "length")
    station, tag = records.tags("line")
    column = np.select([np.isnan(c0), np.isnan(km), np.isnan(hz)], ["c0", "length", "frequency"], default="c0")
    return _block_frame("line", missing, zone, station, tag, column.astype(object))


def _machine_blocks(records: Records, zone: NDArray[np.int64], machine: Floats, hz: Floats) -> pd.DataFrame:
    missing = (zone >= 0) & np.isnan(machine)
    station, tag = records.tags("generator")
    given = ~np.isnan(records.numbers("generator", "capacitance_to_ground"))
    column = np.where(given & np.isnan(hz), "frequency", "capacitance_to_ground")
    return _block_frame("generator", missing, zone, station, tag, column.astype(object))


def _block_frame(
    kind: str,
    missing: NDArray[np.bool_],
    zone: NDArray[np.int64],
    station: NDArray[np.object_],
    tag: NDArray[np.object_],
    column: NDArray[np.object_],
) -> pd.DataFrame:
    frequency = column[missing] == "frequency"
    return pd.DataFrame(
        {
            "zone": zone[missing],
            "blocking_substation": station[missing],
            "blocking_asset_kind": np.where(frequency, "substation", kind),
            "blocking_asset": np.where(frequency, station[missing], tag[missing]),
            "field": column[missing],
        }
    ).drop_duplicates()
