"""Generators that a line-to-ground fault loads harder than the three-phase fault they are braced for."""

from groundcheck.audit import Rule

HERE = {"substation": "ELM"}
# 10 kV and 100 MVA with x'' = 0.20: 0.2 ohm, 28.87 kA in a three-phase fault of its own.
G1 = HERE | {"generator": "G1", "bus": "B1", "rated_voltage": 10.0, "rated_power": 100.0, "xd_subtransient": 0.2,
             "x2": 0.2, "x0": 0.1}  # fmt: skip
LINK = HERE | {"asset_kind": "generator", "asset": "G1", "winding": "", "bus": "B1", "treatment": "solid"}
FAULT = HERE | {"bus": "B1", "condition": "max", "r1_ohm": 0.0, "x1_ohm": 0.2, "r2_ohm": 0.0, "x2_ohm": 0.2}
OWN = HERE | {"bus": "B1", "source_substation": "ELM", "source_kind": "generator", "source": "G1"}
BRACED = 100 / 3**0.5 / 10 / 0.2  # kA


def inventory(ground_ka, own_a=None, fault=None, treatment="solid", machine=None, **policy):
    """A generator with its neutral treated so, line-to-ground current at its bus, current through its neutral."""
    low, high = ground_ka if isinstance(ground_ka, tuple) else (ground_ka, ground_ka)
    known = low if low == high else None
    currents = {"line_to_ground_ka": known, "line_to_ground_ka_low": low, "line_to_ground_ka_high": high}
    through = None if known is None else 1000 * known if own_a is None else own_a
    return {
        "generator": [G1 | (machine or {})],
        "neutral": [LINK | {"treatment": treatment}],
        "bus_fault": [FAULT | currents | (fault or {}), FAULT | {"condition": "min", "line_to_ground_ka": 99.0}],
        "contribution": [OWN | {"current_a": through}, OWN | {"source": "G2", "current_a": 1.0}],
        "policy": {"braced": 1.0} | policy,
    }


