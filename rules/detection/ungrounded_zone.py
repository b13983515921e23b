"""Zones that pass little ground-fault current, and that nothing watches for a ground fault."""

from groundcheck.audit import Rule

HERE = {"zone": "ELM:B1", "substation": "ELM", "bus": "B1"}
ZONE = HERE | {"nominal_kv": 6.6, "grounding_class": "ungrounded"}
DETECTOR = {"substation": "ELM", "ground_detector": "GD1", "bus": "B1", "method": "broken_delta"}
ELSEWHERE = {"substation": "OAK", "ground_relay": "R9", "function": "51N", "measures": "T9"}
RELAY = {"substation": "ELM", "ground_relay": "R1", "function": "59N", "measures": "B1"}
MENTION = {"substation": "ELM", "asset_kind": "ground_relay", "asset": "R1", "field": "measures",
           "target_kind": "bus", "target_substation": "ELM", "target": "B1"}  # fmt: skip
VT = {"substation": "ELM", "instrument_transformer": "VT1", "kind": "vt", "bus": "B1"}
NEUTRAL = {"substation": "ELM", "asset_kind": "generator", "asset": "G1", "has_neutral": True, "zone": "ELM:B1",
           "device_substation": "ELM", "neutral_device": "NR1", "treatment": "resistor"}  # fmt: skip


