"""Each ground source out of service in turn: what is left of the zones that it grounds."""

from collections.abc import Callable

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.engineering import healthy_phase_kv, line_to_ground_ka
from groundcheck.study.bounded import Bounded
from groundcheck.study.context import Study
from groundcheck.study.faults.intervals import SHIFTED, of_impedances
from groundcheck.study.outages.cut_off import dead_zones, ungrounded_zones
from groundcheck.study.outages.impedances import Sequences, impedances_after
from groundcheck.study.outages.listed import affected_sources, list_outages
from groundcheck.study.outages.relays import outage_relay_table

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
WORSE = 1 + 1e-6  # of the healthy-phase voltage before: less than that is rounding


def outage_tables(study: Study) -> dict[str, pd.DataFrame]:
    """Rows of study.source_outage, outage_bus and outage_relay."""
    outages = list_outages(study)
    pairs = _pairs(study, outages)
    buses = pairs.reset_index(names="pair").merge(
        pd.DataFrame({"zone": study.topology.zone, "bus": np.arange(study.topology.zone.size)}), on="zone"
    )
    after = _AtBuses(study, outages, buses)
    return {
        "source_outage": _zone_rows(study, outages, pairs, buses, after),
        "outage_bus": _bus_rows(study, outages, buses, after),
        "outage_relay": outage_relay_table(study, outages, pairs, after.line_to_ground["min"], buses),
    }


def _pairs(study: Study, outages: pd.DataFrame) -> pd.DataFrame:
    """Outage and zone: sources left, whether it is dead, whether surely ungrounded, whether a record must decide."""
    gone = affected_sources(study, outages).drop_duplicates()
    taken = gone.groupby(["outage", "zone"]).size().rename("gone").reset_index()
    sources = study.sources
    definite = sources[sources["definite"]].groupby("zone").size().reindex(taken["zone"], fill_value=0).to_numpy()
    doubtful = sources[~sources["definite"]].groupby("zone").size().reindex(taken["zone"], fill_value=0).to_numpy()
    cut = ungrounded_zones(study, outages, taken)
    taken["left"] = np.where(cut, 0, definite - taken["gone"].to_numpy())
    taken["dead"] = dead_zones(study, outages, taken)
    decided = (doubtful == 0) & ~study.topology.undecided[taken["zone"]]
    taken["ungrounded"], taken["open"] = cut & decided, cut & ~decided
    return taken


class _AtBuses:
    """Faults at every bus of a zone with one of its sources out; nothing where the zone is dead."""

    def __init__(self, study: Study, outages: pd.DataFrame, buses: pd.DataFrame) -> None:
        self.bus = buses["bus"].to_numpy(dtype=np.int64)
        self.kv = study.records.nominal_kv[self.bus]
        self.healthy: dict[str, Bounded] = {}
        self.line_to_ground: dict[str, Bounded] = {}
        outage = buses["outage"].to_numpy(dtype=np.int64)
        node = study.topology.node[self.bus]
        ungrounded = buses["ungrounded"].to_numpy(dtype=bool)
        every = (study.networks, *study.corners)
        for condition in ("max", "min"):
            if condition == "min" and all(each.solution.zero["min"] is each.solution.zero["max"] for each in every):
                self.healthy["min"], self.line_to_ground["min"] = self.healthy["max"], self.line_to_ground["max"]
                continue
            z = [impedances_after(each, outages, outage, node, ungrounded, condition) for each in every]
            self._bound(study, condition, z, ungrounded)

    def _bound(self, study: Study, condition: str, z: list[Sequences], ungrounded: Bools) -> None:
        driving = self.kv * study.solution.voltage_factor[condition][self.bus]
        ends = of_impedances(self.kv, driving, z)
        low, high = ends["healthy_phase_kv"]
        value = healthy_phase_kv(self.kv, *z[0])
        low, high = np.where(ungrounded, low / SHIFTED, low), np.where(ungrounded, high * SHIFTED, high)
        self.healthy[condition] = Bounded(value, low, high)
        low, high = ends["line_to_ground_ka"]
        charging = study.capacitance.charging_a[study.topology.zone[self.bus]] / 1e3
        known = ~np.isnan(charging)
        self.line_to_ground[condition] = Bounded(
            np.where(ungrounded, charging, line_to_ground_ka(driving, *z[0])),
            np.where(ungrounded, np.where(known, charging / SHIFTED, 0.0), low),
            np.where(ungrounded, np.where(known, charging * SHIFTED, np.inf), high),
        )


