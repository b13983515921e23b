"""Ground relays that do not pick up for the smallest ground fault that they must see."""

from groundcheck.audit import Rule

RELAY = {"substation": "ELM", "ground_relay": "R1", "function": "51G", "measures": "NR1", "pickup": 100.0}
REACH = {
    "substation": "ELM",
    "ground_relay": "R1",
    "quantity_kind": "current",
    "smallest_fault_a": 200.0,
    "zone": "ELM:B1",
}


def inventory(smallest=200.0, pickup=100.0, reach=2.0, kind="current", function="51G", low=None, high=None):
    """One relay and the smallest ground fault that it must see, or its bounds."""
    relay = RELAY | {"pickup": pickup, "function": function}
    must_see = REACH | {"smallest_fault_a": smallest, "quantity_kind": kind}
    must_see |= {"smallest_fault_a_low": low, "smallest_fault_a_high": high}
    return {"ground_relay": [relay], "relay_reach": [must_see], "policy": {"reach": reach}}


RULE = Rule(
    title="The relay's pickup is too high for the smallest ground fault that it must see",
    severity="high",
    why="A fault below pickup stands until it grows into a fault between phases or somebody is hurt. Fault resistance "
    "and relay error take their share of the current, so that pickup must lie well below it.",
    basis="common practice, no source (smallest fault current / pickup of 1.5 to 2)",
    asks="ground_relay",
    inputs=("ground_relay.pickup", "ground_relay.function", "ground_relay.measures", "relay_reach.smallest_fault_a"),
    policy={"reach": "ground_relay.reach"},
    query="""
        SELECT r.substation, 'ground_relay' AS asset_kind, r.ground_relay AS asset, m.zone,
               coalesce(m.smallest_fault_a, m.smallest_fault_a_low)   AS least_a,
               coalesce(m.smallest_fault_a, m.smallest_fault_a_high)  AS most_a,
               r.pickup * $reach  AS required,
               'A'                AS unit,
               -- Where the function is not on record the pickup may be volts.
               CASE WHEN r.function IS NULL OR m.quantity_kind IS DISTINCT FROM 'current' THEN NULL
                    WHEN least_a >= required THEN TRUE
                    WHEN most_a < required THEN FALSE END AS ok,
               if(ok IS FALSE, most_a, least_a)  AS actual,
               m.smallest_fault_a_low            AS actual_low,
               m.smallest_fault_a_high           AS actual_high,
               r.pickup, r.function, r.measures,
               actual / nullif(r.pickup, 0)  AS ratio,
               actual / $reach               AS highest_pickup_a
        FROM inventory.ground_relay r
        LEFT JOIN study.relay_reach m USING (substation, ground_relay)
        WHERE m.quantity_kind IS DISTINCT FROM 'voltage'
    """,
    message="{asset} ({function}) picks up at {pickup} A; the smallest ground fault it must see is {actual} A, "
    "{ratio:.2f} times pickup",
    formula="I_LG,min >= k I_pickup",
    working="I_LG,min = {actual} A\nk I_pickup = {reach:g} x {pickup} A = {required} A\n"
    "I_LG,min / I_pickup = {ratio:.2f}",
    remedy="pickup of {highest_pickup_a} A or less, still above unbalance and the feeder's own charging current",
    caution="A lower pickup changes the coordination with the relays downstream: study it before setting it.",
    cannot_see="Takes a bolted fault in the minimum condition; fault resistance is covered by the ratio only.",
    examples={
        "exception: 199 A against 2 x 100 A": inventory(199.0),
        "satisfied: exactly the ratio": inventory(),
        "satisfied: 400 A against 2 x 100 A": inventory(400.0),
        "exception: reach of 2 met, 2.5 asked": inventory(reach=2.5),
        "satisfied: exactly the least that the record allows": inventory(None, low=200.0, high=300.0),
        "exception: above the most that the record allows": inventory(None, low=100.0, high=199.0),
        "not assessable: exactly the most that the record allows": inventory(None, low=100.0, high=200.0),
        "not assessable: pickup not on record": inventory(pickup=None),
        "not assessable: smallest fault not computed": inventory(None),
        "not assessable: function not on record": inventory(function=None),
        "not assessable: neither function nor quantity known": inventory(function=None, kind=None),
        "not assessable: reach not computed": {"ground_relay": [RELAY]},
        "not applicable: voltage relay": inventory(kind="voltage"),
    },
)
