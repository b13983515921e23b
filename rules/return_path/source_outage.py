"""Zones that stay live and lose their ground, or its effect, when one ground source is out."""

from groundcheck.audit import Rule

HERE = {"zone": "ELM:B1", "substation": "ELM", "bus": "B1"}
X1 = {"zone": "ELM:B1", "source_substation": "ELM", "source": "X1", "sources_left": 0}
FAULT = {"substation": "ELM", "bus": "B1", "condition": "max"}
T1, T2 = ({"substation": "ELM", "transformer": tag, "hv_bus": "B9", "lv_bus": bus} for tag, bus in
          (("T1", "B1"), ("T2", "ELM:B1")))  # fmt: skip


def inventory(result="ungrounded", kind="transformer", grounding_class="effective", supplies=(T1, T2), **zone):
    """A zone that some transformers feed, and what is left of it with its ground source X1 out."""
    return {
        "zone": [HERE | {"grounding_class": grounding_class, "nominal_kv": 33.0, "has_ground_source": True} | zone],
        "zone_bus": [HERE],
        "transformer": [*supplies],
        "bus_fault": [FAULT, FAULT | {"condition": "min"}],
        "source_outage": [X1 | {"source_kind": kind, "result": result}],
    }


RULE = Rule(
    title="The zone stays live and loses its ground, or its effect, with one ground source out",
    severity="high",
    why="A ground source is taken out for maintenance, or trips. What stays live without it has no ground-fault "
    "current that relays could see, or healthy phases that rise above what insulation and arresters were chosen for; "
    "the fault may stand unseen.",
    basis="IEEE C62.92.1, grounding to be judged for the switching that may occur (clause recalled); one source out at "
    "a time: common practice",
    asks="zone",
    inputs=(
        "source_outage.result",
        "source_outage.cog",
        "zone.grounding_class",
        "zone.has_ground_source",
        "bus_fault.cog",
    ),
    policy={"effective_cog": "grounding.effective_cog"},
    formula="with any one source out: sources left >= 1, and COG = U_healthy / U_LL <= COG_effective if it was before",
    query="""
        WITH feeding AS (
            SELECT substation, lv_bus AS bus FROM inventory.transformer
            UNION ALL SELECT substation, bus FROM inventory.generator
            UNION ALL SELECT substation, bus FROM inventory.infeed
        ),
        fed AS (
            SELECT p.zone, count(*) AS supplies
            FROM feeding f
            JOIN study.zone_bus p
              ON p.substation || ':' || p.bus = if(contains(f.bus, ':'), f.bus, f.substation || ':' || f.bus)
            GROUP BY p.zone
        )
        SELECT z.substation, 'bus' AS asset_kind, z.bus AS asset, z.zone, z.bus, 'max' AS condition,
               replace(o.source_kind, '_', ' ') || ' ' || o.source_substation || ':' || o.source  AS item,
               o.source_kind, o.source, o.source_substation,
               CASE WHEN o.result = 'kept' THEN TRUE
                    WHEN o.result IN ('ungrounded', 'lost_effectiveness')
                         AND (o.source_kind <> 'generator' OR z.grounding_class IS NOT NULL) THEN FALSE END AS ok,
               CASE o.result WHEN 'ungrounded' THEN 'without a ground'
                             WHEN 'lost_effectiveness' THEN 'no longer effectively grounded'
                             ELSE replace(o.result, '_', ' ') END  AS actual,
               'grounded as before'                                AS required,
               ''                                                  AS unit,
               z.nominal_kv, o.sources_left,
               coalesce(o.cog_before, o.cog_before_high)           AS cog_before,
               coalesce(o.cog, o.cog_low)                          AS cog,
               coalesce(o.healthy_phase_kv, o.healthy_phase_kv_low)  AS healthy_kv,
               coalesce(replace(z.grounding_class, '_', ' '), 'not known')  AS class_before,
               coalesce(replace(o.grounding_class, '_', ' '), 'not known')  AS class_left
        FROM study.source_outage o
        JOIN study.zone z USING (zone)
        LEFT JOIN fed f ON f.zone = o.zone
        WHERE o.result <> 'dead'
          -- A neutral device that opens is a matter of its monitoring.
          AND o.source_kind <> 'neutral_device'
          -- A unit's machine is out with its unit; what is left then is the transformer's own winding.
          AND NOT (o.source_kind = 'generator' AND coalesce(z.grounding_class, '') = 'high_resistance')
          -- Beside one supply only, a grounding transformer customarily stands at its terminals and trips with it.
          AND (o.source_kind <> 'grounding_transformer' OR f.supplies > 1)
    """,
    message="zone {zone} ({nominal_kv:g} kV) stays live {actual} with {item} out",
    working="with all in service: {class_before}, largest coefficient of grounding {cog_before:.2f}\n"
    "with {item} out: ground sources left {sources_left}, {class_left}, coefficient {cog:.2f} (effective up to "
    "{effective_cog:g})\n"
    "healthy phases then at {healthy_kv} kV to ground",
    remedy="a second ground source in zone {zone}; or an interlock that takes the rest of its supply out with {item}; "
    "or insulation for {healthy_kv} kV to ground and ground detection that needs no current",
    caution="Before a ground source is switched out, make sure how its zone is grounded without it.",
    cannot_see="Takes each transformer, generator and infeed for able to keep the zone live alone, whatever "
    "loss-of-mains protection or interlocks may do. A grounding transformer is taken to have a switch of its own where "
    "there is more than one supply.",
    examples={
        "exception: ungrounded": inventory(),
        "exception: no longer effectively grounded": inventory("lost_effectiveness"),
        "satisfied: grounded as before": inventory("kept"),
        "not assessable: its class with all in service is not known": inventory("unknown", has_ground_source=None),
        "not assessable: it may be effective yet": inventory("unknown"),
        "not applicable: dead with its only transformer": inventory("dead"),
        "not applicable: a neutral device opens": inventory(kind="neutral_device"),
        "not applicable: a unit's machine": inventory(kind="generator", grounding_class="high_resistance"),
        "exception: the only machine with a grounded neutral": inventory(
            kind="generator", grounding_class="low_resistance"
        ),
        "not assessable: a machine, class not known": inventory(kind="generator", grounding_class=None),
        "satisfied: a machine, class not known, grounded as before": inventory("kept", "generator", None),
        "exception: one grounding transformer beside two supplies": inventory(kind="grounding_transformer"),
        "not applicable: one grounding transformer beside one supply": inventory(
            kind="grounding_transformer", supplies=[T1]
        ),
        "not applicable: one grounding transformer, supply not on record": inventory(
            kind="grounding_transformer", supplies=[]
        ),
    },
)
