"""Feeder relays that may pick up for the feeder's own charging current while the fault is elsewhere."""

from groundcheck.audit import Rule

# Handbook section 3: 25 uF per phase at 20 kV, 50 Hz charge with 272.07 A; here 100 km of 250 nF/km.
LINE = {"substation": "ELM", "line": "F1", "from_bus": "B1", "length": 100.0, "c0": 250.0}
RELAY = {"substation": "ELM", "ground_relay": "R1", "function": "51N", "measures": "F1", "pickup": 300.0}
WATCH = {"substation": "ELM", "watcher_kind": "ground_relay", "watcher": "R1", "zone": "ELM:B1", "target_kind": "line",
         "target_substation": "ELM", "target": "F1", "sees_current": True, "placed": True}  # fmt: skip
VOLTS = {"substation": "ELM", "ground_relay": "R1", "quantity_kind": "voltage"}
LEADS = {"to_bus": "OAK:B9"}
FAR = {"substation": "ELM", "asset_kind": "line", "asset": "F1", "field": "to_bus", "target_kind": "bus",
       "target_substation": "OAK", "target": "B9"}  # fmt: skip
ONWARD = FAR | {"asset": "F2", "field": "from_bus"}


def inventory(line=None, of="low_resistance", hz=50.0, ends=(), margin=1.0, kv=20.0, **relay):
    """A feeder, its relay, and what meets at its far end."""
    zone = {"zone": "ELM:B1", "nominal_kv": kv, "grounding_class": of}
    tables = {"line": [LINE | (line or {})], "ground_relay": [RELAY | relay], "ground_watch": [WATCH], "zone": [zone]}
    stations = [{"substation": "ELM", "frequency": hz}]
    return tables | {"substation": stations, "reference": ends, "policy": {"margin": margin}}


