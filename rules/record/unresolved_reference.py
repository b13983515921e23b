"""References to assets that are not on record."""

from groundcheck.audit import Rule

MENTION = {"substation": "ELM", "asset_kind": "ground_relay", "asset": "R1", "field": "measures", "position": 1,
           "written": "T1", "target_kind": "transformer", "target_substation": "ELM", "target": "T1"}  # fmt: skip
NOWHERE = {"written": "T9", "target_kind": None, "target_substation": None, "target": None, "nearest": "T1, T2"}
BOND = {"substation": "ELM", "bond": "B1", "equipment": "T9"}
BONDED = MENTION | {"asset_kind": "bond", "asset": "B1", "field": "equipment"}

RULE = Rule(
    title="A record refers to an asset that is not on record",
    severity="medium",
    why="What hangs on the reference is not studied: a relay that measures nothing, a transformer at no bus. The "
    "finding on the asset itself may be missing for that reason alone.",
    basis="common practice, no source",
    asks="record",
    inputs=(
        "infeed.bus",
        "generator.bus",
        "transformer.hv_bus",
        "transformer.lv_bus",
        "transformer.tv_bus",
        "line.from_bus",
        "line.to_bus",
        "switch.bus_a",
        "switch.bus_b",
        "neutral_device.connected_to",
        "grounding_transformer.bus",
        "arrester.bus",
        "insulation.bus",
        "instrument_transformer.bus",
        "secondary_circuit.instrument_transformer",
        "ground_relay.measures",
        "ground_relay.backs_up",
        "ground_detector.bus",
        "ground_detector.instrument_transformer",
        "ground_detector.relay",
        "bond.equipment",
        "bond.equipment_kind",
        "inspection.asset",
    ),
    query="""
        SELECT r.substation, r.asset_kind, r.asset,
               r.field || ' ' || r.position    AS item,
               r.written                       AS actual,
               'an asset on record'            AS required,
               ''                              AS unit,
               -- A fence or a gantry has no table to be on record in; equipment of which the kind is blank may be one.
               CASE WHEN r.target IS NOT NULL THEN TRUE
                    WHEN r.asset_kind <> 'bond' OR b.equipment_kind IS NOT NULL THEN FALSE END AS ok,
               r.field,
               ['bond.equipment_kind']         AS needs,
               replace(r.asset_kind, '_', ' ') AS kind,
               replace(r.field, '_', ' ')      AS role,
               coalesce('nearest on record: ' || nullif(r.nearest, ''), 'nothing on record is like it') AS near
        FROM inventory.reference r
        LEFT JOIN inventory.bond b ON r.asset_kind = 'bond' AND b.substation = r.substation AND b.bond = r.asset
        WHERE r.target IS NOT NULL OR b.equipment_kind IS NULL
           OR b.equipment_kind IN ('transformer', 'neutral_device', 'arrester', 'instrument_transformer', 'generator')
    """,
    message="{kind} {asset} names {actual} under '{role}', which is not on record; {near}",
    working="written: {actual}\nlooked up in {substation} first, and in the station named if written STATION:TAG\n"
    "{near}",
    remedy="correct the tag, or put {actual} on record",
    caution="",
    cannot_see="A wrong tag that happens to be another asset's is taken for that asset.",
    examples={
        "exception: a relay measures what is not on record": {"reference": [MENTION | NOWHERE]},
        "exception: nothing on record is like it": {"reference": [MENTION | NOWHERE | {"nearest": ""}]},
        "exception: two of several references": {
            "reference": [MENTION | NOWHERE, MENTION | NOWHERE | {"position": 2, "written": "T8"}]
        },
        "satisfied: the asset is on record": {"reference": [MENTION]},
        "exception: a bond of a transformer that is not on record": {
            "reference": [BONDED | NOWHERE],
            "bond": [BOND | {"equipment_kind": "transformer"}],
        },
        "satisfied: a bond of a transformer": {"reference": [BONDED], "bond": [BOND]},
        "satisfied: a bond of switchgear that is on record": {
            "reference": [BONDED],
            "bond": [BOND | {"equipment_kind": "switchgear"}],
        },
        "not assessable: a bond of equipment of which the kind is blank": {
            "reference": [BONDED | NOWHERE],
            "bond": [BOND],
        },
        "not applicable: a bond of a fence": {
            "reference": [BONDED | NOWHERE],
            "bond": [BOND | {"equipment_kind": "fence"}],
        },
        "not applicable: nothing is referred to": {"reference": []},
    },
)
