"""Instrument transformers without a secondary circuit on record, where their station keeps them."""

from groundcheck.audit import Rule

CT = {"substation": "ELM", "instrument_transformer": "CT1", "kind": "ct", "bus": "B1"}
OWN = {"substation": "ELM", "secondary_circuit": "S1", "kind": "ct", "instrument_transformer": "CT1"}
OTHER = OWN | {"secondary_circuit": "S2", "instrument_transformer": "CT2"}
LOST = OWN | {"secondary_circuit": "S3", "instrument_transformer": None}


def inventory(*circuits):
    """One current transformer, and circuits of its station."""
    mentions = [
        {"substation": c["substation"], "asset_kind": "secondary_circuit", "asset": c["secondary_circuit"],
         "field": "instrument_transformer", "target_kind": "instrument_transformer", "target_substation": "ELM",
         "target": c["instrument_transformer"]}
        for c in circuits if c["instrument_transformer"]
    ]  # fmt: skip
    return {"instrument_transformer": [CT], "secondary_circuit": circuits, "reference": mentions}


RULE = Rule(
    title="An instrument transformer has no secondary circuit on record",
    severity="low",
    why="Whether its secondary is grounded once is not known, and nobody is asked. A secondary grounded nowhere puts "
    "primary voltage on panels that people touch.",
    basis="common practice, no source",
    asks="instrument_transformer",
    inputs=("instrument_transformer.kind", "secondary_circuit.instrument_transformer"),
    query="""
        WITH own AS (
            SELECT DISTINCT target_substation AS substation, target AS instrument_transformer
            FROM inventory.reference
            WHERE asset_kind = 'secondary_circuit' AND target_kind = 'instrument_transformer'
        ),
        station AS (
            SELECT substation, kind, min(secondary_circuit) FILTER (instrument_transformer IS NULL) AS lost
            FROM inventory.secondary_circuit GROUP BY ALL
        )
        SELECT i.substation, 'instrument_transformer' AS asset_kind, i.instrument_transformer AS asset,
               if(o.substation IS NULL, 'none on record', 'on record') AS actual,
               'on record' AS required, '' AS unit,
               -- A circuit of which it is not on record what it belongs to may belong to this one.
               CASE WHEN o.substation IS NOT NULL THEN TRUE
                    WHEN s.lost IS NULL THEN FALSE END AS ok,
               upper(i.kind) AS kind, s.lost AS secondary_circuit
        FROM inventory.instrument_transformer i
        LEFT JOIN own o USING (substation, instrument_transformer)
        JOIN (SELECT DISTINCT substation FROM inventory.secondary_circuit) k USING (substation)
        LEFT JOIN station s USING (substation, kind)
    """,
    message="{asset} ({kind}) has no secondary circuit on record, though its station keeps them",
    working="secondary circuits on record of {asset}: none",
    remedy="its secondary circuits on record, each with the places at which it is grounded",
    caution="Look without disconnecting: never open a CT secondary in service.",
    cannot_see="Where a station keeps no secondary circuits on record at all, nothing is concluded.",
    examples={
        "exception: only circuits of another one": inventory(OTHER),
        "satisfied: one of its own": inventory(OTHER, OWN),
        "not assessable: a circuit of which it is not on record what it belongs to": inventory(OTHER, LOST),
        "exception: that one is of another kind": inventory(OTHER, LOST | {"kind": "vt"}),
        "satisfied: the same, and one of its own": inventory(OWN, LOST),
        "not applicable: its station keeps none": inventory(),
        "not applicable: another station keeps them": inventory(OTHER | {"substation": "OAK"}),
    },
)
