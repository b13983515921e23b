"""Insulation that bears the healthy phases' voltage to ground too low, or for too short a time."""

from groundcheck.audit import Rule

HERE = {"substation": "ELM", "bus": "B1"}
OAK = {"substation": "OAK"}
BUS = HERE | {"nominal_voltage": 10.0}
ZONE = HERE | {"zone": "ELM:B1", "grounding_class": "ungrounded", "continuity_required": True}
FAULT = HERE | {"condition": "max", "healthy_phase_kv": 10.0}
GEAR = HERE | {"insulation": "SG1", "kind": "switchgear", "rated_ground_voltage": 10.0}
CABLE = HERE | {"insulation": "C1", "kind": "cable", "rated_line_voltage": 10.0, "rated_ground_voltage": 5.8}
EVEN = {"margin": 1.0, "brief_factor": 2.0, "brief_time": 50.0, "short_time_factor": 1.25, "short_time": 500.0}


def inventory(insulation, bus=BUS, fault=FAULT, zone=ZONE, **policy):
    """One piece of insulation at one bus."""
    return {
        "insulation": [insulation],
        "bus": [bus, BUS | OAK],
        "zone_bus": [HERE | {"zone": "ELM:B1"}, HERE | OAK | {"zone": "OAK:B1"}],
        "zone": [zone],
        "bus_fault": [fault, FAULT | OAK | {"healthy_phase_kv": 99.0}],
        "policy": EVEN | policy,
    }


def cleared(seconds):
    """The zone where its ground faults are cleared."""
    return ZONE | {"continuity_required": False, "clearing_time_s": seconds}


