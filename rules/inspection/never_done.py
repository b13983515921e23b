"""Assets that were never inspected, in districts that inspect their like."""

from groundcheck.audit import Rule

MAT = {"substation": "ELM", "ground_grid": "M1"}
TEST = {"substation": "ASH", "inspection": "I1", "asset": "M9", "kind": "grid_resistance"}
MADE = {"substation": "ELM", "asset_kind": "inspection", "asset": "I2", "field": "asset", "position": 1,
        "written": "M1", "target_kind": "ground_grid", "target_substation": "ELM", "target": "M1"}  # fmt: skip
OWN = TEST | {"substation": "ELM", "inspection": "I2", "asset": "M1"}
NORTH = [{"substation": "ELM", "district": "North"}, {"substation": "ASH", "district": "North"}]
RESISTOR = {"substation": "ELM", "neutral_device": "NR1", "kind": "resistor"}
RELAY = {"substation": "ELM", "ground_relay": "R1"}


def inventory(kind="grid_resistance", own=(), references=(), stations=NORTH, **tables):
    """A station, and another of its district, in which the kind of inspection is made."""
    tests = [TEST | {"kind": kind}, *own]
    return {"inspection": tests, "reference": list(references), "substation": stations} | tables


RULE = Rule(
    title="Never inspected, while others of its kind are",
    severity="low",
    why="Broken resistors, corroded mats and failed relays show only when they are looked for. What was left out of "
    "the round once is left out of the next.",
    basis="common practice, no source",
    asks="record",
    inputs=(
        "ground_grid.ground_grid",
        "neutral_device.neutral_device",
        "ground_relay.ground_relay",
        "inspection.kind",
    ),
    query="""
        WITH made AS (
            SELECT i.kind, i.substation AS inspection_substation, i.inspection,
                   r.target_kind, r.target_substation, r.target
            FROM inventory.inspection i
            LEFT JOIN inventory.reference r ON r.asset_kind = 'inspection' AND r.field = 'asset'
                                           AND r.substation = i.substation AND r.asset = i.inspection
        ),
        asset AS (
            SELECT substation, 'ground_grid' AS asset_kind, ground_grid AS asset, 'grid_resistance' AS kind,
                   measured_resistance IS NOT NULL OR measured_on IS NOT NULL AS measured FROM inventory.ground_grid
            UNION ALL SELECT substation, 'neutral_device', neutral_device, 'resistor_measurement',
                             measured_resistance IS NOT NULL OR measured_on IS NOT NULL
                      FROM inventory.neutral_device WHERE kind = 'resistor'
            UNION ALL SELECT substation, 'ground_relay', ground_relay, 'relay_test', FALSE FROM inventory.ground_relay
        ),
        customary AS (
            SELECT DISTINCT coalesce(s.district, '') AS district, u.kind
            FROM (SELECT inspection_substation AS substation, kind FROM made
                  UNION ALL SELECT substation, kind FROM asset WHERE measured) u
            LEFT JOIN inventory.substation s USING (substation)
        ),
        found AS (
            SELECT a.substation, a.asset_kind, a.asset, a.kind, a.measured,
                   count(*) FILTER (m.kind = a.kind) > 0 AS inspected,
                   any_value(struct_pack(s := m.inspection_substation, i := m.inspection))
                       FILTER (m.inspection IS NOT NULL AND m.kind IS NULL) AS open
            FROM asset a
            LEFT JOIN made m ON m.target_kind = a.asset_kind AND m.target_substation = a.substation
                             AND m.target = a.asset
            GROUP BY ALL
        )
        SELECT f.substation, f.asset_kind, f.asset, f.kind AS item,
               CASE WHEN f.measured OR f.inspected THEN TRUE WHEN f.open IS NULL THEN FALSE END AS ok,
               if(f.measured OR f.inspected, 'done', 'never done')  AS actual,
               'done once'                      AS required,
               ''                               AS unit,
               f.open.i                         AS inspection,
               f.open.s                         AS inspection_substation,
               replace(f.asset_kind, '_', ' ')  AS kind_words,
               replace(f.kind, '_', ' ')        AS what,
               ['inspection.kind']              AS needs
        FROM found f
        LEFT JOIN inventory.substation s ON s.substation = f.substation
        JOIN customary c ON c.district = coalesce(s.district, '') AND c.kind = f.kind
    """,
    message="no inspection ({what}) of {kind_words} {asset} is on record, while its district has others",
    working="inspections ({what}) of {asset} on record: none",
    remedy="an inspection ({what}) of {kind_words} {asset} in the next round, with date, value and outcome on record",
    caution="Isolate, prove dead and ground before opening what is inspected; a neutral can be live while its zone is.",
    cannot_see="Inspections that are not in the sources. Bonds are asked about by bonding/continuity.",
    examples={
        "exception: a mat": inventory(ground_grid=[MAT]),
        "satisfied: inspected": inventory(own=[OWN], references=[MADE], ground_grid=[MAT]),
        "satisfied: measured, by the record of the mat": inventory(ground_grid=[MAT | {"measured_resistance": 0.4}]),
        "exception: inspected otherwise": inventory(
            own=[OWN | {"kind": "visual"}], references=[MADE], ground_grid=[MAT]
        ),
        "exception: a resistor": inventory("resistor_measurement", neutral_device=[RESISTOR]),
        "exception: a relay": inventory("relay_test", ground_relay=[RELAY]),
        "not assessable: inspected, for what is not on record": inventory(
            own=[OWN | {"kind": None}], references=[MADE], ground_grid=[MAT]
        ),
        "not applicable: another district inspects": inventory(
            ground_grid=[MAT], stations=[NORTH[0], NORTH[1] | {"district": "South"}]
        ),
        "not applicable: a solid link": inventory(
            "resistor_measurement", neutral_device=[RESISTOR | {"kind": "solid"}]
        ),
    },
)
