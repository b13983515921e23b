"""Grounding transformers that a ground fault overloads."""

from groundcheck.audit import Rule

BANK = {"substation": "ELM", "grounding_transformer": "GT1", "bus": "B1", "rated_neutral_current": 400.0}
DUTY = {"substation": "ELM", "grounding_transformer": "GT1", "zone": "ELM:B1", "current_a": 400.0, "duration_s": 1.2}
BOUNDS = DUTY | {"current_a": None, "current_a_low": 300.0, "current_a_high": 400.0}


def inventory(rated=400.0, duty=DUTY, margin=1.0):
    """One grounding transformer and its duty."""
    bank = BANK | {"rated_neutral_current": rated}
    return {"grounding_transformer": [bank], "grounding_transformer_duty": [duty], "policy": {"margin": margin}}


RULE = Rule(
    title="Ground-fault current exceeds the grounding transformer's rated neutral current",
    severity="high",
    why="The bank carries the zone's ground-fault current until it is cleared. Overloaded it fails, often with its "
    "tank, and the zone has then lost its only ground with the fault still on it.",
    basis="IEEE C57.32, rated neutral current of grounding transformers not below the duty (clause recalled)",
    asks="grounding_transformer",
    inputs=("grounding_transformer.rated_neutral_current", "grounding_transformer_duty.current_a"),
    policy={"margin": "grounding_transformer.current_margin"},
    query="""
        WITH duty AS (
            SELECT g.substation, g.grounding_transformer, g.bus, g.rated_neutral_current,
                   coalesce(u.current_a, u.current_a_low)  AS least_a,
                   coalesce(u.current_a, u.current_a_high) AS most_a,
                   u.current_a_low, u.current_a_high,
                   u.duration_s, u.zone
            FROM inventory.grounding_transformer g
            LEFT JOIN study.grounding_transformer_duty u USING (substation, grounding_transformer)
        )
        SELECT substation, 'grounding_transformer' AS asset_kind, grounding_transformer AS asset, bus, zone,
               CASE WHEN rated_neutral_current >= most_a * $margin THEN TRUE
                    WHEN rated_neutral_current < least_a * $margin THEN FALSE END AS ok,
               if(ok IS FALSE, least_a, most_a)  AS current_a,
               rated_neutral_current             AS actual,
               current_a * $margin               AS required,
               'A'                               AS unit,
               current_a_low * $margin           AS required_low,
               current_a_high * $margin          AS required_high,
               most_a * $margin                  AS needed_a,
               duration_s
        FROM duty
    """,
    message="{asset} is rated {actual} A in the neutral; its ground-fault duty with margin is {required} A",
    formula="I_rated >= k 3I0, 3I0 the largest neutral current",
    working="3I0 = {current_a} A, ground fault in its zone\n"
    "k 3I0 = {margin:g} x {current_a} A = {required} A\n"
    "I_rated = {actual} A, on the nameplate",
    remedy="a grounding transformer of at least {needed_a} A in the neutral, rated time {duration_s:g} s; or a "
    "resistor in its neutral that limits the current to {actual} A",
    caution="Taking it out of service ungrounds the zone: clear or reground the zone first.",
    cannot_see="Takes the neutral current as three times that of a phase; a rating given per phase reads as too low.",
    examples={
        "exception: 401 A through a 400 A bank": inventory(duty=DUTY | {"current_a": 401.0}),
        "exception: rating met, margin not": inventory(margin=1.25),
        "satisfied: exactly at its rating": inventory(),
        "satisfied: 300 A through a 400 A bank": inventory(duty=DUTY | {"current_a": 300.0}),
        "satisfied: exactly the most that the record allows": inventory(duty=BOUNDS),
        "exception: below the least that the record allows": inventory(299.0, BOUNDS),
        "exception: rating met at the least, margin not": inventory(300.0, BOUNDS, 1.01),
        "not assessable: exactly the least that the record allows": inventory(300.0, BOUNDS),
        "not assessable: rating not on record": inventory(None),
        "not assessable: duty not computed": {"grounding_transformer": [BANK]},
    },
)
