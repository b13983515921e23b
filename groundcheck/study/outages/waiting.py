"""What the outage tables could not compute, and the fields that would settle it."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.study.blocked import missing_in
from groundcheck.study.context import Study
from groundcheck.study.gaps import joined
from groundcheck.study.networks.capacitance import first_bus
from groundcheck.study.outages.pairs import Pairs
from groundcheck.study.records import index_of

Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]
SOURCE = ["source_substation", "source_kind", "source"]


def outage_gaps(
    study: Study,
    pairs: Pairs,
    by_charging: Bools,
    zones: pd.DataFrame,
    buses: pd.DataFrame,
    relays: pd.DataFrame,
) -> pd.DataFrame:
    """
    Rows of study.blocked, under what is out, the bus, or the relay.

    by_charging : pairs whose current waits for capacitance, which with all in service may decide nothing.
    """
    waiting = zones[[*SOURCE, "zone"]].assign(waits=by_charging)
    tracer, first = study.tracer, first_bus(study.topology)
    of_pair = pairs.rows["zone"].to_numpy(dtype=np.int64)
    at = first[of_pair]
    assets = _named(zones, "source_substation", zones["source_kind"].to_numpy(dtype=object), "source")
    unknown = (zones["result"] == "unknown").to_numpy()
    by_record = pairs.column("unsure") | pairs.column("doubtful")
    alive = ~pairs.column("dead")
    rows = [
        tracer.grounding(assets, "source_outage.result", unknown & by_record, at),
        tracer.at_bus(assets, "source_outage.result", unknown & ~by_record, at, charging=True),
        tracer.at_zone(assets, "source_outage.result", unknown, of_pair, "disputed"),
    ]
    for name in ("cog", "healthy_phase_kv", "line_to_ground_ka", "largest_line_to_ground_ka"):
        missing = missing_in(zones, name) & alive
        rows.append(tracer.at_bus(assets, f"source_outage.{name}", missing, at, charging=True))
        rows.append(tracer.grounding(assets, f"source_outage.{name}", missing & by_record, at))
        rows.append(tracer.capacitance(assets, f"source_outage.{name}", missing & by_charging, at))
        rows.append(tracer.at_zone(assets, f"source_outage.{name}", missing, of_pair, "disputed"))
    missing = missing_in(zones, "cog_before")
    rows.append(tracer.at_bus(assets, "source_outage.cog_before", missing, at, charging=False))
    rows.append(tracer.at_zone(assets, "source_outage.cog_before", missing, of_pair, "disputed"))
    missing = missing_in(zones, "grounding_class") & alive
    rows.append(tracer.grounding(assets, "source_outage.grounding_class", missing & by_record, at))
    rows.append(tracer.at_bus(assets, "source_outage.grounding_class", missing, at, charging=False))
    bus = index_of(study.records.bus, "bus").get_indexer(pd.MultiIndex.from_frame(buses[["substation", "bus"]]))
    assets = _named(buses, "substation", "bus", "bus")
    waits = _waits(study, waiting, buses, study.topology.zone[bus])
    for name in ("healthy_phase_kv", "line_to_ground_ka"):
        missing = missing_in(buses, name)
        rows.append(tracer.at_bus(assets, f"outage_bus.{name}", missing, bus, charging=True))
        rows.append(tracer.capacitance(assets, f"outage_bus.{name}", missing & waits, bus))
        rows.append(tracer.at_zone(assets, f"outage_bus.{name}", missing, study.topology.zone[bus], "disputed"))
    relay = index_of(study.records.tables["ground_relay"], "ground_relay").get_indexer(
        pd.MultiIndex.from_frame(relays[["substation", "ground_relay"]])
    )
    assets = _named(relays, "substation", "ground_relay", "ground_relay")
    zone = study.measured.zone[relay]
    missing = missing_in(relays, "smallest_fault_a")
    rows.append(tracer.at_bus(assets, "outage_relay.smallest_fault_a", missing, first[zone], charging=True))
    waits = _waits(study, waiting, relays, zone)
    rows.append(tracer.capacitance(assets, "outage_relay.smallest_fault_a", missing & waits, first[zone]))
    rows.append(tracer.at_zone(assets, "outage_relay.smallest_fault_a", missing, zone, "disputed"))
    return joined(rows)


def _waits(study: Study, waiting: pd.DataFrame, table: pd.DataFrame, zone: Ints) -> Bools:
    """Whether the pair of each row, which is an outage and a zone, waits for capacitance."""
    of_row = table[SOURCE].assign(zone=study.names.name[zone]).merge(waiting, on=[*SOURCE, "zone"], how="left")
    return np.asarray(of_row["waits"].eq(True), dtype=bool)


def _named(table: pd.DataFrame, station: str, kind: object, tag: str) -> pd.DataFrame:
    frame = pd.DataFrame(
        {"substation": table[station].to_numpy(dtype=object), "asset": table[tag].to_numpy(dtype=object)}
    )
    return frame.assign(asset_kind=np.broadcast_to(np.asarray(kind, dtype=object), len(frame)))
