"""Feeder relays in an ungrounded zone that the charging current of the rest does not reach."""

from groundcheck.audit import Rule

LINE = {"substation": "ELM", "line": "F1", "from_bus": "B1", "charging_current": 10.0}
# Handbook section 3: 10 kV cable of 0.22 uF/km, 50 Hz charges with 1.2 A/km (1.197 by its formula).
CABLE = {"charging_current": None, "c0": 220.0, "length": 10.0}
FAR = {"substation": "ELM", "asset_kind": "line", "asset": "F1", "field": "to_bus", "target_kind": "bus",
       "target_substation": "OAK", "target": "B9"}  # fmt: skip
VOLTS = {"substation": "ELM", "ground_relay": "R1", "quantity_kind": "voltage"}
RELAY = {"substation": "ELM", "ground_relay": "R1", "function": "67N", "measures": "F1", "pickup": 2.0}
WATCH = {"substation": "ELM", "watcher_kind": "ground_relay", "watcher": "R1", "zone": "ELM:B1", "target_kind": "line",
         "target_substation": "ELM", "target": "F1", "sees_current": True, "placed": True}  # fmt: skip


def inventory(total=13.0, low=None, high=None, line=None, of="ungrounded", reach=1.5, sees=True, ends=(), **relay):
    """A feeder that charges with 10 A, its relay, and the charging current of the zone or its bounds."""
    fault = {"zone": "ELM:B1", "charging_a": total, "charging_a_low": low, "charging_a_high": high}
    zone = {"zone": "ELM:B1", "nominal_kv": 10.0, "grounding_class": of}
    tables = {"line": [LINE | (line or {})], "ground_relay": [RELAY | relay], "zone": [zone], "standing_fault": [fault]}
    tables |= {"ground_watch": [WATCH | {"sees_current": sees}], "reference": ends, "policy": {"reach": reach}}
    return tables | {"substation": [{"substation": "ELM", "frequency": 50.0}]}


