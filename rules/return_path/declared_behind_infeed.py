"""Buses behind an infeed whose declared grounding the infeed's currents contradict."""

from groundcheck.audit import Rule

HERE = {"zone": "ELM:B1", "substation": "ELM", "bus": "B1"}
FAULT = {"substation": "ELM", "bus": "B1", "condition": "max"}


def infeed(declared, cog, *amperes, bounds=(None, None), computed="grounded_by_infeed"):
    """A zone that only an infeed grounds, of which nothing says how; amperes: of a fault, its least, its most."""
    currents = zip(("", "_low", "_high"), (*amperes, None, None, None), strict=False)
    return {
        "bus": [{"substation": "ELM", "bus": "B1", "nominal_voltage": 33.0, "declared_grounding": declared}],
        "zone_bus": [HERE],
        "zone": [HERE | {"grounding_class": computed}],
        "bus_fault": [
            FAULT
            | {"cog": cog, "cog_low": bounds[0], "cog_high": bounds[1]}
            | {f"line_to_ground_ka{end}": a and a / 1e3 for end, a in currents}
        ],
        "policy": {"effective_cog": 0.75, "small_a": 20.0, "charging_a": 400.0},
    }


RULE = Rule(
    title="The fault level of the infeed contradicts the declared grounding",
    severity="high",
    why="What stands in the neutrals behind an infeed is not on record; its fault levels are. Where they do not fit "
    "the grounding that is declared, insulation, arresters and relays were chosen for another network.",
    basis="IEEE C62.92.1, classes of system grounding, effectively grounded at a coefficient of grounding of 0.8 "
    "(clauses recalled)",
    asks="bus",
    inputs=("bus.declared_grounding", "bus_fault.cog", "bus_fault.line_to_ground_ka", "zone.grounding_class"),
    policy={
        "effective_cog": "grounding.effective_cog",
        "small_a": "grounding.high_resistance_current",
        "charging_a": "range.most.charging_current",
    },
    formula="effective: COG = U_healthy / U_LL <= COG_effective\n"
    "high resistance, resonant, ungrounded: I_LG <= I_small",
    query="""
        WITH asked AS (
            SELECT b.substation, b.bus, z.zone, b.declared_grounding AS declared, f.cog,
                   coalesce(f.cog, f.cog_low) AS cog_least, coalesce(f.cog, f.cog_high) AS cog_most,
                   coalesce(f.line_to_ground_ka, f.line_to_ground_ka_low) * 1e3   AS least_a,
                   coalesce(f.line_to_ground_ka, f.line_to_ground_ka_high) * 1e3  AS most_a,
                   -- What these declare is a fault current that small.
                   CASE declared WHEN 'high_resistance' THEN $small_a WHEN 'resonant' THEN $charging_a
                                 WHEN 'ungrounded' THEN $charging_a END AS weak_a
            FROM inventory.bus b
            JOIN study.zone_bus p USING (substation, bus)
            JOIN study.zone z ON z.zone = p.zone
            LEFT JOIN study.bus_fault f ON f.substation = b.substation AND f.bus = b.bus AND f.condition = 'max'
            -- Far solid neutrals and reactors look like anything: only where the others are declared do currents tell.
            WHERE z.grounding_class = 'grounded_by_infeed' AND b.declared_grounding NOT IN ('solid', 'reactance')
        )
        SELECT substation, 'bus' AS asset_kind, bus AS asset, bus, zone, 'max' AS condition,
               CASE WHEN declared = 'effective' AND cog_most <= $effective_cog THEN TRUE
                    WHEN declared = 'effective' AND cog_least > $effective_cog THEN FALSE
                    WHEN declared <> 'effective' AND (cog_most <= $effective_cog OR least_a > weak_a) THEN FALSE
                    WHEN declared <> 'effective' AND cog_least > $effective_cog AND (weak_a IS NULL OR most_a <= weak_a)
                    THEN TRUE END AS ok,
               printf('%.0f A, coefficient of grounding %.2f', coalesce(most_a, least_a), coalesce(cog, cog_most))
                            AS actual,
               replace(declared, '_', ' ') AS required,
               ''           AS unit,
               cog, if(ok IS FALSE, least_a, most_a) AS fault_a, weak_a,
               [if(cog IS NULL, 'bus_fault.cog', NULL),
                if(weak_a IS NULL, NULL, 'bus_fault.line_to_ground_ka')] AS needs
        FROM asked
    """,
    message="bus {asset} is declared {required}; the infeed that grounds zone {zone} drives {fault_a} A into a ground "
    "fault there, coefficient of grounding {cog:.2f}",
    working="COG = {cog:.2f}, effective up to {effective_cog:g}\n"
    "I_LG = {fault_a} A, for {required} at most {weak_a} A\n"
    "high resistance up to {small_a:g} A, charging current up to {charging_a:g} A",
    remedy="correct the declaration, or the single-phase fault level of the infeed; if both are right, review the "
    "insulation, arresters and relays chosen for {required} grounding",
    caution="Until it is settled, take the zone for the worse of the two: no current for relays, line-to-line voltage "
    "to ground on the healthy phases.",
    cannot_see="An infeed of few amperes may stand for any impedance; solid and reactance are not contradicted.",
    examples={
        "satisfied: resistance": infeed("low_resistance", 0.76, 1000.0),
        "not assessable: resistance, of unknown effect": infeed("resistance", None),
        "not assessable: resistance, may be effective": infeed("resistance", None, bounds=(0.75, 0.76)),
        "satisfied: resistance, can't be effective": infeed("resistance", None, bounds=(0.76, 0.9)),
        "exception: resistance, grounded effectively here": infeed("resistance", 0.75),
        "exception: effective, far away": infeed("effective", 0.76),
        "satisfied: effective at this bus": infeed("effective", 0.75),
        "not assessable: effective, of unknown effect": infeed("effective", None, bounds=(0.75, 0.76)),
        "satisfied: high resistance, a current as small": infeed("high_resistance", 0.8, 20.0),
        "exception: high resistance, more": infeed("high_resistance", 0.8, 21.0),
        "not assessable: high resistance, current not known": infeed("high_resistance", 0.8, None, 20.0, 21.0),
        "satisfied: ungrounded, as much as charging explains": infeed("ungrounded", 0.8, 400.0),
        "exception: ungrounded, more": infeed("ungrounded", 0.8, 401.0),
        "satisfied: resonant, a small current": infeed("resonant", 0.8, 400.0),
        "exception: resonant, more": infeed("resonant", 0.8, 401.0),
        "exception: ungrounded, effective": infeed("ungrounded", 0.75),
        "not applicable: solid": infeed("solid", 0.76),
        "not applicable: reactance": infeed("reactance", 0.76),
        "not applicable: nothing declared": infeed(None, 0.76),
        "not applicable: a neutral of its own": infeed("ungrounded", 0.76, computed="solid_not_effective"),
    },
)
