"""The ground-fault currents that each ground relay must see."""

import re
from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.errors import PolicyError
from groundcheck.policy import Policy
from groundcheck.study.networks.neutrals import Neutrals, winding_order
from groundcheck.study.networks.zones import Topology
from groundcheck.study.records import Records, index_of

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Measured:
    """
    What each relay measures.

    device, point : number of the neutral device or neutral point; -1 where it is neither.
    zone : the zone it guards; -1 where that can't be told.
    """

    device: Ints
    point: Ints
    zone: Ints


def measured_assets(records: Records, topology: Topology, neutrals: Neutrals, zone_of_point: Ints) -> Measured:
    """Follow each relay's `measures` to a neutral device, a neutral, a line or a bus."""
    frame = records.tables["ground_relay"]
    count = len(frame)
    device, point, zone = (np.full(count, -1, dtype=np.int64) for _ in range(3))
    mentions = records.references
    mentions = mentions[(mentions["asset_kind"] == "ground_relay") & (mentions["field"] == "measures")]
    relay = index_of(frame, "ground_relay").get_indexer(pd.MultiIndex.from_frame(mentions[["substation", "asset"]]))
    by_asset = _main_points(neutrals)
    line_bus = records.bus_of("line", "from_bus")
    transformer_vt = records.bus_of("instrument_transformer", "bus")
    device_zone = np.full(len(records.tables["neutral_device"]), -1, dtype=np.int64)
    first = neutrals.links.drop_duplicates("device")
    device_zone[first["device"]] = zone_of_point[first["point"]]
    for kind in mentions["target_kind"].unique():
        mine = (mentions["target_kind"] == kind).to_numpy() & (relay >= 0)
        if kind not in records.tables:
            continue
        targets = pd.MultiIndex.from_frame(mentions.loc[mine, ["target_substation", "target"]])
        row = index_of(records.tables[kind], kind).get_indexer(targets)
        at, row = relay[mine][row >= 0], row[row >= 0]
        if kind == "neutral_device":
            device[at] = row
            zone[at] = device_zone[row]
        elif kind in ("transformer", "generator", "grounding_transformer"):
            found = pd.Series(by_asset).reindex(pd.MultiIndex.from_arrays([[kind] * row.size, row]))
            point[at] = found.fillna(-1).to_numpy(dtype=np.int64)
            zone[at] = np.where(point[at] >= 0, zone_of_point[point[at]], -1)
        else:
            bus = {"bus": np.arange(len(records.bus)), "line": line_bus, "instrument_transformer": transformer_vt}[kind]
            stands = bus[row]
            zone[at] = np.where(stands >= 0, topology.zone[stands] if topology.zone.size else -1, -1)
    return Measured(device, point, zone)


def _main_points(neutrals: Neutrals) -> dict[tuple[str, int], int]:
    """The grounded neutral of each asset; of several, LV before HV before TV."""
    points = neutrals.points.reset_index(names="number")
    grounded = points[(points["group"] >= 0) | (points["treatment"] == "solid")].copy()
    grounded["rank"] = winding_order(grounded["winding"])
    grounded = grounded.sort_values("rank").drop_duplicates(["asset_kind", "row"])
    return {(k, r): n for k, r, n in zip(grounded["asset_kind"], grounded["row"], grounded["number"], strict=True)}


def sees(records: Records, policy: Policy, entry: str) -> list[bool | None]:
    """
    Of each relay, whether its function matches the regular expression in a policy entry; None: not on record.

    Functions are compared in capitals without spaces, dots and hyphens.

    Raises
    ------
    PolicyError
        The entry is no regular expression.
    """
    try:
        wanted = re.compile(policy[entry])
    except re.error as error:
        raise PolicyError(f"policy entry `{entry}`: '{policy[entry]}' is no regular expression ({error})") from error
    words = records.words("ground_relay", "function")
    return [
        None if word is None else wanted.search(re.sub("[ ._-]", "", str(word)).upper()) is not None for word in words
    ]


def sees_voltage(records: Records, policy: Policy) -> NDArray[np.bool_]:
    """Relays that measure a voltage; one whose function is not on record is taken for a current relay."""
    return np.array(sees(records, policy, "ground_relay.voltage_functions"), dtype=bool)
