"""Neutral resistors that ground faults in succession overheat, though each alone is within rated current and time."""

from math import inf

from groundcheck.audit import Rule

DEVICE = {"substation": "ELM", "neutral_device": "NR1", "kind": "resistor", "rated_current": 400.0, "rated_time": 10.0}
# 200 A through 20 ohm put the 32 MJ of 400 A for 10 s into them in 40 s: t = 10 s (400/200)^2, I2 R t.
HEAT = {"substation": "ELM", "neutral_device": "NR1", "current_a": 200.0, "duration_s": 10.0, "energy_kj": 8000.0,
        "rated_energy_kj": 32000.0, "borne_s": 40.0}  # fmt: skip
BOUNDS = HEAT | {"borne_s": None, "borne_s_low": 30.0, "borne_s_high": 40.0,
                 "duration_s": None, "duration_s_low": 5.0, "duration_s_high": 10.0}  # fmt: skip


def inventory(faults=4, heat=HEAT, **fields):
    """One resistor, and the heat of ground faults that follow one another."""
    return {"neutral_device": [DEVICE | fields], "device_heating": [heat], "policy": {"faults": faults}}


def transformer(**heat):
    """A resistor across the secondary of a distribution transformer, one fault."""
    return inventory(1, HEAT | heat, kind="distribution_transformer")


RULE = Rule(
    title="Ground faults in succession put more heat into the resistor than it is rated for",
    severity="high",
    why="A resistor cools in tens of minutes, so a fault that comes back heats it from where the last one left it. "
    "Past its rated heat the element sags, arcs over and opens, and its zone is then ungrounded with the fault on.",
    basis="IEEE C57.32, rated current and rated time as a heat that is borne (clauses recalled); how many faults: "
    "common practice, no source",
    asks="neutral_device",
    inputs=(
        "neutral_device.rated_time",
        "neutral_device.rated_current",
        "device_heating.energy_kj",
        "device_heating.borne_s",
    ),
    policy={"faults": "neutral_device.faults_in_succession"},
    query="""
        SELECT d.substation, 'neutral_device' AS asset_kind, d.neutral_device AS asset, 's' AS unit,
               CASE WHEN coalesce(h.borne_s, h.borne_s_low) >= $faults * coalesce(h.duration_s, h.duration_s_high)
                    THEN TRUE
                    WHEN coalesce(h.borne_s, h.borne_s_high) < $faults * coalesce(h.duration_s, h.duration_s_low)
                    THEN FALSE END AS ok,
               if(ok IS FALSE, coalesce(h.borne_s, h.borne_s_high), coalesce(h.borne_s, h.borne_s_low)) AS actual,
               if(ok IS FALSE, coalesce(h.duration_s, h.duration_s_low),
                  coalesce(h.duration_s, h.duration_s_high)) AS each_s,
               $faults * each_s             AS required,
               h.borne_s_low                AS actual_low,
               h.borne_s_high               AS actual_high,
               $faults * h.duration_s_low   AS required_low,
               $faults * h.duration_s_high  AS required_high,
               d.rated_current, d.rated_time, h.current_a, h.energy_kj, h.rated_energy_kj,
               -- At the current of the fault, and at the rated one.
               ceil(required * (h.current_a / nullif(d.rated_current, 0)) ** 2) AS time_needed_s
        FROM inventory.neutral_device d
        LEFT JOIN study.device_heating h USING (substation, neutral_device)
        WHERE d.kind = 'distribution_transformer'
           -- One fault that alone exceeds rated current or rated time is the question of those two.
           OR (d.kind = 'resistor'
               AND coalesce(d.rated_current >= coalesce(h.current_a, h.current_a_low), TRUE)
               AND coalesce(d.rated_time >= coalesce(h.duration_s, h.duration_s_low), TRUE))
    """,
    message="{asset} takes up its rated heat in {actual} s; {faults} ground fault(s) in succession last {required} s",
    formula="t_borne = t_rated (I_rated / I)^2 >= n t, that is I_rated^2 R t_rated >= n I^2 R t",
    working="I_rated^2 R t_rated: {rated_current} A for {rated_time:g} s, {rated_energy_kj} kJ\n"
    "I^2 R t: {current_a} A for {each_s} s, {energy_kj} kJ a fault\n"
    "t_borne = {rated_time:g} s x ({rated_current} / {current_a})^2 = {actual} s\n"
    "n t = {faults} x {each_s} s = {required} s",
    remedy="a resistor rated {rated_current} A for {time_needed_s:g} s or more, faster protection, or a pause for "
    "cooling before the line is closed again",
    caution="Isolate and prove dead first, and let it cool: a resistor stays hot for an hour after a ground fault.",
    cannot_see="Takes no heat as given off. Resistors that one fault alone overloads or outlasts are left to rated "
    "current and rated time. Of a distribution transformer it takes rated current and time as those of the loading "
    "resistor, referred to the primary.",
    examples={
        "exception: five faults": inventory(5),
        "satisfied: exactly the rated heat": inventory(),
        "satisfied: one fault": inventory(1),
        "satisfied: exactly the rated heat at the unfavorable ends": inventory(3, BOUNDS),
        "not assessable: between the ends": inventory(4, BOUNDS),
        "not assessable: exactly the rated heat at the favorable ends": inventory(8, BOUNDS),
        "exception: beyond the favorable ends": inventory(9, BOUNDS),
        "not applicable: rated current exceeded": inventory(5, rated_current=199.0),
        "exception: rated current and time just met": inventory(5, rated_current=200.0),
        "not applicable: rated time exceeded": inventory(5, rated_time=9.0),
        "exception: loading resistor": transformer(borne_s=9.9),
        "satisfied: loading resistor at exactly its heat": transformer(borne_s=10.0),
        "exception: loading resistor above its continuous rating": transformer(borne_s=0.0),
        "satisfied: continuous, the zone runs on": transformer(borne_s=inf, duration_s=inf),
        "not assessable: rated time not on record": inventory(
            1, HEAT | {"borne_s": None, "borne_s_low": 0.0, "borne_s_high": inf}, rated_time=None
        ),
        "not assessable: heat not computed": {"neutral_device": [DEVICE]},
        "not applicable: reactor": inventory(5, kind="reactor"),
    },
)
