"""Neutral devices that a ground fault outlasts."""

from math import inf

from groundcheck.audit import Rule

DEVICE = {"substation": "ELM", "neutral_device": "NR1", "kind": "resistor", "rated_time": 10.0}
DUTY = {"substation": "ELM", "neutral_device": "NR1", "zone": "ELM:B1", "duration_s": 10.0, "current_a": 400.0}
BOUNDS = DUTY | {"duration_s": None, "duration_s_low": 2.0, "duration_s_high": 10.0}


def inventory(rated_time=10.0, duration_s=10.0, margin=1.0, kind="resistor"):
    """One device and how long a ground fault lasts."""
    return within(rated_time, DUTY | {"duration_s": duration_s}, margin, kind)


def within(rated_time, duty=BOUNDS, margin=1.0, kind="resistor"):
    """One device and the bounds of how long a ground fault lasts."""
    device = DEVICE | {"kind": kind, "rated_time": rated_time}
    return {"neutral_device": [device], "neutral_duty": [duty], "policy": {"margin": margin}}


RULE = Rule(
    title="Neutral device is rated for a shorter time than the ground fault lasts",
    severity="high",
    why="The heat that a neutral device takes up grows with the time until the fault is cleared. Past its rated time "
    "it burns out, and its zone is then ungrounded with the fault still on it.",
    basis="IEEE C57.32, rated time not below the time for which current may flow (clause recalled)",
    asks="neutral_device",
    inputs=("neutral_device.rated_time", "neutral_duty.duration_s"),
    policy={"margin": "neutral_device.time_margin"},
    query="""
        SELECT d.substation, 'neutral_device' AS asset_kind, d.neutral_device AS asset,
               d.rated_time            AS actual,
               's'                     AS unit,
               -- Rated continuously: enough, however long it lasts.
               CASE WHEN isinf(d.rated_time) THEN TRUE
                    WHEN actual >= coalesce(u.duration_s, u.duration_s_high) * $margin THEN TRUE
                    WHEN actual < coalesce(u.duration_s, u.duration_s_low) * $margin THEN FALSE END AS ok,
               if(ok IS FALSE, coalesce(u.duration_s, u.duration_s_low),
                  coalesce(u.duration_s, u.duration_s_high)) AS lasting_s,
               lasting_s * $margin         AS required,
               u.duration_s_low * $margin  AS required_low,
               u.duration_s_high * $margin AS required_high,
               d.kind, u.zone, u.current_a
        FROM inventory.neutral_device d
        LEFT JOIN study.neutral_duty u USING (substation, neutral_device)
        WHERE d.kind IN ('resistor', 'reactor', 'arc_suppression_coil')
    """,
    message="{asset} ({kind}) is rated for {actual:g} s; a ground fault in its zone lasts {required:g} s",
    formula="t_rated >= k t_fault",
    working="t_fault = {lasting_s:g} s\n"
    "k t_fault = {margin:g} x {lasting_s:g} s = {required:g} s\n"
    "t_rated = {actual:g} s, on the nameplate",
    remedy="a device of rated time {required:g} s and at least {current_a} A; or protection that clears within "
    "{actual:g} s",
    caution="Isolate and prove dead first: a neutral can rise to line-to-neutral voltage while a fault is on.",
    cannot_see="Takes the rated time as it stands: a device that carries less than its rated current, or has a "
    "continuous rating above it, may bear more.",
    examples={
        "exception: 9 s against 10 s": inventory(rated_time=9.0),
        "satisfied: exactly the duration": inventory(),
        "satisfied: 30 s against 10 s": inventory(rated_time=30.0),
        "exception: rating met, margin not": inventory(margin=1.5),
        "exception: 10 s where the zone runs on": inventory(duration_s=inf),
        "exception: a coil for 2 h where the zone runs on": inventory(7200.0, inf, kind="arc_suppression_coil"),
        "exception: a reactor": inventory(rated_time=9.0, kind="reactor"),
        "satisfied: continuous where the zone runs on": inventory(inf, inf),
        "satisfied: continuous, duration not known": inventory(inf, None),
        "satisfied: exactly the longest that the record allows": within(10.0),
        "exception: shorter than the shortest that the record allows": within(1.9),
        "exception: the shortest met, the margin not": within(2.0, margin=1.1),
        "not assessable: the longest met, the margin not": within(10.0, margin=1.1),
        "not assessable: exactly the shortest that the record allows": within(2.0),
        "not assessable: rated time not on record": inventory(rated_time=None),
        "not assessable: duration not known": inventory(duration_s=None),
        "not assessable: no duty computed": {"neutral_device": [DEVICE]},
        "not applicable: solid link": inventory(kind="solid"),
    },
)
