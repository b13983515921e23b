"""Neutral arresters that the neutral's voltage in a ground fault overstresses."""

from groundcheck.audit import Rule

INF, AT, TRIPS = float("inf"), (1.5, 1.4), "arrester.trips_within"
STUDIED = ("bus.highest_voltage", "bus_fault.neutral_shift_kv", "zone.clearing_time_s")
HERE = {"substation": "ELM", "bus": "B1"}
STRESS = HERE | {"zone": "ELM:B1"}
FAULT = HERE | {"condition": "max"}
FAR = {"neutral_shift_kv": 99.0}


def inventory(mcov, tov=AT, seconds=(1.0, 1.0), kv=(15.0, 15.0), ratio=1.0, position="neutral", **policy):
    """A neutral arrester; shift of the neutral and duration between two bounds at its bus."""
    stress = STRESS | {"ratio": ratio, "duration_s_low": seconds[0], "duration_s_high": seconds[1]}
    fault = FAULT | {"neutral_shift_kv_low": kv[0], "neutral_shift_kv_high": kv[1]}
    arrester = HERE | {"arrester": "SA1", "mcov": mcov, "position": position, "tov_1s": tov[0], "tov_10s": tov[1]}
    return {
        "arrester": [arrester],
        "bus_stress": [stress],
        "bus_fault": [fault, FAR | FAULT | {"condition": "min"}, FAR | FAULT | {"substation": "OAK"}],
        "policy": {"margin": 1.0} | policy,
    }