RULE = Rule(
    title="A line-to-ground fault loads the generator harder than a three-phase fault",
    severity="high",
    why="Windings and their bracing are made for the forces of a three-phase fault at the terminals. A machine's "
    "zero-sequence reactance is far below the others, so that with its neutral on a solid link a line-to-ground fault "
    "drives more than that through the faulted phase and can tear the end windings loose.",
    basis="IEEE C62.92.2, grounding of generators, and IEC 60034-1, withstand of a three-phase short circuit (clauses "
    "recalled)",
    asks="generator",
    inputs=(
        "generator.x0",
        "generator.xd_subtransient",
        "generator.rated_power",
        "generator.rated_voltage",
        "neutral.treatment",
        "bus_fault.line_to_ground_ka",
        "contribution.current_a",
    ),
    policy={"braced": "return_path.machine_current"},
    formula='I_m = I_LG/3 (Z1/X" + Z2/X2) + 3I0_m/3 <= k V / (sqrt(3) X"), X" and X2 those of the machine, Z1 and Z2 '
    "those at its bus",
    query="""
        WITH machine AS (
            SELECT substation, asset AS generator, min(bus) AS bus, string_agg(DISTINCT treatment, ', ') AS treatments
            FROM study.neutral
            WHERE asset_kind = 'generator' AND treatment IN ('solid', 'reactor', 'resistor')
            GROUP BY ALL
        ),
        seen AS (
            SELECT m.*, 'generator' AS source_kind, m.generator AS source,
                   f.line_to_ground_ka AS ground_ka, f.line_to_ground_ka_low, f.line_to_ground_ka_high,
                   g.xd_subtransient * g.rated_voltage ** 2 / nullif(g.rated_power, 0) AS machine_1_ohm,
                   coalesce(g.x2, g.xd_subtransient) * g.rated_voltage ** 2 / nullif(g.rated_power, 0)
                       AS machine_2_ohm,
                   sqrt(f.r1_ohm ** 2 + f.x1_ohm ** 2) / nullif(machine_1_ohm, 0) AS share_1,
                   sqrt(f.r2_ohm ** 2 + f.x2_ohm ** 2) / nullif(machine_2_ohm, 0) AS share_2,
                   c.current_a / 1000                                       AS through_ka,
                   ground_ka / 3 * (share_1 + share_2) + through_ka / 3     AS own_ka,
                   g.rated_voltage / sqrt(3) / nullif(machine_1_ohm, 0) AS three_ka
            FROM machine m
            LEFT JOIN inventory.generator g USING (substation, generator)
            LEFT JOIN study.bus_fault f
                   ON f.substation || ':' || f.bus = if(contains(m.bus, ':'), m.bus, m.substation || ':' || m.bus)
                      AND f.condition = 'max'
            LEFT JOIN study.contribution c
                   ON c.substation = f.substation AND c.bus = f.bus AND c.source_kind = 'generator'
                      AND c.source_substation = m.substation AND c.source = m.generator
        )
        SELECT substation, 'generator' AS asset_kind, generator AS asset, bus, 'max' AS condition, source_kind, source,
               -- The machine carries no more than the whole current of the fault.
               coalesce(own_ka, ground_ka, line_to_ground_ka_high) AS most_ka,
               own_ka AS actual, three_ka * $braced AS required, 'kA' AS unit,
               CASE WHEN most_ka <= required THEN TRUE WHEN own_ka IS NOT NULL AND required IS NOT NULL THEN FALSE END
                   AS ok,
               own_ka * line_to_ground_ka_low / nullif(ground_ka, 0)  AS actual_low,
               own_ka * line_to_ground_ka_high / nullif(ground_ka, 0) AS actual_high,
               ground_ka, three_ka, share_1, share_2, through_ka, machine_1_ohm, treatments
        FROM seen
    """,
    message="{asset} ({treatments} in its neutral): a line-to-ground fault at bus {bus} drives {actual} kA through "
    "its faulted phase, a three-phase fault {three_ka} kA",
    working="at the bus I_LG = {ground_ka} kA; from the machine come {share_1:.2f} of its positive and "
    "{share_2:.2f} of its negative sequence, and 3I0_m = {through_ka} kA\n"
    "I_m = {ground_ka}/3 ({share_1:.2f} + {share_2:.2f}) + {through_ka}/3 = {actual} kA\n"
    'three-phase: V / (sqrt(3) X") = {three_ka} kA with X" = {machine_1_ohm} ohm\n'
    "k = {braced:g}: {required} kA",
    remedy="a resistor in the neutral of {asset}, or a reactor that brings I_m to {required} kA or less",
    caution="Take the neutral for live while the machine turns, excited or not.",
    cannot_see="Adds moduli, as if all currents were in phase; the decaying and the DC part are not weighed. A blank "
    "x2 counts as the subtransient reactance.",
    examples={
        # By hand: alone on its bus and X0 = X1 = X2, 3 V / (3 X) is the three-phase current.
        "satisfied: alone, as much as in a three-phase fault": inventory(BRACED),
        "exception: alone, more": inventory(1.01 * BRACED),
        "satisfied: braced for more": inventory(1.01 * BRACED, braced=1.1),
        # By hand, in pu of the machine: behind a unit transformer Z1 = 0.43 X", I_LG = 3 x 4.4, all of 3I0 its own:
        # 2 x 4.4 x 0.43 + 4.4 = 8.2 against 1 / 0.17 = 5.9.
        "exception: the bus has another supply and no other ground": inventory(
            13.2 * 5.774, fault={"x1_ohm": 0.0731, "x2_ohm": 0.0731}, machine={"xd_subtransient": 0.17, "x2": 0.17}
        ),
        "satisfied: others carry most of the ground current": inventory(
            1.2 * BRACED, 2000.0, fault={"x1_ohm": 0.1, "x2_ohm": 0.1}
        ),
        "satisfied: a resistor": inventory(0.4, treatment="resistor"),
        "exception: a small reactor": inventory(1.01 * BRACED, treatment="reactor"),
        "satisfied: even all of the larger bound": inventory((5.0, BRACED)),
        "not assessable: its share is not known": inventory((5.0, 1.01 * BRACED)),
        "not assessable: reactance not on record": inventory(20.0, machine={"xd_subtransient": None}),
        "not assessable: currents not computed": inventory(None),
        "not assessable: its bus is not on record": {"generator": [G1], "neutral": [LINK]},
        "not applicable: a distribution transformer": inventory(99.0, treatment="distribution_transformer"),
        "not applicable: open": inventory(99.0, treatment="open"),
        "not applicable: not on record": inventory(99.0, treatment=None),
        "not applicable: a transformer": {"neutral": [LINK | {"asset_kind": "transformer"}]},
    },
)
