"""Generator neutrals of which nobody has recorded how they are treated."""

from groundcheck.audit import Rule

POINT = {"substation": "ELM", "asset_kind": "generator", "asset": "G1", "winding": "", "connection": "YN",
         "has_neutral": True, "bus": "B1", "winding_kv": 11.0}  # fmt: skip
DEVICE = {"neutral_device": "NGT1", "treatment": "distribution_transformer"}

RULE = Rule(
    title="How the neutral of a generator is treated is not on record",
    severity="medium",
    why="What stands in the neutral decides how much current a stator ground fault drives through the core, and which "
    "relay sees it. A machine grounded solidly by mistake may carry more than its three-phase fault current.",
    basis="common practice, no source",
    asks="generator",
    inputs=("generator.winding", "neutral.has_neutral"),
    query="""
        SELECT n.substation, 'generator' AS asset_kind, n.asset, n.asset AS generator,
               string_agg(DISTINCT n.treatment, ', ')  AS actual,
               'a neutral device or open'              AS required,
               ''                                      AS unit,
               -- A device on record settles it, whether or not the winding is on record.
               CASE WHEN count(n.treatment) > 0 THEN TRUE
                    WHEN bool_or(n.has_neutral) THEN FALSE END AS ok,
               any_value(n.winding_kv)   AS winding_kv,
               any_value(n.bus)          AS bus
        FROM study.neutral n
        WHERE n.asset_kind = 'generator' AND n.has_neutral IS NOT FALSE
        GROUP BY n.substation, n.asset
    """,
    message="{asset}: no record of how its neutral ({winding_kv:g} kV) is treated",
    working="the stator of {asset} is connected in wye\nneutral devices on record for it: none",
    remedy="record a neutral device for the neutral of {asset}, of kind 'open' if nothing is connected to it",
    caution="Take the neutral for live while the machine turns, excited or not.",
    cannot_see="Machines that share one grounded neutral need the shared device recorded for each of them.",
    examples={
        "exception: no device on record": {"neutral": [POINT]},
        "satisfied: a distribution transformer": {"neutral": [POINT | DEVICE]},
        "satisfied: two devices, one row": {
            "neutral": [POINT | DEVICE, POINT | {"neutral_device": "X", "treatment": "open"}]
        },
        "satisfied: a device, and the winding is not on record": {"neutral": [POINT | DEVICE | {"has_neutral": None}]},
        "not assessable: winding not on record": {"neutral": [POINT | {"has_neutral": None}]},
        "not applicable: delta winding": {"neutral": [POINT | {"has_neutral": False}]},
        "not applicable: transformer": {"neutral": [POINT | {"asset_kind": "transformer"}]},
    },
)
