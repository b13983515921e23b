"""Insulation that is right as the network normally runs, and not with a ground source out."""

from groundcheck.audit import Rule

HERE = {"substation": "ELM", "bus": "B1"}
ZONE = {"zone": "ELM:B1"}
T2 = {"source_substation": "OAK", "source_kind": "transformer", "source": "T2"}
STRESS = HERE | ZONE | {"nominal_kv": 11.0, "ratio": 1.0}
ELSEWHERE = HERE | T2 | {"substation": "OAK", "healthy_phase_kv": 99.0}


def inventory(bears, out=(10.0, 10.0), result="kept", allowance=(1.0, 1.0), healthy=8.0, kind="bushing", margin=1.0):
    """Insulation that bears this to ground; its bus sees 8 kV with all in service, and this with T2 out."""
    stress = STRESS | {"healthy_kv": healthy, "allowance_at_low": allowance[0], "allowance_at_high": allowance[1]}
    outage = HERE | T2 | {"healthy_phase_kv_low": out[0], "healthy_phase_kv_high": out[1]}
    return {
        "insulation": [HERE | {"insulation": "IN1", "kind": kind, "rated_ground_voltage": bears}],
        "bus_stress": [stress],
        "outage_bus": [outage, ELSEWHERE],
        "source_outage": [ZONE | T2 | {"result": result}, T2 | {"zone": "OAK:B9", "result": "dead"}],
        "policy": {"margin": margin},
    }


def with_another(voltage, result):
    """The same insulation, 10 kV, where T3 may be out as well."""
    tables, t3 = inventory(10.0), T2 | {"source": "T3"}
    tables["outage_bus"].append(HERE | t3 | {"healthy_phase_kv": voltage})
    tables["source_outage"].append(ZONE | t3 | {"result": result})
    return tables


