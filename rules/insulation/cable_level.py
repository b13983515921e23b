"""Cables whose insulation level does not hold for as long as a ground fault stands."""

from groundcheck.audit import Rule

INF = float("inf")
HERE = {"substation": "ELM", "bus": "B1"}
STRESS = HERE | {"zone": "ELM:B1", "nominal_kv": 10.0, "ratio": 1.0}
OAK = STRESS | {"substation": "OAK", "healthy_kv_low": 99.0, "healthy_kv_high": 99.0}


def cable(level, bears=5.8, line_kv=10.0, kv=(10.0, 10.0), seconds=(INF, INF), margin=1.0, kind="cable"):
    """A cable of this level, which bears this to ground without limit; voltage and duration between two bounds."""
    stress = STRESS | {"healthy_kv_low": kv[0], "healthy_kv_high": kv[1]}
    stress |= {"duration_s_low": seconds[0], "duration_s_high": seconds[1]}
    piece = HERE | {"insulation": "C1", "kind": kind, "cable_insulation_level": level, "rated_line_voltage": line_kv}
    piece |= {"rated_ground_voltage": bears}
    return {"insulation": [piece], "bus_stress": [stress, OAK], "policy": {"margin": margin}}


RULE = Rule(
    title="The cable's insulation level does not hold for as long as a ground fault stands",
    severity="high",
    why="While a ground fault stands, the healthy phases put up to line-to-line voltage on insulation that may be made "
    "for line-to-neutral voltage. Beyond its time the cable ages, and breaks down where it is weakest; the second "
    "fault is a short circuit between phases.",
    basis="ICEA insulation levels: 100 % where ground faults are cleared within 1 min, 133 % within 1 h, 173 % without "
    "limit (recalled)",
    asks="insulation",
    inputs=(
        "insulation.cable_insulation_level",
        "insulation.kind",
        "insulation.rated_line_voltage",
        "insulation.rated_ground_voltage",
        "bus.nominal_voltage",
        "bus.highest_voltage",
        "bus_fault.healthy_phase_kv",
        "zone.clearing_time_s",
    ),
    policy={
        "margin": "insulation.margin",
        "cable_100_time": "insulation.cable_100_time",
        "cable_133_time": "insulation.cable_133_time",
    },
    formula="U_line >= U_n and t_level >= t_fault, or U_ground >= m U_healthy U_max / U_n",
    query="""
        WITH strength AS (
            SELECT i.*, s.* EXCLUDE (substation, bus),
                   coalesce(s.healthy_kv, s.healthy_kv_low)   AS least_kv,
                   coalesce(s.healthy_kv, s.healthy_kv_high)  AS most_kv,
                   coalesce(s.duration_s, s.duration_s_low)   AS least_s,
                   coalesce(s.duration_s, s.duration_s_high)  AS most_s,
                   CASE cable_insulation_level WHEN 100 THEN $cable_100_time WHEN 133 THEN $cable_133_time
                        WHEN 173 THEN 'infinity'::DOUBLE END AS level_s,
                   -- What it bears without limit, if not on record, is at most what its level says.
                   coalesce(rated_ground_voltage, rated_line_voltage / sqrt(3) * cable_insulation_level / 100)
                       AS most_lasting_kv,
                   rated_line_voltage >= nominal_kv                                                   AS level_counts,
                   rated_ground_voltage >= most_kv * $margin OR (level_counts AND level_s >= most_s)  AS bears_most,
                   most_lasting_kv >= least_kv * $margin OR (level_counts AND level_s >= least_s)     AS bears_least,
                   CASE WHEN bears_most THEN TRUE WHEN NOT bears_least THEN FALSE END AS ok
            FROM inventory.insulation i LEFT JOIN study.bus_stress s
                   ON s.substation || ':' || s.bus = if(contains(i.bus, ':'), i.bus, i.substation || ':' || i.bus)
            WHERE i.kind = 'cable'
        )
        SELECT substation, 'insulation' AS asset_kind, insulation AS asset, bus, zone, 'max' AS condition, ok,
               coalesce(ratio, if(ok IS FALSE, ratio_low, ratio_high))  AS ratio,
               if(ok IS FALSE, least_kv, most_kv)                       AS seen_kv,
               seen_kv / ratio                                          AS healthy_kv,
               seen_kv * $margin                                        AS stress_kv,
               if(ok IS FALSE, most_lasting_kv, rated_ground_voltage)   AS lasting_kv,
               -- The answer is told in time where the level has one and counts, else in voltage.
               level_counts AND level_s IS NOT NULL                     AS by_time,
               if(by_time, level_s, lasting_kv)                                 AS actual,
               if(by_time, if(ok IS FALSE, least_s, most_s), stress_kv)         AS required,
               if(by_time, duration_s_low, healthy_kv_low * $margin)            AS required_low,
               if(by_time, duration_s_high, healthy_kv_high * $margin)          AS required_high,
               if(by_time, 's', 'kV') AS unit, if(least_s = most_s, least_s, NULL) AS clearing_s,
               cable_insulation_level AS level, rated_line_voltage AS line_kv, level_s, nominal_kv,
               if(least_s > $cable_133_time, 173, if(least_s > $cable_100_time, 133, 100)) AS needed_level,
               ['insulation.cable_insulation_level', 'insulation.rated_line_voltage', 'bus_fault.healthy_phase_kv',
                'insulation.rated_ground_voltage', 'bus.nominal_voltage', 'zone.clearing_time_s'] AS needs
        FROM strength
    """,
    message="{asset} at bus {bus} has insulation level {level:d} % at {line_kv:g} kV, duration {level_s:g} s; "
    "{lasting_kv} kV to ground borne lastingly; a ground fault puts {seen_kv} kV on it, duration {clearing_s:g} s",
    working="stress: healthy phases {healthy_kv} kV x {ratio:.3f} highest / nominal voltage = {seen_kv} kV, "
    "duration {clearing_s:g} s\n"
    "level: {level:d} % of a cable for {line_kv:g} kV in a system of {nominal_kv:g} kV, duration {level_s:g} s\n"
    "without limit: {lasting_kv} kV to ground borne, {seen_kv} kV x {margin:g} margin = {stress_kv} kV "
    "asked",
    remedy="a cable for {nominal_kv:g} kV or more of level {needed_level:d} %; or faults cleared within the "
    "time of its level; or a zone grounded so that its healthy phases rise to {lasting_kv} kV at most",
    caution="Do not prove it by a voltage test in service: a breakdown to ground is a second fault if one is on.",
    cannot_see="Judges power-frequency voltage in the network's maximum condition: not surges, arcing faults, age, "
    "joints or ends. Takes a blank highest voltage for nominal voltage times a policy value.",
    examples={
        # Times of the levels: ICEA practice, as the handbooks print it (100 % up to 1 min, 133 % up to 1 h).
        "satisfied: 100 % cable, cleared in exactly 1 min": cable(100, seconds=(60, 60)),
        "exception: 100 % cable, cleared later than 1 min": cable(100, seconds=(61, 61)),
        "satisfied: 133 % cable, cleared in exactly 1 h": cable(133, seconds=(3600, 3600)),
        "exception: 133 % cable, cleared later than 1 h": cable(133, seconds=(3601, 3601)),
        "satisfied: 173 % cable where the zone runs on": cable(173),
        "exception: 173 % cable for a lower line voltage": cable(173, line_kv=9.9),
        "satisfied: level fails, borne to ground exactly": cable(100, 10.0),
        "exception: level fails, borne to ground too low": cable(100, 9.9),
        "exception: level fails, margin not met": cable(100, 10.0, margin=1.1),
        "satisfied: level fails, upper bound of the voltage borne": cable(100, 10.0, kv=(7.0, 10.0)),
        "exception: level fails, below the lower bound": cable(100, 6.9, kv=(7.0, 10.0)),
        "not assessable: level fails, exactly the lower bound": cable(100, 7.0, kv=(7.0, 10.0)),
        "satisfied: level holds, voltage to ground not on record": cable(173, None),
        "exception: level fails, voltage to ground not on record": cable(100, None),
        "not assessable: level could hold, clearing time not on record": cable(100, seconds=(0, INF)),
        "not assessable: holds for exactly the least time": cable(100, seconds=(60, INF)),
        "not assessable: neither level nor sufficient voltage to ground": cable(None),
        "satisfied: no level on record, borne to ground": cable(None, 10.0),
        "not assessable: line voltage of the cable not on record": cable(173, line_kv=None),
        "not assessable: its bus is not on record": cable(173) | {"bus_stress": [OAK]},
        "not applicable: switchgear": cable(None, kind="switchgear"),
    },
)
