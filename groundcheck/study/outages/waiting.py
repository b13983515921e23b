"""What the outage tables could not compute, and the fields that would settle it."""

import numpy as np
import pandas as pd

from groundcheck.study.blocked import missing_in
from groundcheck.study.context import Study
from groundcheck.study.gaps import joined
from groundcheck.study.networks.capacitance import first_bus
from groundcheck.study.outages.pairs import Pairs
from groundcheck.study.records import index_of


def outage_gaps(
    study: Study, pairs: Pairs, zones: pd.DataFrame, buses: pd.DataFrame, relays: pd.DataFrame
) -> pd.DataFrame:
    """Rows of study.blocked, under what is out, the bus, or the relay."""
    tracer, first = study.tracer, first_bus(study.topology)
    at = first[pairs.rows["zone"].to_numpy(dtype=np.int64)]
    assets = _named(zones, "source_substation", zones["source_kind"].to_numpy(dtype=object), "source")
    unknown = (zones["result"] == "unknown").to_numpy()
    by_record = pairs.column("unsure") | pairs.column("doubtful")
    alive = ~pairs.column("dead")
    rows = [
        tracer.grounding(assets, "source_outage.result", unknown & by_record, at),
        tracer.at_bus(assets, "source_outage.result", unknown & ~by_record, at, charging=True),
    ]
    rows += [
        tracer.at_bus(assets, f"source_outage.{name}", missing_in(zones, name) & alive, at, charging=True)
        for name in ("cog", "healthy_phase_kv", "line_to_ground_ka", "largest_line_to_ground_ka")
    ]
    bus = index_of(study.records.bus, "bus").get_indexer(pd.MultiIndex.from_frame(buses[["substation", "bus"]]))
    assets = _named(buses, "substation", "bus", "bus")
    rows += [
        tracer.at_bus(assets, f"outage_bus.{name}", missing_in(buses, name), bus, charging=True)
        for name in ("healthy_phase_kv", "line_to_ground_ka")
    ]
    relay = index_of(study.records.tables["ground_relay"], "ground_relay").get_indexer(
        pd.MultiIndex.from_frame(relays[["substation", "ground_relay"]])
    )
    assets = _named(relays, "substation", "ground_relay", "ground_relay")
    zone = study.measured.zone[relay]
    missing = missing_in(relays, "smallest_fault_a")
    rows.append(tracer.at_bus(assets, "outage_relay.smallest_fault_a", missing, first[zone], charging=True))
    return joined(rows)


def _named(table: pd.DataFrame, station: str, kind: object, tag: str) -> pd.DataFrame:
    frame = pd.DataFrame(
        {"substation": table[station].to_numpy(dtype=object), "asset": table[tag].to_numpy(dtype=object)}
    )
    return frame.assign(asset_kind=np.broadcast_to(np.asarray(kind, dtype=object), len(frame)))
