"""Arresters whose continuous operating voltage their bus exceeds."""

from groundcheck.audit import Rule

HERE = {"substation": "ELM", "bus": "B1"}
BUS = HERE | {"nominal_voltage": 10.0 * 3**0.5}  # 10 kV line to neutral
ZONE = HERE | {"zone": "ELM:B1", "grounding_class": "ungrounded", "continuity_required": True}
FAULT = HERE | {"condition": "max", "healthy_phase_kv": 16.0}
BOUNDS = FAULT | {"healthy_phase_kv": None, "healthy_phase_kv_low": 12.0, "healthy_phase_kv_high": 16.0}
OAK = {"substation": "OAK"}
ABOVE = 1 + 1e-12  # rounding of the square root


def inventory(mcov, zone=ZONE, fault=FAULT, bus=BUS, position="phase", **policy):
    """One arrester at a bus of 10 kV line to neutral, 16 kV on the healthy phases."""
    return {
        "arrester": [HERE | {"arrester": "SA1", "mcov": mcov, "position": position}],
        "bus": [bus, BUS | OAK],
        "zone_bus": [HERE | {"zone": "ELM:B1"}, HERE | OAK | {"zone": "OAK:B1"}],
        "zone": [zone],
        "bus_fault": [fault, FAULT | OAK | {"healthy_phase_kv": 99.0}],
        "policy": {"margin": 1.0} | policy,
    }


def cleared(seconds):
    """The zone where its ground faults are cleared."""
    return ZONE | {"continuity_required": False, "clearing_time_s": seconds}


