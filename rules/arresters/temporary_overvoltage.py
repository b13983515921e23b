"""Arresters whose temporary-overvoltage withstand the healthy phases exceed while a fault is being cleared."""

from groundcheck.audit import Rule

INF, AT = float("inf"), (1.5, 1.4)
HERE = {"substation": "ELM", "bus": "B1"}
STRESS = HERE | {"zone": "ELM:B1", "ratio": 1.0, "sound_kv": 8.0}
TRIPS = "arrester.trips_within"
OAK = STRESS | {"substation": "OAK", "healthy_kv_low": 99.0, "healthy_kv_high": 99.0}


def inventory(mcov, tov=AT, seconds=(1.0, 1.0), kv=(15.0, 15.0), position="phase", **policy):
    """An arrester of this MCOV and withstand for 1 s and 10 s; voltage and duration between two bounds at its bus."""
    stress = STRESS | {"healthy_kv_low": kv[0], "healthy_kv_high": kv[1]}
    stress |= {"duration_s_low": seconds[0], "duration_s_high": seconds[1]}
    arrester = HERE | {"arrester": "SA1", "mcov": mcov, "position": position, "tov_1s": tov[0], "tov_10s": tov[1]}
    return {"arrester": [arrester], "bus_stress": [stress, OAK], "policy": {"continuous_margin": 1.0} | policy}