RULE = Rule(
    title="Insulation is not rated for the healthy-phase voltage with a ground source out",
    severity="medium",
    why="With one ground source out, the rest hold the healthy phases less firmly in a ground fault. Insulation that "
    "bears the fault as the network normally runs ages or breaks down in one during maintenance, when there is least "
    "in reserve.",
    basis="IEC 60071-1, temporary overvoltage (clause recalled); that it holds with one source out: common practice",
    asks="insulation",
    inputs=(
        "insulation.rated_ground_voltage",
        "insulation.kind",
        "bus.highest_voltage",
        "outage_bus.healthy_phase_kv",
        "source_outage.result",
        "zone.has_ground_source",
        "zone.clearing_time_s",
    ),
    policy={"margin": "insulation.margin"},
    formula="U_ground k(t) >= m U_healthy U_max / U_n with a source out, if it holds with all in service",
    query="""
        WITH strength AS (
            SELECT i.*, s.* EXCLUDE (substation, bus), z.result, o.source_substation, o.source_kind, o.source,
                   coalesce(s.allowance, s.allowance_at_low)   AS factor_low,
                   coalesce(s.allowance, s.allowance_at_high)  AS factor_high,
                   coalesce(o.healthy_phase_kv, o.healthy_phase_kv_low) * coalesce(s.ratio, s.ratio_low)    AS least_kv,
                   coalesce(o.healthy_phase_kv, o.healthy_phase_kv_high) * coalesce(s.ratio, s.ratio_high)  AS most_kv,
                   CASE WHEN rated_ground_voltage * factor_high >= most_kv * $margin THEN TRUE
                        -- What may prove to leave the zone without any ground is not sure to count.
                        WHEN rated_ground_voltage * factor_low < least_kv * $margin
                             AND z.result IN ('kept', 'lost_effectiveness') THEN FALSE END AS ok
            FROM inventory.insulation i
            JOIN study.bus_stress s
              ON s.substation || ':' || s.bus = if(contains(i.bus, ':'), i.bus, i.substation || ':' || i.bus)
            JOIN study.outage_bus o ON o.substation = s.substation AND o.bus = s.bus
            LEFT JOIN study.source_outage z
                   ON (z.zone, z.source_substation, z.source_kind, z.source)
                      = (s.zone, o.source_substation, o.source_kind, o.source)
            -- A cable's level bears line-to-line voltage for its time, whatever is out. A zone that loses its ground
            -- altogether is asked about as such.
            WHERE i.kind <> 'cable' AND coalesce(z.result, 'unknown') NOT IN ('ungrounded', 'dead')
              AND rated_ground_voltage * factor_high >= coalesce(s.healthy_kv, s.healthy_kv_high) * $margin
            QUALIFY row_number() OVER (PARTITION BY i.substation, i.insulation
                                       ORDER BY most_kv DESC NULLS FIRST, o.source_substation, o.source) = 1
        )
        SELECT substation, 'insulation' AS asset_kind, insulation AS asset, bus, zone, kind, ok,
               source_substation, source_kind, source, replace(source_kind, '_', ' ') AS what,
               if(ok IS FALSE, least_kv, most_kv)          AS seen_kv,
               if(ok IS FALSE, factor_low, factor_high)    AS time_factor,
               rated_ground_voltage                        AS lasting_kv,
               lasting_kv * time_factor                    AS actual,
               seen_kv * $margin                           AS required,
               'kV'                                        AS unit,
               least_kv * $margin AS required_low, most_kv * $margin AS required_high,
               required / time_factor                      AS needed_kv,
               coalesce(healthy_kv, healthy_kv_high)       AS now_kv, duration_s
        FROM strength
    """,
    message="{asset} ({kind}) at bus {bus}: bears {actual} kV to ground; with {what} "
    "{source_substation}:{source} out a ground fault puts {seen_kv} kV on it, with all in service {now_kv} kV",
    working="stress with {what} {source_substation}:{source} out: {seen_kv} kV at highest voltage (all in service: "
    "{now_kv} kV)\nrequired: {seen_kv} kV x {margin:g} margin = {required} kV, duration {duration_s:g} s\n"
    "borne: {lasting_kv} kV to ground without limit x {time_factor:g} for that duration = {actual} kV",
    remedy="insulation that bears {needed_kv} kV to ground without limit; or another ground source in zone {zone}; "
    "or a switching rule that {source_substation}:{source} is not taken out alone",
    caution="With a ground source out, keep away from this insulation while a ground fault may be on.",
    cannot_see="Takes the clearing time of the zone with all in service; a relay that sees less with a source out may "
    "take longer. Of several sources, shows the one that raises the healthy phases most.",
    examples={
        "exception: 9.9 kV, 10 kV with a source out": inventory(9.9),
        "satisfied: exactly the voltage with a source out": inventory(10.0),
        "exception: margin not met": inventory(10.0, margin=1.1),
        "satisfied: exactly what is borne for the clearing time": inventory(5.0, allowance=(2.0, 2.0)),
        "exception: below the lower bound": inventory(8.9, out=(9.0, 10.0)),
        "not assessable: exactly the lower bound": inventory(9.0, out=(9.0, 10.0)),
        "not assessable: clearing time not on record and it decides": inventory(9.0, allowance=(2.0, 1.0)),
        "not assessable: voltage with the source out not computed": inventory(10.0, out=(None, None)),
        "not assessable: what the outage leaves is not known": inventory(9.9, result="unknown"),
        "satisfied: what it leaves is not known, borne anyway": inventory(10.0, result="unknown"),
        "exception: the zone is no longer effectively grounded": inventory(9.9, result="lost_effectiveness"),
        "exception: the worse of two": with_another(10.1, "kept"),
        "satisfied: two, the worse left without any ground": with_another(10.1, "ungrounded"),
        "not applicable: left without any ground": inventory(9.9, result="ungrounded"),
        "not applicable: exactly what is borne is exceeded in service": inventory(7.9),
        "exception: exactly what is borne in service": inventory(8.0),
        "not applicable: rating not on record": inventory(None),
        "not applicable: a cable": inventory(9.9, kind="cable"),
    },
)
