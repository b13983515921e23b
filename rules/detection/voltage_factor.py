"""Voltage transformers that do not bear the voltage of a ground fault for as long as it stands."""

from groundcheck.audit import Rule

VT = {"substation": "ELM", "instrument_transformer": "VT1", "kind": "vt", "bus": "B1", "connection": "YNyn",
      "voltage_factor": 1.9, "voltage_factor_time": 30.0}  # fmt: skip
# The handbook, section 9, has 1.732 for 13.8 kV on a unit of 7967 V; 2.08 is 24 kV on 20 kV / sqrt(3).
STRESS = {"substation": "ELM", "instrument_transformer": "VT1", "zone": "ELM:B1", "rated_v": 7967.0,
          "voltage_kv": 13.8, "factor": 1.9, "duration_s": 30.0}  # fmt: skip
OPEN = {"factor": None, "factor_low": 1.3, "factor_high": 1.9}
UNTIMED = {"duration_s": None, "duration_s_low": 30.0, "duration_s_high": 40.0}
FOREVER = {"duration_s": float("inf")}


def inventory(stress=None, margin=1.0, **vt):
    """One voltage transformer and what a ground fault asks of it."""
    stresses = [] if stress == "none" else [STRESS | (stress or {})]
    policy = {"margin": margin, "lasting": 1.2, "standing": 28800.0}
    return {"instrument_transformer": [VT | vt], "vt_stress": stresses, "policy": policy}


