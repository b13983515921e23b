"""Zones grounded otherwise than is customary at their voltage."""

from groundcheck.audit import Rule

HERE = {"zone": "ELM:B1", "substation": "ELM", "bus": "B1"}
CUSTOMS = {name: f"return_path.{name}" for name in ("solid_above", "impedance_below", "customary_from")}
HERE_MAX = {"substation": "ELM", "bus": "B1", "condition": "max"}
FAR = HERE_MAX | {"condition": "min", "cog_low": 0.1}
INFEED = {"substation": "ELM", "infeed": "I1", "bus": "B1"}
T1 = {"zone": "ELM:B1", "substation": "ELM", "asset": "T1", "kind": "transformer"}
ET = T1 | {"kind": "grounding_transformer", "treatment": "solid"}


def inventory(kv, grounding_class, wires=("none",), treatment="solid", infeeds=(), cog=(None, 1.0), **policy):
    """A zone of this voltage and class, the neutral wires of its buses, and what grounds it."""
    bus = {"substation": "ELM", "nominal_voltage": kv}
    return {
        "zone": [HERE | {"nominal_kv": kv, "grounding_class": grounding_class}],
        "zone_bus": [HERE | {"bus": f"B{n}"} for n in range(1, len(wires) + 1)],
        "bus": [bus | {"bus": f"B{n}", "neutral_wire": wire} for n, wire in enumerate(wires, start=1)],
        "ground_source": [T1 | {"treatment": treatment}, T1 | {"zone": "OAK:B9", "treatment": "solid"}],
        "infeed": [*infeeds],
        "bus_fault": [HERE_MAX | {"cog_low": cog[0], "cog": cog[1]}, FAR],
        "policy": {"effective_cog": 0.8} | policy,
    }


