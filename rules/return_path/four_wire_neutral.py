"""Lines with a neutral wire whose zone is not effectively grounded."""

from groundcheck.audit import Rule

HERE = {"substation": "ELM", "bus": "B1"}
ZONE = {"zone": "ELM:B1"}
FAULT = HERE | {"condition": "max", "healthy_phase_kv": 9.0, "neutral_shift_kv": 4.0}


def inventory(cog, wire="multigrounded", bounds=(None, None), **policy):
    """A bus of 12.47 kV with this coefficient of grounding, whose lines carry a neutral wire."""
    fault = FAULT | {"cog": cog, "cog_low": bounds[0], "cog_high": bounds[1]}
    return {
        "bus": [HERE | {"nominal_voltage": 12.47, "neutral_wire": wire}],
        "zone_bus": [HERE | ZONE],
        "zone": [HERE | ZONE | {"grounding_class": "low_resistance"}],
        "bus_fault": [fault, FAULT | {"condition": "min", "cog": 0.99}],
        "policy": {"effective_cog": 0.8} | policy,
    }


RULE = Rule(
    title="Lines carry a neutral wire, and their zone is not effectively grounded",
    severity="high",
    why="Loads between line and neutral are made for line-to-neutral voltage. With a neutral wire grounded along the "
    "line, a ground fault puts the healthy phases' voltage on them and burns them out; a wire grounded at its source "
    "only rises to the neutral's voltage all along the line, within reach of people.",
    basis="IEEE C62.92.4, four-wire distribution systems, and C62.92.1, coefficient of grounding up to 0.8 (clauses "
    "recalled)",
    asks="bus",
    inputs=("bus.neutral_wire", "bus_fault.cog", "bus_fault.healthy_phase_kv", "zone.grounding_class"),
    policy={"effective_cog": "grounding.effective_cog"},
    formula="COG = U_healthy / U_LL <= COG_effective",
    query="""
        WITH seen AS (
            SELECT b.substation, b.bus, b.neutral_wire, b.nominal_voltage, z.zone, z.grounding_class,
                   f.* EXCLUDE (substation, bus, condition),
                   coalesce(f.cog, f.cog_low) AS cog_least, coalesce(f.cog, f.cog_high) AS cog_most
            FROM inventory.bus b
            LEFT JOIN study.zone_bus p USING (substation, bus)
            LEFT JOIN study.zone z ON z.zone = p.zone
            LEFT JOIN study.bus_fault f ON f.substation = b.substation AND f.bus = b.bus AND f.condition = 'max'
            WHERE b.neutral_wire <> 'none'
        )
        SELECT substation, 'bus' AS asset_kind, bus AS asset, bus, zone, 'max' AS condition,
               CASE WHEN cog_most <= $effective_cog THEN TRUE WHEN cog_least > $effective_cog THEN FALSE END AS ok,
               if(ok IS FALSE, cog_least, cog_most)  AS actual,
               $effective_cog                        AS required,
               'pu'                                  AS unit,
               cog_low AS actual_low, cog_high AS actual_high,
               nominal_voltage AS nominal_kv, nominal_voltage / sqrt(3) AS ln_kv, actual * nominal_kv AS healthy_kv,
               neutral_shift_kv AS shift_kv, neutral_wire,
               coalesce(replace(grounding_class, '_', ' '), 'of unknown class') AS class,
               ['bus_fault.cog'] AS needs
        FROM seen
    """,
    message="bus {asset} feeds lines with a neutral wire ({neutral_wire}), and its zone is {class}: in a ground fault "
    "the healthy phases rise to {healthy_kv} kV, {ln_kv} kV being normal",
    working="coefficient of grounding at bus {asset}: {actual:.3f}; effectively grounded up to {required:g}\n"
    "healthy phases to ground: {actual:.3f} x {nominal_kv:g} kV = {healthy_kv} kV\n"
    "shift of the neutral: {shift_kv} kV\nloads between line and neutral are made for {ln_kv} kV",
    remedy="effective grounding of zone {zone}, so that the coefficient is {required:g} or less; or no load between "
    "line and neutral, and the record of the neutral wire corrected",
    caution="Take the neutral wire for live: a ground fault can bring it to line-to-neutral voltage.",
    cannot_see="Judges the bus with all ground sources in service; along the lines the coefficient may be higher.",
    examples={
        "satisfied: exactly effective": inventory(0.8),
        "exception: above it": inventory(0.81),
        "satisfied: below it": inventory(0.6),
        "exception: an owner's limit": inventory(0.8, effective_cog=0.7),
        "exception: grounded at its source only": inventory(1.0, "unigrounded"),
        "satisfied: upper bound exactly effective": inventory(None, bounds=(0.6, 0.8)),
        "exception: lower bound above it": inventory(None, bounds=(0.81, 0.9)),
        "not assessable: lower bound exactly effective": inventory(None, bounds=(0.8, 0.9)),
        "not assessable: not computed": inventory(None),
        "not applicable: no neutral wire": inventory(1.0, "none"),
        "not applicable: not on record": inventory(1.0, None),
    },
)
