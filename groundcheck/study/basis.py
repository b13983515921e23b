"""The records that each zone's ground-fault quantities are computed from, so that a reviewer can follow a number."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.study.networks.capacitance import first_bus
from groundcheck.study.networks.zones import Topology
from groundcheck.study.records import Records

Ints = NDArray[np.int64]

MOST_STEPS = 6  # transformers between a zone and its supply


def basis_table(
    records: Records, topology: Topology, zone_name: NDArray[np.object_], device_zone: Ints, transformer_bus: Ints
) -> pd.DataFrame:
    """The rows of study.zone_basis: what stands in each zone, and what lies between it and its supply."""

    def zone_of(bus: Ints) -> Ints:
        return np.where(bus >= 0, topology.zone[bus], -1)

    sides = np.stack([zone_of(transformer_bus[:, w]) for w in range(3)], axis=1)
    standing = [
        _rows(records, "bus", np.arange(topology.zone_count), rows=first_bus(topology)),
        _rows(records, "neutral_device", device_zone),
        _rows(records, "grounding_transformer", zone_of(records.bus_of("grounding_transformer", "bus"))),
        _rows(records, "line", zone_of(records.bus_of("line", "from_bus"))),
        *(_rows(records, "transformer", sides[:, w]) for w in range(3)),
    ]
    feeding = [_rows(records, kind, zone_of(records.bus_of(kind, "bus"))) for kind in ("generator", "infeed")]
    below = [_rows(records, "transformer", sides[:, w], above=sides[:, 0]) for w in (1, 2)]
    supplied = pd.concat(below)
    supplied = supplied[(supplied["above"] >= 0) & (supplied["above"] != supplied["zone"])]
    sources = pd.concat(feeding)

    parts = [pd.concat([*standing, sources]).assign(steps=0)]
    way = pd.DataFrame({"zone": np.arange(topology.zone_count), "at": np.arange(topology.zone_count)})
    for step in range(1, MOST_STEPS + 1):
        through = way.merge(supplied.rename(columns={"zone": "at"}), on="at")
        if through.empty:
            break
        if step > 1:
            parts.append(through[["zone", "substation", "asset_kind", "asset"]].assign(steps=step - 1))
        way = through[["zone", "above"]].rename(columns={"above": "at"}).drop_duplicates()
        reached = way.merge(sources.rename(columns={"zone": "at"}), on="at")
        parts.append(reached[["zone", "substation", "asset_kind", "asset"]].assign(steps=step))
    table = pd.concat(parts).sort_values("steps", kind="stable")
    table = table[table["zone"] >= 0].drop_duplicates(["zone", "substation", "asset_kind", "asset"])
    return table.assign(zone=zone_name[table["zone"].to_numpy(dtype=np.int64)])


def _rows(records: Records, kind: str, zone: Ints, rows: Ints | None = None, above: Ints | None = None) -> pd.DataFrame:
    station, tag = records.tags(kind)
    if rows is not None:
        station, tag = station[rows], tag[rows]
    frame = pd.DataFrame({"zone": zone, "substation": station, "asset_kind": kind, "asset": tag})
    if above is not None:
        frame["above"] = above
    return frame[frame["zone"] >= 0]
