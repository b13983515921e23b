"""Zones that nothing grounds, and that nobody has declared ungrounded."""

from groundcheck.audit import Rule

HERE = {"zone": "ELM:B1", "substation": "ELM", "bus": "B1"}
ZONE = HERE | {
    "nominal_kv": 33.0,
    "buses": 2,
    "ground_sources": 0,
    "has_ground_source": False,
    "supply_on_record": True,
}
OTHER = HERE | {"bus": "B2"}


def inventory(zone=ZONE, declared=None, first=None):
    """A zone of two buses, of which the second may declare its grounding."""
    bus = {"substation": "ELM", "nominal_voltage": 33.0}
    buses = [bus | {"bus": "B1", "declared_grounding": first}, bus | {"bus": "B2", "declared_grounding": declared}]
    return {"zone": [zone], "zone_bus": [HERE, OTHER], "bus": buses}


RULE = Rule(
    title="Nothing grounds the zone, and it is not declared ungrounded",
    severity="high",
    why="Without a ground source a ground fault draws no current that a relay could see: it stands, arcs, and raises "
    "the healthy phases to line-to-line voltage, which nobody expects of a system thought to be grounded.",
    basis="IEEE C62.92.1, ungrounded systems (clause recalled); that it must be declared: common practice, no source",
    asks="zone",
    inputs=("zone.has_ground_source", "zone.supply_on_record", "infeed.grounded", "bus.declared_grounding"),
    query="""
        WITH declared AS (
            SELECT p.zone, bool_or(b.declared_grounding = 'ungrounded') AS ungrounded
            FROM study.zone_bus p
            JOIN inventory.bus b USING (substation, bus)
            GROUP BY p.zone
        )
        SELECT z.substation, 'bus' AS asset_kind, z.bus AS asset, z.zone, z.bus,
               z.ground_sources    AS actual,
               1                   AS required,
               'ground source'     AS unit,
               -- What feeds the zone from beyond the record may ground it: until it is on record, it is not assessable.
               CASE WHEN z.has_ground_source OR d.ungrounded THEN TRUE
                    WHEN z.supply_on_record THEN z.has_ground_source END AS ok,
               z.nominal_kv, z.buses,
               NULL::VARCHAR AS infeed,
               ['zone.has_ground_source', if(z.supply_on_record, NULL, 'infeed.grounded')] AS needs
        FROM study.zone z
        LEFT JOIN declared d USING (zone)
    """,
    message="nothing on record grounds zone {zone} ({nominal_kv:g} kV, buses: {buses}), and none of its buses is "
    "declared ungrounded",
    working="ground sources on record: {actual}\nrequired: {required}, or a declaration that the zone is ungrounded",
    formula="ground sources >= 1",
    remedy="a grounding transformer or a grounded neutral in zone {zone}; or declare it ungrounded, rate its "
    "insulation for line-to-line voltage and give it ground detection",
    caution="Treat the zone as live to ground on all phases while a ground fault may stand unseen.",
    cannot_see="Does not know of supplies, transformers or switches that the record leaves out.",
    examples={
        "exception: no ground source, nothing declared": inventory(),
        "exception: no ground source, declared solid": inventory(declared="solid"),
        "satisfied: declared ungrounded on one of its buses": inventory(declared="ungrounded"),
        "satisfied: its buses declare two things, one of them ungrounded": inventory(
            declared="ungrounded", first="solid"
        ),
        "satisfied: a ground source": inventory(ZONE | {"has_ground_source": True, "ground_sources": 1}),
        "satisfied: a ground source, supply not on record": inventory(
            ZONE | {"has_ground_source": True, "supply_on_record": False}
        ),
        "satisfied: not known, declared ungrounded": inventory(ZONE | {"has_ground_source": None}, "ungrounded"),
        "not assessable: not known what grounds it": inventory(ZONE | {"has_ground_source": None}),
        "not assessable: no supply on record": inventory(ZONE | {"supply_on_record": False}),
        "not assessable: not known whether the supply is on record": inventory(ZONE | {"supply_on_record": None}),
        "exception: its buses are not on record": {"zone": [ZONE]},
    },
)
