"""Neutral resistors and reactors that a ground fault overloads."""

from groundcheck.audit import Rule

DEVICE = {"substation": "ELM", "neutral_device": "NR1", "kind": "resistor", "rated_current": 400.0}
DUTY = {"substation": "ELM", "neutral_device": "NR1", "current_a": 400.0, "voltage_kv": 7.97, "duration_s": 1.2}
BOUNDS = DUTY | {"current_a": None, "current_a_low": 300.0, "current_a_high": 400.0}


def inventory(device=DEVICE, duty=DUTY, margin=1.0):
    """One device and its duty."""
    return {"neutral_device": [device], "neutral_duty": [duty], "policy": {"margin": margin}}


RULE = Rule(
    title="Ground-fault current exceeds the neutral device's rated current",
    severity="high",
    why="The device carries the ground-fault current until it is cleared. Above its rating it overheats and may open, "
    "and its zone is then ungrounded with the fault still on it.",
    basis="IEEE C57.32, rated current not below the duty (clause recalled)",
    asks="neutral_device",
    inputs=("neutral_device.rated_current", "neutral_duty.current_a"),
    policy={"margin": "neutral_device.current_margin"},
    query="""
        WITH duty AS (
            SELECT d.substation, d.neutral_device, d.rated_current,
                   coalesce(u.current_a, u.current_a_low)  AS least_a,
                   coalesce(u.current_a, u.current_a_high) AS most_a,
                   u.current_a_low, u.current_a_high,
                   u.voltage_kv, u.duration_s, u.fault_bus
            FROM inventory.neutral_device d
            LEFT JOIN study.neutral_duty u USING (substation, neutral_device)
            WHERE d.kind IN ('resistor', 'reactor')
        )
        SELECT substation, 'neutral_device' AS asset_kind, neutral_device AS asset,
               CASE WHEN rated_current >= most_a * $margin THEN TRUE
                    WHEN rated_current < least_a * $margin THEN FALSE END AS ok,
               if(ok IS FALSE, least_a, most_a) AS current_a,
               rated_current                    AS actual,
               current_a * $margin              AS required,
               'A'                              AS unit,
               current_a_low * $margin          AS required_low,
               current_a_high * $margin         AS required_high,
               most_a * $margin                 AS needed_a,
               voltage_kv, duration_s, fault_bus
        FROM duty
    """,
    message="{asset} is rated {actual} A; its ground-fault duty with margin is {required} A",
    formula="I_rated >= k I_n, I_n the largest current through the device",
    working="I_n = {current_a} A, fault at bus {fault_bus}\n"
    "k I_n = {margin:g} x {current_a} A = {required} A\n"
    "I_rated = {actual} A, on the nameplate",
    remedy="a device of at least {needed_a} A and {voltage_kv} kV, rated time {duration_s:g} s",
    caution="Isolate and prove dead first: a neutral can rise to line-to-neutral voltage while a fault is on.",
    cannot_see="Weighs the rated current alone: a device that may carry more for a shorter time than rated is not told "
    "apart.",
    examples={
        "exception: 640 A through a 400 A device": inventory(duty=DUTY | {"current_a": 640.0}),
        "exception: 401 A through a 400 A device": inventory(duty=DUTY | {"current_a": 401.0}),
        "exception: rating met, margin not": inventory(margin=1.25),
        "satisfied: exactly at its rating": inventory(),
        "satisfied: 300 A through a 400 A device": inventory(duty=DUTY | {"current_a": 300.0}),
        "exception: a reactor": inventory(DEVICE | {"kind": "reactor", "rated_current": 399.0}),
        "satisfied: exactly the most that the record allows": inventory(duty=BOUNDS),
        "exception: below the least that the record allows": inventory(DEVICE | {"rated_current": 299.0}, BOUNDS),
        "exception: rating met at the least, margin not": inventory(DEVICE | {"rated_current": 300.0}, BOUNDS, 1.01),
        "not assessable: exactly the least that the record allows": inventory(
            DEVICE | {"rated_current": 300.0}, BOUNDS
        ),
        "not assessable: rating not on record": inventory(DEVICE | {"rated_current": None}),
        "not assessable: duty not computed": {"neutral_device": [DEVICE]},
        "not applicable: solid link": inventory(DEVICE | {"kind": "solid"}),
    },
)
