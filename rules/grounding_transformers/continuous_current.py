"""Grounding transformers that carry more than their continuous rating, in a standing ground fault or without one."""

from math import inf

from groundcheck.audit import Rule

BANK = {"substation": "ELM", "grounding_transformer": "GT1", "bus": "B1", "rated_neutral_current": 400.0,
        "rated_time": 10.0, "continuous_neutral_current": 30.0}  # fmt: skip
DUTY = {"substation": "ELM", "grounding_transformer": "GT1", "zone": "ELM:B1", "duration_s": inf, "current_a": 30.0}
BOUNDS = DUTY | {"current_a": None, "current_a_low": 20.0, "current_a_high": 30.0}
POINT = {"substation": "ELM", "asset_kind": "grounding_transformer", "asset": "GT1", "zone": "ELM:B1",
         "device_substation": "ELM", "neutral_device": "NX1"}  # fmt: skip
LOAD = {"substation": "ELM", "neutral_device": "NX1", "unbalance_a": 5.0}


def inventory(duty=DUTY, load=None, margin=1.0, share=0.05, **fields):
    """A grounding transformer in a zone that runs on; with a device in its neutral if there is a load."""
    return {
        "grounding_transformer": [BANK | fields],
        "grounding_transformer_duty": [duty],
        "neutral": [POINT] if load is not None else [],
        "neutral_unbalance": [LOAD | load] if load is not None else [],
        "policy": {"margin": margin, "share": share},
    }


def sound(load, **options):
    """Without a fault: ground faults are cleared."""
    return inventory(DUTY | {"duration_s": 1.0}, load, **options)


RULE = Rule(
    title="The grounding transformer carries more than it may lastingly",
    severity="high",
    why="What flows for hours, in a ground fault through which the zone runs on or from unequal capacitances without "
    "one, heats the bank far beyond what its seconds' rating tells. It fails, and the zone has lost its ground.",
    basis="IEEE C57.32, continuous neutral current of grounding transformers (clause recalled)",
    asks="grounding_transformer",
    inputs=(
        "grounding_transformer.continuous_neutral_current",
        "grounding_transformer.rated_neutral_current",
        "grounding_transformer.rated_time",
        "grounding_transformer_duty.current_a",
        "neutral_unbalance.unbalance_a",
    ),
    policy={"margin": "grounding_transformer.current_margin", "share": "neutral_device.continuous_share"},
    query="""
        WITH bank AS (
            SELECT g.substation, g.grounding_transformer, g.rated_time, g.rated_neutral_current,
                   coalesce(g.continuous_neutral_current,
                            if(isinf(g.rated_time), g.rated_neutral_current, NULL)) AS bears_a
            FROM inventory.grounding_transformer g
        ),
        carries AS (
            SELECT b.*, 'ground fault' AS item, 'in a ground fault through which the zone runs on' AS while_what,
                   u.zone, NULL AS neutral_device, NULL AS neutral_device_substation,
                   u.current_a AS known, u.current_a_low AS low, u.current_a_high AS high,
                   'grounding_transformer_duty.current_a' AS rests_on
            FROM bank b
            JOIN study.grounding_transformer_duty u USING (substation, grounding_transformer)
            -- Rated without time limit, it is asked for its rated neutral current.
            WHERE isinf(u.duration_s) AND coalesce(NOT isinf(b.rated_time), TRUE)
            UNION ALL
            SELECT b.*, 'no fault', 'without a fault', n.zone, n.neutral_device, n.device_substation,
                   l.unbalance_a, l.unbalance_a_low, l.unbalance_a_high, 'neutral_unbalance.unbalance_a'
            FROM bank b
            JOIN study.neutral n ON n.asset_kind = 'grounding_transformer' AND n.substation = b.substation
                                AND n.asset = b.grounding_transformer
            JOIN study.neutral_unbalance l ON l.substation = n.device_substation AND l.neutral_device = n.neutral_device
            -- So small a share of the rated current needs no rating on record.
            WHERE b.bears_a IS NOT NULL
               OR coalesce(coalesce(l.unbalance_a, l.unbalance_a_high) > $share * b.rated_neutral_current, TRUE)
        )
        SELECT substation, 'grounding_transformer' AS asset_kind, grounding_transformer AS asset, item, zone,
               'A' AS unit, neutral_device, neutral_device_substation, bears_a AS actual,
               CASE WHEN actual >= coalesce(known, high) * $margin THEN TRUE
                    WHEN actual < coalesce(known, low) * $margin THEN FALSE END AS ok,
               if(ok IS FALSE, coalesce(known, low), coalesce(known, high)) AS carries_a,
               carries_a * $margin AS required, low * $margin AS required_low, high * $margin AS required_high,
               while_what, coalesce(known, high) * $margin AS needed_a,
               [if(bears_a IS NULL, 'grounding_transformer.continuous_neutral_current', NULL), rests_on] AS needs
        FROM carries
    """,
    message="{asset} may carry {actual} A in its neutral lastingly; {while_what} it carries {required} A",
    formula="I_continuous >= k 3I0, of the ground fault that stands and of the sound zone",
    working="3I0 = {carries_a} A, {while_what}\n"
    "k 3I0 = {margin:g} x {carries_a} A = {required} A\n"
    "I_continuous = {actual} A, on the nameplate",
    remedy="a grounding transformer of {needed_a} A continuous in the neutral or more, a smaller current, or "
    "protection that trips",
    caution="Taking it out of service ungrounds the zone: clear or reground the zone first.",
    cannot_see="Without a fault, the unbalance of the capacitances is assumed, and asked only where a device in the "
    "neutral limits it. An auxiliary load on the same bank comes on top.",
    examples={
        "exception: 31 A where 30 are borne": inventory(DUTY | {"current_a": 31.0}),
        "satisfied: exactly what is borne": inventory(),
        "satisfied: 10 A": inventory(DUTY | {"current_a": 10.0}),
        "exception: met, the margin not": inventory(margin=1.1),
        "satisfied: exactly the most that the record allows": inventory(BOUNDS),
        "not assessable: exactly the least that the record allows": inventory(BOUNDS, continuous_neutral_current=20.0),
        "exception: below the least that the record allows": inventory(BOUNDS, continuous_neutral_current=19.0),
        "not assessable: continuous rating not on record": inventory(continuous_neutral_current=None),
        "not applicable: rated without limit": inventory(DUTY | {"current_a": 31.0}, rated_time=inf),
        "not applicable: cleared in 1 s": inventory(DUTY | {"duration_s": 1.0, "current_a": 31.0}),
        "satisfied: 5 A without a fault": sound({}),
        "exception: 31 A without a fault": sound({"unbalance_a": 31.0}),
        "exception: without a fault, rated without limit": sound(
            {"unbalance_a": 401.0}, continuous_neutral_current=None, rated_time=inf
        ),
        "not assessable: without a fault, above the share that needs no rating": sound(
            {"unbalance_a": 21.0}, continuous_neutral_current=None
        ),
        "not applicable: exactly that share": sound({"unbalance_a": 20.0}, continuous_neutral_current=None),
        "not assessable: above a smaller share": sound({}, share=0.01, continuous_neutral_current=None),
    },
)
