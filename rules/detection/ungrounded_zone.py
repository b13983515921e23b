"""Zones that pass little ground-fault current, and that nothing watches for a ground fault."""

from groundcheck.audit import Rule

HERE = {"zone": "ELM:B1", "substation": "ELM", "bus": "B1"}
FIR = HERE | {"substation": "FIR"}
ZONE = HERE | {"nominal_kv": 6.6}
ON_RECORD = {"substation": "ELM", "ground_relays": True, "ground_detectors": False}
WATCH = {"substation": "ELM", "watcher_kind": "ground_relay", "watcher": "R1", "zone": "ELM:B1", "target_kind": "bus",
         "target_substation": "ELM", "target": "B1", "placed": True}  # fmt: skip
BLIND = WATCH | {"sees_current": False, "sees_standing": False}
CURRENT = BLIND | {"sees_current": True}
VOLTAGE = CURRENT | {"sees_standing": True}
COIL = CURRENT | {"target_kind": "neutral_device"}
SOMEWHERE = {"placed": False, "target_kind": None, "target": None}
AT_VT = {"placed": False, "target_kind": "instrument_transformer", "target": "VT1"}


def inventory(*watches, of="ungrounded", kept=ON_RECORD):
    """A zone of one bus, what watches it, and what its district keeps on record."""
    zone = ZONE | {"grounding_class": of}
    return {"zone": [zone], "zone_bus": [HERE], "ground_watch": watches, "protection_record": [kept] if kept else []}


