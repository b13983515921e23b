"""Relays in a neutral that may pick up for the current which flows there without a fault."""

from groundcheck.audit import Rule

RELAY = {"substation": "ELM", "ground_relay": "R1", "function": "51G", "measures": "NR1", "pickup": 4.0}
WATCH = {"substation": "ELM", "watcher_kind": "ground_relay", "watcher": "R1", "target_kind": "neutral_device",
         "device_substation": "ELM", "neutral_device": "NR1", "sees_current": True, "placed": True}  # fmt: skip
OTHER = WATCH | {"neutral_device": "NR2"}
UNBALANCE = {"substation": "ELM", "neutral_device": "NR1", "charging_a": 100.0, "unbalance_a": 2.0}
BOUNDS = UNBALANCE | {"unbalance_a": None, "unbalance_a_low": 1.0, "unbalance_a_high": 2.0}


def inventory(relay=RELAY, watches=(WATCH,), unbalance=UNBALANCE, kind="resistor", sees="current", margin=2.0):
    """A relay at a neutral device, and what that carries without a fault."""
    devices = [{"substation": "ELM", "neutral_device": tag, "kind": kind} for tag in ("NR1", "NR2")]
    reach = {"substation": "ELM", "ground_relay": "R1", "quantity_kind": sees}
    tables = {"ground_relay": [relay], "ground_watch": watches, "neutral_device": devices, "relay_reach": [reach]}
    return tables | {"neutral_unbalance": [unbalance] if unbalance else [], "policy": {"margin": margin}}


RULE = Rule(
    title="A relay in a neutral may pick up without a fault",
    severity="medium",
    why="Phases of unequal capacitance to ground send a standing current through the neutral. A relay set near it "
    "trips sound plant, or its alarm stands for so long that the next one is not believed.",
    basis="common practice, no source",
    asks="ground_relay",
    inputs=("ground_relay.pickup", "ground_relay.function", "neutral_unbalance.unbalance_a"),
    policy={"margin": "ground_relay.unbalance_margin", "differential": "ground_relay.differential_functions"},
    query="""
        WITH place AS (
            -- Of a relay that measures a transformer with two such neutrals it is not known which one it stands in.
            SELECT w.substation, w.watcher AS ground_relay,
                   any_value(d.substation) AS device_substation, any_value(d.neutral_device) AS neutral_device
            FROM study.ground_watch w
            JOIN inventory.neutral_device d
              ON d.substation = w.device_substation AND d.neutral_device = w.neutral_device
            WHERE w.watcher_kind = 'ground_relay' AND w.placed AND w.sees_current IS NOT FALSE
              AND w.target_kind IN ('neutral_device', 'transformer', 'generator', 'grounding_transformer')
              AND d.kind IN ('resistor', 'reactor', 'distribution_transformer')
            GROUP BY ALL HAVING count(DISTINCT d.substation || ':' || d.neutral_device) = 1
        )
        SELECT r.substation, 'ground_relay' AS asset_kind, r.ground_relay AS asset,
               coalesce(u.unbalance_a, u.unbalance_a_low) * $margin   AS required_least,
               coalesce(u.unbalance_a, u.unbalance_a_high) * $margin  AS required_most,
               -- Where the function is not on record the pickup may be volts.
               CASE WHEN r.function IS NULL THEN NULL
                    WHEN r.pickup >= required_most THEN TRUE
                    WHEN r.pickup < required_least THEN FALSE END AS ok,
               r.pickup                                          AS actual,
               if(ok IS FALSE, required_least, required_most)    AS required,
               'A'                                               AS unit,
               u.unbalance_a_low * $margin                       AS required_low,
               u.unbalance_a_high * $margin                      AS required_high,
               required / nullif($margin, 0)                     AS unbalance_a,
               p.neutral_device, p.device_substation AS neutral_device_substation, r.function, u.charging_a
        FROM place p
        JOIN inventory.ground_relay r USING (substation, ground_relay)
        LEFT JOIN study.relay_reach m USING (substation, ground_relay)
        LEFT JOIN study.neutral_unbalance u
          ON u.substation = p.device_substation AND u.neutral_device = p.neutral_device
        WHERE m.quantity_kind IS DISTINCT FROM 'voltage'
          AND regexp_matches(upper(regexp_replace(r.function, '[ ._-]', '', 'g')), $differential) IS NOT TRUE
    """,
    message="{asset} ({function}) picks up at {actual} A; {neutral_device} carries about {unbalance_a:.2g} A "
    "without a fault",
    formula="I_pickup >= k I_unbalance",
    working="standing unbalance of {neutral_device} = {unbalance_a} A, of {charging_a} A charging current\n"
    "k I_unbalance = {margin:g} x {unbalance_a} A = {required} A\n"
    "I_pickup = {actual} A",
    remedy="pickup of {required:.2g} A or more; measure the current of the neutral without a fault first",
    caution="A raised pickup must still see the smallest ground fault. A neutral is live while a fault is on.",
    cannot_see="The capacitive unbalance is typical, not measured. Single-phase loads between line and neutral add to "
    "it. Coils are not asked about: what they carry depends on their tuning, which changes.",
    examples={
        "exception: 3.9 A against 2 x 2 A": inventory(RELAY | {"pickup": 3.9}),
        "satisfied: exactly the margin": inventory(),
        "satisfied: 60 A": inventory(RELAY | {"pickup": 60.0}),
        "exception: margin of 2 met, 2.5 asked": inventory(margin=2.5),
        "satisfied: measures the transformer": inventory(watches=[WATCH | {"target_kind": "transformer"}]),
        "satisfied: exactly the most that the record allows": inventory(unbalance=BOUNDS),
        "exception: below the least that the record allows": inventory(RELAY | {"pickup": 1.9}, unbalance=BOUNDS),
        "not assessable: exactly the least that the record allows": inventory(
            RELAY | {"pickup": 2.0}, unbalance=BOUNDS
        ),
        "not assessable: pickup not on record": inventory(RELAY | {"pickup": None}),
        "not assessable: function not on record": inventory(RELAY | {"function": None}),
        "not assessable: unbalance not computed": inventory(unbalance=None),
        "not applicable: differential relay": inventory(RELAY | {"function": "87 N"}),
        "not applicable: voltage relay": inventory(sees="voltage"),
        "not applicable: at the bus": inventory(watches=[WATCH | {"target_kind": "bus"}]),
        "not applicable: coil": inventory(kind="arc_suppression_coil"),
        "not applicable: in one of two neutrals": inventory(watches=[WATCH, OTHER]),
    },
)