RULE = Rule(
    title="The arrester's continuous operating voltage is below the voltage that its bus can show lastingly",
    severity="high",
    why="Above its continuous operating voltage an arrester draws current without end, heats up and fails as a short "
    "circuit, often violently. While a ground fault stands, the healthy phases are at line-to-line voltage for as "
    "long.",
    basis="IEEE C62.22 and IEC 60099-5, choice of continuous operating voltage by grounding and fault duration "
    "(clauses recalled)",
    asks="arrester",
    inputs=(
        "arrester.mcov",
        "arrester.position",
        "bus.nominal_voltage",
        "bus.highest_voltage",
        "bus_fault.healthy_phase_kv",
        "zone.clearing_time_s",
    ),
    policy={
        "margin": "arrester.margin",
        "trips_within": "arrester.trips_within",
        "highest_over_nominal": "insulation.highest_over_nominal",
    },
    query="""
        WITH seen AS (
            SELECT a.*, z.zone, z.grounding_class, z.continuity_required, z.clearing_time_s,
                   CASE WHEN b.highest_voltage >= b.nominal_voltage THEN b.highest_voltage / b.nominal_voltage
                        ELSE $highest_over_nominal END AS ratio,
                   b.nominal_voltage / sqrt(3) * ratio AS sound_kv,
                   -- Healthy phases are never taken for lower than the sound voltage.
                   greatest(sound_kv, coalesce(f.healthy_phase_kv, f.healthy_phase_kv_low) * ratio) AS least_fault_kv,
                   coalesce(f.healthy_phase_kv, f.healthy_phase_kv_high) * ratio AS most_healthy_kv,
                   if(most_healthy_kv IS NULL, NULL, greatest(sound_kv, most_healthy_kv)) AS most_fault_kv,
                   -- TRUE where the fault lasts too long to be left out of account, NULL where that is not known.
                   CASE WHEN z.continuity_required THEN TRUE ELSE z.clearing_time_s > $trips_within END AS stands
            FROM inventory.arrester a
            LEFT JOIN inventory.bus b
                   ON b.substation || ':' || b.bus = if(contains(a.bus, ':'), a.bus, a.substation || ':' || a.bus)
            LEFT JOIN study.zone_bus p ON p.substation = b.substation AND p.bus = b.bus
            LEFT JOIN study.zone z ON z.zone = p.zone
            LEFT JOIN study.bus_fault f
                   ON f.substation = b.substation AND f.bus = b.bus AND f.condition = 'max'
            WHERE a.position IS DISTINCT FROM 'neutral'
        ),
        judged AS (
            SELECT *,
                   if(stands IS TRUE, least_fault_kv, sound_kv) * $margin  AS least_kv,
                   if(stands IS FALSE, sound_kv, most_fault_kv) * $margin  AS most_kv,
                   -- Where its position is not on record it may be a neutral arrester, of which less is asked.
                   CASE WHEN mcov >= most_kv THEN TRUE
                        WHEN position = 'phase' AND mcov < least_kv THEN FALSE END AS ok
            FROM seen
        )
        SELECT substation, 'arrester' AS asset_kind, arrester AS asset, bus, zone,
               mcov                                 AS actual,
               if(ok IS FALSE, least_kv, most_kv)   AS required,
               'kV'                                 AS unit,
               ok, sound_kv, ratio, grounding_class,
               if(continuity_required, 'infinity'::DOUBLE, clearing_time_s) AS duration_s,
               required / $margin                   AS lasting_kv,
               ['arrester.mcov', 'arrester.position', 'bus.nominal_voltage',
                if(stands IS FALSE, NULL, 'bus_fault.healthy_phase_kv'),
                if(stands IS NULL, 'zone.clearing_time_s', NULL)] AS needs
        FROM judged
    """,
    message="{asset} at bus {bus} has MCOV {actual:.2f} kV; its bus can show {lasting_kv:.2f} kV to ground, ground "
    "faults lasting {duration_s:g} s",
    working="sound voltage to ground {sound_kv:.2f} kV (highest / nominal voltage {ratio:.3f}); ground fault lasts "
    "{duration_s:g} s, more than {trips_within:g} s counts as lasting: {lasting_kv:.2f} kV to ground x {margin:g} "
    "margin = {required:.2f} kV; MCOV {actual:.2f} kV",
    remedy="an arrester with MCOV {lasting_kv:.2f} kV or more, its protective level checked against the insulation; or "
    "a zone whose ground faults are cleared within {trips_within:g} s, with the temporary overvoltage checked",
    caution="Keep away from an overstressed arrester while a ground fault is on: it can burst.",
    cannot_see="Temporary overvoltage while a fault is being cleared is not weighed here. A blank highest voltage is "
    "taken for nominal voltage times a policy value.",
    examples={
        "exception: 15.9 kV where the healthy phases stay at 16 kV": inventory(15.9),
        "satisfied: exactly the healthy-phase voltage": inventory(16.0),
        "satisfied: above it": inventory(17.0),
        "exception: MCOV met, margin not": inventory(16.5, margin=1.1),
        "exception: the bus runs above nominal voltage": inventory(17.0, bus=BUS | {"highest_voltage": 11.0 * 3**0.5}),
        "exception: highest voltage not on record, policy allows for it": inventory(17.0, highest_over_nominal=1.1),
        "satisfied: highest voltage is nominal voltage": inventory(
            17.0, bus=BUS | {"highest_voltage": BUS["nominal_voltage"]}, highest_over_nominal=1.1
        ),
        "satisfied: cleared in exactly the time that counts as tripping": inventory(10.0 * ABOVE, cleared(10.0)),
        "exception: below the sound voltage": inventory(9.9, cleared(1.0)),
        "exception: cleared later than that": inventory(15.9, cleared(10.1)),
        "satisfied: a longer time counts as tripping": inventory(10.1, cleared(10.1), trips_within=20.0),
        "satisfied: clearing time not on record, enough for both": inventory(16.0 * ABOVE, cleared(None)),
        "exception: clearing time not on record, too low for both": inventory(9.9, cleared(None)),
        "not assessable: clearing time not on record and it decides": inventory(15.9, cleared(None)),
        "satisfied: above the upper bound of the voltage": inventory(16.0 * ABOVE, fault=BOUNDS),
        "exception: below the lower bound": inventory(11.9, fault=BOUNDS),
        "not assessable: exactly the lower bound": inventory(12.0, fault=BOUNDS),
        "exception: a zone that stands, voltage not computed, below the sound voltage": inventory(
            9.9, fault=HERE | {"condition": "min"}
        ),
        "not assessable: voltage not computed": inventory(17.0, fault=HERE | {"condition": "min"}),
        "exception: healthy phases below the sound voltage": inventory(9.9, fault=FAULT | {"healthy_phase_kv": 8.0}),
        "satisfied: healthy phases below the sound voltage": inventory(10.1, fault=FAULT | {"healthy_phase_kv": 8.0}),
        "satisfied: position not on record, MCOV enough": inventory(16.5, position=None),
        "not assessable: position not on record, MCOV low": inventory(15.9, position=None),
        "not assessable: MCOV not on record": inventory(None),
        "not assessable: its bus is not on record": {
            "arrester": [HERE | {"arrester": "SA1", "mcov": 99.0, "position": "phase"}]
        },
        "not applicable: neutral arrester": inventory(5.0, position="neutral"),
    },
)
