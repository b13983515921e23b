"""Insulation that bears the healthy phases' voltage to ground too low, or for too short a time."""

from groundcheck.audit import Rule

INF = float("inf")
HERE = {"substation": "ELM", "bus": "B1"}
STRESS = HERE | {"zone": "ELM:B1", "nominal_kv": 10.0, "ratio": 1.0}
OAK = STRESS | {"substation": "OAK", "healthy_kv_low": 99.0, "healthy_kv_high": 99.0}


def gear(bears, kv=(10.0, 10.0), seconds=(INF, INF), allowance=(1.0, 1.0), margin=1.0, **fields):
    """Insulation that bears this to ground; voltage, duration and allowance for it between two bounds at its bus."""
    stress = STRESS.copy()
    for name, bounds in (("healthy_kv_", kv), ("duration_s_", seconds), ("allowance_at_", allowance)):
        stress |= {name + "low": bounds[0], name + "high": bounds[1]}
    piece = HERE | {"insulation": "SG1", "kind": "switchgear", "rated_ground_voltage": bears} | fields
    return {"insulation": [piece], "bus_stress": [stress, OAK], "policy": {"margin": margin}}


def cable(level, bears=5.8, line_kv=10.0, **stress):
    """A cable of this insulation level."""
    return gear(bears, kind="cable", rated_line_voltage=line_kv, cable_insulation_level=level, **stress)


