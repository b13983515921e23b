"""Transformer neutrals of which nobody has recorded how they are treated."""

from groundcheck.audit import Rule

POINT = {"substation": "ELM", "asset_kind": "transformer", "asset": "T1", "winding": "lv", "connection": "YN",
         "has_neutral": True, "bus": "B1", "winding_kv": 11.0}  # fmt: skip
LINK = {"neutral_device": "NL1", "treatment": "solid"}

RULE = Rule(
    title="How the neutral of a transformer winding is treated is not on record",
    severity="medium",
    why="Solid, through an impedance or open: fault current, overvoltage and what the relays see differ by orders of "
    "magnitude. Whoever sets a relay or works on the bus has to guess.",
    basis="common practice, no source",
    asks="transformer",
    inputs=("transformer.vector_group", "neutral.has_neutral"),
    query="""
        SELECT n.substation, 'transformer' AS asset_kind, n.asset, n.winding AS item, n.asset AS transformer,
               string_agg(DISTINCT n.treatment, ', ')  AS actual,
               'a neutral device or open'              AS required,
               ''                                      AS unit,
               -- A device on record settles it, whether or not the vector group tells of a neutral.
               CASE WHEN count(n.treatment) > 0 THEN TRUE
                    WHEN bool_or(n.has_neutral) THEN FALSE END AS ok,
               upper(n.winding)          AS side,
               any_value(n.connection)   AS connection,
               any_value(n.winding_kv)   AS winding_kv,
               any_value(n.bus)          AS bus
        FROM study.neutral n
        -- A winding without a neutral is not asked; one of which that is not known is.
        WHERE n.asset_kind = 'transformer' AND n.has_neutral IS NOT FALSE
        GROUP BY n.substation, n.asset, n.winding
    """,
    message="{asset}: no record of how its {side} neutral ({winding_kv:g} kV, {connection}) is treated",
    working="{side} winding {connection} has a neutral\nneutral devices on record for it: none",
    remedy="record a neutral device for the {side} neutral of {asset}, of kind 'open' if nothing is connected to it",
    caution="Take the neutral for live until it is known to be grounded.",
    cannot_see="A neutral that is not brought out of the tank has no treatment: the vector group should then say Y or "
    "Z, not YN or ZN.",
    examples={
        "exception: no device on record": {"neutral": [POINT]},
        "satisfied: a solid link": {"neutral": [POINT | LINK]},
        "satisfied: two devices, one row": {
            "neutral": [POINT | LINK, POINT | {"neutral_device": "NR1", "treatment": "open"}]
        },
        "satisfied: a device, and the vector group does not tell": {"neutral": [POINT | LINK | {"has_neutral": None}]},
        "not assessable: the vector group does not tell of a neutral": {"neutral": [POINT | {"has_neutral": None}]},
        "exception: both windings": {"neutral": [POINT, POINT | {"winding": "hv"}]},
        "not applicable: delta winding": {"neutral": [POINT | {"has_neutral": False, "connection": "D"}]},
        "not applicable: grounding transformer": {"neutral": [POINT | {"asset_kind": "grounding_transformer"}]},
        "not applicable: generator": {"neutral": [POINT | {"asset_kind": "generator"}]},
    },
)
