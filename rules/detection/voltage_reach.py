"""Voltage relays that pick up too high for the residual voltage of a ground fault."""

from groundcheck.audit import Rule

RELAY = {"substation": "ELM", "ground_relay": "R1", "function": "59N", "measures": "B1", "pickup": 2000.0}
REACH = {"substation": "ELM", "ground_relay": "R1", "quantity_kind": "voltage", "zone": "ELM:B1"}
SEES = {"substation": "ELM", "ground_relay": "R1", "smallest": 4000.0}
DETECTOR = {"substation": "ELM", "ground_detector": "EFD1", "bus": "B1"}
GUARDS = {"substation": "ELM", "generator": "G1", "relay_substation": "ELM", "ground_relay": "R1"}


def inventory(sees=None, reach=2.0, kind="voltage", **relay):
    """A voltage relay of 2 kV pickup, the least voltage that it sees in a ground fault, and the reach asked for."""
    return {
        "ground_relay": [RELAY | relay],
        "relay_reach": [REACH | {"quantity_kind": kind}],
        "relay_operation": [SEES | (sees or {})],
        "policy": {"reach": reach},
    }


RULE = Rule(
    title="The voltage relay's pickup is too high for the residual voltage of a ground fault",
    severity="high",
    why="Where little current flows, the residual voltage is all that tells of a ground fault. A relay that picks up "
    "near or above it is silent, and the fault stands until a second one on another phase short-circuits the zone.",
    basis="common practice, no source (residual voltage of the weakest fault / pickup of 1.5 to 2)",
    asks="ground_relay",
    inputs=("ground_relay.pickup", "ground_relay.function", "ground_relay.measures", "relay_operation.smallest"),
    policy={"reach": "ground_relay.reach", "undervoltage": "ground_relay.undervoltage_functions"},
    formula="3V0_min >= k V_pickup; at a neutral V0 in its place",
    query="""
        WITH relay AS (
            SELECT r.*, m.zone,
                   coalesce(o.smallest, o.smallest_low)   AS least_v,
                   coalesce(o.smallest, o.smallest_high)  AS most_v,
                   o.smallest_low, o.smallest_high
            FROM inventory.ground_relay r
            JOIN study.relay_reach m USING (substation, ground_relay)
            LEFT JOIN study.relay_operation o USING (substation, ground_relay)
            WHERE m.quantity_kind = 'voltage'
              AND regexp_matches(regexp_replace(upper(r.function), '[ .-]', '', 'g'), $undervoltage) IS NOT TRUE
              -- A detector's relay and a generator's have a question of their own.
              AND NOT EXISTS (FROM inventory.ground_detector d
                              WHERE if(contains(d.relay, ':'), d.relay, d.substation || ':' || d.relay)
                                    = r.substation || ':' || r.ground_relay)
              AND NOT EXISTS (FROM study.stator_coverage c
                              WHERE c.relay_substation = r.substation AND c.ground_relay = r.ground_relay)
        )
        SELECT substation, 'ground_relay' AS asset_kind, ground_relay AS asset, zone,
               pickup * $reach  AS required,
               'V'              AS unit,
               CASE WHEN least_v >= required THEN TRUE WHEN most_v < required THEN FALSE END AS ok,
               if(ok IS FALSE, most_v, least_v)  AS actual,
               smallest_low AS actual_low, smallest_high AS actual_high,
               pickup, function, measures,
               actual / nullif(pickup, 0)  AS ratio,
               actual / $reach             AS highest_pickup_v
        FROM relay
    """,
    message="{asset} ({function}) at {measures} picks up at {pickup} V; the weakest ground fault gives it {actual} V, "
    "{ratio:.2f} times pickup",
    working="V_min = {actual} V\nk V_pickup = {reach:g} x {pickup} V = {required} V\nV_min / V_pickup = {ratio:.2f}",
    remedy="pickup of {highest_pickup_v} V or less, still above the residual voltage of unequal capacitances",
    caution="A relay set lower may tell of more than faults: look at the standing residual voltage before setting it.",
    cannot_see="Takes a bolted fault in the minimum condition; fault resistance is covered by the ratio only.",
    examples={
        "exception: 3999 V against 2 x 2000 V": inventory({"smallest": 3999.0}),
        "satisfied: exactly the ratio": inventory(),
        "satisfied: three times pickup": inventory({"smallest": 6000.0}),
        "exception: reach of 2 met, 2.5 asked": inventory(reach=2.5),
        "satisfied: exactly the least that the record allows": inventory(
            {"smallest": None, "smallest_low": 4000.0, "smallest_high": 9000.0}
        ),
        "exception: above the most that the record allows": inventory(
            {"smallest": None, "smallest_low": 0.0, "smallest_high": 3999.0}
        ),
        "not assessable: exactly the most that the record allows": inventory(
            {"smallest": None, "smallest_low": 0.0, "smallest_high": 4000.0}
        ),
        "not assessable: pickup not on record": inventory(pickup=None),
        "not assessable: voltage not computed": inventory({"smallest": None}),
        "not applicable: current relay": inventory(kind="current"),
        "not applicable: third harmonic, undervoltage": inventory(function="27 TN"),
        "not applicable: relay of a detector": inventory() | {"ground_detector": [DETECTOR | {"relay": "R1"}]},
        "satisfied: a detector has another relay": inventory() | {"ground_detector": [DETECTOR | {"relay": "R9"}]},
        "not applicable: relay of a generator": inventory() | {"stator_coverage": [GUARDS]},
    },
)
