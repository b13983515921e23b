"""Generators whose ground relays leave too much of the stator unprotected."""

from groundcheck.audit import Rule

MACHINE = {"substation": "ELM", "generator": "G1", "bus": "B1", "rated_voltage": 18.0}
NEUTRAL = {"substation": "ELM", "asset_kind": "generator", "asset": "G1", "zone": "ELM:B1", "neutral_device": "NGT1"}
# Handbook section 5: 18 kV, distribution transformer 75:1, 138.6 V; a 59N at 5.4 V covers 0.961.
COVER = {"substation": "ELM", "generator": "G1", "relay_substation": "ELM", "ground_relay": "R1",
         "quantity_kind": "voltage", "pickup": 405.0, "full": 10392.0, "coverage": 0.961}  # fmt: skip


def at(share, low=None, high=None):
    """The relay with this coverage, or its bounds."""
    return COVER | {"coverage": share, "coverage_low": low, "coverage_high": high}


def inventory(*covers, by="distribution_transformer", of="high_resistance", functions=("59N", "51G"), harmonic=False):
    """A machine, what grounds it, and its relays; R9 watches the third harmonic."""
    tags = {"R1": functions[0], "R2": functions[1], "R9": "27TN" if harmonic else "59N"}
    watch = {"substation": "ELM", "watcher_kind": "ground_relay", "watcher": "R9", "zone": "ELM:B1", "placed": True}
    relays = [{"substation": "ELM", "ground_relay": tag, "function": function} for tag, function in tags.items()]
    zones, neutrals = [{"zone": "ELM:B1", "grounding_class": of}], [NEUTRAL | {"treatment": by}]
    tables = {"generator": [MACHINE], "neutral": neutrals, "zone": zones, "ground_relay": relays}
    return tables | {"stator_coverage": covers, "ground_watch": [watch]}


