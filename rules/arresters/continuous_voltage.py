"""Arresters whose continuous operating voltage their bus exceeds."""

from groundcheck.audit import Rule

HERE = {"substation": "ELM", "bus": "B1"}
STRESS = HERE | {"zone": "ELM:B1", "ratio": 1.0, "sound_kv": 10.0, "healthy_kv_low": 16.0, "healthy_kv_high": 16.0,
                 "duration_s_low": float("inf"), "duration_s_high": float("inf")}  # fmt: skip
OAK = STRESS | {"substation": "OAK", "sound_kv": 99.0}
STUDIED = ("bus_fault.healthy_phase_kv", "zone.clearing_time_s")
BOUNDS = {"healthy_kv_low": 12.0}
LOW = {"healthy_kv_low": 8.0, "healthy_kv_high": 8.0}
NOT_COMPUTED = {"healthy_kv_low": None, "healthy_kv_high": None}
ANY_TIME = {"duration_s_low": 0.0}


def inventory(mcov, stress=None, position="phase", **policy):
    """One arrester at a bus of 10 kV to ground, where the healthy phases lastingly see 16 kV."""
    return {
        "arrester": [HERE | {"arrester": "SA1", "mcov": mcov, "position": position}],
        "bus_stress": [STRESS | (stress or {}), OAK],
        "policy": {"margin": 1.0} | policy,
    }


def cleared(seconds):
    """Ground faults are cleared in this time."""
    return {"duration_s_low": seconds, "duration_s_high": seconds}