def inventory(grounding_class="ungrounded", relay=None, measures=None, **tables):
    """A zone of one bus; relays are kept on record elsewhere; a relay of its own measures this."""
    own = [] if relay is None else [RELAY | relay]
    mention = [] if measures is None else [MENTION | {"target_kind": measures[0], "target": measures[1]}]
    return {
        "zone": [ZONE | {"grounding_class": grounding_class}],
        "zone_bus": [HERE],
        "ground_relay": [ELSEWHERE, *own],
        "reference": mention,
        **tables,
    }


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
    policy={
        "ground_functions": "ground_relay.ground_functions",
        "standing_fault_functions": "ground_relay.standing_fault_functions",
    },
    query="""
        WITH relay AS (
            SELECT r.substation, r.ground_relay, r.function, r.measures, m.target_kind, m.target_substation, m.target,
                   upper(regexp_replace(r.function, '[ ._-]', '', 'g'))  AS code,
                   regexp_matches(code, $ground_functions)               AS sees_current,
                   regexp_matches(code, $standing_fault_functions)       AS sees_standing
            FROM inventory.ground_relay r
            LEFT JOIN inventory.reference m ON m.asset_kind = 'ground_relay' AND m.field = 'measures'
                                           AND m.substation = r.substation AND m.asset = r.ground_relay
        ),
        place AS (
            -- The zone of whatever a relay may measure.
            SELECT 'bus' AS kind, substation, bus AS asset, zone FROM study.zone_bus
            UNION ALL
            SELECT 'instrument_transformer', i.substation, i.instrument_transformer, p.zone
            FROM inventory.instrument_transformer i
            JOIN study.zone_bus p
              ON p.substation || ':' || p.bus = if(contains(i.bus, ':'), i.bus, i.substation || ':' || i.bus)
            UNION ALL
            SELECT 'line', l.substation, l.line, p.zone
            FROM inventory.line l
            JOIN study.zone_bus p
              ON p.substation || ':' || p.bus =
                 if(contains(l.from_bus, ':'), l.from_bus, l.substation || ':' || l.from_bus)
            UNION ALL
            SELECT asset_kind, substation, asset, zone FROM study.neutral WHERE has_neutral IS NOT FALSE
            UNION ALL
            SELECT 'neutral_device', device_substation, neutral_device, zone FROM study.neutral
        ),
        measured AS (
            SELECT p.zone, r.*
            FROM relay r
            JOIN place p ON p.kind = r.target_kind AND p.substation = r.target_substation AND p.asset = r.target
        ),
        unplaced AS (
            -- Relays of which it is not on record what they measure: they may measure any zone of their station.
            SELECT p.zone, r.*, i.instrument_transformer
            FROM relay r
            JOIN study.zone_bus p USING (substation)
            LEFT JOIN inventory.instrument_transformer i
                   ON r.target_kind = 'instrument_transformer'
                  AND i.substation = r.target_substation AND i.instrument_transformer = r.target
            WHERE r.measures IS NULL OR (i.instrument_transformer IS NOT NULL AND i.bus IS NULL)
        ),
        asked AS (
            SELECT z.*,
                   z.grounding_class IN ('ungrounded', 'resonant', 'high_resistance') AS little_current
            FROM study.zone z
            -- What passes little current, or may.
            WHERE little_current OR z.grounding_class = 'resistance' OR z.grounding_class IS NULL
        ),
        detector AS (
            SELECT DISTINCT p.zone
            FROM inventory.ground_detector d
            JOIN study.zone_bus p
              ON p.substation || ':' || p.bus = if(contains(d.bus, ':'), d.bus, d.substation || ':' || d.bus)
        ),
        relayed AS (
            -- A current element sees what a neutral device passes; in an ungrounded zone nothing is passed.
            SELECT a.zone,
                   bool_or(m.sees_standing
                           OR (m.sees_current AND a.grounding_class IN ('high_resistance', 'resistance'))
                           OR (m.sees_current AND a.grounding_class = 'resonant'
                               AND m.target_kind IN ('neutral_device', 'grounding_transformer'))) AS seen,
                   min({'name': m.ground_relay, 'home': m.substation, 'vt': NULL::VARCHAR})
                       FILTER (m.function IS NULL) AS thin
            FROM asked a
            JOIN measured m USING (zone)
            GROUP BY a.zone
        ),
        unplaced_relay AS (
            SELECT a.zone, min({'name': u.ground_relay, 'home': u.substation, 'vt': u.instrument_transformer}) AS thin
            FROM asked a
            JOIN unplaced u USING (zone)
            WHERE if(a.grounding_class = 'ungrounded', u.sees_standing, u.sees_current) IS NOT FALSE
            GROUP BY a.zone
        ),
        watch AS (
            SELECT a.zone,
                   coalesce(d.zone IS NOT NULL OR m.seen, FALSE)  AS watched,
                   coalesce(m.thin, u.thin)                       AS thin
            FROM asked a
            LEFT JOIN detector d USING (zone)
            LEFT JOIN relayed m USING (zone)
            LEFT JOIN unplaced_relay u USING (zone)
        ),
        kept AS (
            -- Districts whose records hold relays or detectors at all; of the others nothing can be said.
            SELECT DISTINCT coalesce(s.district, '') AS district
            FROM (SELECT substation FROM inventory.ground_relay
                  UNION ALL SELECT substation FROM inventory.ground_detector) k
            LEFT JOIN inventory.substation s USING (substation)
        ),
        recorded AS (
            SELECT p.zone, bool_and(k.district IS NOT NULL) AS kept
            FROM study.zone_bus p
            LEFT JOIN inventory.substation s USING (substation)
            LEFT JOIN kept k ON k.district = coalesce(s.district, '')
            GROUP BY p.zone
        ),
        unsized AS (
            SELECT n.zone, min({'home': d.substation, 'name': d.neutral_device}) AS device
            FROM study.neutral n
            JOIN inventory.neutral_device d
              ON d.substation = n.device_substation AND d.neutral_device = n.neutral_device
            WHERE d.kind = 'resistor' AND d.resistance IS NULL
            GROUP BY n.zone
        )
        SELECT a.substation, 'bus' AS asset_kind, a.bus AS asset, a.zone, a.bus, a.nominal_kv,
               if(w.watched, 'detection', 'no detection')  AS actual,
               'detection'                                 AS required,
               ''                                          AS unit,
               CASE WHEN w.watched THEN TRUE
                    WHEN a.little_current AND w.thin IS NULL AND r.kept THEN FALSE END AS ok,
               replace(a.grounding_class, '_', ' ')  AS grounding_class,
               w.thin.name                           AS ground_relay,
               w.thin.home                           AS ground_relay_substation,
               w.thin.vt                             AS instrument_transformer,
               w.thin.home                           AS instrument_transformer_substation,
               NULL::VARCHAR                         AS ground_detector,
               u.device.name                         AS neutral_device,
               u.device.home                         AS neutral_device_substation,
               [if(a.grounding_class IS NULL, 'zone.grounding_class', NULL),
                if(a.grounding_class = 'resistance', 'neutral_device.resistance', NULL),
                if(w.thin IS NOT NULL, 'ground_relay.function', NULL),
                if(w.thin IS NOT NULL, 'ground_relay.measures', NULL),
                if(w.thin.vt IS NOT NULL, 'instrument_transformer.bus', NULL),
                if(r.kept IS NOT TRUE, 'ground_detector.bus', NULL)] AS needs
        FROM asked a
        JOIN watch w USING (zone)
        LEFT JOIN recorded r USING (zone)
        LEFT JOIN unsized u USING (zone)
    """,
    message="zone {zone} ({nominal_kv:g} kV, {grounding_class}) has no ground detector, and no relay on record tells "
    "of a ground fault in it",
    working="class of the zone: {grounding_class}; ground detectors at its buses, and voltage or directional ground "
    "relays that measure something in it: none",
    remedy="a voltage transformer set with broken delta and element 59N, or an insulation monitor, at bus {bus}, with "
    "an alarm that somebody answers",
    caution="Until it is watched, take the zone for faulted to ground: line-to-line voltage may stand on the healthy "
    "phases.",
    cannot_see="Of a relay it sees function and measured asset, not whether its alarm is connected. A relay that "
    "measures an asset which is not on record counts for nothing here. Where a district keeps no relays or detectors "
    "on record at all, nothing is concluded.",
    examples={
        "exception: ungrounded, nothing watches it": inventory(),
        "exception: resonant, nothing watches it": inventory("resonant"),
        "exception: high resistance, nothing watches it": inventory("high_resistance"),
        "satisfied: a ground detector": inventory(ground_detector=[DETECTOR]),
        "exception: a ground detector of another zone": inventory(ground_detector=[DETECTOR | {"bus": "B2"}]),
        "satisfied: a ground detector named from another station": inventory(
            ground_detector=[DETECTOR | {"substation": "OAK", "bus": "ELM:B1"}]
        ),
        "satisfied: 59N measures its bus": inventory(relay={}, measures=("bus", "B1")),
        "satisfied: written in another way": inventory(relay={"function": "59 n"}, measures=("bus", "B1")),
        "exception: 59 does not see a ground fault": inventory(relay={"function": "59"}, measures=("bus", "B1")),
        "exception: 59N measures another bus": inventory(relay={}, measures=("bus", "B2")),
        "exception: 59N measures a line of the same tag": inventory(relay={}, measures=("line", "B1")),
        "exception: 51N in an ungrounded zone": inventory(relay={"function": "51N"}, measures=("bus", "B1")),
        "exception: 51N on a bus of a resonant zone": inventory("resonant", {"function": "51N"}, ("bus", "B1")),
        "satisfied: 51N on a bus of a high-resistance zone": inventory(
            "high_resistance", {"function": "51N"}, ("bus", "B1")
        ),
        "satisfied: 51G on the coil of a resonant zone": inventory(
            "resonant", {"function": "51G"}, ("neutral_device", "NR1"), neutral=[NEUTRAL]
        ),
        "exception: 51G on a neutral device of another zone": inventory(
            "resonant", {"function": "51G"}, ("neutral_device", "NR1"), neutral=[NEUTRAL | {"zone": "ELM:B7"}]
        ),
        "satisfied: 64 measures the machine": inventory(
            "high_resistance", {"function": "64"}, ("generator", "G1"), neutral=[NEUTRAL]
        ),
        "exception: the winding that it measures has no neutral": inventory(
            relay={},
            measures=("transformer", "G1"),
            neutral=[NEUTRAL | {"asset_kind": "transformer", "has_neutral": False}],
        ),
        "satisfied: 67N measures a line": inventory(
            relay={"function": "67N"},
            measures=("line", "L1"),
            line=[{"substation": "ELM", "line": "L1", "from_bus": "B1"}],
        ),
        "satisfied: 59N measures a voltage transformer": inventory(
            relay={}, measures=("instrument_transformer", "VT1"), instrument_transformer=[VT]
        ),
        "exception: that voltage transformer is at another bus": inventory(
            relay={}, measures=("instrument_transformer", "VT1"), instrument_transformer=[VT | {"bus": "B2"}]
        ),
        "not assessable: bus of that voltage transformer not on record": inventory(
            relay={}, measures=("instrument_transformer", "VT1"), instrument_transformer=[VT | {"bus": None}]
        ),
        "not assessable: not on record what a relay of the station measures": inventory(relay={"measures": None}),
        "exception: nor would it see anything": inventory(relay={"measures": None, "function": "51N"}),
        "not assessable: 51N of a high-resistance station, not on record what it measures": inventory(
            "high_resistance", {"measures": None, "function": "51N"}
        ),
        "not assessable: function not on record": inventory(relay={"function": None}, measures=("bus", "B1")),
        "exception: function not on record, measures another bus": inventory(
            relay={"function": None}, measures=("bus", "B2")
        ),
        "not assessable: class not known": inventory(None),
        "satisfied: class not known, a detector anyway": inventory(None, ground_detector=[DETECTOR]),
        "not assessable: resistance of unknown size": inventory("resistance"),
        "not assessable: no relay or detector on record anywhere": {"zone": [ZONE], "zone_bus": [HERE]},
        "not assessable: its district keeps none": inventory()
        | {"substation": [{"substation": "OAK", "district": "East"}, {"substation": "ELM", "district": "West"}]},
        "satisfied: two relays measure its bus, one of which sees ground faults": inventory(
            ground_relay=[RELAY, RELAY | {"ground_relay": "R2", "function": "51"}],
            reference=[MENTION, MENTION | {"asset": "R2"}],
        ),
        "satisfied: 59N measures a winding of which it is not known whether it has a neutral": inventory(
            relay={}, measures=("generator", "G1"), neutral=[NEUTRAL | {"has_neutral": None}]
        ),
        "not assessable: neither function nor measured asset of a relay of the station on record": inventory(
            relay={"function": None, "measures": None}
        ),
        "not assessable: one of its two districts keeps none": inventory(zone_bus=[HERE, HERE | {"substation": "FIR"}])
        | {
            "substation": [
                {"substation": "OAK", "district": "East"},
                {"substation": "ELM", "district": "East"},
                {"substation": "FIR", "district": "West"},
            ]
        },
        "not applicable: effectively grounded": inventory("effective"),
        "not applicable: low resistance": inventory("low_resistance"),
    },
)
