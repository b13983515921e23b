"""Each ground source out in turn, against the study of the same records without it."""

from pathlib import Path

import numpy as np
import pytest
from networks.random_networks import random_network
from networks.random_stations import as_frames, together

from groundcheck.ingest import ingest
from groundcheck.policy import load_policy
from groundcheck.store import Store
from groundcheck.study import run_study

SAMPLE = Path(__file__).parents[2] / "sample_inventory"
ZONES = """
    SELECT z.zone, z.ground_sources,
           if(bool_or(f.cog IS NULL AND f.condition = 'max'), NULL, max(f.cog) FILTER (f.condition = 'max')) AS cog,
           min(f.line_to_ground_ka) FILTER (f.condition = 'min') AS line_to_ground_ka
    FROM study.zone z JOIN study.zone_bus b USING (zone)
    JOIN study.bus_fault f ON f.substation = b.substation AND f.bus = b.bus
    GROUP BY z.zone, z.ground_sources
"""
# An asset with a device of its own beside one that it shares takes that device with it only where it is struck out.
ALONE = """
    FROM study.source_outage o
    WHERE source_kind <> 'neutral_device' AND NOT EXISTS (
        SELECT 1 FROM study.neutral n WHERE n.substation = o.source_substation AND n.asset = o.source
        GROUP BY n.winding HAVING count(n.neutral_device) > 1)
"""


def without(store, kind, station, tag):
    """Zones as the study has them once an asset and all that mentions it are struck out of the records."""
    mentions = ("inventory.reference", "(asset_kind = $kind AND substation = $station AND asset = $tag) "
                "OR (target_kind = $kind AND target_substation = $station AND target = $tag)")  # fmt: skip
    own = (f'inventory."{kind}"', f'substation = $station AND "{kind}" = $tag')
    named = {"kind": kind, "station": station, "tag": tag}
    kept = []
    for table, condition in (own, mentions):
        values = named if table == mentions[0] else {"station": station, "tag": tag}
        kept.append((table.split(".")[1].strip('"'), store.frame(f"SELECT * FROM {table} WHERE {condition}", values)))
        store.connection.execute(f"DELETE FROM {table} WHERE {condition}", values)
    run_study(store, load_policy())
    found = store.frame(ZONES).set_index("zone")
    for table, rows in kept:
        store.write("inventory", table, rows)
    return found


def check(store, count):
    run_study(store, load_policy())
    outages = store.frame(f"SELECT o.* {ALONE}")
    sources = outages[["source_kind", "source_substation", "source"]].drop_duplicates()
    for kind, station, tag in sources.sample(count, random_state=3).itertuples(index=False):
        struck = without(store, kind, station, tag)
        mine = outages[(outages[["source_kind", "source_substation", "source"]] == [kind, station, tag]).all(axis=1)]
        for row in mine.itertuples():
            expected = struck.loc[row.zone]
            if row.result == "dead":
                continue
            assert (row.result == "ungrounded") == (expected.ground_sources == 0)
            assert row.sources_left == expected.ground_sources
            if row.result != "ungrounded":
                assert row.cog == pytest.approx(expected.cog, rel=1e-6, nan_ok=True)
                assert row.line_to_ground_ka == pytest.approx(expected.line_to_ground_ka, rel=1e-3, nan_ok=True)
                assert not row.cog < row.cog_low * (1 - 1e-9)
                assert not row.cog > row.cog_high * (1 + 1e-9)
    return outages


def test_outages_of_the_sample_fleet_are_those_of_its_records_without_the_source():
    store = Store()
    ingest(store, [SAMPLE])
    outages = check(store, 5)
    assert {"kept", "dead", "ungrounded"} <= set(outages.result)


def test_outages_of_random_networks_are_those_of_their_records_without_the_source():
    store = Store()
    ingest(store, as_frames(together(random_network(500 + seed) for seed in range(25))))
    outages = check(store, 7)
    assert {"kept", "dead", "ungrounded", "lost_effectiveness"} <= set(outages.result)


def test_the_only_supply_leaves_a_dead_zone_and_the_only_ground_an_ungrounded_one(study, station):
    outage = study(station).frame("SELECT * FROM study.source_outage").set_index(["source", "zone"])
    assert outage.result["T2", "ELM:L"] == "dead"
    assert outage.result["GT", "ELM:M"] == "ungrounded"
    assert outage.result["NR2", "ELM:L"] == "ungrounded"
    assert outage.cog["GT", "ELM:M"] == pytest.approx(1.0)


def test_healthy_phases_of_a_zone_left_ungrounded_rise_to_line_to_line_voltage(study, station):
    station["neutral_device"][1] = {"neutral_device": "LINK2", "connected_to": "GT", "kind": "solid"}
    bus = study(station).frame("FROM study.outage_bus").set_index(["source", "bus"])
    assert bus.healthy_phase_kv["GT", "M"] == pytest.approx(20.0)
    assert bus.healthy_phase_kv_high["GT", "M"] > 20.0


def test_a_second_source_keeps_the_zone_grounded_with_the_current_of_the_other_alone(study, station):
    alone = study(station).frame("SELECT * FROM study.bus_fault WHERE bus = 'L'").set_index("condition")
    station["transformer"].append(station["transformer"][1] | {"transformer": "T3"})
    station["neutral_device"].append(station["neutral_device"][2] | {"neutral_device": "NR3", "connected_to": "T3"})
    outage = study(station).frame("SELECT * FROM study.source_outage").set_index("source")
    assert (outage.result["T3"], outage.sources_left["T3"]) == ("kept", 1)
    assert outage.line_to_ground_ka["T3"] == pytest.approx(alone.line_to_ground_ka["min"], rel=1e-9)


def test_a_relay_at_the_bus_sees_only_charging_current_of_a_zone_left_ungrounded(study, station):
    station["ground_relay"] = [{"ground_relay": "R", "function": "51N", "measures": "M", "pickup": 50.0}]
    station["line"] = [
        {"line": "F", "from_bus": "M", "length": 10.0, "construction": "cable", "charging_current": 12.0}
    ]
    left = study(station).frame("FROM study.outage_relay").set_index("source").smallest_fault_a
    assert left["GT"] == pytest.approx(12.0)
    assert np.isfinite(left).all()
