"""Ground relays that no longer see the smallest ground fault with a source out of service."""

from groundcheck.audit import Rule

RELAY = {"substation": "ELM", "ground_relay": "R1", "function": "51N", "measures": "L1", "pickup": 100.0}
REACH = {"substation": "ELM", "ground_relay": "R1", "quantity_kind": "current", "smallest_fault_a": 400.0, "zone": "Z"}
LEFT = {"substation": "ELM", "ground_relay": "R1"}
OUT = {"source_substation": "ELM", "source_kind": "transformer", "source": "T2"}
OPEN = OUT | {"source_kind": "neutral_device", "source": "NR1"}
WATCH = {"substation": "ELM", "watcher_kind": "ground_relay", "watcher": "R1", "device_substation": "ELM",
         "neutral_device": "NR1"}  # fmt: skip


def inventory(smallest=200.0, low=None, high=None, reach=2.0, result="kept", out=OUT, before=400.0, **relay):
    """A relay that measures NR1, and what it sees of the smallest fault with a source out."""
    left = LEFT | out | {"smallest_fault_a": smallest, "smallest_fault_a_low": low, "smallest_fault_a_high": high}
    return {"ground_relay": [RELAY | relay], "relay_reach": [REACH | {"smallest_fault_a": before}],
            "outage_relay": [left], "source_outage": [{"zone": "Z"} | out | {"result": result}],
            "ground_watch": [WATCH], "policy": {"reach": reach}}  # fmt: skip


RULE = Rule(
    title="With a source out of service the relay does not see the smallest ground fault",
    severity="medium",
    why="A transformer is out for repair, or a neutral device for a test, and the ground-fault current is smaller. A "
    "relay set for all in service then lets a fault stand, at a time when fewer others are there to see it.",
    basis="common practice, no source (smallest fault current / pickup of 1.5 to 2, also in an outage)",
    asks="ground_relay",
    inputs=(
        "ground_relay.pickup",
        "ground_relay.function",
        "outage_relay.smallest_fault_a",
        "relay_reach.smallest_fault_a",
    ),
    policy={"reach": "ground_relay.reach"},
    query="""
        WITH own AS (
            SELECT DISTINCT substation, watcher AS ground_relay, device_substation AS source_substation,
                   'neutral_device' AS source_kind, neutral_device AS source
            FROM study.ground_watch WHERE watcher_kind = 'ground_relay' AND neutral_device IS NOT NULL
        )
        SELECT r.substation, 'ground_relay' AS asset_kind, r.ground_relay AS asset,
               replace(o.source_kind, '_', ' ') || ' ' ||
                   if(o.source_substation <> r.substation, o.source_substation || ':', '') || o.source AS item,
               coalesce(o.smallest_fault_a, o.smallest_fault_a_low)   AS least_a,
               coalesce(o.smallest_fault_a, o.smallest_fault_a_high)  AS most_a,
               r.pickup * $reach                                      AS required,
               'A'                                                    AS unit,
               CASE WHEN r.function IS NULL THEN NULL
                    WHEN least_a >= required THEN TRUE
                    WHEN most_a < required THEN FALSE END             AS ok,
               if(ok IS FALSE, most_a, least_a)                       AS actual,
               o.smallest_fault_a_low AS actual_low, o.smallest_fault_a_high AS actual_high,
               coalesce(m.smallest_fault_a, m.smallest_fault_a_high) AS before_a, actual / $reach AS highest_pickup_a,
               r.pickup, r.function, m.zone, o.source, o.source_kind, o.source_substation
        FROM study.outage_relay o
        JOIN inventory.ground_relay r USING (substation, ground_relay)
        LEFT JOIN study.relay_reach m USING (substation, ground_relay)
        LEFT JOIN study.source_outage z USING (zone, source_substation, source_kind, source)
        LEFT JOIN own USING (substation, ground_relay, source_substation, source_kind, source)
        -- Not the relay whose own neutral is open. A zone that loses its ground, or may, is another rule's question, as
        -- is a relay that does not see the smallest fault with all in service.
        WHERE own.source IS NULL AND coalesce(z.result, '') NOT IN ('ungrounded', 'unknown')
          AND coalesce(before_a >= required, TRUE)
    """,
    message="with {item} out, {asset} ({function}, pickup {pickup} A) sees {actual} A of the smallest ground "
    "fault; {required} A is asked for",
    formula="I_LG,min (source out) >= k I_pickup",
    working="smallest ground fault with all in service: {before_a} A\nwith {item} out: {actual} A\n"
    "k I_pickup = {reach:g} x {pickup} A = {required} A",
    remedy="pickup of {highest_pickup_a} A or less, or a second setting for the outage",
    caution="A lower pickup changes the coordination with the relays downstream: study it before setting it.",
    cannot_see="One source at a time. Another relay may see the fault that this one misses.",
    examples={
        "exception: 199 A against 2 x 100 A": inventory(199.0),
        "satisfied: exactly the ratio": inventory(),
        "satisfied: 300 A": inventory(300.0),
        "exception: reach of 2 met, 2.5 asked": inventory(reach=2.5),
        "satisfied: exactly the least that the record allows": inventory(None, 200.0, 300.0),
        "exception: above the most that the record allows": inventory(None, 100.0, 199.0),
        "not assessable: exactly the most that the record allows": inventory(None, 100.0, 200.0),
        "not assessable: pickup not on record": inventory(pickup=None),
        "not assessable: function not on record": inventory(function=None),
        "not assessable: smallest fault not computed": inventory(None),
        "exception: nothing known with all in service": inventory(199.0, before=None),
        "exception: just enough with all in service": inventory(199.0, before=200.0),
        "not applicable: not enough with all in service": inventory(100.0, before=199.0),
        "not applicable: the zone has lost its ground": inventory(1.0, result="ungrounded"),
        "not applicable: it may have lost its ground": inventory(1.0, result="unknown"),
        "exception: a neutral device of another station": inventory(1.0, out=OPEN | {"source_substation": "OAK"}),
        "not applicable: its own neutral device is open": inventory(0.0, out=OPEN),
        "not applicable: nothing is out": {"ground_relay": [RELAY], "relay_reach": [REACH]},
    },
)
