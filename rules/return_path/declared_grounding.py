"""Buses whose declared grounding the computed class of their zone contradicts."""

from groundcheck.audit import Rule

HERE = {"zone": "ELM:B1", "substation": "ELM", "bus": "B1"}
FAULT = {"substation": "ELM", "bus": "B1", "condition": "max"}
SOURCE = {"zone": "ELM:B1", "substation": "ELM", "asset": "T1", "kind": "transformer"}
COIL = "arc_suppression_coil"


def inventory(declared, computed, cog=None, treatment=None, bounds=(None, None)):
    """A bus that declares one class in a zone of another."""
    return {
        "bus": [{"substation": "ELM", "bus": "B1", "nominal_voltage": 33.0, "declared_grounding": declared}],
        "zone_bus": [HERE],
        "zone": [HERE | {"grounding_class": computed}],
        "bus_fault": [FAULT | {"cog": cog, "cog_low": bounds[0], "cog_high": bounds[1]}],
        "ground_source": [SOURCE | {"treatment": treatment}] if treatment else [],
        "policy": {"effective_cog": 0.75},
    }


RULE = Rule(
    title="The computed grounding class contradicts the declared grounding",
    severity="high",
    why="Insulation, arresters and relays are chosen by the declared grounding. Where the network is grounded "
    "otherwise, they meet a voltage they do not bear or a current they do not see.",
    basis="IEEE C62.92.1, classes of system grounding, effectively grounded at a coefficient of grounding of 0.8 "
    "(clauses recalled)",
    asks="bus",
    inputs=(
        "bus.declared_grounding",
        "zone.grounding_class",
        "bus_fault.cog",
        "neutral_device.resistance",
    ),
    policy={"effective_cog": "grounding.effective_cog"},
    formula="effective: COG = U_healthy / U_LL <= COG_effective",
    query="""
        WITH agrees (declared, computed) AS (
            VALUES ('solid', 'effective'), ('solid', 'solid'), ('solid', 'solid_not_effective'),
                   ('effective', 'effective'),
                   ('resistance', 'resistance'), ('resistance', 'low_resistance'), ('resistance', 'high_resistance'),
                   ('low_resistance', 'low_resistance'), ('high_resistance', 'high_resistance'),
                   ('reactance', 'reactance'), ('reactance', 'effective'),
                   ('resonant', 'resonant'), ('ungrounded', 'ungrounded')
        ),
        open (declared, computed) AS (
            -- A size, or a coefficient of grounding, that is not known decides these.
            VALUES ('low_resistance', 'resistance'), ('high_resistance', 'resistance'),
                   ('effective', 'solid'), ('effective', 'solid_not_effective'), ('effective', 'reactance'),
                   ('effective', 'resistance'), ('effective', 'low_resistance')
        ),
        coil AS (SELECT DISTINCT zone FROM study.ground_source WHERE treatment = 'arc_suppression_coil'),
        unsized AS (
            SELECT n.zone, min({'home': d.substation, 'name': d.neutral_device}) AS device
            FROM study.neutral n
            JOIN inventory.neutral_device d
              ON d.substation = n.device_substation AND d.neutral_device = n.neutral_device
            WHERE d.kind = 'resistor' AND d.resistance IS NULL
            GROUP BY n.zone
        ),
        asked AS (
            SELECT b.substation, b.bus, b.declared_grounding AS declared, z.zone, f.cog,
                   coalesce(f.cog, f.cog_low) AS cog_least, coalesce(f.cog, f.cog_high) AS cog_most,
                   -- A resistor beside an arc-suppression coil does not make the zone less resonant.
                   if(c.zone IS NOT NULL AND z.grounding_class IN ('resistance', 'low_resistance', 'high_resistance')
                          AND declared = 'resonant', 'resonant', z.grounding_class) AS computed
            FROM inventory.bus b
            LEFT JOIN study.zone_bus p USING (substation, bus)
            LEFT JOIN study.zone z ON z.zone = p.zone
            LEFT JOIN coil c ON c.zone = p.zone
            LEFT JOIN study.bus_fault f ON f.substation = b.substation AND f.bus = b.bus AND f.condition = 'max'
            -- A bus that declares nothing contradicts nothing; one behind an infeed has a question of its own.
            WHERE b.declared_grounding IS NOT NULL AND z.grounding_class IS DISTINCT FROM 'grounded_by_infeed'
        )
        SELECT substation, 'bus' AS asset_kind, bus AS asset, bus, zone,
               replace(computed, '_', ' ')  AS actual,
               replace(declared, '_', ' ')  AS required,
               ''                           AS unit,
               CASE WHEN computed IS NULL THEN NULL
                    -- Small ohms may prove to ground the zone effectively.
                    WHEN declared = 'low_resistance' AND computed = declared AND cog IS NULL
                         AND cog_least <= $effective_cog THEN NULL
                    WHEN (declared, computed) IN (SELECT (declared, computed) FROM agrees) THEN TRUE
                    WHEN (declared, computed) NOT IN (SELECT (declared, computed) FROM open) THEN FALSE
                    WHEN declared = 'effective' AND cog_most <= $effective_cog THEN TRUE
                    WHEN declared = 'effective' AND cog_least > $effective_cog THEN FALSE END AS ok,
               cog,
               u.device.name  AS neutral_device,
               u.device.home  AS neutral_device_substation,
               [CASE WHEN computed IS NULL THEN 'zone.grounding_class'
                     WHEN declared IN ('effective', computed) THEN 'bus_fault.cog'
                     ELSE 'neutral_device.resistance' END] AS needs
        FROM asked
        LEFT JOIN unsized u USING (zone)
    """,
    message="bus {asset} is declared {required}; what is on record makes zone {zone} {actual}",
    working="declared: {required}\n"
    "computed from what grounds zone {zone}: {actual}\n"
    "coefficient of grounding at the bus: {cog:.2f} (effective up to {effective_cog:g})",
    remedy="correct the declaration to {actual}, or the record of what grounds zone {zone}; if the record is right, "
    "review the insulation, arresters and relays chosen for {required} grounding",
    caution="Until it is settled, take the zone for the worse of the two: no current for relays, line-to-line voltage "
    "to ground on the healthy phases.",
    cannot_see="Sees normal switching only; a zone that changes its grounding when a source is out is judged as it "
    "normally runs.",
    examples={
        "satisfied: solid and effective": inventory("solid", "effective"),
        "satisfied: solid and solid, not effective": inventory("solid", "solid_not_effective"),
        "satisfied: solid and solid, effectiveness not computed": inventory("solid", "solid"),
        "exception: solid and resistance": inventory("solid", "low_resistance"),
        "exception: solid and ungrounded": inventory("solid", "ungrounded"),
        "satisfied: effective and effective": inventory("effective", "effective"),
        "exception: effective and ungrounded": inventory("effective", "ungrounded"),
        "exception: effective, coefficient of grounding above the limit": inventory("effective", "reactance", 0.76),
        "satisfied: effective, coefficient of grounding at the limit": inventory("effective", "reactance", 0.75),
        "satisfied: effective here, not elsewhere in the zone": inventory("effective", "solid_not_effective", 0.7),
        "not assessable: effective, coefficient of grounding not computed": inventory("effective", "solid"),
        "not assessable: effective, reactance of unknown effect": inventory("effective", "reactance"),
        "not assessable: effective, resistance of unknown size": inventory("effective", "resistance"),
        "not assessable: effective, low resistance of unknown effect": inventory("effective", "low_resistance"),
        "satisfied: resistance and low resistance": inventory("resistance", "low_resistance"),
        "satisfied: resistance and high resistance": inventory("resistance", "high_resistance"),
        "satisfied: resistance and resistance": inventory("resistance", "resistance"),
        "satisfied: low resistance as computed": inventory("low_resistance", "low_resistance"),
        "satisfied: high resistance as computed": inventory("high_resistance", "high_resistance"),
        "exception: low resistance and high resistance": inventory("low_resistance", "high_resistance"),
        "not assessable: low resistance, size not on record": inventory("low_resistance", "resistance"),
        "not assessable: high resistance, size not on record": inventory("high_resistance", "resistance"),
        "satisfied: reactance and reactance": inventory("reactance", "reactance"),
        "satisfied: a reactor that grounds effectively": inventory("reactance", "effective"),
        "satisfied: resonant as computed": inventory("resonant", "resonant"),
        "satisfied: resonant, a resistor beside the coil": inventory("resonant", "high_resistance", treatment=COIL),
        "exception: resonant, and a resistor only": inventory("resonant", "high_resistance", treatment="resistor"),
        "exception: resonant, a solid link beside the coil": inventory("resonant", "solid", treatment=COIL),
        "exception: low resistance, and a coil": inventory("low_resistance", "high_resistance", treatment=COIL),
        "satisfied: ungrounded as computed": inventory("ungrounded", "ungrounded"),
        "exception: ungrounded and solid": inventory("ungrounded", "solid"),
        "satisfied: effective at the most that the record allows": inventory("effective", "solid", bounds=(0.6, 0.75)),
        "exception: not effective at the least": inventory("effective", "solid", bounds=(0.76, 0.9)),
        "not assessable: effective at the least only": inventory("effective", "solid", bounds=(0.75, 0.76)),
        "not assessable: a low resistance that may be effective": inventory(
            "low_resistance", "low_resistance", bounds=(0.75, 0.9)
        ),
        "satisfied: a low resistance that can't be effective": inventory(
            "low_resistance", "low_resistance", bounds=(0.76, 0.9)
        ),
        "not assessable: class not known": inventory("solid", None),
        "not assessable: its zone is not known": {
            "bus": [{"substation": "ELM", "bus": "B1", "declared_grounding": "solid"}]
        },
        "not applicable: nothing declared": inventory(None, "ungrounded"),
        "not applicable: behind an infeed": inventory("ungrounded", "grounded_by_infeed"),
    },
)
