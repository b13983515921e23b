"""Each ground source struck out of the records, one of every network at a time, and the study run anew."""

import numpy as np
import pandas as pd
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from groundcheck.policy import load_policy
from groundcheck.study import run_study

KEY = ["source_kind", "source_substation", "source"]
CHANGED = ("reference", "transformer", "generator", "grounding_transformer", "infeed", "neutral_device")
ZONES = """
    WITH bus AS (SELECT b.zone, f.* FROM study.bus_fault f JOIN study.zone_bus b USING (substation, bus))
    SELECT z.zone, z.grounding_class, z.ground_sources,
           bool_or(b.three_phase_ka IS NULL) AS unfed,
           if(bool_or(b.cog IS NULL), NULL, max(b.cog)) AS cog,
           if(bool_or(b.cog IS NULL), NULL, max(b.healthy_phase_kv)) AS healthy_phase_kv,
           if(bool_or(b.line_to_ground_ka IS NULL), NULL, min(b.line_to_ground_ka) FILTER (b.condition = 'min'))
               AS line_to_ground_ka,
           if(bool_or(b.line_to_ground_ka IS NULL), NULL, max(b.line_to_ground_ka) FILTER (b.condition = 'max'))
               AS largest_line_to_ground_ka
    FROM study.zone z JOIN bus b USING (zone) GROUP BY ALL
"""
BUSES = """
    SELECT b.zone, f.substation, f.bus, f.healthy_phase_kv, f.line_to_ground_ka
    FROM study.bus_fault f JOIN study.zone_bus b USING (substation, bus) WHERE f.condition = 'max'
"""
RELAYS = "SELECT substation, ground_relay, smallest_fault_a FROM study.relay_reach"
# An asset with a device of its own beside one that it shares takes that device with it only where it is struck out. The
# neutrals of several assets stay tied to one another where their device opens, which no record can say.
COMPARABLE = """
    SELECT DISTINCT source_kind, source_substation, source FROM study.source_outage o
    WHERE if(source_kind = 'neutral_device',
        1 = (SELECT count(*) FROM study.neutral n
             WHERE n.device_substation = o.source_substation AND n.neutral_device = o.source),
        NOT EXISTS (SELECT 1 FROM study.neutral n WHERE n.substation = o.source_substation AND n.asset = o.source
                    AND n.asset_kind = o.source_kind GROUP BY n.winding HAVING count(n.neutral_device) > 1))
    ORDER BY ALL
"""


def results(store):
    """What the study tells of the records as they are."""
    run_study(store, load_policy())
    return {"zone": store.frame(ZONES), "bus": store.frame(BUSES), "relay": store.frame(RELAYS)}


def network_of(store):
    """Number of the network of each station: zones join stations."""
    pairs = store.frame("SELECT DISTINCT zone, substation FROM study.zone_bus")
    (zone, zones), (station, stations) = (pd.factorize(pairs[name], sort=True) for name in ("zone", "substation"))
    count = len(zones) + len(stations)
    graph = coo_array((np.ones(len(pairs)), (zone, station + len(zones))), shape=(count, count))
    label = connected_components(graph, directed=False)[1]
    return pd.Series(label[len(zones) :], index=stations)


def struck_out(store, rounds):
    """
    What the study tells with each source struck out, under KEY; a neutral device is written down as open instead.

    rounds : in each of them one source of every network is out; None: as many as it takes.
    """
    sources = store.frame(COMPARABLE)
    sources["network"] = sources["source_substation"].map(network_of(store))
    sources = sources.sample(frac=1, random_state=3)
    sources["round"] = sources.groupby("network").cumcount()
    zones = store.frame("SELECT zone, min(substation) AS substation FROM study.zone_bus GROUP BY zone")
    network = zones.set_index("zone")["substation"].map(network_of(store))
    station_network = network_of(store)
    found = {"zone": [], "bus": [], "relay": []}
    for number, out in sources.groupby("round"):
        if rounds is not None and number >= rounds:
            break
        told = _without(store, out)
        for name, frame in told.items():
            place = frame["zone"].map(network) if "zone" in frame else frame["substation"].map(station_network)
            found[name].append(frame.assign(network=place).merge(out[[*KEY, "network"]], on="network"))
    return {name: pd.concat(frames, ignore_index=True) for name, frames in found.items()}


def _without(store, sources):
    kept = {name: store.frame(f'SELECT * FROM inventory."{name}"') for name in CHANGED}
    for kind, station, tag in sources[KEY].itertuples(index=False):
        own = f'substation = $station AND "{kind}" = $tag'
        named = {"station": station, "tag": tag}
        if kind == "neutral_device":
            store.connection.execute(f"UPDATE inventory.neutral_device SET kind = 'open' WHERE {own}", named)
            continue
        store.connection.execute(f'DELETE FROM inventory."{kind}" WHERE {own}', named)
        store.connection.execute(
            "DELETE FROM inventory.reference WHERE (asset_kind = $kind AND substation = $station AND asset = $tag) "
            "OR (target_kind = $kind AND target_substation = $station AND target = $tag)", named | {"kind": kind},
        )  # fmt: skip
    found = results(store)
    for name, rows in kept.items():
        store.connection.execute(f'DELETE FROM inventory."{name}"')
        store.write("inventory", name, rows)
    return found