RULE = Rule(
    title="A voltage transformer does not bear the voltage of a ground fault",
    severity="high",
    why="Above its voltage factor, or for longer than that is rated for, its core saturates and its winding overheats. "
    "Voltage transformers burst from it, oil and porcelain with them.",
    basis="IEC 61869-3, rated voltage factors: 1.9 for 30 s or 8 h, 1.5 for 30 s, 1.2 lastingly (recalled); IEEE "
    "C57.13, line-to-line rating in ungrounded zones (recalled)",
    asks="instrument_transformer",
    inputs=(
        "instrument_transformer.voltage_factor",
        "instrument_transformer.voltage_factor_time",
        "vt_stress.factor",
        "vt_stress.duration_s",
    ),
    policy={
        "margin": "ground_detector.factor_margin",
        "highest": "ground_detector.highest_factor",
        "lasting": "standing_fault.vt_continuous_factor",
        "standing": "ground_detector.search_time",
    },
    query="""
        WITH vt AS (
            SELECT i.substation, i.instrument_transformer, i.connection,
                   i.voltage_factor AS rated, i.voltage_factor_time AS rated_s,
                   coalesce(s.factor, s.factor_low) * $margin    AS computed_least,
                   coalesce(s.factor, s.factor_high) * $margin   AS computed_most,
                   -- No more than the highest factor there is; one that is not known stays so.
                   computed_least - greatest(computed_least - $highest, 0)  AS least,
                   computed_most - greatest(computed_most - $highest, 0)    AS most,
                   -- A fault that stands is found in the time for which the factor is rated.
                   least(coalesce(s.duration_s, s.duration_s_low), $standing)   AS least_s,
                   least(coalesce(s.duration_s, s.duration_s_high), $standing)  AS most_s,
                   s.factor_low * $margin AS required_low, s.factor_high * $margin AS required_high,
                   s.factor, s.duration_s, s.voltage_kv, s.rated_v, s.zone
            FROM inventory.instrument_transformer i
            LEFT JOIN study.vt_stress s USING (substation, instrument_transformer)
            WHERE i.kind = 'vt'
        )
        SELECT substation, 'instrument_transformer' AS asset_kind, instrument_transformer AS asset, zone,
               CASE WHEN most <= $lasting OR (rated >= most AND rated_s >= most_s) THEN TRUE
                    WHEN least > $lasting AND (rated < least OR rated_s < least_s) THEN FALSE END AS ok,
               if(ok IS FALSE, least, most)   AS needed,
               if(ok IS FALSE, least_s, most_s)   AS needed_s,
               -- Said of the time where the factor itself is enough.
               coalesce(rated >= needed, FALSE)   AS of_time,
               if(of_time, rated_s, coalesce(rated, $lasting))  AS actual,
               if(of_time, needed_s, needed)                    AS required,
               if(of_time, 's', 'pu')                           AS unit,
               if(of_time, NULL, required_low)                  AS required_low,
               if(of_time, NULL, required_high)                 AS required_high,
               rated, rated_s, factor, duration_s, voltage_kv, rated_v
        FROM vt
    """,
    message="{asset} has voltage factor {rated:g}, rated time {rated_s:g} s; a ground fault puts {needed:.2f} times "
    "its rated voltage on it for {needed_s:g} s",
    formula="F_V >= m U / U_rated for t_fault, at most t_search\nor F_lasting >= m U / U_rated",
    working="U / U_rated = {voltage_kv} kV / {rated_v} V = {factor:.3f}\n"
    "m U / U_rated = {margin:g} x {factor:.3f} = {needed:.2f}, at most {highest:g}\nF_lasting = {lasting:g}\n"
    "F_V = {rated:g}, rated time {rated_s:g} s\nduration of the fault: {duration_s:g} s\nneeded: {needed_s:g} s",
    remedy="units of voltage factor {needed:.2f} or more for {needed_s:g} s or more, or units rated for "
    "{voltage_kv} kV lastingly",
    caution="Keep people away from voltage transformers while a ground fault stands. Isolate and prove dead first.",
    cannot_see="The margin allows for a highest voltage on record that is that of the equipment. A fault that stands "
    "longer than the time of the policy is not allowed for, nor is ferroresonance.",
    examples={
        "satisfied: exactly its factor and its time": inventory(),
        "exception: factor 1.89 for 1.9": inventory(voltage_factor=1.89),
        "exception: 29 s for 30 s": inventory(voltage_factor_time=29.0),
        "satisfied: 2 for 8 h": inventory(voltage_factor=2.0, voltage_factor_time=28800.0),
        "satisfied: exactly what it bears lastingly": inventory({"factor": 1.2}, voltage_factor=None),
        "exception: 1.21 for longer than its time": inventory({"factor": 1.21} | FOREVER),
        "exception: handbook example, 1.73 on factor 1.5": inventory({"factor": 1.732}, voltage_factor=1.5),
        "satisfied: 2.2 computed, the highest factor there is": inventory({"factor": 2.2}),
        "exception: 2.2 computed, less than the highest factor": inventory({"factor": 2.2}, voltage_factor=1.89),
        "satisfied: 2.08 with a margin of 0.9": inventory({"factor": 2.08}, margin=0.9),
        "satisfied: a standing fault, exactly 8 h": inventory(FOREVER, voltage_factor_time=28800.0),
        "exception: a standing fault, less than 8 h": inventory(FOREVER, voltage_factor_time=28799.0),
        "satisfied: exactly the most that the record allows": inventory(OPEN),
        "exception: below the least that the record allows": inventory(OPEN, voltage_factor=1.29),
        "not assessable: exactly the least that the record allows": inventory(OPEN, voltage_factor=1.3),
        "not assessable: perhaps no more than lastingly": inventory(
            OPEN | {"factor_low": 1.2}, voltage_factor=1.19, voltage_factor_time=1.0
        ),
        "satisfied: exactly the longest that the record allows": inventory(UNTIMED, voltage_factor_time=40.0),
        "exception: shorter than the shortest that the record allows": inventory(UNTIMED, voltage_factor_time=29.0),
        "not assessable: exactly the shortest that the record allows": inventory(UNTIMED),
        "not assessable: factor not on record": inventory(voltage_factor=None),
        "exception: factor not on record, its time too short": inventory(voltage_factor=None, voltage_factor_time=29.0),
        "not assessable: time of the factor not on record": inventory(voltage_factor_time=None),
        "not assessable: stress not computed": inventory("none"),
        "not applicable: current transformer": inventory(kind="ct"),
    },
)