RULE = Rule(
    title="The arrester's continuous operating voltage is below the voltage that its bus can show lastingly",
    severity="high",
    why="Above its continuous operating voltage an arrester draws current without end, heats up and fails as a short "
    "circuit, often violently. While a ground fault stands, the healthy phases are at line-to-line voltage for as "
    "long.",
    basis="IEEE C62.22 and IEC 60099-5, choice of continuous operating voltage by grounding and fault duration "
    "(clauses recalled)",
    asks="arrester",
    inputs=("arrester.mcov", "arrester.position", "bus.nominal_voltage", "bus.highest_voltage", *STUDIED),
    policy={"margin": "arrester.margin", "trips_within": "arrester.trips_within"},
    formula="MCOV >= m U_max / sqrt(3); where the fault lasts, MCOV >= m max(U_healthy U_max / U_n, U_max / sqrt(3))",
    query="""
        WITH seen AS (
            -- Healthy phases count where the fault lasts, and are never taken for lower than the sound voltage.
            SELECT a.*, s.* EXCLUDE (substation, bus),
                   coalesce(s.sound_kv, s.sound_kv_low)      AS sound_least_kv,
                   coalesce(s.sound_kv, s.sound_kv_high)     AS sound_most_kv,
                   coalesce(s.healthy_kv, s.healthy_kv_low)  AS healthy_least_kv,
                   coalesce(s.healthy_kv, s.healthy_kv_high) AS healthy_most_kv,
                   coalesce(s.duration_s, s.duration_s_low)  AS least_s,
                   coalesce(s.duration_s, s.duration_s_high) AS most_s,
                   if(least_s > $trips_within, greatest(sound_least_kv, healthy_least_kv), sound_least_kv) * $margin
                       AS least_kv,
                   CASE WHEN most_s <= $trips_within THEN sound_most_kv
                        WHEN healthy_most_kv IS NOT NULL THEN greatest(sound_most_kv, healthy_most_kv)
                        END * $margin AS most_kv,
                   if(s.duration_s_low > $trips_within, greatest(s.sound_kv_low, s.healthy_kv_low), s.sound_kv_low)
                       * $margin AS required_low,
                   if(s.duration_s_high <= $trips_within, s.sound_kv_high, greatest(s.sound_kv_high, s.healthy_kv_high))
                       * $margin AS required_high
            FROM inventory.arrester a
            LEFT JOIN study.bus_stress s
                   ON s.substation || ':' || s.bus = if(contains(a.bus, ':'), a.bus, a.substation || ':' || a.bus)
            WHERE a.position IS DISTINCT FROM 'neutral'
        )
        SELECT substation, 'arrester' AS asset_kind, arrester AS asset, bus, zone, 'max' AS condition,
               -- Where its position is not on record it may be a neutral arrester, of which less is asked.
               CASE WHEN mcov >= most_kv THEN TRUE
                    WHEN position = 'phase' AND mcov < least_kv THEN FALSE END AS ok,
               mcov AS actual, if(ok IS FALSE, least_kv, most_kv) AS required, 'kV' AS unit,
               required_low, required_high,
               if(ok IS FALSE, sound_least_kv, sound_most_kv)  AS sound_kv,
               coalesce(ratio, if(ok IS FALSE, ratio_low, ratio_high)) AS ratio, grounding_class,
               if(least_s = most_s, least_s, NULL) AS stands_s,
               required / $margin                  AS lasting_kv,
               ['arrester.mcov', 'arrester.position', 'bus.nominal_voltage',
                if(most_s <= $trips_within, NULL, 'bus_fault.healthy_phase_kv'),
                if(least_s < most_s, 'zone.clearing_time_s', NULL)] AS needs
        FROM seen
    """,
    message="{asset} at bus {bus} has MCOV {actual} kV; its bus can show {lasting_kv} kV to ground, ground "
    "faults lasting {stands_s:g} s",
    working="sound voltage to ground: {sound_kv} kV (highest / nominal voltage {ratio:.3f})\n"
    "lasting: {lasting_kv} kV (ground faults last {stands_s:g} s; above {trips_within:g} s counts as lasting)\n"
    "{lasting_kv} kV x {margin:g} margin = {required} kV\nMCOV {actual} kV",
    remedy="an arrester with MCOV {lasting_kv} kV or more, its protective level checked against the insulation; where "
    "only ground faults ask for so much, also a zone that clears them within {trips_within:g} s, with the temporary "
    "overvoltage checked",
    caution="Keep away from an overstressed arrester while a ground fault is on: it can burst.",
    cannot_see="Temporary overvoltage while a fault is being cleared is not weighed here. A blank highest voltage is "
    "taken for nominal voltage times a policy value.",
    examples={
        "exception: 15.9 kV where the healthy phases stay at 16 kV": inventory(15.9),
        "satisfied: exactly the healthy-phase voltage": inventory(16.0),
        "satisfied: above it": inventory(17.0),
        "exception: MCOV met, margin not": inventory(16.5, margin=1.1),
        "satisfied: cleared in exactly the time that counts as tripping": inventory(10.0, cleared(10.0)),
        "exception: below the sound voltage": inventory(9.9, cleared(1.0)),
        "exception: cleared later than that": inventory(15.9, cleared(10.1)),
        "satisfied: a longer time counts as tripping": inventory(10.0, cleared(10.1), trips_within=20.0),
        "satisfied: clearing time not on record, enough for both": inventory(16.0, ANY_TIME),
        "exception: clearing time not on record, too low for both": inventory(9.9, ANY_TIME),
        "not assessable: clearing time not on record and it decides": inventory(15.9, ANY_TIME),
        "not assessable: may be cleared in exactly that time": inventory(15.9, {"duration_s_low": 10.0}),
        "satisfied: above the upper bound of the voltage": inventory(16.0, BOUNDS),
        "exception: below the lower bound": inventory(11.9, BOUNDS),
        "not assessable: exactly the lower bound": inventory(12.0, BOUNDS),
        "exception: voltage not computed, below the sound voltage": inventory(9.9, NOT_COMPUTED),
        "not assessable: voltage not computed": inventory(17.0, NOT_COMPUTED),
        "exception: healthy phases and MCOV below the sound voltage": inventory(9.9, LOW),
        "satisfied: healthy phases below the sound voltage": inventory(10.0, LOW),
        "satisfied: position not on record, MCOV enough": inventory(16.0, position=None),
        "not assessable: position not on record, MCOV low": inventory(15.9, position=None),
        "not assessable: MCOV not on record": inventory(None),
        "not assessable: its bus is not on record": {
            "arrester": [HERE | {"arrester": "SA1", "mcov": 99.0, "position": "phase"}]
        },
        "not applicable: neutral arrester": inventory(5.0, position="neutral"),
    },
)
