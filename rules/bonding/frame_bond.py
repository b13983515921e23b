"""Equipment with a metal frame and no bond on record, where bonds are recorded."""

from groundcheck.audit import Rule

BOND = {"substation": "ELM", "bond": "B1", "equipment": "T1"}
NAMES = {"substation": "ELM", "asset_kind": "bond", "asset": "B1", "field": "equipment", "position": 1,
         "written": "T1", "target_kind": "transformer", "target_substation": "ELM", "target": "T1"}  # fmt: skip
RESISTOR = NAMES | {"target_kind": "neutral_device", "target": "NR1"}
T1, T2 = ({"substation": "ELM", "transformer": tag} for tag in ("T1", "T2"))
AT_ASH = BOND | {"substation": "ASH"}
NR2 = {"substation": "ELM", "neutral_device": "NR2", "kind": "resistor"}
FOUR = [NAMES | {"asset": f"B{n}", "target": f"T1{n}"} for n in range(4)]
LOST = NAMES | {"asset": "B2", "written": "T22", "target_kind": None, "target_substation": None, "target": None}
NORTH = [{"substation": "ELM", "district": "North"}, {"substation": "ASH", "district": "North"}]


def inventory(*references, **tables):
    """Bonds of one station, and what stands in it."""
    bonds = [BOND | {"bond": asset} for asset in dict.fromkeys(r["asset"] for r in references)]
    return {"bond": bonds, "reference": list(references), "policy": {"coverage": 0.5}} | tables


RULE = Rule(
    title="Equipment has no bond on record",
    severity="medium",
    why="Either the frame is not bonded, and whoever touches it in a fault carries the fault's current, or the record "
    "does not show the bond, and nobody inspects it.",
    basis="IEEE Std 80, bonding of equipment frames to the grid (clause recalled)",
    asks="record",
    inputs=(
        "transformer.transformer",
        "generator.generator",
        "grounding_transformer.grounding_transformer",
        "neutral_device.neutral_device",
        "neutral_device.kind",
    ),
    policy={"kinds": "bonding.frame_kinds", "framed": "bonding.framed_neutrals", "coverage": "bonding.frame_coverage"},
    query="""
        WITH bond AS (
            SELECT b.substation, coalesce(s.district, '') AS district, b.equipment_kind,
                   r.target_kind, r.target_substation, r.target
            FROM inventory.bond b
            LEFT JOIN inventory.substation s USING (substation)
            LEFT JOIN inventory.reference r ON r.asset_kind = 'bond' AND r.field = 'equipment'
                                           AND r.substation = b.substation AND r.asset = b.bond
        ),
        station AS (SELECT DISTINCT substation, district FROM bond),
        bonded AS (SELECT DISTINCT district, target_kind, target_substation, target FROM bond WHERE target IS NOT NULL),
        frame AS (
            SELECT substation, 'transformer' AS asset_kind, transformer AS asset, TRUE AS framed
            FROM inventory.transformer
            UNION ALL SELECT substation, 'generator', generator, TRUE FROM inventory.generator
            UNION ALL SELECT substation, 'grounding_transformer', grounding_transformer, TRUE
                      FROM inventory.grounding_transformer
            UNION ALL SELECT substation, 'neutral_device', neutral_device, list_contains($framed, kind)
                      FROM inventory.neutral_device
        ),
        asked AS (
            SELECT f.*, s.district, b.target IS NOT NULL AS named
            FROM frame f
            JOIN station s USING (substation)
            LEFT JOIN bonded b ON b.target_kind = f.asset_kind AND b.target_substation = f.substation
                              AND b.target = f.asset
            WHERE list_contains($kinds, f.asset_kind) AND f.framed IS NOT FALSE
        ),
        covered AS (
            SELECT n.district, n.asset_kind
            FROM (SELECT district, target_kind AS asset_kind, count(*) AS bonds FROM bonded GROUP BY ALL) n
            LEFT JOIN (SELECT district, asset_kind, count(*) AS without FROM asked WHERE NOT named GROUP BY ALL) o
                   USING (district, asset_kind)
            WHERE bonds / (bonds + coalesce(without, 0)) >= $coverage
        )
        SELECT f.substation, f.asset_kind, f.asset,
               CASE WHEN f.named THEN TRUE WHEN f.framed THEN FALSE END AS ok,
               if(f.named, 'bonded', 'no bond') AS actual,
               'a bond'                        AS required,
               ''                              AS unit,
               replace(f.asset_kind, '_', ' ') AS kind,
               ['neutral_device.kind']         AS needs
        FROM asked f
        JOIN covered c USING (district, asset_kind)
        -- A bond whose equipment is not on record may be the one; it is asked about by itself.
        WHERE f.named OR NOT EXISTS (
            FROM bond l WHERE l.target IS NULL AND l.substation = f.substation
            AND coalesce(l.equipment_kind, f.asset_kind)
                IN (f.asset_kind, if(f.asset_kind = 'grounding_transformer', 'transformer', NULL)))
    """,
    message="no bond on record names {kind} {asset}, while the district records those of its like",
    working="bonds on record that name {asset}: none",
    remedy="look for the strap of {asset}: put it on record with size, joint and number, or fit one sized for the "
    "ground fault at its bus",
    caution="Treat the frame as live until its bond is found and proven.",
    cannot_see="Asks only in stations with bonds on record, and only about kinds of equipment most of which the "
    "district has bonds on record for.",
    examples={
        "exception: the second transformer": inventory(NAMES, transformer=[T2]),
        "satisfied: named by a bond": inventory(NAMES, transformer=[T1]),
        "exception: a resistor beside one that is bonded": inventory(RESISTOR, neutral_device=[NR2]),
        "exception: a generator": inventory(
            NAMES | {"target_kind": "generator"}, generator=[{"substation": "ELM", "generator": "G1"}]
        ),
        "exception: a grounding transformer": inventory(
            NAMES | {"target_kind": "grounding_transformer"},
            grounding_transformer=[{"substation": "ELM", "grounding_transformer": "ET1"}],
        ),
        "exception: another station of the district bonds its resistors": inventory(
            NAMES, RESISTOR | {"substation": "ASH"}, neutral_device=[NR2], substation=NORTH, bond=[BOND, AT_ASH]
        ),
        "not assessable: a neutral device of no kind": inventory(RESISTOR, neutral_device=[NR2 | {"kind": None}]),
        "not applicable: a solid link has no frame": inventory(RESISTOR, neutral_device=[NR2 | {"kind": "solid"}]),
        "not applicable: the district records bonds of transformers only": inventory(NAMES, neutral_device=[NR2]),
        "exception: four of five are bonded": inventory(*FOUR, transformer=[T2], policy={}),
        "not applicable: three of four are": inventory(*FOUR[:3], transformer=[T2], policy={}),
        "not applicable: the station records no bonds": {"transformer": [T2]},
        "not applicable: a bond names a transformer that is not on record": inventory(NAMES, LOST, transformer=[T2]),
        "exception: a bond of something else that is not on record": inventory(
            NAMES, LOST, transformer=[T2], bond=[BOND, BOND | {"bond": "B2", "equipment_kind": "fence"}]
        ),
    },
)