RULE = Rule(
    title="A feeder's ground relay may pick up for a fault elsewhere",
    severity="medium",
    why="In a ground fault on another feeder, this one's capacitance sends its charging current back through the "
    "relay. Set below that, the relay trips a sound feeder, and the faulted one is looked for in the wrong place.",
    basis="common practice, no source (pickup above the feeder's own charging current)",
    asks="ground_relay",
    inputs=(
        "ground_relay.pickup",
        "ground_relay.function",
        "line.c0",
        "line.length",
        "substation.frequency",
        "zone.grounding_class",
        "zone.nominal_kv",
    ),
    policy={
        "margin": "ground_relay.charging_margin",
        "differential": "ground_relay.differential_functions",
        "directional": "ground_relay.directional_functions",
    },
    query="""
        WITH branch AS (
            SELECT target_substation, target, count(*) AS branches FROM inventory.reference
            WHERE target_kind = 'bus' AND asset_kind IN ('line', 'switch') GROUP BY ALL
        ),
        feeder AS (
            SELECT DISTINCT r.substation, r.ground_relay, r.function, r.pickup, w.zone, z.grounding_class, z.nominal_kv,
                   l.line, l.substation AS line_substation, l.length, l.c0,
                   upper(regexp_replace(r.function, '[ ._-]', '', 'g')) AS code,
                   -- 3 omega C0 V_LN from nF/km, km and kV.
                   coalesce(l.charging_current,
                            sqrt(3) * 2 * pi() * s.frequency * l.c0 * l.length * z.nominal_kv * 1e-6) AS own_a
            FROM study.ground_watch w
            JOIN inventory.ground_relay r ON r.substation = w.substation AND r.ground_relay = w.watcher
            JOIN inventory.line l ON l.substation = w.target_substation AND l.line = w.target
            LEFT JOIN inventory.reference f
              ON f.asset_kind = 'line' AND f.field = 'to_bus' AND f.substation = l.substation AND f.asset = l.line
            LEFT JOIN branch b ON b.target_substation = f.target_substation AND b.target = f.target
            LEFT JOIN inventory.substation s ON s.substation = r.substation
            LEFT JOIN study.zone z ON z.zone = w.zone
            LEFT JOIN study.relay_reach m ON m.substation = r.substation AND m.ground_relay = r.ground_relay
            WHERE w.watcher_kind = 'ground_relay' AND w.target_kind = 'line' AND w.sees_current IS NOT FALSE
              -- A feeder that ends, or leads to where nothing goes on: what is charged through the relay is its own.
              AND (l.to_bus IS NULL OR b.branches = 1) AND m.quantity_kind IS DISTINCT FROM 'voltage'
        )
        SELECT substation, 'ground_relay' AS asset_kind, ground_relay AS asset,
               own_a * $margin AS required,
               -- Where the function is not on record it may be directional, or its pickup volts.
               CASE WHEN function IS NULL THEN NULL
                    WHEN pickup >= required THEN TRUE
                    WHEN grounding_class IS NOT NULL AND pickup IS NOT NULL AND own_a IS NOT NULL THEN FALSE END AS ok,
               pickup AS actual, 'A' AS unit, function, line, line_substation, zone, own_a,
               ['ground_relay.pickup', 'ground_relay.function', 'zone.grounding_class', 'zone.nominal_kv']
               || if(own_a IS NULL, ['line.c0', 'line.length', 'substation.frequency'], []) AS needs
        FROM feeder
        -- Where the neutral is displaced by less than V_LN, less is charged.
        WHERE (grounding_class IS NULL OR grounding_class IN
               ('ungrounded', 'resonant', 'high_resistance', 'low_resistance', 'resistance'))
          AND coalesce(NOT regexp_matches(code, $differential) AND NOT regexp_matches(code, $directional), TRUE)
    """,
    message="{asset} ({function}) picks up at {actual} A; {line} passes {own_a} A of its own charging "
    "current in a ground fault elsewhere, for which {required} A is the least",
    formula="I_pickup >= k 3 omega C0 V_LN",
    working="3 omega C0 V_LN of {line} = {own_a} A\nk 3 omega C0 V_LN = {margin:g} x {own_a} A = "
    "{required} A\nI_pickup = {actual} A",
    remedy="pickup of {required} A or more, or a directional element",
    caution="A raised pickup must still see the smallest ground fault on the feeder.",
    cannot_see="Of a feeder that leads on it does not know what hangs behind it, and does not ask. Machines and surge "
    "capacitors on the feeder are not counted.",
    examples={
        "exception: 272.0 A for 272.07 A": inventory(pickup=272.0),
        "satisfied: 272.1 A for 272.07 A": inventory(pickup=272.1),
        "satisfied: exactly the charging current on record": inventory({"charging_current": 300.0}),
        "exception: charging current met, 1.2 times it asked": inventory(margin=1.2),
        "exception: ungrounded": inventory(of="ungrounded", pickup=200.0),
        "satisfied: leads to a bus where nothing goes on": inventory(LEADS, ends=[FAR]),
        "not applicable: leads on": inventory(LEADS, ends=[FAR, ONWARD]),
        "not applicable: leads to a bus that is not on record": inventory(LEADS),
        "not assessable: class of the zone not known": inventory(of=None, pickup=200.0),
        "satisfied: class of the zone not known, pickup high enough": inventory(of=None),
        "not assessable: function not on record": inventory(function=None),
        "not assessable: pickup not on record": inventory(pickup=None),
        "not assessable: capacitance not on record": inventory({"c0": None}),
        "not assessable: length not on record": inventory({"length": None}),
        "not assessable: frequency not on record": inventory(hz=None),
        "not assessable: voltages of the zone contradict one another": inventory(kv=None),
        "not applicable: effectively grounded": inventory(of="effective", pickup=1.0),
        "not applicable: directional": inventory(function="67N", pickup=1.0),
        "not applicable: voltage relay": inventory(pickup=1.0) | {"relay_reach": [VOLTS]},
        "not applicable: differential": inventory(function="87N", pickup=1.0),
    },
)
