"""What watches each zone and each neutral device for ground faults."""

import pandas as pd

from groundcheck.policy import Policy
from groundcheck.store import Store
from groundcheck.study.currents.reach import sees
from groundcheck.study.records import Records


def write_ground_watch(store: Store, records: Records, policy: Policy) -> None:
    """Fill study.ground_watch and study.protection_record from the relays and detectors on record and their places."""
    station, tag = records.tags("ground_relay")
    functions = pd.DataFrame(
        {
            "substation": station,
            "ground_relay": tag,
            "sees_current": pd.array(sees(records, policy, "ground_relay.ground_functions"), "boolean"),
            "sees_standing": pd.array(sees(records, policy, "ground_relay.standing_fault_functions"), "boolean"),
        }
    )
    if len(functions):
        store.connection.register("relay_function", functions)
        store.connection.execute(_RELAYS)
        store.connection.unregister("relay_function")
    store.connection.execute(_DETECTORS)
    store.connection.execute(_STATIONS)


# A relay sees the current of a neutral device at the device, at the asset it serves, and at the bus of that winding.
_RELAYS = """
    INSERT INTO study.ground_watch BY NAME
    WITH stands AS (
        SELECT r.asset_kind, r.substation, r.asset, r.field,
               p.substation AS bus_substation, p.bus, p.zone
        FROM inventory.reference r
        JOIN study.zone_bus p ON p.substation = r.target_substation AND p.bus = r.target
        WHERE r.target_kind = 'bus'
    ),
    served AS (
        SELECT n.asset_kind, n.substation, n.asset, n.has_neutral, n.zone, n.device_substation, n.neutral_device,
               s.bus_substation, s.bus
        FROM study.neutral n
        LEFT JOIN stands s ON s.asset_kind = n.asset_kind AND s.substation = n.substation AND s.asset = n.asset
                          AND s.field = coalesce(n.winding || '_bus', 'bus')
    ),
    place AS (
        SELECT 'bus' AS kind, p.substation, p.bus AS asset, p.zone, n.device_substation, n.neutral_device
        FROM study.zone_bus p
        LEFT JOIN served n ON n.bus_substation = p.substation AND n.bus = p.bus
        UNION ALL
        SELECT 'instrument_transformer', s.substation, s.asset, s.zone, n.device_substation, n.neutral_device
        FROM stands s
        LEFT JOIN served n USING (bus_substation, bus)
        WHERE s.asset_kind = 'instrument_transformer'
        UNION ALL
        SELECT 'line', substation, asset, zone, NULL, NULL
        FROM stands
        WHERE asset_kind = 'line' AND field = 'from_bus'
        UNION ALL
        -- A winding that has no neutral tells nothing of its zone.
        SELECT asset_kind, substation, asset, if(has_neutral IS FALSE, NULL, zone), device_substation, neutral_device
        FROM served
        UNION ALL
        SELECT 'neutral_device', d.substation, d.neutral_device, n.zone, d.substation, d.neutral_device
        FROM inventory.neutral_device d
        LEFT JOIN served n ON n.device_substation = d.substation AND n.neutral_device = d.neutral_device
    ),
    relay AS (
        SELECT r.substation, r.ground_relay, f.sees_current, f.sees_standing,
               m.target_kind, m.target_substation, m.target,
               r.measures IS NOT NULL AND (i.substation IS NULL OR i.bus IS NOT NULL) AS placed
        FROM inventory.ground_relay r
        LEFT JOIN relay_function f USING (substation, ground_relay)
        LEFT JOIN inventory.reference m ON m.asset_kind = 'ground_relay' AND m.field = 'measures'
                                       AND m.substation = r.substation AND m.asset = r.ground_relay
        LEFT JOIN inventory.instrument_transformer i
               ON m.target_kind = 'instrument_transformer'
              AND i.substation = m.target_substation AND i.instrument_transformer = m.target
    )
    SELECT DISTINCT r.substation, 'ground_relay' AS watcher_kind, r.ground_relay AS watcher, p.zone,
           r.target_kind, r.target_substation, r.target, p.device_substation, p.neutral_device,
           r.sees_current, r.sees_standing, r.placed
    FROM relay r
    JOIN place p ON p.kind = r.target_kind AND p.substation = r.target_substation AND p.asset = r.target
    WHERE r.placed AND (p.zone IS NOT NULL OR p.neutral_device IS NOT NULL)
    UNION ALL
    SELECT DISTINCT r.substation, 'ground_relay', r.ground_relay, p.zone,
           r.target_kind, r.target_substation, r.target, NULL, NULL,
           r.sees_current, r.sees_standing, r.placed
    FROM relay r
    LEFT JOIN study.zone_bus p ON p.substation = r.substation
    WHERE NOT r.placed
"""
_DETECTORS = """
    INSERT INTO study.ground_watch BY NAME
    SELECT DISTINCT d.substation, 'ground_detector' AS watcher_kind, d.ground_detector AS watcher, p.zone,
           m.target_kind, m.target_substation, m.target, FALSE AS sees_current, TRUE AS sees_standing, TRUE AS placed
    FROM inventory.ground_detector d
    JOIN inventory.reference m ON m.asset_kind = 'ground_detector' AND m.field = 'bus'
                              AND m.substation = d.substation AND m.asset = d.ground_detector
    JOIN study.zone_bus p ON p.substation = m.target_substation AND p.bus = m.target
"""
_STATIONS = """
    INSERT INTO study.protection_record BY NAME
    WITH station AS (
        SELECT coalesce(s.district, '') AS district, k.substation, k.relays, k.detectors
        FROM (SELECT substation, FALSE AS relays, FALSE AS detectors FROM inventory.substation
              UNION ALL SELECT substation, TRUE, FALSE FROM inventory.ground_relay
              UNION ALL SELECT substation, FALSE, TRUE FROM inventory.ground_detector) k
        LEFT JOIN inventory.substation s USING (substation)
    ),
    district AS (
        SELECT district, bool_or(relays) AS relays, bool_or(detectors) AS detectors FROM station GROUP BY district
    )
    SELECT DISTINCT s.substation, d.relays AS ground_relays, d.detectors AS ground_detectors
    FROM station s JOIN district d USING (district)
"""
