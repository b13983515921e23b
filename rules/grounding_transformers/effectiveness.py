"""Grounding transformers that ground their bus less firmly than it needs."""

from math import inf

from groundcheck.audit import Rule

BANK = {"substation": "ELM", "grounding_transformer": "GT1", "bus": "B1", "z0": 8.0}
BUS = {"substation": "ELM", "bus": "B1", "nominal_voltage": 33.0}
SIZE = {"substation": "ELM", "grounding_transformer": "GT1", "zone": "ELM:B1", "x1_ohm": 1.0, "z0_ohm": 8.0,
        "effective_x0_ohm": 3.0, "transient_x0_ohm": 8.0}  # fmt: skip
TIED = {"zone": "ELM:B1", "substation": "ELM", "asset": "GT1", "kind": "grounding_transformer", "treatment": "solid"}
SCREEN = {"zone": "ELM:B1", "x0_over_x1": 8.0}
FAULT = {"substation": "ELM", "bus": "B1", "condition": "max", "cog": 0.75}


def inventory(meant=None, screen=None, fault=None, limit=8.0, cog_limit=0.75, tied=None, at="B1"):
    """A bank whose neutral is tied to the mat, at a bus that is meant to be grounded so."""
    return {
        "grounding_transformer": [BANK | {"bus": at}],
        "bus": [BUS | (meant or {})],
        "grounding_transformer_size": [SIZE],
        "ground_source": [TIED | (tied or {})],
        "transient_screen": [SCREEN | (screen or {})],
        "bus_fault": [FAULT | (fault or {})],
        "policy": {"ratio": limit, "effective_cog": cog_limit},
    }


SOLID, EFFECTIVE = {"declared_grounding": "solid"}, {"declared_grounding": "effective"}
FOUR_WIRE = {"neutral_wire": "multigrounded"}
RATIOS = {"x0_over_x1": None, "x0_over_x1_low": 6.0, "x0_over_x1_high": 8.0}
COGS = {"cog": None, "cog_low": 0.7, "cog_high": 0.75}

