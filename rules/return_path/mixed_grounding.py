"""Zones in which a solidly grounded neutral by-passes the impedances of others."""

from groundcheck.audit import Rule

HERE = {"zone": "ELM:B1", "substation": "ELM", "bus": "B1"}
NEUTRAL = {"zone": "ELM:B1", "substation": "ELM", "asset_kind": "transformer", "winding": "lv", "has_neutral": True}


def inventory(*treatments, kv=11.0, unknown=(), kinds=("transformer",) * 3, **policy):
    """A zone of this voltage, the treatments of its ground sources, and further neutrals of unknown treatment."""
    source = {"zone": "ELM:B1", "substation": "ELM"}
    return {
        "zone": [HERE | {"nominal_kv": kv}],
        "ground_source": [source | {"asset": f"T{n}", "kind": kind, "treatment": each}
                          for n, (each, kind) in enumerate(zip(treatments, kinds, strict=False))],
        "neutral": [NEUTRAL | {"asset": f"U{n}", "has_neutral": each} for n, each in enumerate(unknown)],
        "transformer": [{"substation": "ELM", "transformer": f"U{n}"} for n in range(len(unknown))],
        "policy": policy,
    }  # fmt: skip


RULE = Rule(
    title="A solidly grounded neutral by-passes the impedance in another neutral of the zone",
    severity="high",
    why="Somebody put an impedance into a neutral to limit ground-fault current. One neutral on a solid link in the "
    "same zone passes what the impedance was to keep away: kiloamperes where hundreds of amperes are expected, and "
    "relays set for the small current.",
    basis="common practice, no source",
    asks="zone",
    inputs=(
        "ground_source.treatment",
        "neutral.treatment",
        "transformer.lv_neutral",
        "transformer.hv_neutral",
        "transformer.tv_neutral",
        "generator.winding",
        "transformer.vector_group",
    ),
    policy={"impedance_below": "return_path.impedance_below"},
    query="""
        WITH source AS (
            SELECT g.zone, g.treatment, g.substation || ':' || g.asset AS name,
                   -- A grounding transformer's own impedance limits; what grounds an infeed is not on record.
                   g.treatment = 'solid' AND g.kind IN ('transformer', 'generator')      AS is_solid,
                   -- At high voltage reactors beside solid neutrals only trim the current.
                   g.treatment IN ('resistor', 'arc_suppression_coil', 'distribution_transformer')
                       OR (g.treatment = 'reactor' AND z.nominal_kv < $impedance_below)  AS is_limited
            FROM study.ground_source g
            JOIN study.zone z USING (zone)
        ),
        mix AS (
            SELECT zone, count(*) AS sources, bool_or(is_solid) AS any_solid,
                   string_agg(name, ', ' ORDER BY name) FILTER (is_solid)                          AS solid,
                   string_agg(name || ' (' || replace(treatment, '_', ' ') || ')', ', ' ORDER BY name)
                       FILTER (is_limited)                                                         AS limited
            FROM source
            GROUP BY zone
            HAVING bool_or(is_limited)
        ),
        unknown AS (
            SELECT zone, arg_min({'home': substation, 'kind': asset_kind, 'name': asset, 'winding': winding}, asset)
                   AS neutral
            FROM study.neutral
            WHERE treatment IS NULL AND has_neutral IS NOT FALSE AND asset_kind <> 'grounding_transformer'
            GROUP BY zone
        )
        SELECT z.substation, 'bus' AS asset_kind, z.bus AS asset, z.zone, z.bus,
               CASE WHEN m.any_solid THEN FALSE WHEN u.neutral IS NULL THEN TRUE END AS ok,
               coalesce(m.solid, 'none')         AS actual,
               'no neutral on a solid link'      AS required,
               ''                                AS unit,
               m.solid, m.limited, m.sources, z.nominal_kv,
               if(u.neutral.kind = 'transformer', u.neutral.name, NULL) AS transformer,
               if(u.neutral.kind = 'generator', u.neutral.name, NULL)   AS generator,
               u.neutral.home AS transformer_substation, u.neutral.home AS generator_substation,
               u.neutral.winding AS winding,
               if(u.neutral.kind = 'generator', ['neutral.treatment', 'generator.winding'],
                  ['neutral.treatment', 'transformer.' || winding || '_neutral', 'transformer.vector_group']) AS needs
        FROM mix m
        JOIN study.zone z USING (zone)
        LEFT JOIN unknown u USING (zone)
        WHERE m.sources > 1 OR u.neutral IS NOT NULL
    """,
    message="zone {zone} ({nominal_kv:g} kV): {solid} solidly grounded beside {limited}",
    working="ground sources of zone {zone}: {sources}\nthrough an impedance: {limited}\non a solid link: {solid}",
    remedy="an impedance in the neutral of {solid} as well, or that neutral open; if solid grounding is meant, the "
    "impedances of {limited} out, and all that relies on the small current checked",
    caution="Until it is settled, expect the ground-fault current of a solidly grounded system.",
    cannot_see="A neutral link that is customarily open, and is on record as solid, counts as closed.",
    examples={
        "exception: a resistor and a solid link": inventory("resistor", "solid"),
        "satisfied: two resistors": inventory("resistor", "resistor"),
        "satisfied: a resistor and a coil": inventory("resistor", "arc_suppression_coil"),
        "exception: a reactor and a solid link": inventory("reactor", "solid"),
        "not applicable: at high voltage": inventory("reactor", "solid", kv=110.0),
        "not applicable: exactly the limit of high voltage": inventory("reactor", "solid", kv=30.0),
        "exception: below an owner's limit": inventory("reactor", "solid", kv=30.0, impedance_below=35.0),
        "exception: a coil and a solid link at high voltage": inventory("arc_suppression_coil", "solid", kv=110.0),
        "satisfied: a grounding transformer's own impedance": inventory(
            "resistor", "solid", kinds=("transformer", "grounding_transformer")
        ),
        "satisfied: an infeed": inventory("resistor", "solid", kinds=("transformer", "infeed")),
        "exception: a machine": inventory("resistor", "solid", kinds=("transformer", "generator")),
        "not assessable: a further neutral": inventory("resistor", unknown=(True,)),
        "not assessable: it may have a neutral": inventory("resistor", "resistor", unknown=(None,)),
        "not assessable: a machine's neutral": inventory("resistor")
        | {"neutral": [NEUTRAL | {"asset_kind": "generator", "asset": "G1", "winding": ""}]},
        "exception: a solid link, and a further neutral": inventory("resistor", "solid", unknown=(True,)),
        "satisfied: the other winding has no neutral": inventory("resistor", "resistor", unknown=(False,)),
        "not applicable: one source": inventory("resistor"),
        "not applicable: all solid": inventory("solid", "solid"),
    },
)