RULE = Rule(
    title="The neutral arrester does not bear the neutral's voltage in a ground fault",
    severity="high",
    why="In a ground fault the neutral takes the zero-sequence voltage of its zone until the fault is cleared. Beyond "
    "its withstand for that time the arrester fails as a short circuit, often violently, and grounds the neutral.",
    basis="IEC 60099-5 and IEEE C62.22, arresters at transformer neutrals (clauses recalled)",
    asks="arrester",
    inputs=("arrester.mcov", "arrester.tov_1s", "arrester.tov_10s", "arrester.position", *STUDIED),
    policy={"margin": "arrester.margin", "trips_within": TRIPS},
    formula="T(t) MCOV >= m |V_0| U_max / U_n; where the fault lasts, T = 1, else T = T_1s + (T_10s - T_1s) log10(t)",
    query="""
        WITH seen AS (
            SELECT a.*, s.* EXCLUDE (substation, bus),
                   coalesce(f.neutral_shift_kv, f.neutral_shift_kv_low) * coalesce(ratio, ratio_low)    AS shift_low,
                   coalesce(f.neutral_shift_kv, f.neutral_shift_kv_high) * coalesce(ratio, ratio_high)  AS shift_high,
                   coalesce(s.duration_s, s.duration_s_low)   AS least_s,
                   coalesce(s.duration_s, s.duration_s_high)  AS most_s,
                   log10(greatest(1, least_s))                AS least_decades,
                   log10(greatest(1, most_s))                 AS most_decades,
                   if(most_decades = 0, tov_1s, tov_1s + (tov_10s - tov_1s) * most_decades)    AS late_pu,
                   if(least_decades = 0, tov_1s, tov_1s + (tov_10s - tov_1s) * least_decades)  AS early_pu,
                   most_s <= $trips_within                    AS surely_trips,
                   least_s > $trips_within                    AS surely_lasts,
                   -- Without limit it bears its MCOV; a withstand that is not on record is no less.
                   if(surely_trips, coalesce(late_pu, if(most_decades <= 1, tov_10s, NULL), 1), 1)  AS sure_pu,
                   if(surely_lasts, 1, coalesce(early_pu, tov_1s))                                  AS hoped_pu
            FROM inventory.arrester a
            LEFT JOIN study.bus_stress s
                   ON s.substation || ':' || s.bus = if(contains(a.bus, ':'), a.bus, a.substation || ':' || a.bus)
            LEFT JOIN study.bus_fault f ON f.substation = s.substation AND f.bus = s.bus AND f.condition = 'max'
            WHERE a.position = 'neutral'
        )
        SELECT substation, 'arrester' AS asset_kind, arrester AS asset, bus, zone, 'max' AS condition,
               CASE WHEN mcov * sure_pu >= shift_high * $margin THEN TRUE
                    WHEN mcov * hoped_pu < shift_low * $margin THEN FALSE END AS ok,
               if(ok IS FALSE, hoped_pu, sure_pu)        AS pu,
               mcov * pu                                 AS actual,
               if(ok IS FALSE, shift_low, shift_high)    AS seen_kv,
               seen_kv * $margin                         AS required,
               'kV'                                      AS unit,
               mcov * sure_pu AS actual_low, mcov * hoped_pu AS actual_high,
               shift_low * $margin AS required_low, shift_high * $margin AS required_high,
               if(least_s = most_s, least_s, NULL)       AS clearing_s,
               mcov, tov_1s, tov_10s, required / pu      AS needed_kv,
               ['arrester.mcov', 'bus_fault.neutral_shift_kv', if(ratio IS NULL, 'bus.highest_voltage', NULL),
                if(least_s < most_s, 'zone.clearing_time_s', NULL)]
               || if(surely_lasts, [], ['arrester.tov_1s', if(most_decades = 0, NULL, 'arrester.tov_10s')]) AS needs
        FROM seen
    """,
    message="{asset}, at a neutral of bus {bus}, bears {actual} kV; a ground fault puts {seen_kv} kV on the "
    "neutral, duration {clearing_s:g} s",
    working="withstand: {tov_1s:g} x MCOV for 1 s, {tov_10s:g} x MCOV for 10 s, MCOV beyond {trips_within:g} s\n"
    "duration {clearing_s:g} s: {pu:.3f} x MCOV\n"
    "{pu:.3f} x {mcov} kV = {actual} kV\n"
    "required: shift of the neutral {seen_kv} kV at highest voltage x {margin:g} margin = {required} kV",
    remedy="a neutral arrester of the same withstand curve with MCOV {needed_kv} kV or more, its protective level "
    "checked against the neutral's insulation; or ground faults cleared sooner",
    caution="Keep away from a neutral and its arrester while a ground fault is on: one is live, the other can burst.",
    cannot_see="Which neutral of the bus it stands at is not on record; a solidly grounded one puts nothing on it. "
    "Judges faults with all sources in service.",
    examples={
        "satisfied: exactly the withstand for 1 s": inventory(10.0),
        "exception: 1.5 x 9.9 kV against 15 kV": inventory(9.9),
        "exception: margin not met": inventory(10.0, margin=1.1),
        "exception: at highest voltage": inventory(10.0, ratio=1.1),
        "satisfied: exactly the withstand for 10 s": inventory(10.0, AT, (10.0, 10.0), (14.0, 14.0)),
        # By hand: log10(3.1623) = 0.5, T = 1.5 - 0.1 / 2 = 1.45: 14.5 kV.
        "satisfied: half a decade, 14.49 kV": inventory(10.0, AT, (3.1623, 3.1623), (14.49, 14.49)),
        "exception: half a decade, 14.51 kV": inventory(10.0, AT, (3.1623, 3.1623), (14.51, 14.51)),
        "satisfied: the fault lasts, exactly MCOV": inventory(15.0, AT, (INF, INF)),
        "exception: the fault lasts, below MCOV": inventory(14.9, AT, (INF, INF)),
        "exception: 11 s count as lasting": inventory(14.9, AT, (11.0, 11.0)),
        "satisfied: 11 s count as tripping": inventory(14.9, AT, (11.0, 11.0), trips_within=20.0),
        "satisfied: MCOV alone": inventory(15.0, (None, None)),
        "not assessable: MCOV alone falls short": inventory(14.9, (None, None)),
        "satisfied: withstand for 10 s is enough, at exactly 10 s": inventory(10.0, (None, 1.5), (10.0, 10.0)),
        "not assessable: withstand for 10 s, at 11 s": inventory(10.0, (None, 1.5), (11.0, 11.0), trips_within=20.0),
        "exception: withstand for 1 s is too little, later": inventory(9.9, (1.5, None), (3.0, 3.0)),
        "not assessable: withstand for 1 s could do, later": inventory(10.0, (1.5, None), (3.0, 3.0)),
        "satisfied: withstand for 1 s is all it takes": inventory(10.0, (1.5, None)),
        "exception: below the lower bound of the voltage": inventory(9.9, kv=(15.0, 16.0)),
        "not assessable: exactly the lower bound": inventory(10.0, kv=(15.0, 16.0)),
        "satisfied: clearing time not on record, MCOV is enough": inventory(15.0, AT, (0.0, INF)),
        "not assessable: clearing time not on record and it decides": inventory(14.9, AT, (0.0, INF)),
        "not assessable: may trip in exactly the time that counts": inventory(10.0, AT, (10.0, INF), (14.0, 14.0)),
        "exception: too little, whether it lasts or not": inventory(9.9, AT, (0.0, INF)),
        "not assessable: MCOV not on record": inventory(None),
        "not assessable: shift not computed": inventory(15.0, kv=(None, None)),
        "not assessable: its bus is not on record": inventory(15.0) | {"bus_stress": []},
        "not applicable: phase arrester": inventory(5.0, position="phase"),
        "not applicable: position not on record": inventory(5.0, position=None),
    },
)