RULE = Rule(
    title="In an ungrounded zone the feeder's relay does not see a ground fault on its feeder",
    severity="high",
    why="What a feeder's relay sees of a ground fault on its own feeder is the charging current of all the others, not "
    "of its own. Set above that, it is blind, and the fault stands.",
    basis="common practice, no source (current seen / pickup of 1.5 to 2)",
    asks="ground_relay",
    inputs=(
        "ground_relay.pickup",
        "ground_relay.function",
        "line.c0",
        "line.length",
        "substation.frequency",
        "standing_fault.charging_a",
    ),
    policy={"reach": "ground_relay.reach", "differential": "ground_relay.differential_functions"},
    query="""
        WITH branch AS (
            SELECT target_substation, target, count(*) AS branches FROM inventory.reference
            WHERE target_kind = 'bus' AND asset_kind IN ('line', 'switch') GROUP BY ALL
        ),
        feeder AS (
            SELECT DISTINCT r.substation, r.ground_relay, r.function, r.pickup, w.zone,
                   l.line, l.substation AS line_substation, l.length, l.c0,
                   -- 3 omega C0 V_LN from nF/km, km and kV.
                   coalesce(l.charging_current,
                            sqrt(3) * 2 * pi() * s.frequency * l.c0 * l.length * z.nominal_kv * 1e-6) AS own_a,
                   coalesce(t.charging_a, t.charging_a_low)   AS least_a,
                   coalesce(t.charging_a, t.charging_a_high)  AS most_a,
                   t.charging_a_low, t.charging_a_high
            FROM study.ground_watch w
            JOIN inventory.ground_relay r ON r.substation = w.substation AND r.ground_relay = w.watcher
            JOIN inventory.line l ON l.substation = w.target_substation AND l.line = w.target
            JOIN study.zone z ON z.zone = w.zone
            LEFT JOIN inventory.reference f
              ON f.asset_kind = 'line' AND f.field = 'to_bus' AND f.substation = l.substation AND f.asset = l.line
            LEFT JOIN branch b ON b.target_substation = f.target_substation AND b.target = f.target
            LEFT JOIN inventory.substation s ON s.substation = r.substation
            LEFT JOIN study.standing_fault t ON t.zone = w.zone
            LEFT JOIN study.relay_reach m ON m.substation = r.substation AND m.ground_relay = r.ground_relay
            WHERE w.watcher_kind = 'ground_relay' AND w.target_kind = 'line' AND w.sees_current IS NOT FALSE
              AND z.grounding_class = 'ungrounded'
              -- A feeder that ends, or leads to where nothing goes on: what it charges is its own.
              AND (l.to_bus IS NULL OR b.branches = 1) AND m.quantity_kind IS DISTINCT FROM 'voltage'
              AND regexp_matches(upper(regexp_replace(r.function, '[ ._-]', '', 'g')), $differential) IS NOT TRUE
        )
        SELECT substation, 'ground_relay' AS asset_kind, ground_relay AS asset,
               pickup * $reach AS required,
               -- Where the function is not on record the pickup may be volts.
               CASE WHEN function IS NULL THEN NULL
                    WHEN least_a - own_a >= required THEN TRUE
                    WHEN most_a - own_a < required THEN FALSE END  AS ok,
               if(ok IS FALSE, most_a, least_a)                    AS zone_a,
               zone_a - own_a                                      AS actual,
               charging_a_low - own_a AS actual_low, charging_a_high - own_a AS actual_high, 'A' AS unit,
               actual / nullif($reach, 0)                          AS highest_a,
               pickup, function, line, line_substation, zone, own_a,
               ['ground_relay.pickup', 'ground_relay.function', 'standing_fault.charging_a']
               || if(own_a IS NULL, ['line.c0', 'line.length', 'substation.frequency'], []) AS needs
        FROM feeder
    """,
    message="{asset} ({function}) picks up at {pickup} A; in a ground fault on {line} the rest of zone {zone} "
    "sends {actual} A through it, and {required} A is asked for",
    formula="I_C,zone - I_C,feeder >= k I_pickup",
    working="I_C,zone = {zone_a} A\nI_C,feeder = {own_a} A\nI_C,zone - I_C,feeder = {actual} A\n"
    "k I_pickup = {reach:g} x {pickup} A = {required} A",
    remedy="pickup of {highest_a:.2g} A or less, directional where the feeder's own charging current is larger; or "
    "detection by voltage",
    caution="Take the zone for faulted to ground until it is watched: line-to-line voltage may stand on the healthy "
    "phases.",
    cannot_see="Of a feeder that leads on it does not know what hangs behind it, and does not ask.",
    examples={
        "satisfied: exactly 1.5 times pickup": inventory(),
        "exception: 2.9 A for 1.5 x 2 A": inventory(12.9),
        "satisfied: 5 A": inventory(15.0),
        "exception: 1.5 met, 2 asked": inventory(reach=2.0),
        "exception: 14.9 A, of which 11.97 A its own": inventory(14.9, line=CABLE),
        "satisfied: 15.0 A, of which 11.97 A its own": inventory(15.0, line=CABLE),
        "satisfied: leads to a bus where nothing goes on": inventory(line={"to_bus": "OAK:B9"}, ends=[FAR]),
        "not applicable: leads on": inventory(1.0, line={"to_bus": "OAK:B9"}, ends=[FAR, FAR | {"asset": "F2"}]),
        "satisfied: exactly the least that the record allows": inventory(None, 13.0, 20.0),
        "exception: below the most that the record allows": inventory(None, 11.0, 12.9),
        "not assessable: exactly the most that the record allows": inventory(None, 11.0, 13.0),
        "not assessable: function not on record": inventory(function=None),
        "not assessable: pickup not on record": inventory(pickup=None),
        "not assessable: charging current of the zone not known": inventory(None),
        "not assessable: capacitance of the feeder not on record": inventory(line={"charging_current": None}),
        "not applicable: voltage relay": inventory(1.0) | {"relay_reach": [VOLTS]},
        "not applicable: differential": inventory(1.0, function="87N"),
        "not applicable: phase relay": inventory(1.0, sees=False),
        "not applicable: grounded zone": inventory(1.0, of="low_resistance"),
    },
)
