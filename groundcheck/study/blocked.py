"""Each study quantity that could not be computed, traced to the fields that would settle it."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.study.ledger import Ledger
from groundcheck.study.networks.bus_faults import Solution
from groundcheck.study.networks.capacitance import Capacitance, first_bus
from groundcheck.study.networks.supply import unfed_buses
from groundcheck.study.networks.zones import Topology
from groundcheck.study.records import Records

Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]
BLOCKING = ["blocking_substation", "blocking_asset_kind", "blocking_asset", "field"]
COLUMNS = ["substation", "asset_kind", "asset", "quantity", *BLOCKING]
NOTHING = pd.DataFrame(columns=COLUMNS)
MOST_PER_NETWORK = 25  # fields named for one network; a network with more gaps than that names the first
# Fields that decide whether a zone is grounded at all; the others decide only how strongly.
DECIDE_GROUNDING = (
    "hv_neutral", "lv_neutral", "tv_neutral", "neutral_device", "winding", "core_form", "grounded", "normal_state",
)  # fmt: skip
FAULT_QUANTITIES = (
    "line_to_ground_ka", "double_line_to_ground_ka", "healthy_phase_kv", "cog", "neutral_shift_kv", "x0_over_x1",
    "r0_over_x1",
)  # fmt: skip


@dataclass(frozen=True)
class Gaps:
    """Blocks by the place they bear on: `place` is a part of a sequence network, or a zone."""

    positive: pd.DataFrame
    zero: pd.DataFrame
    charging: pd.DataFrame
    clearing: pd.DataFrame
    disputed: pd.DataFrame


def ask_for_supply(records: Records, topology: Topology, solution: Solution, ledger: Ledger) -> None:
    """Where nothing on record feeds a network, ask for the infeed at the buses of its highest voltage."""
    asked = np.zeros(records.nominal_kv.size, dtype=bool)
    asked[unfed_buses(records, topology, solution)] = True
    for network in ("positive", "zero"):
        ledger.block(network, "bus", asked, "infeed", topology.node)


def gather_gaps(
    records: Records,
    topology: Topology,
    solution: Solution,
    ledger: Ledger,
    capacitance: Capacitance,
    clearing: pd.DataFrame,
) -> Gaps:
    """Put every block at the place it bears on."""
    two_voltages = np.isnan(records.nominal_kv)
    disputed = pd.DataFrame(
        {
            "place": topology.zone[two_voltages],
            "blocking_substation": records.bus["substation"].to_numpy(dtype=object)[two_voltages],
            "blocking_asset_kind": "bus",
            "blocking_asset": records.bus["bus"].to_numpy(dtype=object)[two_voltages],
            "field": "nominal_voltage",
        }
    )
    return Gaps(
        _by_part(ledger, "positive", solution.positive_part),
        _by_part(ledger, "zero", solution.zero_part),
        capacitance.blocks.rename(columns={"zone": "place"}),
        clearing,
        disputed,
    )


def _by_part(ledger: Ledger, sequence: str, part: Ints) -> pd.DataFrame:
    blocks = ledger.blocked(sequence)
    blocks = blocks.assign(place=part[blocks["node"].to_numpy(dtype=np.int64)])
    blocks = blocks.drop(columns="node").drop_duplicates().sort_values(["place", *BLOCKING])
    return blocks[blocks.groupby("place").cumcount() < MOST_PER_NETWORK]


@dataclass(frozen=True)
class Tracer:
    """
    Writes rows of study.blocked.

    relays_wait : zones with a relay whose time waits for the current that it sees.
    """

    topology: Topology
    solution: Solution
    gaps: Gaps
    relays_wait: Bools

    def at_bus(self, assets: pd.DataFrame, quantity: str, missing: Bools, bus: Ints, *, charging: bool) -> pd.DataFrame:
        """A fault quantity at a bus: both networks, and the capacitance where that alone decides."""
        there = missing & (bus >= 0)
        if not there.any():
            return NOTHING
        node = self.topology.node[bus]
        rows = [
            _trace(assets, quantity, there, self.solution.positive_part[node], self.gaps.positive),
            _trace(assets, quantity, there, self.solution.zero_part[node], self.gaps.zero),
        ]
        if charging:
            alone = there & self.solution.charging_decides[bus]
            rows.append(self.capacitance(assets, quantity, alone, bus))
        return pd.concat(rows)

    def capacitance(self, assets: pd.DataFrame, quantity: str, missing: Bools, bus: Ints) -> pd.DataFrame:
        """What capacitance decides: that of the whole zero-sequence network, which may join several zones."""
        if not missing.any():
            return NOTHING
        part = self.solution.zero_part[self.topology.node]
        blocks = self.gaps.charging
        of_zone = part[first_bus(self.topology)]
        blocks = blocks.assign(place=of_zone[blocks["place"].to_numpy(dtype=np.int64)]).drop_duplicates()
        return _trace(assets, quantity, missing & (bus >= 0), part[bus], blocks)

    def at_zone(self, assets: pd.DataFrame, quantity: str, missing: Bools, zone: Ints, source: str) -> pd.DataFrame:
        """A quantity that a whole zone decides: 'charging', 'clearing' or 'disputed'."""
        return _trace(assets, quantity, missing & (zone >= 0), zone, getattr(self.gaps, source))

    def grounding(self, assets: pd.DataFrame, quantity: str, missing: Bools, bus: Ints) -> pd.DataFrame:
        """Whether a zone is grounded: only what decides that, and its supply where none is on record."""
        if not missing.any():
            return NOTHING
        node = self.topology.node[bus]
        zero = self.gaps.zero[self.gaps.zero["field"].isin(DECIDE_GROUNDING)]
        supply = self.gaps.positive[self.gaps.positive["field"] == "infeed"]
        return pd.concat(
            [
                _trace(assets, quantity, missing & (bus >= 0), self.solution.zero_part[node], zero),
                _trace(assets, quantity, missing & (bus >= 0), self.solution.positive_part[node], supply),
            ]
        )


def _trace(assets: pd.DataFrame, quantity: str, missing: Bools, place: Ints, blocks: pd.DataFrame) -> pd.DataFrame:
    if not missing.any() or blocks.empty:
        return NOTHING
    gaps = assets.assign(place=place)[missing]
    rows = gaps.merge(blocks, on="place")
    return rows.assign(quantity=quantity)[COLUMNS].drop_duplicates()


def missing_in(frame: pd.DataFrame, column: str) -> Bools:
    """Where a computed column is not known."""
    return np.asarray(frame[column].isna(), dtype=bool)


def bus_rows(tracer: Tracer, faults: pd.DataFrame) -> pd.DataFrame:
    """Blocks of study.bus_fault, told once for both conditions."""
    table = faults[faults["condition"] == "max"].reset_index(drop=True)
    assets = _assets(table, "bus")
    bus = np.arange(len(table), dtype=np.int64)
    three = missing_in(table, "three_phase_ka")
    rows = [
        _trace(
            assets, "bus_fault.three_phase_ka", three, tracer.solution.positive_part[tracer.topology.node],
            tracer.gaps.positive,
        )
    ]  # fmt: skip
    rows += [
        tracer.at_bus(assets, f"bus_fault.{name}", missing_in(table, name), bus, charging=True)
        for name in FAULT_QUANTITIES
    ]
    rows.append(
        tracer.at_zone(
            assets, "bus_fault.charging_a", missing_in(table, "charging_a"), tracer.topology.zone, "charging"
        )
    )
    rows += [
        tracer.at_zone(assets, f"bus_fault.{name}", missing_in(table, name), tracer.topology.zone, "disputed")
        for name in ("three_phase_ka", *FAULT_QUANTITIES)
    ]
    return pd.concat(rows)


def zone_rows(tracer: Tracer, zones: pd.DataFrame) -> pd.DataFrame:
    """Blocks of study.zone, under the naming bus."""
    assets = zones.rename(columns={"bus": "asset"}).assign(asset_kind="bus")[["substation", "asset_kind", "asset"]]
    first = first_bus(tracer.topology)
    number = np.arange(len(zones), dtype=np.int64)
    return pd.concat(
        [
            tracer.grounding(assets, f"zone.{name}", missing_in(zones, name), first)
            for name in ("has_ground_source", "grounding_class")
        ]
        + [
            tracer.at_zone(assets, "zone.charging_a", missing_in(zones, "charging_a"), number, "charging"),
            tracer.at_zone(assets, "zone.clearing_time_s", missing_in(zones, "clearing_time_s"), number, "clearing"),
        ]
    )


def neutral_rows(
    tracer: Tracer, table: pd.DataFrame, kind: str, zone: Ints, quantities: dict[str, str]
) -> pd.DataFrame:
    """
    Blocks of a table of duties or of reach.

    quantities : column to what settles it: 'fault', 'charging' or 'clearing'.
    """
    assets = _assets(table, kind)
    first = first_bus(tracer.topology)
    bus = np.where(zone >= 0, first[zone] if first.size else -1, -1)
    study = {"neutral_device": "neutral_duty", "ground_relay": "relay_reach"}.get(kind, f"{kind}_duty")
    rows = []
    for column, source in quantities.items():
        missing = missing_in(table, column)
        if source == "fault":
            rows.append(tracer.at_bus(assets, f"{study}.{column}", missing, bus, charging=True))
            rows.append(tracer.at_zone(assets, f"{study}.{column}", missing, zone, "disputed"))
        else:
            rows.append(tracer.at_zone(assets, f"{study}.{column}", missing, zone, source))
        if source == "clearing":
            # A relay's time waits for what it sees as well.
            waits = missing & (zone >= 0)
            waits[waits] = tracer.relays_wait[zone[waits]]
            rows.append(tracer.at_bus(assets, f"{study}.{column}", waits, bus, charging=True))
    return pd.concat(rows)


def _assets(table: pd.DataFrame, kind: str) -> pd.DataFrame:
    return pd.DataFrame({"substation": table["substation"], "asset_kind": kind, "asset": table[kind]})