RULE = Rule(
    title="Nothing tells of a ground fault in a zone that passes little ground-fault current",
    severity="high",
    why="A first ground fault draws too little current to trip and stands unseen, with line-to-line voltage on the "
    "healthy phases, until a second fault makes it a short circuit between phases, often far apart.",
    basis="IEEE 142 and NFPA 70, 250.21(B): ground detection on ungrounded systems (clauses recalled)",
    asks="zone",
    inputs=(
        "zone.grounding_class",
        "ground_relay.function",
        "ground_relay.measures",
        "instrument_transformer.bus",
        "ground_detector.bus",
        "neutral_device.resistance",
    ),
    query="""
        WITH watch AS (
            -- A current element sees what a neutral device passes; in an ungrounded zone nothing is passed.
            SELECT z.zone, w.* EXCLUDE (zone),
                   w.sees_standing OR (w.sees_current AND z.grounding_class <> 'ungrounded'
                       AND (z.grounding_class <> 'resonant' OR NOT w.placed
                            OR w.target_kind IN ('neutral_device', 'grounding_transformer'))) AS tells
            FROM study.zone z JOIN study.ground_watch w USING (zone)
        ),
        watched AS (
            SELECT zone, bool_or(tells AND placed) AS seen,
                   min({'late': NOT placed, 'name': watcher, 'home': substation, 'vt': if(placed, NULL, target),
                        'vt_home': target_substation}) FILTER (tells IS NULL OR (tells AND NOT placed)) AS thin
            FROM watch GROUP BY zone
        ),
        recorded AS (
            SELECT zone, bool_and((ground_relays OR ground_detectors) IS TRUE) AS kept
            FROM study.zone_bus LEFT JOIN study.protection_record USING (substation) GROUP BY zone
        ),
        unsized AS (
            SELECT n.zone, min({'name': d.neutral_device, 'home': d.substation}) AS device
            FROM inventory.neutral_device d
            JOIN study.neutral n ON n.device_substation = d.substation AND n.neutral_device = d.neutral_device
            WHERE d.kind = 'resistor' AND d.resistance IS NULL GROUP BY n.zone
        )
        SELECT z.substation, 'bus' AS asset_kind, z.bus AS asset, z.zone, z.bus, z.nominal_kv,
               if(w.seen, 'detection', 'no detection') AS actual, 'detection' AS required, '' AS unit,
               CASE WHEN w.seen THEN TRUE
                    WHEN z.grounding_class <> 'resistance' AND w.thin IS NULL AND r.kept THEN FALSE END AS ok,
               replace(z.grounding_class, '_', ' ') AS grounding_class, NULL::VARCHAR AS ground_detector,
               w.thin.name AS ground_relay, w.thin.home AS ground_relay_substation,
               w.thin.vt AS instrument_transformer, w.thin.vt_home AS instrument_transformer_substation,
               u.device.name AS neutral_device, u.device.home AS neutral_device_substation,
               [if(z.grounding_class IS NULL, 'zone.grounding_class', NULL),
                if(z.grounding_class = 'resistance', 'neutral_device.resistance', NULL),
                if(w.thin.vt IS NOT NULL, 'instrument_transformer.bus', NULL), if(r.kept, NULL, 'ground_detector.bus')]
               || if(w.thin IS NOT NULL, ['ground_relay.function', 'ground_relay.measures'], []) AS needs
        FROM study.zone z
        LEFT JOIN watched w USING (zone)
        LEFT JOIN recorded r USING (zone) LEFT JOIN unsized u USING (zone)
        -- What passes little current, or may.
        WHERE z.grounding_class IN ('ungrounded', 'resonant', 'high_resistance', 'resistance')
           OR z.grounding_class IS NULL
    """,
    message="zone {zone} ({nominal_kv:g} kV, {grounding_class}) has no ground detector, and no relay on record tells "
    "of a ground fault in it",
    working="class of the zone: {grounding_class}\nground detectors at its buses: none on record\n"
    "voltage or directional ground relays that measure something in it: none on record",
    remedy="a voltage transformer set with broken delta and element 59N, or an insulation monitor, at bus {bus}, with "
    "an alarm that somebody answers",
    caution="Until it is watched, take the zone for faulted to ground: line-to-line voltage may stand on the healthy "
    "phases.",
    cannot_see="Of a relay it sees function and measured asset, not whether its alarm is connected. A relay that "
    "measures an asset which is not on record counts for nothing here. Where a district keeps no relays or detectors "
    "on record at all, nothing is concluded.",
    examples={
        "exception: ungrounded, nothing watches it": inventory(),
        "exception: something watches another zone": inventory(VOLTAGE | {"zone": "ELM:B2"}),
        "satisfied: something tells of a standing fault": inventory(VOLTAGE),
        "satisfied: two relays, one of which tells of it": inventory(BLIND, VOLTAGE | {"watcher": "R2"}),
        "exception: a relay that does not see ground faults": inventory(BLIND, of="high_resistance"),
        "exception: a current relay in an ungrounded zone": inventory(CURRENT),
        "exception: a current relay at a bus of a resonant zone": inventory(CURRENT, of="resonant"),
        "satisfied: a current relay at the coil of a resonant zone": inventory(COIL, of="resonant"),
        "satisfied: a current relay at a bus of a high-resistance zone": inventory(CURRENT, of="high_resistance"),
        "not assessable: function of the relay not on record": inventory(WATCH),
        "not assessable: what a relay of the station measures not on record": inventory(VOLTAGE | SOMEWHERE),
        "exception: nor would it see anything": inventory(CURRENT | SOMEWHERE),
        "not assessable: a current relay may measure the coil": inventory(CURRENT | SOMEWHERE, of="resonant"),
        "not assessable: bus of the voltage transformer it measures not on record": inventory(VOLTAGE | AT_VT),
        "not assessable: neither function nor measured asset on record": inventory(WATCH | SOMEWHERE),
        "not assessable: class not known": inventory(of=None),
        "satisfied: class not known, something tells of a standing fault anyway": inventory(VOLTAGE, of=None),
        "not assessable: resistance of unknown size": inventory(of="resistance"),
        "not assessable: its district keeps nothing on record": inventory(kept=ON_RECORD | {"ground_relays": False}),
        "exception: its district keeps detectors": inventory(kept=ON_RECORD | {"ground_detectors": True}),
        "not assessable: nothing is known of its district": inventory(kept=None),
        "not assessable: one of its two districts keeps none": inventory() | {"zone_bus": [HERE, FIR]},
        "not applicable: effectively grounded": inventory(of="effective"),
    },
)
