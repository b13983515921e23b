"""Insulation that bears the healthy phases' voltage to ground too low, or for too short a time; cables apart."""

from groundcheck.audit import Rule

INF = float("inf")
HERE = {"substation": "ELM", "bus": "B1"}
STRESS = HERE | {"zone": "ELM:B1", "nominal_kv": 10.0, "ratio": 1.0}
OAK = STRESS | {"substation": "OAK", "healthy_kv_low": 99.0, "healthy_kv_high": 99.0}


def gear(bears, kv=(10.0, 10.0), seconds=(INF, INF), allowance=(1.0, 1.0), margin=1.0, kind="switchgear"):
    """Insulation that bears this to ground; voltage, duration and allowance for it between two bounds at its bus."""
    stress = STRESS.copy()
    for name, bounds in (("healthy_kv_", kv), ("duration_s_", seconds), ("allowance_at_", allowance)):
        stress |= {name + "low": bounds[0], name + "high": bounds[1]}
    piece = HERE | {"insulation": "SG1", "kind": kind, "rated_ground_voltage": bears}
    return {"insulation": [piece], "bus_stress": [stress, OAK], "policy": {"margin": margin}}


RULE = Rule(
    title="Insulation is not rated for the healthy-phase voltage of a ground fault",
    severity="high",
    why="While a ground fault is on, the healthy phases rise towards line-to-line voltage. Insulation chosen for "
    "line-to-neutral voltage ages or breaks down under it, and the second fault is a short circuit between phases.",
    basis="IEC 60071-1 (standard withstand voltages) and IEC 60137 (line-to-line voltage to ground up to 8 h), clauses "
    "recalled",
    asks="insulation",
    inputs=(
        "insulation.rated_ground_voltage",
        "insulation.kind",
        "bus.nominal_voltage",
        "bus.highest_voltage",
        "bus_fault.healthy_phase_kv",
        "zone.clearing_time_s",
    ),
    policy={"margin": "insulation.margin"},
    formula="U_ground k(t) >= m U_healthy U_max / U_n",
    query="""
        WITH strength AS (
            SELECT i.*, s.* EXCLUDE (substation, bus),
                   coalesce(s.allowance, s.allowance_at_low)   AS factor_low,
                   coalesce(s.allowance, s.allowance_at_high)  AS factor_high,
                   coalesce(s.healthy_kv, s.healthy_kv_low)    AS least_kv,
                   coalesce(s.healthy_kv, s.healthy_kv_high)   AS most_kv,
                   coalesce(s.duration_s, s.duration_s_low)    AS least_s,
                   coalesce(s.duration_s, s.duration_s_high)   AS most_s,
                   CASE WHEN rated_ground_voltage * factor_high >= most_kv * $margin THEN TRUE
                        WHEN rated_ground_voltage * factor_low < least_kv * $margin THEN FALSE END AS ok
            FROM inventory.insulation i LEFT JOIN study.bus_stress s
                   ON s.substation || ':' || s.bus = if(contains(i.bus, ':'), i.bus, i.substation || ':' || i.bus)
            -- Cables have levels of their own, by time.
            WHERE i.kind <> 'cable'
        )
        SELECT substation, 'insulation' AS asset_kind, insulation AS asset, bus, zone, 'max' AS condition,
               ok, kind, coalesce(ratio, if(ok IS FALSE, ratio_low, ratio_high)) AS ratio,
               if(ok IS FALSE, least_kv, most_kv)         AS seen_kv,
               if(ok IS FALSE, factor_low, factor_high)   AS time_factor,
               seen_kv / ratio                            AS healthy_kv,
               rated_ground_voltage                       AS lasting_kv,
               lasting_kv * time_factor                   AS actual,
               seen_kv * $margin                          AS required,
               'kV'                                       AS unit,
               healthy_kv_low * $margin                   AS required_low,
               healthy_kv_high * $margin                  AS required_high,
               lasting_kv * allowance_at_high             AS actual_low,
               lasting_kv * allowance_at_low              AS actual_high,
               required / time_factor                     AS needed_kv,
               if(least_s = most_s, least_s, NULL)        AS clearing_s,
               ['insulation.rated_ground_voltage', 'bus.nominal_voltage', 'bus_fault.healthy_phase_kv',
                if(clearing_s IS NULL, 'zone.clearing_time_s', NULL)] AS needs
        FROM strength
    """,
    message="{asset} ({kind}) at bus {bus}: bears {actual} kV to ground; a ground fault puts {seen_kv} kV on "
    "it, duration {clearing_s:g} s",
    working="stress: healthy phases {healthy_kv} kV x {ratio:.3f} highest / nominal voltage = {seen_kv} kV\n"
    "required: {seen_kv} kV x {margin:g} margin = {required} kV, duration {clearing_s:g} s\n"
    "borne: {lasting_kv} kV to ground without limit x {time_factor:g} for that duration = {actual} kV",
    remedy="insulation that bears {needed_kv} kV to ground without limit; or a zone that is cleared sooner, or "
    "grounded so that its healthy phases rise less",
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
        "exception: a winding": gear(9.9, kind="winding"),
        "not applicable: a cable": gear(9.9, kind="cable"),
    },
)