RULE = Rule(
    title="The zone is not grounded as is customary at its voltage",
    severity="low",
    why="High-voltage plant is customarily bought for solidly grounded systems, with insulation and arresters to "
    "match. At medium voltage without a neutral wire, a solid ground lets kiloamperes burn cores and structures that "
    "an impedance would keep to hundreds of amperes. What departs from custom is to be meant so.",
    basis="common practice, no source",
    asks="zone",
    inputs=("zone.grounding_class", "bus.neutral_wire", "infeed.grounded", "bus_fault.cog"),
    policy=CUSTOMS | {"effective_cog": "grounding.effective_cog"},
    formula="U_n > U_solid: solid, reactance or resonant; U_LV < U_n < U_impedance without a neutral wire: not solid",
    query="""
        WITH wire AS (
            SELECT p.zone, bool_or(b.neutral_wire <> 'none') AS four_wire,
                   min({'home': b.substation, 'name': b.bus}) FILTER (b.neutral_wire IS NULL) AS blank
            FROM study.zone_bus p JOIN inventory.bus b USING (substation, bus) GROUP BY p.zone
        ),
        infeed AS (
            -- An infeed of which the record does not say whether it is grounded may ground the zone solidly.
            SELECT p.zone, arg_min({'home': i.substation, 'name': i.infeed}, i.infeed) AS unsaid
            FROM inventory.infeed i JOIN study.zone_bus p
              ON p.substation || ':' || p.bus = if(contains(i.bus, ':'), i.bus, i.substation || ':' || i.bus)
            WHERE i.grounded IS NULL AND i.fault_current_1ph IS NULL GROUP BY p.zone
        ),
        link AS (
            -- A grounding transformer is an impedance by itself.
            SELECT DISTINCT zone FROM study.ground_source WHERE treatment = 'solid' AND kind <> 'grounding_transformer'
        ),
        asked AS (
            SELECT z.zone, z.substation AS home, z.bus AS named, z.nominal_kv, z.grounding_class AS class,
                   z.nominal_kv > $solid_above      AS is_high,
                   z.nominal_kv < $impedance_below  AS is_medium,
                   -- Small impedances may ground a zone effectively.
                   class LIKE 'solid%' OR (class = 'effective' AND l.zone IS NOT NULL)  AS is_solid,
                   class <> 'ungrounded' AND f.cog IS NULL AND f.cog_low <= $effective_cog AS may_be_effective,
                   class IN ('ungrounded', 'high_resistance', 'low_resistance', 'resistance')  AS is_weak,
                   w.* EXCLUDE (zone), i.unsaid
            FROM study.zone z
            LEFT JOIN wire w USING (zone)
            LEFT JOIN link l ON l.zone = z.zone
            LEFT JOIN infeed i ON i.zone = z.zone
            LEFT JOIN study.bus_fault f ON f.substation = z.substation AND f.bus = z.bus AND f.condition = 'max'
            WHERE z.nominal_kv > $customary_from
        )
        SELECT CASE WHEN (is_medium AND four_wire) OR NOT (is_high OR is_medium) THEN TRUE
                    WHEN unsaid IS NOT NULL AND NOT is_solid OR is_high AND is_weak AND may_be_effective THEN NULL
                    WHEN is_high THEN NOT is_weak
                    WHEN is_solid AND blank IS NOT NULL THEN NULL
                    ELSE NOT is_solid END AS ok,
               -- Where a neutral wire may be carried, the bus whose record does not say is the one to look at.
               is_solid AND ok IS NULL AS wire_decides,
               if(wire_decides, blank.home, home) AS substation, 'bus' AS asset_kind,
               if(wire_decides, blank.name, named) AS asset, zone, nominal_kv,
               replace(class, '_', ' ')  AS actual,
               if(is_high, 'solidly grounded', 'grounded through an impedance, or ungrounded')  AS required,
               '' AS unit, unsaid.name AS infeed, unsaid.home AS infeed_substation,
               named AS bus, home AS bus_substation, 'max' AS condition,
               [CASE WHEN class IS NULL THEN 'zone.grounding_class' WHEN is_solid THEN 'bus.neutral_wire'
                     WHEN unsaid IS NULL THEN 'bus_fault.cog' ELSE 'infeed.grounded' END] AS needs
        FROM asked
    """,
    message="zone {zone} ({nominal_kv:g} kV) is {actual}; at that voltage systems are customarily {required}",
    working="{nominal_kv:g} kV: above {solid_above:g} kV solid is customary, below {impedance_below:g} kV an impedance "
    "or none, but for lines with a neutral wire\n"
    "computed class of the zone: {actual}",
    remedy="if it is meant so, a waiver that gives the reason; if not, a study of how to make it {required}",
    caution="A change of grounding changes fault currents, relays and insulation duties all over the zone.",
    cannot_see="Customs differ by country and age; this says that a zone is unusual, not that it is unsafe.",
    examples={
        "exception: 110 kV, ungrounded": inventory(110.0, "ungrounded"),
        "not assessable: an infeed may ground it": inventory(66.0, "low_resistance", infeeds=[INFEED]),
        "satisfied: an infeed, solid without it": inventory(110.0, "solid", infeeds=[INFEED]),
        "exception: an infeed, not grounded": inventory(66.0, "ungrounded", infeeds=[INFEED | {"grounded": False}]),
        "satisfied: exactly the limit of solid, low resistance": inventory(40.0, "low_resistance"),
        "exception: just above that limit": inventory(40.1, "low_resistance"),
        "satisfied: exactly the limit of impedance, solid": inventory(30.0, "solid"),
        "exception: just below that limit": inventory(29.9, "solid"),
        "exception: 11 kV, effective by a solid link": inventory(11.0, "effective"),
        "satisfied: 11 kV, effective by a small reactor": inventory(11.0, "effective", treatment="reactor"),
        "not assessable: 66 kV, may be effective": inventory(66.0, "low_resistance", cog=(0.8, None)),
        "exception: 66 kV, can't be effective": inventory(66.0, "low_resistance", cog=(0.81, None)),
        "not assessable: by an owner's limit": inventory(66.0, "resistance", cog=(0.81, None), effective_cog=0.9),
        "satisfied: effective by a grounding transformer": inventory(11.0, "effective") | {"ground_source": [ET]},
        "satisfied: 11 kV, low resistance": inventory(11.0, "low_resistance", (None,)),
        "satisfied: one of its buses has a neutral wire": inventory(11.0, "solid", ("unigrounded", "none", None)),
        "not assessable: 11 kV, solid, neutral wire not on record": inventory(11.0, "solid", (None,)),
        "not assessable: of one bus": inventory(11.0, "solid", ("none", None)),
        "not assessable: class not known": inventory(11.0, None),
        "not applicable: exactly the limit of low voltage": inventory(1.0, "solid"),
        "exception: just above low voltage": inventory(1.1, "solid"),
        "not applicable: 1.1 kV where that is low voltage": inventory(1.1, "solid", customary_from=1.2),
    },
)