def _zone_rows(
    study: Study, outages: pd.DataFrame, pairs: pd.DataFrame, buses: pd.DataFrame, after: _AtBuses
) -> pd.DataFrame:
    limit = float(study.policy["grounding.effective_cog"])
    pair = buses["pair"].to_numpy(dtype=np.int64)
    cog = _over(pair, len(pairs), after.healthy["max"], after.kv)
    before = _before(study, pairs)
    dead = pairs["dead"].to_numpy(dtype=bool)
    result = np.select(
        [
            dead,
            pairs["ungrounded"].to_numpy(dtype=bool),
            pairs["open"].to_numpy(dtype=bool),
            before.value > limit,
            _settled(cog, lambda x: x <= limit),
            _settled(cog, lambda x: x > limit) & (before.value <= limit),
        ],
        ["dead", "ungrounded", "unknown", "kept", "kept", "lost_effectiveness"],
        default="unknown",
    )
    zones = study.zones.iloc[pairs["zone"].to_numpy(dtype=np.int64)]
    found = _named(study, outages, pairs["outage"].to_numpy(dtype=np.int64))
    return found.assign(
        zone=zones["zone"].to_numpy(dtype=object),
        result=result,
        sources_left=pairs["left"].to_numpy(dtype=np.int64),
        **before.columns("cog_before"),
        **cog.columns("cog", ~dead),
        **_smallest(pair, len(pairs), after.line_to_ground["min"]).columns("line_to_ground_ka", ~dead),
        provisional=zones["provisional"].to_numpy(dtype=bool),
    )


def _settled(quantity: Bounded, side: Callable[[Floats], Bools]) -> Bools:
    """Where a quantity is surely on a side of the limit."""
    return np.where(np.isnan(quantity.value), side(quantity.low) & side(quantity.high), side(quantity.value))


def _bus_rows(study: Study, outages: pd.DataFrame, buses: pd.DataFrame, after: _AtBuses) -> pd.DataFrame:
    """Buses whose healthy phases rise further, or may."""
    faults = study.faults[study.faults["condition"] == "max"]
    before = faults["healthy_phase_kv"].to_numpy(dtype=float)[after.bus]
    healthy = after.healthy["max"]
    alive = ~buses["dead"].to_numpy(dtype=bool)
    unknown = np.isnan(before) | np.isnan(healthy.value)
    worse = alive & (unknown | (healthy.value > before * WORSE))
    found = _named(study, outages, buses["outage"].to_numpy(dtype=np.int64))
    records = study.records.bus
    table = found.assign(
        substation=records["substation"].to_numpy(dtype=object)[after.bus],
        bus=records["bus"].to_numpy(dtype=object)[after.bus],
        **healthy.columns("healthy_phase_kv"),
        **after.line_to_ground["max"].columns("line_to_ground_ka"),
        provisional=faults["provisional"].to_numpy(dtype=bool)[after.bus],
    )
    return pd.DataFrame(table[worse])


def _named(study: Study, outages: pd.DataFrame, outage: Ints) -> pd.DataFrame:
    """Station, kind and tag of the source that is out."""
    station, tag = np.full(len(outages), None, dtype=object), np.full(len(outages), None, dtype=object)
    row = outages["row"].to_numpy(dtype=np.int64)
    for kind in outages["kind"].unique():
        mine = (outages["kind"] == kind).to_numpy()
        stations, tags = study.records.tags(str(kind))
        station[mine], tag[mine] = stations[row[mine]], tags[row[mine]]
    kind = outages["kind"].to_numpy(dtype=object)
    return pd.DataFrame({"source_substation": station[outage], "source_kind": kind[outage], "source": tag[outage]})


def _before(study: Study, pairs: pd.DataFrame) -> Bounded:
    faults = study.faults[study.faults["condition"] == "max"]
    zone = study.topology.zone
    ends = [
        _reduce(zone, study.topology.zone_count, faults[f"cog{end}"].to_numpy(dtype=float), np.maximum)
        for end in ("", "_low", "_high")
    ]  # fmt: skip
    at = pairs["zone"].to_numpy(dtype=np.int64)
    return Bounded(*(end[at] for end in ends))


def _over(pair: Ints, count: int, healthy: Bounded, kv: Floats) -> Bounded:
    """Coefficient of grounding: the largest of the zone."""
    return Bounded(*(_reduce(pair, count, end / kv, np.maximum) for end in (healthy.value, healthy.low, healthy.high)))


def _smallest(pair: Ints, count: int, current: Bounded) -> Bounded:
    return Bounded(*(_reduce(pair, count, end, np.minimum) for end in (current.value, current.low, current.high)))


def _reduce(place: Ints, count: int, values: Floats, extreme: np.ufunc) -> Floats:
    """Largest or smallest at each place; NaN where any is."""
    found = np.full(count, -np.inf if extreme is np.maximum else np.inf)
    with np.errstate(invalid="ignore"):
        extreme.at(found, place, values)
    return found