RULE = Rule(
    title="The grounding transformer grounds its bus less firmly than it needs",
    severity="medium",
    why="With too much zero-sequence impedance the sound phases rise towards line-to-line voltage, beyond what "
    "arresters and loads between line and neutral of an effectively grounded system bear; with still more, an arcing "
    "ground fault builds up overvoltage.",
    basis="IEEE C62.92.1, effective grounding at a coefficient of grounding of 0.8 (recalled); IEEE 142, 1.4.4, as "
    "quoted, X0/X1 of 10 or less",
    asks="grounding_transformer",
    inputs=(
        "grounding_transformer.z0",
        "bus.declared_grounding",
        "bus.neutral_wire",
        "bus_fault.cog",
        "transient_screen.x0_over_x1",
    ),
    policy={"effective_cog": "grounding.effective_cog", "ratio": "transient.reactance_ratio"},
    query="""
        WITH tied AS (
            SELECT g.substation, g.grounding_transformer, g.bus, g.z0, o.zone,
                   coalesce(b.declared_grounding IN ('effective', 'solid'), FALSE)
                       OR coalesce(b.neutral_wire = 'multigrounded', FALSE) AS firmly,
                   if(firmly, f.cog, t.x0_over_x1)           AS known,
                   if(firmly, f.cog_low, t.x0_over_x1_low)   AS actual_low,
                   if(firmly, f.cog_high, t.x0_over_x1_high) AS actual_high,
                   if(firmly, s.effective_x0_ohm, s.transient_x0_ohm) AS most_ohm, s.x1_ohm
            FROM inventory.grounding_transformer g
            JOIN study.ground_source o ON o.substation = g.substation AND o.asset = g.grounding_transformer
                                      AND o.kind = 'grounding_transformer' AND o.treatment = 'solid'
            LEFT JOIN study.transient_screen t ON t.zone = o.zone
            LEFT JOIN study.grounding_transformer_size s
                   ON s.substation = g.substation AND s.grounding_transformer = g.grounding_transformer
            LEFT JOIN inventory.bus b
                   ON b.substation || ':' || b.bus = if(contains(g.bus, ':'), g.bus, g.substation || ':' || g.bus)
            LEFT JOIN study.bus_fault f ON f.substation = b.substation AND f.bus = b.bus AND f.condition = 'max'
            WHERE t.resistor_a_high IS NULL  -- a resistor beside it damps the zone
        )
        SELECT substation, 'grounding_transformer' AS asset_kind, grounding_transformer AS asset, bus, zone, '' AS unit,
               if(firmly, 'effective', 'transient')  AS item,
               coalesce(known, actual_low)           AS least,
               coalesce(known, actual_high)          AS most,
               if(firmly, $effective_cog, $ratio)    AS required,
               -- An X0/X1 below zero is capacitive: no grounding to speak of.
               CASE WHEN most <= required AND least >= 0 THEN TRUE
                    WHEN least > required OR most < 0 THEN FALSE END AS ok,
               if(ok IS FALSE AND most >= 0, least, most) AS actual,
               actual_low, actual_high, z0, x1_ohm, most_ohm, 'max' AS condition,
               if(firmly, 'the coefficient of grounding', 'X0/X1')        AS what,
               if(firmly, 'effective grounding', 'arcing ground faults') AS sake,
               [if(firmly, 'bus_fault.cog', 'transient_screen.x0_over_x1')] AS needs
        FROM tied
    """,
    message="{asset}, tied to the mat, leaves {what} at {actual}; {required:g} or less is customary for {sake}",
    formula="effective: COG = V_healthy / V_LL <= 0.8, sized by X0 <= 3 X1; arcing faults: X0 <= 10 X1",
    working="{what} = {actual}\nlimit = {required:g}, for {sake}\n"
    "Z0 = {z0} ohm a phase, on record\n"
    "X1 at bus {bus} = {x1_ohm} ohm: X0 of {most_ohm} ohm or less",
    remedy="a grounding transformer of {most_ohm} ohm a phase or less, or a second one beside it; for arcing "
    "ground faults a resistor in its neutral serves as well",
    caution="A lower impedance raises the fault current: check relays, mat and the current rating first.",
    cannot_see="The ohms hold where nothing else grounds the zone. Firm grounding is asked for where the bus is "
    "declared solid or effective, or has a multigrounded neutral; that the class contradicts the declaration may be "
    "a finding of its own at the bus.",
    examples={
        "satisfied: exactly the ratio": inventory(),
        "exception: 8.1": inventory(screen={"x0_over_x1": 8.1}),
        "satisfied: 5": inventory(screen={"x0_over_x1": 5.0}),
        "exception: within a wide limit, not within a narrow one": inventory(limit=7.0),
        "exception: capacitive": inventory(screen={"x0_over_x1": -4.0}),
        "satisfied: none at all": inventory(screen={"x0_over_x1": 0.0}),
        "satisfied: declared solid, exactly the coefficient": inventory(SOLID, {"x0_over_x1": 9.0}),
        "exception: declared effective": inventory(EFFECTIVE, fault={"cog": 0.76}),
        "exception: multigrounded neutral": inventory(FOUR_WIRE, fault={"cog": 0.76}),
        "satisfied: single-grounded neutral": inventory({"neutral_wire": "unigrounded"}, fault={"cog": 0.76}),
        "satisfied: declared reactance": inventory({"declared_grounding": "reactance"}, fault={"cog": 0.9}),
        "exception: a stricter coefficient": inventory(SOLID, cog_limit=0.7),
        "satisfied: exactly the most that the record allows": inventory(screen=RATIOS),
        "not assessable: exactly the least that the record allows": inventory(screen=RATIOS, limit=6.0),
        "exception: beyond the least that the record allows": inventory(screen=RATIOS, limit=5.9),
        "not assessable: nothing at most": inventory(screen=RATIOS | {"x0_over_x1_low": -1.0, "x0_over_x1_high": 0.0}),
        "not assessable: coefficient between its ends": inventory(SOLID, fault=COGS, cog_limit=0.7),
        "not assessable: not known at all": inventory(screen=RATIOS | {"x0_over_x1_low": 0.0, "x0_over_x1_high": inf}),
        "satisfied: at the bus of another station": inventory(at="OAK:B1", fault={"cog": 0.76}, meant=SOLID),
        "not applicable: a resistor in its neutral": inventory(SOLID, tied={"treatment": "resistor"}),
        "not applicable: a resistor beside it": inventory(screen={"x0_over_x1": 9.0, "resistor_a_high": 400.0}),
    },
)
