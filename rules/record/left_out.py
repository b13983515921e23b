"""Records that the study could not use."""

from groundcheck.audit import Rule

LINE = {"substation": "ELM", "line": "L1", "from_bus": "B33", "to_bus": "B11"}
CLASH = {"substation": "ELM", "asset_kind": "line", "asset": "L1", "field": "to_bus",
         "why": "it joins bus B33 of 33 kV and bus B11 of 11 kV"}  # fmt: skip

RULE = Rule(
    title="The study leaves a record out because it cannot be right",
    severity="medium",
    why="The network is studied as if the asset were not there. Its real connection may ground a zone, join two, or "
    "feed a fault, and the findings around it would then be others.",
    basis="common practice, no source",
    asks="record",
    inputs=(
        "line.from_bus",
        "line.to_bus",
        "switch.bus_a",
        "switch.bus_b",
        "transformer.hv_bus",
        "transformer.lv_bus",
        "transformer.tv_bus",
    ),
    query="""
        SELECT o.substation, o.asset_kind, o.asset,
               o.field                         AS item,
               'left out'                      AS actual,
               'used'                          AS required,
               ''                              AS unit,
               FALSE                           AS ok,
               o.field, o.why,
               replace(o.asset_kind, '_', ' ') AS kind
        FROM study.left_out o
        UNION ALL
        SELECT a.substation, a.asset_kind, a.asset, NULL, 'used', 'used', '', TRUE, NULL, '',
               replace(a.asset_kind, '_', ' ')
        FROM (
            SELECT substation, 'line' AS asset_kind, line AS asset FROM inventory.line
            UNION ALL SELECT substation, 'switch', switch FROM inventory.switch
            UNION ALL SELECT substation, 'transformer', transformer FROM inventory.transformer
        ) a
        WHERE NOT EXISTS (FROM study.left_out o
                          WHERE o.asset_kind = a.asset_kind AND o.substation = a.substation AND o.asset = a.asset)
    """,
    message="{kind} {asset} is left out of the study: {why}",
    working="{why}",
    remedy="correct the buses of {kind} {asset}, or the voltages on record for them",
    caution="Findings in the zones at both of its ends are those of a network without it.",
    cannot_see="Does not know which of the records that contradict one another is wrong.",
    always_assessable=True,
    examples={
        "exception: a line between two voltages": {"line": [LINE], "left_out": [CLASH]},
        "exception: another kind of asset": {"left_out": [CLASH | {"asset_kind": "generator", "asset": "G1"}]},
        "satisfied: a line that is used": {"line": [LINE]},
        "satisfied: a switch": {"switch": [{"substation": "ELM", "switch": "BS1", "bus_a": "B1", "bus_b": "B2"}]},
        "satisfied: a transformer": {"transformer": [{"substation": "ELM", "transformer": "T1"}]},
        "not applicable: no network on record": {"line": []},
    },
)