RULE = Rule(
    title="The arrester's temporary-overvoltage withstand is below the healthy-phase voltage of a ground fault",
    severity="high",
    why="Until the fault is cleared, the healthy phases stand above what the arrester bears without limit. Driven over "
    "its withstand for that time it runs away thermally and fails as a short circuit, often violently.",
    basis="IEC 60099-4, power-frequency voltage against time, and IEEE C62.22 (clauses recalled)",
    asks="arrester",
    inputs=(
        "arrester.mcov",
        "arrester.tov_1s",
        "arrester.tov_10s",
        "arrester.position",
        "bus.highest_voltage",
        "bus_fault.healthy_phase_kv",
        "zone.clearing_time_s",
    ),
    policy={"margin": "arrester.tov_margin", "continuous_margin": "arrester.margin", "trips_within": TRIPS},
    formula="T(t) MCOV >= m U_healthy U_max / U_n, T(t) = T_1s + (T_10s - T_1s) log10(t / 1 s), T_1s below 1 s",
    query="""
        WITH seen AS (
            SELECT a.*, s.* EXCLUDE (substation, bus),
                   coalesce(s.healthy_kv, s.healthy_kv_low)   AS least_kv,
                   coalesce(s.healthy_kv, s.healthy_kv_high)  AS most_kv,
                   coalesce(s.duration_s, s.duration_s_low)   AS least_s,
                   coalesce(s.duration_s, s.duration_s_high)  AS most_s,
                   -- Decades after the first second, as far as this rule asks.
                   log10(greatest(1, least_s))                        AS least_decades,
                   log10(greatest(1, least(most_s, $trips_within)))   AS most_decades,
                   if(most_decades = 0, tov_1s, tov_1s + (tov_10s - tov_1s) * most_decades)    AS late_pu,
                   if(least_decades = 0, tov_1s, tov_1s + (tov_10s - tov_1s) * least_decades)  AS early_pu,
                   -- Without limit it bears its MCOV; a withstand that is not on record is no less.
                   coalesce(late_pu, if(most_decades <= 1, tov_10s, NULL), 1)   AS sure_pu,
                   coalesce(early_pu, tov_1s)                                   AS hoped_pu
            FROM inventory.arrester a
            LEFT JOIN study.bus_stress s
                   ON s.substation || ':' || s.bus = if(contains(a.bus, ':'), a.bus, a.substation || ':' || a.bus)
            WHERE a.position IS DISTINCT FROM 'neutral'
              -- A fault that lasts, and an MCOV below the sound voltage, are the continuous voltage's matter.
              AND (least_s > $trips_within) IS NOT TRUE
              AND (a.mcov < coalesce(s.sound_kv, s.sound_kv_low) * $continuous_margin) IS NOT TRUE
        )
        SELECT substation, 'arrester' AS asset_kind, arrester AS asset, bus, zone, 'max' AS condition,
               CASE WHEN mcov * sure_pu >= most_kv * $margin THEN TRUE
                    WHEN mcov * hoped_pu < least_kv * $margin AND most_s <= $trips_within AND position = 'phase'
                    THEN FALSE END AS ok,
               if(ok IS FALSE, hoped_pu, sure_pu)           AS pu,
               mcov * pu                                    AS actual,
               if(ok IS FALSE, least_kv, most_kv)           AS seen_kv,
               seen_kv * $margin                            AS required,
               'kV' AS unit, mcov * sure_pu AS actual_low, mcov * hoped_pu AS actual_high,
               least_kv * $margin AS required_low, most_kv * $margin AS required_high,
               if(least_s = most_s, least_s, NULL)          AS clearing_s,
               tov_1s, tov_10s, mcov, required / pu         AS needed_kv,
               ['arrester.mcov', 'arrester.tov_1s', if(most_decades = 0, NULL, 'arrester.tov_10s'), 'arrester.position',
                'bus_fault.healthy_phase_kv', if(least_s < most_s, 'zone.clearing_time_s', NULL)] AS needs
        FROM seen
    """,
    message="{asset} at bus {bus} bears {actual} kV; a ground fault puts {seen_kv} kV on the healthy "
    "phases, duration {clearing_s:g} s",
    working="withstand: {tov_1s:g} x MCOV for 1 s, {tov_10s:g} x MCOV for 10 s\n"
    "duration {clearing_s:g} s: {pu:.3f} x MCOV\n{pu:.3f} x {mcov} kV = {actual} kV\n"
    "required: healthy phases {seen_kv} kV at highest voltage x {margin:g} margin = {required} kV",
    remedy="an arrester of the same withstand curve with MCOV {needed_kv} kV or more, its protective level checked "
    "against the insulation; or ground faults cleared sooner, or a zone grounded so that its healthy phases rise less",
    caution="Keep away from an overstressed arrester while a ground fault is on: it can burst.",
    cannot_see="Straight line between 1 s and 10 s over the logarithm of time; below 1 s the withstand for 1 s. Energy "
    "from a surge before the fault, and reclosing onto it, take some of the withstand.",
    examples={
        "satisfied: exactly the withstand for 1 s": inventory(10.0),
        "exception: 1.5 x 9.9 kV against 15 kV": inventory(9.9),
        "exception: margin not met": inventory(10.0, margin=1.1),
        "satisfied: 0.1 s counts as 1 s": inventory(10.0, seconds=(0.1, 0.1)),
        "satisfied: exactly the withstand for 10 s": inventory(10.0, seconds=(10.0, 10.0), kv=(14.0, 14.0)),
        # By hand: log10(3.1623) = 0.5, T = 1.5 - 0.1 / 2 = 1.45: 14.5 kV.
        "satisfied: half a decade, 14.49 kV": inventory(10.0, AT, (3.1623, 3.1623), (14.49, 14.49)),
        "exception: half a decade, 14.51 kV": inventory(10.0, AT, (3.1623, 3.1623), (14.51, 14.51)),
        "exception: 100 s counts as tripping, T = 1.3": inventory(10.0, AT, (100, 100), (13.1, 13.1), trips_within=100),
        "satisfied: MCOV alone": inventory(15.0, (None, None)),
        "not assessable: MCOV alone falls short": inventory(14.9, (None, None)),
        "satisfied: withstand for 10 s is enough": inventory(10.0, (None, 1.5)),
        "satisfied: withstand for 10 s is enough, at exactly 10 s": inventory(10.0, (None, 1.5), (10.0, 10.0)),
        "not assessable: withstand for 10 s, at 11 s": inventory(10.0, (None, 1.5), (11, 11), trips_within=20.0),
        "exception: withstand for 1 s is too little, later": inventory(9.9, (1.5, None), (3.0, 3.0)),
        "not assessable: withstand for 1 s could do, later": inventory(10.0, (1.5, None), (3.0, 3.0)),
        "satisfied: withstand for 1 s is all it takes": inventory(10.0, (1.5, None)),
        "exception: below the lower bound of the voltage": inventory(9.9, kv=(15.0, 16.0)),
        "not assessable: exactly the lower bound": inventory(10.0, kv=(15.0, 16.0)),
        "satisfied: clearing time not on record, enough for all that counts": inventory(10.0, AT, (0, INF), (14, 14)),
        "not assessable: clearing time not on record and it decides": inventory(10.0, AT, (0, INF), (14.1, 14.1)),
        "not assessable: too little, but the fault may last": inventory(9.9, seconds=(0.0, INF)),
        "exception: too little, cleared in time anyway": inventory(9.9, seconds=(0.0, 10.0)),
        "not assessable: MCOV not on record": inventory(None),
        "not assessable: voltage not computed": inventory(10.0, kv=(None, None)),
        "not assessable: position not on record": inventory(9.9, position=None),
        "not assessable: its bus is not on record": inventory(10.0) | {"bus_stress": [OAK]},
        "not applicable: the fault lasts": inventory(9.9, seconds=(10.1, 10.1)),
        "not applicable: MCOV below the sound voltage": inventory(7.9),
        "not applicable: MCOV below the sound voltage with its margin": inventory(8.5, continuous_margin=1.1),
        "not applicable: neutral arrester": inventory(5.0, position="neutral"),
    },
)
