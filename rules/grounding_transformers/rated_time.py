"""Grounding transformers that a ground fault outlasts."""

from math import inf

from groundcheck.audit import Rule

BANK = {"substation": "ELM", "grounding_transformer": "GT1", "bus": "B1", "rated_time": 10.0}
DUTY = {"substation": "ELM", "grounding_transformer": "GT1", "zone": "ELM:B1", "current_a": 400.0, "duration_s": 10.0}
BOUNDS = DUTY | {"duration_s": None, "duration_s_low": 2.0, "duration_s_high": 10.0}


def inventory(rated_time=10.0, duration_s=10.0, margin=1.0):
    """One grounding transformer and how long a ground fault lasts."""
    return within(rated_time, DUTY | {"duration_s": duration_s}, margin)


def within(rated_time, duty=BOUNDS, margin=1.0):
    """One grounding transformer and the bounds of how long a ground fault lasts."""
    bank = BANK | {"rated_time": rated_time}
    return {"grounding_transformer": [bank], "grounding_transformer_duty": [duty], "policy": {"margin": margin}}


RULE = Rule(
    title="Grounding transformer is rated for a shorter time than the ground fault lasts",
    severity="high",
    why="A grounding transformer is sized for seconds. Past its rated time it burns out, and the zone has then lost "
    "its only ground with the fault still on it.",
    basis="IEEE C57.32, rated time of grounding transformers (clause recalled)",
    asks="grounding_transformer",
    inputs=("grounding_transformer.rated_time", "grounding_transformer_duty.duration_s"),
    policy={"margin": "grounding_transformer.time_margin"},
    query="""
        SELECT g.substation, 'grounding_transformer' AS asset_kind, g.grounding_transformer AS asset, g.bus, u.zone,
               g.rated_time            AS actual,
               's'                     AS unit,
               -- Rated continuously: enough, however long it lasts.
               CASE WHEN isinf(g.rated_time) THEN TRUE
                    WHEN actual >= coalesce(u.duration_s, u.duration_s_high) * $margin THEN TRUE
                    WHEN actual < coalesce(u.duration_s, u.duration_s_low) * $margin THEN FALSE END AS ok,
               if(ok IS FALSE, coalesce(u.duration_s, u.duration_s_low),
                  coalesce(u.duration_s, u.duration_s_high)) AS lasting_s,
               lasting_s * $margin         AS required,
               u.duration_s_low * $margin  AS required_low,
               u.duration_s_high * $margin AS required_high,
               u.current_a
        FROM inventory.grounding_transformer g
        LEFT JOIN study.grounding_transformer_duty u USING (substation, grounding_transformer)
    """,
    message="{asset} is rated for {actual:g} s; a ground fault in its zone lasts {required:g} s",
    formula="t_rated >= k t_fault",
    working="t_fault = {lasting_s:g} s\n"
    "k t_fault = {margin:g} x {lasting_s:g} s = {required:g} s\n"
    "t_rated = {actual:g} s, on the nameplate",
    remedy="a grounding transformer of rated time {required:g} s and at least {current_a} A; or protection that clears "
    "within {actual:g} s",
    caution="Taking it out of service ungrounds the zone: clear or reground the zone first.",
    cannot_see="Takes the rated time as it stands: a bank that carries less than its rated current, or has a "
    "continuous rating above it, may bear more.",
    examples={
        "exception: 9 s against 10 s": inventory(9.0),
        "satisfied: exactly the duration": inventory(),
        "satisfied: 30 s against 10 s": inventory(30.0),
        "exception: rating met, margin not": inventory(margin=1.5),
        "exception: 10 s where the zone runs on": inventory(duration_s=inf),
        "satisfied: continuous where the zone runs on": inventory(inf, inf),
        "satisfied: continuous, duration not known": inventory(inf, None),
        "satisfied: exactly the longest that the record allows": within(10.0),
        "exception: shorter than the shortest that the record allows": within(1.9),
        "exception: the shortest met, the margin not": within(2.0, margin=1.1),
        "not assessable: the longest met, the margin not": within(10.0, margin=1.1),
        "not assessable: exactly the shortest that the record allows": within(2.0),
        "not assessable: rated time not on record": inventory(None),
        "not assessable: duration not known": inventory(duration_s=None),
        "not assessable: no duty computed": {"grounding_transformer": [BANK]},
    },
)
