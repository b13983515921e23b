"""High-resistance zones that run on above the customary voltage or current."""

from math import inf

from groundcheck.audit import Rule

ZONE = {"zone": "ELM:B1", "substation": "ELM", "bus": "B1"}
FAULT = {"zone": "ELM:B1", "substation": "ELM", "bus": "B1", "standing_a": 5.0}
BOUNDS = FAULT | {"standing_a": None, "standing_a_low": 8.0, "standing_a_high": 10.0}


def inventory(kv=4.16, fault=FAULT, of="high_resistance", clearing=inf, current_limit=10.0):
    """A high-resistance zone that runs on."""
    return {
        "zone": [ZONE | {"grounding_class": of, "nominal_kv": kv, "clearing_time_s": clearing}],
        "zone_bus": [ZONE],
        "standing_fault": [fault | {"nominal_kv": kv, "grounding_class": of}],
        "policy": {"kv_limit": 7.0, "current_limit": current_limit},
    }


def standing(amperes, **options):
    """The same with another current at the fault."""
    return inventory(fault=FAULT | {"standing_a": amperes}, **options)


RULE = Rule(
    title="A high-resistance zone runs on through ground faults above the customary voltage or current",
    severity="medium",
    why="Beyond about 10 A, or at 15 kV, a ground fault that is left standing burns iron and cable until it becomes a "
    "short circuit between phases. Such a zone has to trip.",
    basis="IEEE 142, high-resistance grounding: 10 A or less; 5 kV class where the fault is left standing, 15 kV only "
    "with relays that trip (clause recalled)",
    asks="zone",
    inputs=("zone.nominal_kv", "standing_fault.standing_a", "zone.clearing_time_s"),
    policy={"kv_limit": "neutral_device.standing_kv", "current_limit": "neutral_device.standing_current"},
    query="""
        WITH asked AS (
            SELECT z.substation, z.zone, z.bus, z.nominal_kv, isinf(z.clearing_time_s) AS runs_on,
                   s.standing_a, s.standing_a_low, s.standing_a_high
            FROM study.zone z
            LEFT JOIN study.standing_fault s USING (zone)
            WHERE z.grounding_class = 'high_resistance' AND coalesce(isinf(z.clearing_time_s), TRUE)
        ),
        compared AS (
            SELECT substation, zone, bus, runs_on, 'voltage' AS item, 'kV' AS unit, $kv_limit AS required,
                   nominal_kv AS known, nominal_kv AS least, nominal_kv AS most, 'zone.nominal_kv' AS rests_on
            FROM asked
            UNION ALL
            SELECT substation, zone, bus, runs_on, 'current', 'A', $current_limit,
                   standing_a, standing_a_low, standing_a_high, 'standing_fault.standing_a'
            FROM asked
        )
        SELECT substation, 'zone' AS asset_kind, zone AS asset, item, zone, bus, unit, required,
               CASE WHEN coalesce(known, most) <= required THEN TRUE
                    WHEN runs_on AND coalesce(known, least) > required THEN FALSE END AS ok,
               if(ok IS FALSE, coalesce(known, least), coalesce(known, most)) AS actual,
               least AS actual_low, most AS actual_high,
               if(item = 'voltage', 'nominal voltage', 'current of a ground fault') AS what,
               if(item = 'voltage', 'a low resistance with relays that trip',
                  'a larger resistance, not beyond what passes the charging current') AS instead,
               [if(runs_on, NULL, 'zone.clearing_time_s'), rests_on] AS needs
        FROM compared
    """,
    message="zone {zone} is high-resistance grounded and runs on; its {what} is {actual} {unit}, customary is "
    "{required:g} {unit} or less",
    formula="V_LL <= V_limit; I_LG = |I_R + j 3I_C0| <= I_limit",
    working="{what} = {actual} {unit}\ncustomary limit for running on = {required:g} {unit}",
    remedy="trip on the first ground fault within seconds, or ground zone {zone} otherwise: {instead}",
    caution="Before a relay is made to trip, see what the loss of supply does to the process.",
    cannot_see="Does not weigh why the zone runs on, nor how soon the fault is found and cleared by hand.",
    examples={
        "satisfied: 4.16 kV and 5 A": inventory(),
        "satisfied: exactly at both limits": standing(10.0, kv=7.0),
        "exception: above both": standing(10.1, kv=7.1),
        "exception: within a wide current limit, not within a narrow one": standing(11.0, kv=7.1),
        "satisfied: within the wide one": standing(11.0, current_limit=12.0),
        "satisfied: exactly the most that the record allows": inventory(fault=BOUNDS),
        "exception: beyond the least that the record allows": inventory(7.1, BOUNDS, current_limit=7.9),
        "not assessable: exactly the least that the record allows": inventory(None, BOUNDS, current_limit=8.0),
        "not assessable: neither voltage nor current known": inventory(None, FAULT | {"standing_a": None}),
        "not assessable: not known whether it runs on": standing(11.0, kv=7.1, clearing=None),
        "satisfied: nor does it matter": inventory(clearing=None),
        "not applicable: cleared in 1 s": standing(11.0, kv=11.0, clearing=1.0),
        "not applicable: low-resistance zone": standing(11.0, kv=11.0, of="low_resistance"),
        "not applicable: class not known": standing(11.0, kv=11.0, of=None),
    },
)