RULE = Rule(
    title="Ground relays leave too much of a generator's stator unprotected",
    severity="medium",
    why="Near the neutral a ground fault drives too little to pick up and stands unseen. A second one makes it a short "
    "circuit of many turns, which melts the core: the machine is out for months.",
    basis="IEEE C37.101, 90 to 95 % by a neutral overvoltage relay (recalled); low resistance: common practice",
    asks="generator",
    inputs=("generator.bus", "stator_coverage.coverage", "ground_relay.function", "zone.grounding_class"),
    policy={
        "unit": "generator.stator_coverage_unit",
        "other": "generator.stator_coverage_other",
        "whole": "generator.whole_stator_functions",
    },
    query="""
        WITH machine AS (
            SELECT n.substation, n.asset AS generator, any_value(n.zone) AS zone,
                   bool_or(n.treatment = 'distribution_transformer' OR z.grounding_class = 'high_resistance')
                       AS high_resistance,
                   bool_and(z.grounding_class IN ('low_resistance', 'reactance', 'effective', 'solid_not_effective'))
                       AS low_resistance
            FROM study.neutral n LEFT JOIN study.zone z USING (zone)
            WHERE n.asset_kind = 'generator' AND n.treatment IN ('distribution_transformer', 'resistor') GROUP BY ALL
        ),
        relay AS (
            -- A relay whose function is not on record may measure volts or amperes.
            SELECT c.substation, c.generator, c.relay_substation, c.ground_relay, c.pickup, c.full AS seen, r.function,
                   c.coverage, c.coverage_low, c.coverage_high, if(c.quantity_kind = 'voltage', 'V', 'A') AS unit,
                   if(r.function IS NULL, 0, coalesce(c.coverage, c.coverage_low, 0))   AS least,
                   if(r.function IS NULL, 1, coalesce(c.coverage, c.coverage_high, 1))  AS most
            FROM study.stator_coverage c
            LEFT JOIN inventory.ground_relay r ON r.substation = c.relay_substation AND r.ground_relay = c.ground_relay
        ),
        best AS (
            SELECT substation, generator, max(least) AS least, max(most) AS most,
                   max(coverage_low) AS low, max(coverage_high) AS high,
                   arg_max({'home': relay_substation, 'tag': ground_relay, 'pickup': pickup, 'seen': seen,
                            'function': function, 'coverage': coverage, 'unit': unit}, most) AS top
            FROM relay GROUP BY ALL
        ),
        whole AS (
            SELECT DISTINCT w.zone, TRUE AS whole
            FROM study.ground_watch w
            JOIN inventory.ground_relay r ON r.substation = w.substation AND r.ground_relay = w.watcher
            WHERE w.placed AND regexp_matches(upper(regexp_replace(r.function, '[ ._-]', '', 'g')), $whole)
        )
        SELECT g.substation, 'generator' AS asset_kind, g.generator AS asset,
               if(m.high_resistance, $unit, $other)  AS required_low,
               if(m.low_resistance AND m.high_resistance IS NOT TRUE, $other, $unit)  AS required_high,
               if(w.whole, 1, b.least)               AS covered,
               CASE WHEN covered >= required_high THEN TRUE
                    WHEN b.most < required_low THEN FALSE END AS ok,
               if(ok IS FALSE, b.most, covered) AS actual, if(ok IS FALSE, required_low, required_high) AS required,
               'pu' AS unit, b.low AS actual_low, b.high AS actual_high,
               b.top.pickup AS pickup, b.top.seen AS seen, b.top.function AS function, b.top.unit AS of,
               (1 - required) * b.top.seen AS wanted,
               m.zone, b.top.tag AS ground_relay, b.top.home AS ground_relay_substation, b.top.home AS relay_substation,
               [if(b.top.coverage IS NULL, 'stator_coverage.coverage', NULL),
                if(b.top.function IS NULL, 'ground_relay.function', NULL),
                if(required_low < required_high, 'zone.grounding_class', NULL)] AS needs
        FROM machine m
        JOIN inventory.generator g USING (substation, generator)
        JOIN best b USING (substation, generator)
        LEFT JOIN whole w ON w.zone = m.zone
    """,
    message="ground relays of {asset} protect {actual:.1%} of its stator at best ({ground_relay}, {function}); "
    "{required:.0%} is asked for",
    formula="coverage = 1 - pickup / full\ncoverage >= c",
    working="full = {seen} {of}, what {ground_relay} sees in a solid fault at the terminals\n"
    "1 - {pickup} {of} / {seen} {of} = {actual:.3f}\nc = {required:.2f}",
    remedy="pickup of {ground_relay} at {wanted} {of} or less, or a relay for the neutral end beside it",
    caution="A sensitive relay also sees unbalance and third harmonic of a sound machine: measure them first.",
    cannot_see="Of a third-harmonic or injection relay it sees the function, not how far it reaches. Phase "
    "differential relays, which see heavy ground faults, are not in the record.",
    examples={
        "satisfied: handbook example, 96 %": inventory(COVER),
        "exception: 89 % behind a distribution transformer": inventory(at(0.89)),
        "satisfied: exactly 90 %": inventory(at(0.9)),
        "satisfied: the better of two": inventory(at(0.5), COVER | {"ground_relay": "R2"}),
        "exception: 79 % behind a low resistance": inventory(at(0.79), by="resistor", of="low_resistance"),
        "satisfied: exactly 80 %": inventory(at(0.8), by="resistor", of="low_resistance"),
        "exception: 89 % behind a high resistance": inventory(at(0.89), by="resistor"),
        "exception: distribution transformer, class not known": inventory(at(0.85), of=None),
        "exception: the same, and a low resistance beside it": inventory(at(0.85), of="low_resistance"),
        "satisfied: 50 %, a third-harmonic relay beside it": inventory(at(0.5), harmonic=True),
        "satisfied: exactly the least that the record allows": inventory(at(None, 0.9, 0.95)),
        "exception: below it at the most that the record allows": inventory(at(None, 0.7, 0.89)),
        "not assessable: exactly there at the most that the record allows": inventory(at(None, 0.7, 0.9)),
        "not assessable: function not on record": inventory(COVER, functions=(None, None)),
        "not assessable: one relay below, the other not known": inventory(at(0.5), at(None) | {"ground_relay": "R2"}),
        "not assessable: 85 %, size of the resistor not on record": inventory(at(0.85), by="resistor", of=None),
        "not applicable: reactor": inventory(at(0.5), by="reactor"),
        "not applicable: no ground relay, another rule's question": inventory(),
    },
)