RULE = Rule(
    title="Insulation is not rated for the healthy-phase voltage of a ground fault",
    severity="high",
    why="While a ground fault is on, the healthy phases rise towards line-to-line voltage. Insulation chosen for "
    "line-to-neutral voltage ages or breaks down under it, and the second fault is a short circuit between phases.",
    basis="IEC 60071-1 (standard withstand voltages) and IEC 60137 (line-to-line voltage to ground up to 8 h), clauses "
    "recalled; cables: ICEA insulation levels, 100 % up to 1 min, 133 % up to 1 h, 173 % without limit, recalled",
    asks="insulation",
    inputs=(
        "insulation.rated_ground_voltage",
        "insulation.kind",
        "insulation.rated_line_voltage",
        "insulation.cable_insulation_level",
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
    query="""
        WITH strength AS (
            SELECT i.*, s.* EXCLUDE (substation, bus), kind = 'cable' AS is_cable,
                   if(is_cable, 1, coalesce(s.allowance, s.allowance_at_low))   AS factor_low,
                   if(is_cable, 1, coalesce(s.allowance, s.allowance_at_high))  AS factor_high,
                   coalesce(s.healthy_kv, s.healthy_kv_low)   AS least_kv,
                   coalesce(s.healthy_kv, s.healthy_kv_high)  AS most_kv,
                   coalesce(s.duration_s, s.duration_s_low)   AS least_s,
                   coalesce(s.duration_s, s.duration_s_high)  AS most_s,
                   CASE cable_insulation_level WHEN 100 THEN $cable_100_time WHEN 133 THEN $cable_133_time
                        WHEN 173 THEN 'infinity'::DOUBLE END AS level_s,
                   -- What a cable bears without limit, if not on record, is at most what its level says.
                   coalesce(rated_ground_voltage, if(is_cable, rated_line_voltage / sqrt(3), NULL)
                                                  * cable_insulation_level / 100) AS most_lasting_kv,
                   is_cable AND rated_line_voltage >= nominal_kv AS level_counts,
                   rated_ground_voltage * factor_high >= most_kv * $margin
                       OR (level_counts AND level_s >= most_s) AS bears_most,
                   most_lasting_kv * factor_low >= least_kv * $margin
                       OR (level_counts AND level_s >= least_s) AS bears_least,
                   CASE WHEN bears_most THEN TRUE WHEN NOT bears_least THEN FALSE END AS ok
            FROM inventory.insulation i LEFT JOIN study.bus_stress s
                   ON s.substation || ':' || s.bus = if(contains(i.bus, ':'), i.bus, i.substation || ':' || i.bus)
        )
        SELECT substation, 'insulation' AS asset_kind, insulation AS asset, bus, zone, 'max' AS condition,
               ok, kind, coalesce(ratio, if(ok IS FALSE, ratio_low, ratio_high)) AS ratio,
               if(ok IS FALSE, least_kv, most_kv)                      AS seen_kv,
               if(ok IS FALSE, least_s, most_s)                        AS duration_s,
               if(ok IS FALSE, factor_low, factor_high)                AS time_factor,
               if(ok IS FALSE, most_lasting_kv, rated_ground_voltage)  AS lasting_kv,
               seen_kv / ratio AS healthy_kv, seen_kv * $margin AS stress_kv, lasting_kv * time_factor AS borne_kv,
               level_counts AND level_s IS NOT NULL AND (borne_kv >= stress_kv) IS NOT TRUE AS by_time,
               if(by_time, level_s, borne_kv) AS actual, if(by_time, duration_s, stress_kv) AS required,
               if(by_time, duration_s_low, healthy_kv_low * $margin)   AS required_low,
               if(by_time, duration_s_high, healthy_kv_high * $margin) AS required_high,
               if(by_time, NULL, lasting_kv * if(is_cable, 1, allowance_at_high)) AS actual_low,
               if(by_time, NULL, lasting_kv * if(is_cable, 1, allowance_at_low))  AS actual_high,
               if(by_time, 's', 'kV') AS unit, if(least_s = most_s, least_s, NULL) AS clearing_s,
               coalesce(printf('level %d %% at %.2f kV, borne for %s; ', cable_insulation_level, rated_line_voltage,
                               if(isinf(level_s), 'any duration', printf('%.0f s', level_s))), '') AS cable,
               ['insulation.rated_ground_voltage', 'bus.nominal_voltage', 'bus_fault.healthy_phase_kv',
                if(clearing_s IS NULL, 'zone.clearing_time_s', NULL)]
               || if(is_cable, ['insulation.rated_line_voltage', 'insulation.cable_insulation_level'], []) AS needs
        FROM strength
    """,
    message="{asset} ({kind}) at bus {bus}: {cable}bears {borne_kv:.2f} kV to ground; a ground fault puts "
    "{seen_kv:.2f} kV on it, duration {clearing_s:g} s",
    working="healthy phases {healthy_kv:.2f} kV x {ratio:.3f} highest / nominal voltage = {seen_kv:.2f} kV, x "
    "{margin:g} margin = {stress_kv:.2f} kV, duration {clearing_s:g} s; {cable}{lasting_kv:.2f} kV to ground borne "
    "without limit x {time_factor:g} for that duration = {borne_kv:.2f} kV",
    remedy="insulation for {seen_kv:.2f} kV to ground, or a cable of an insulation level for the duration; or a zone "
    "that is cleared sooner, or grounded so that its healthy phases rise less",
    caution="Do not prove it by a voltage test in service: a breakdown to ground is a second fault if one is on.",
    cannot_see="Judges the maximum condition of the network, lasting power-frequency voltage only: not surges, arcing "
    "faults, ferroresonance or aged insulation. Takes a blank highest voltage for nominal voltage times a policy "
    "value.",
    examples={
        "exception: 9.9 kV where the healthy phases lastingly see 10 kV": gear(9.9),
        "satisfied: exactly the healthy-phase voltage": gear(10.0),
        "satisfied: above it": gear(17.0),
        "exception: the same rating with a margin": gear(10.0, margin=1.1),
        "satisfied: exactly what is borne for the clearing time": gear(5.0, seconds=(50, 50), allowance=(2, 2)),
        "exception: below what is borne for the clearing time": gear(4.9, seconds=(50, 50), allowance=(2, 2)),
        "exception: clearing time not on record, too low even briefly": gear(4.9, seconds=(0, INF), allowance=(2, 1)),
        "not assessable: clearing time not on record and it decides": gear(5.0, seconds=(0, INF), allowance=(2, 1)),
        "satisfied: above the upper bound of the voltage": gear(10.0, kv=(7.0, 10.0)),
        "exception: below the lower bound": gear(6.9, kv=(7.0, 10.0)),
        "not assessable: between the bounds": gear(7.0, kv=(7.0, 10.0)),
        "not assessable: rating not on record": gear(None),
        "not assessable: healthy-phase voltage not computed": gear(10.0, kv=(None, None)),
        "not assessable: its bus is not on record": gear(10.0) | {"bus_stress": [OAK]},
        "exception: a cable has no allowance": cable(100, 9.9, seconds=(61, 61), allowance=(1.25, 1.25)),
        "satisfied: 100 % cable, cleared in exactly 1 min": cable(100, seconds=(60, 60)),
        "satisfied: 133 % cable, cleared in exactly 1 h": cable(133, seconds=(3600, 3600)),
        "exception: 133 % cable, cleared later than 1 h": cable(133, seconds=(3601, 3601)),
        "satisfied: 173 % cable where the zone runs on": cable(173),
        "exception: 173 % cable for a lower line voltage": cable(173, line_kv=9.9),
        "satisfied: level holds, voltage to ground not on record": cable(173, None),
        "exception: level fails, voltage to ground not on record": cable(100, None),
        "not assessable: level could hold, clearing time not on record": cable(100, seconds=(0, INF)),
        "not assessable: neither level nor sufficient voltage to ground": cable(None),
        "not assessable: line voltage of the cable not on record": cable(173, line_kv=None),
    },
)