BOUNDS = FAULT | {"healthy_phase_kv": None, "healthy_phase_kv_low": 7.0, "healthy_phase_kv_high": 10.0}

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
        "highest_over_nominal": "insulation.highest_over_nominal",
        "brief_factor": "insulation.brief_factor",
        "brief_time": "insulation.brief_time",
        "short_time_factor": "insulation.short_time_factor",
        "short_time": "insulation.short_time",
        "cable_100_time": "insulation.cable_100_time",
        "cable_133_time": "insulation.cable_133_time",
    },
    query="""
        WITH stress AS (
            -- Least and most that the fault can ask for: voltage between its bounds, duration between its bounds.
            SELECT i.*,
                   z.zone,
                   z.continuity_required,
                   z.clearing_time_s,
                   b.nominal_voltage,
                   $margin * CASE WHEN b.highest_voltage >= b.nominal_voltage
                                  THEN b.highest_voltage / b.nominal_voltage
                                  ELSE $highest_over_nominal END AS factor,
                   coalesce(f.healthy_phase_kv, f.healthy_phase_kv_low)  AS least_healthy_kv,
                   coalesce(f.healthy_phase_kv, f.healthy_phase_kv_high) AS most_healthy_kv,
                   CASE WHEN z.continuity_required THEN 'infinity'::DOUBLE
                        ELSE coalesce(z.clearing_time_s, 0) END AS least_s,
                   CASE WHEN z.continuity_required THEN 'infinity'::DOUBLE
                        ELSE coalesce(z.clearing_time_s, 'infinity'::DOUBLE) END AS most_s
            FROM inventory.insulation i
            LEFT JOIN inventory.bus b
                   ON b.substation || ':' || b.bus = if(contains(i.bus, ':'), i.bus, i.substation || ':' || i.bus)
            LEFT JOIN study.zone_bus p ON p.substation = b.substation AND p.bus = b.bus
            LEFT JOIN study.zone z ON z.zone = p.zone
            LEFT JOIN study.bus_fault f
                   ON f.substation = b.substation AND f.bus = b.bus AND f.condition = 'max'
        ),
        strength AS (
            SELECT *,
                   kind = 'cable' AS is_cable,
                   CASE WHEN is_cable THEN 1 WHEN least_s <= $brief_time THEN $brief_factor
                        WHEN least_s <= $short_time THEN $short_time_factor ELSE 1 END AS least_s_factor,
                   CASE WHEN is_cable THEN 1 WHEN most_s <= $brief_time THEN $brief_factor
                        WHEN most_s <= $short_time THEN $short_time_factor ELSE 1 END AS most_s_factor,
                   CASE cable_insulation_level WHEN 100 THEN $cable_100_time WHEN 133 THEN $cable_133_time
                        WHEN 173 THEN 'infinity'::DOUBLE END AS level_s,
                   -- A cable's level says what it bears at most without limit where its voltage to ground is not given.
                   CASE WHEN is_cable THEN coalesce(rated_ground_voltage,
                                                    rated_line_voltage / sqrt(3) * cable_insulation_level / 100)
                        ELSE rated_ground_voltage END AS most_lasting_kv
            FROM stress
        ),
        judged AS (
            SELECT *,
                   CASE WHEN is_cable THEN rated_line_voltage >= nominal_voltage ELSE FALSE END AS level_counts,
                   rated_ground_voltage * most_s_factor >= most_healthy_kv * factor
                       OR (level_counts AND level_s >= most_s) AS bears_most,
                   most_lasting_kv * least_s_factor >= least_healthy_kv * factor
                       OR (level_counts AND level_s >= least_s) AS bears_least,
                   CASE WHEN bears_most THEN TRUE WHEN NOT bears_least THEN FALSE END AS ok,
                   ok IS FALSE AS failed,
                   if(failed, least_s, most_s) AS duration_s,
                   if(failed, least_s_factor, most_s_factor) AS time_factor,
                   if(failed, least_healthy_kv, most_healthy_kv) AS healthy_kv,
                   if(failed, most_lasting_kv, rated_ground_voltage) AS lasting_kv,
                   healthy_kv * factor AS stress_kv,
                   lasting_kv * time_factor AS borne_kv,
                   level_counts AND level_s IS NOT NULL AND (borne_kv >= stress_kv) IS NOT TRUE AS by_time
            FROM strength
        )
        SELECT substation, 'insulation' AS asset_kind, insulation AS asset, bus, zone,
               if(by_time, level_s, borne_kv)      AS actual,
               if(by_time, duration_s, stress_kv)  AS required,
               if(by_time, 's', 'kV')              AS unit,
               ok, kind, healthy_kv, factor / $margin AS ratio, stress_kv / $margin AS seen_kv,
               stress_kv, lasting_kv, time_factor, borne_kv,
               if(continuity_required, duration_s, clearing_time_s) AS clearing_s,
               coalesce(printf('level %d %% at %.2f kV, borne for %s; ', cable_insulation_level, rated_line_voltage,
                               if(isinf(level_s), 'any duration', printf('%.0f s', level_s))), '') AS cable,
               ['insulation.rated_ground_voltage', 'bus.nominal_voltage', 'bus_fault.healthy_phase_kv',
                if(is_cable, 'insulation.rated_line_voltage', NULL),
                if(is_cable, 'insulation.cable_insulation_level', NULL),
                if(clearing_s IS NULL, 'zone.clearing_time_s', NULL)] AS needs
        FROM judged
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
        "exception: 9.9 kV where the healthy phases lastingly see 10 kV": inventory(
            GEAR | {"rated_ground_voltage": 9.9}
        ),
        "satisfied: exactly the healthy-phase voltage": inventory(GEAR),
        "satisfied: above it": inventory(GEAR | {"rated_ground_voltage": 17.0}),
        "exception: the same rating with a margin": inventory(GEAR, margin=1.1),
        "exception: the bus runs above nominal voltage": inventory(GEAR, bus=BUS | {"highest_voltage": 11.0}),
        "exception: highest voltage not on record, policy allows for it": inventory(GEAR, highest_over_nominal=1.1),
        "satisfied: highest voltage is nominal voltage": inventory(
            GEAR, bus=BUS | {"highest_voltage": 10.0}, highest_over_nominal=1.1
        ),
        "exception: highest voltage below nominal is not believed": inventory(
            GEAR | {"rated_ground_voltage": 9.0}, bus=BUS | {"highest_voltage": 1.2}
        ),
        "satisfied: cleared in exactly the brief time": inventory(
            GEAR | {"rated_ground_voltage": 5.0}, zone=cleared(50.0)
        ),
        "exception: below what is borne briefly": inventory(GEAR | {"rated_ground_voltage": 4.9}, zone=cleared(50.0)),
        "exception: past the brief time": inventory(GEAR | {"rated_ground_voltage": 5.0}, zone=cleared(51.0)),
        "satisfied: cleared in exactly the short time": inventory(
            GEAR | {"rated_ground_voltage": 8.0}, zone=cleared(500.0)
        ),
        "exception: past the short time": inventory(GEAR | {"rated_ground_voltage": 8.0}, zone=cleared(501.0)),
        "satisfied: clearing time not on record, rating holds without limit": inventory(GEAR, zone=cleared(None)),
        "exception: clearing time not on record, too low even briefly": inventory(
            GEAR | {"rated_ground_voltage": 4.9}, zone=cleared(None)
        ),
        "not assessable: clearing time not on record and it decides": inventory(
            GEAR | {"rated_ground_voltage": 5.0}, zone=cleared(None)
        ),
        "satisfied: above the upper bound of the voltage": inventory(GEAR, fault=BOUNDS),
        "exception: below the lower bound": inventory(GEAR | {"rated_ground_voltage": 6.9}, fault=BOUNDS),
        "not assessable: between the bounds": inventory(GEAR | {"rated_ground_voltage": 7.0}, fault=BOUNDS),
        "not assessable: between the bounds, cleared in exactly the brief time": inventory(
            GEAR | {"rated_ground_voltage": 4.0}, fault=BOUNDS, zone=cleared(50.0)
        ),
        "not assessable: between the bounds, cleared in exactly the short time": inventory(
            GEAR | {"rated_ground_voltage": 6.0}, fault=BOUNDS, zone=cleared(500.0)
        ),
        "not assessable: rating not on record": inventory(GEAR | {"rated_ground_voltage": None}),
        "not assessable: healthy-phase voltage not computed": inventory(GEAR, fault=HERE | {"condition": "min"}),
        "not assessable: its bus is not on record": {"insulation": [GEAR]},
        "satisfied: bus of another station": inventory(GEAR | {"substation": "OAK", "bus": "ELM:B1"}),
        "satisfied: cable for the healthy-phase voltage": inventory(CABLE | {"rated_ground_voltage": 10.0}),
        "exception: a cable has no short-time allowance, level below the duration": inventory(
            CABLE | {"rated_ground_voltage": 9.9, "cable_insulation_level": 100}, zone=cleared(61.0)
        ),
        "satisfied: 100 % cable, cleared in exactly 1 min": inventory(
            CABLE | {"cable_insulation_level": 100}, zone=cleared(60.0)
        ),
        "satisfied: 133 % cable, cleared in exactly 1 h": inventory(
            CABLE | {"cable_insulation_level": 133}, zone=cleared(3600.0)
        ),
        "exception: 133 % cable, cleared later than 1 h": inventory(
            CABLE | {"cable_insulation_level": 133}, zone=cleared(3601.0)
        ),
        "exception: 133 % cable where the zone runs on": inventory(CABLE | {"cable_insulation_level": 133}),
        "satisfied: 173 % cable where the zone runs on": inventory(CABLE | {"cable_insulation_level": 173}),
        "exception: 173 % cable for a lower line voltage": inventory(
            CABLE | {"cable_insulation_level": 173, "rated_line_voltage": 9.9}
        ),
        "satisfied: level holds, voltage to ground not on record": inventory(
            CABLE | {"cable_insulation_level": 173, "rated_ground_voltage": None}
        ),
        "exception: level fails, voltage to ground not on record": inventory(
            CABLE | {"cable_insulation_level": 100, "rated_ground_voltage": None}
        ),
        "not assessable: level could hold, clearing time not on record": inventory(
            CABLE | {"cable_insulation_level": 100}, zone=cleared(None)
        ),
        "not assessable: neither level nor sufficient voltage to ground": inventory(CABLE),
        "not assessable: line voltage of the cable not on record": inventory(
            CABLE | {"cable_insulation_level": 173, "rated_line_voltage": None}
        ),
    },
)
