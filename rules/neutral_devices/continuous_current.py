"""Neutral devices that may not carry the current of a ground fault through which their zone runs on."""

from math import inf

from groundcheck.audit import Rule

COIL = {"substation": "ELM", "neutral_device": "ASC1", "kind": "arc_suppression_coil"}
DUTY = {"substation": "ELM", "neutral_device": "ASC1", "zone": "ELM:B1", "duration_s": inf, "current_a": 100.0}
BOUNDS = DUTY | {"current_a": None, "current_a_low": 90.0, "current_a_high": 100.0}


def inventory(duty=DUTY, margin=1.0, **fields):
    """A coil, and a standing ground fault."""
    return {"neutral_device": [COIL | fields], "neutral_duty": [duty], "policy": {"margin": margin}}


RULE = Rule(
    title="The zone runs on through a ground fault with more current than the neutral device may carry lastingly",
    severity="high",
    why="While the fault stands the device carries its current for hours. Above its continuous rating it overheats "
    "and fails, and what was a small ground fault becomes an arcing one on an ungrounded zone.",
    basis="IEEE C57.32 and IEC 60076-6, continuous rating of neutral devices (clauses recalled)",
    asks="neutral_device",
    inputs=(
        "neutral_device.continuous_current",
        "neutral_device.rated_current",
        "neutral_device.rated_time",
        "neutral_duty.current_a",
        "neutral_duty.duration_s",
    ),
    policy={"margin": "neutral_device.current_margin"},
    query="""
        SELECT d.substation, 'neutral_device' AS asset_kind, d.neutral_device AS asset, u.zone, 'A' AS unit,
               coalesce(d.continuous_current, if(isinf(d.rated_time), d.rated_current, NULL)) AS actual,
               CASE WHEN actual >= coalesce(u.current_a, u.current_a_high) * $margin THEN TRUE
                    WHEN isinf(u.duration_s) AND actual < coalesce(u.current_a, u.current_a_low) * $margin
                    THEN FALSE END AS ok,
               if(ok IS FALSE, coalesce(u.current_a, u.current_a_low), coalesce(u.current_a, u.current_a_high))
                   AS current_a,
               current_a * $margin          AS required,
               u.current_a_low * $margin    AS required_low,
               u.current_a_high * $margin   AS required_high,
               replace(d.kind, '_', ' ')    AS kind, u.zone_kv,
               coalesce(u.current_a, u.current_a_high) * $margin AS needed_a,
               if(isinf(d.rated_time), 'rated current, continuous', 'continuous current') AS source,
               [if(actual IS NULL, if(isinf(d.rated_time), 'neutral_device.rated_current',
                                      'neutral_device.continuous_current'), NULL),
                'neutral_duty.current_a', 'neutral_duty.duration_s'] AS needs
        FROM inventory.neutral_device d
        LEFT JOIN study.neutral_duty u USING (substation, neutral_device)
        WHERE (d.kind IN ('arc_suppression_coil', 'distribution_transformer')
               AND (isinf(u.duration_s) OR u.duration_s IS NULL))
           -- A resistor or reactor whose rated time is without limit is asked for its rated current.
           OR (d.kind IN ('resistor', 'reactor') AND isinf(u.duration_s) AND coalesce(NOT isinf(d.rated_time), TRUE))
    """,
    message="{asset} ({kind}) may carry {actual} A lastingly; a ground fault through which zone {zone} runs on "
    "puts {required} A through it",
    formula="I_continuous >= k I_n, where the fault stands",
    working="I_n = {current_a} A, ground fault in zone {zone}\n"
    "k I_n = {margin:g} x {current_a} A = {required} A\n"
    "I_continuous = {actual} A, {source}",
    remedy="a device of {needed_a} A continuous or more, a smaller current, or protection that trips",
    caution="Isolate and prove dead first: a neutral can rise to line-to-neutral voltage while a fault is on.",
    cannot_see="Resistors and reactors that are rated without time limit are left to their rated current. Of a coil "
    "with taps it takes the tap on record.",
    examples={
        "exception: 99 A lastingly": inventory(continuous_current=99.0),
        "satisfied: exactly the current": inventory(continuous_current=100.0),
        "satisfied: 160 A": inventory(continuous_current=160.0),
        "exception: met, the margin not": inventory(continuous_current=100.0, margin=1.1),
        "exception: rated continuously for 99 A": inventory(rated_current=99.0, rated_time=inf),
        "satisfied: rated continuously for 100 A": inventory(rated_current=100.0, rated_time=inf),
        "exception: a resistor for seconds, 20 A lastingly": inventory(
            kind="resistor", rated_time=10.0, rated_current=400.0, continuous_current=20.0
        ),
        "satisfied: at the most that the record allows": inventory(BOUNDS, continuous_current=100.0),
        "not assessable: at the least that the record allows": inventory(BOUNDS, continuous_current=90.0),
        "exception: below the least that the record allows": inventory(BOUNDS, continuous_current=89.0),
        "not assessable: not known whether the zone runs on": inventory(
            DUTY | {"duration_s": None}, continuous_current=99.0
        ),
        "satisfied: nor does it matter": inventory(DUTY | {"duration_s": None}, continuous_current=100.0),
        "not assessable: rated for two hours, no continuous rating": inventory(rated_current=160.0, rated_time=7200.0),
        "not assessable: continuous, no current": inventory(rated_time=inf),
        "not assessable: no duty computed": {"neutral_device": [COIL | {"continuous_current": 160.0}]},
        "not applicable: cleared in 2 s": inventory(DUTY | {"duration_s": 2.0}, continuous_current=99.0),
        "not applicable: a resistor rated continuously": inventory(kind="resistor", rated_time=inf, rated_current=99.0),
        "not applicable: a resistor, time not known": inventory(
            DUTY | {"duration_s": None}, kind="resistor", continuous_current=99.0
        ),
        "not applicable: solid link": inventory(kind="solid", continuous_current=99.0),
    },
)
