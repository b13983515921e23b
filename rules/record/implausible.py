"""Values on record that the trade does not know."""

from groundcheck.audit import Rule

# Kind of asset, field, unit, name of its bounds, and where in the policy they stand.
FIELDS = (
    ("transformer", "rated_power", "MVA", "transformer_power", "record"),
    ("transformer", "impedance", "%", "transformer_impedance", "range"),
    ("transformer", "x_over_r", "", "transformer_x_over_r", "range"),
    ("generator", "rated_power", "MVA", "generator_power", "record"),
    ("generator", "xd_subtransient", "pu", "generator_reactance", "range"),
    ("generator", "x2", "pu", "generator_reactance", "range"),
    ("generator", "x0", "pu", "generator_x0", "range"),
    ("infeed", "x_over_r", "", "infeed_x_over_r", "range"),
    ("infeed", "x_over_r_min", "", "infeed_x_over_r", "range"),
    ("line", "r1", "ohm/km", "line_r1", "range"),
    ("line", "x1", "ohm/km", "line_x1", "range"),
    ("line", "r0", "ohm/km", "line_r0", "range"),
    ("line", "x0", "ohm/km", "line_x0", "range"),
    ("line", "c0", "nF/km", "line_c0", "record"),
    ("neutral_device", "rated_current", "A", "neutral_current", "record"),
    ("ground_grid", "soil_resistivity", "ohm m", "soil_resistivity", "record"),
    ("ground_grid", "surface_resistivity", "ohm m", "surface_resistivity", "record"),
    ("ground_grid", "measured_resistance", "ohm", "mat_resistance", "record"),
    ("bond", "measured_resistance", "mohm", "bond_resistance", "record"),
)
ENDS = {f"{end}_{name}": f"{place}.{end}.{name}" for *_, name, place in FIELDS for end in ("least", "most")}
VALUES = " UNION ALL ".join(
    f"SELECT substation, '{kind}' AS asset_kind, {kind} AS asset, '{field}' AS field, {field} AS value, "
    f"'{unit}' AS unit, $least_{name} AS least, $most_{name} AS most FROM inventory.{kind}"
    for kind, field, unit, name, _ in FIELDS
)


def everything(value):
    """One asset of each kind, all of its fields of one value, where all bounds are 1 and 10."""
    rows = {}
    for kind, field, *_ in FIELDS:
        rows.setdefault(kind, {"substation": "ELM", kind: "A1"})[field] = value
    bounds = {name: 1.0 if name.startswith("least") else 10.0 for name in ENDS}
    return {kind: [row] for kind, row in rows.items()} | {"policy": bounds}


def transformer(impedance):
    """A transformer, by the shipped bounds."""
    return {"transformer": [{"substation": "ELM", "transformer": "T1", "impedance": impedance}]}


RULE = Rule(
    title="A value on record is not one that the trade knows",
    severity="low",
    why="Often a decimal point has slipped, or the value stands in another unit than its heading says. Whatever is "
    "computed from it is then wrong by the same factor.",
    basis="common practice; the policy names the source of each bound",
    asks="record",
    inputs=tuple(f"{kind}.{field}" for kind, field, *_ in FIELDS),
    policy=ENDS,
    formula="x_least <= x <= x_most",
    query=f"""
        SELECT substation, asset_kind, asset, field, field AS item,
               value                                AS actual,
               if(value < least, least, most)       AS required,
               unit,
               value >= least AND value <= most     AS ok,
               replace(asset_kind, '_', ' ')        AS kind,
               replace(field, '_', ' ')             AS fact,
               if(unit = '', '', ' ' || unit)       AS shown_unit,
               if(value < least, 'below the least', 'above the most') AS side,
               least, most
        FROM ({VALUES})
        WHERE value IS NOT NULL
    """,
    message="{kind} {asset} has {fact} {actual:g}{shown_unit}, {side} that the trade knows, {required:g}{shown_unit}",
    working="least {least:g}{shown_unit}, most {most:g}{shown_unit}\non record {actual:g}{shown_unit}",
    remedy="check {fact} of {asset} against its nameplate or drawing, its unit and its decimal point",
    caution="Until it is settled, do not rely on what is computed from it.",
    cannot_see="A wrong value that is a customary one.",
    always_assessable=True,
    examples={
        "satisfied: exactly the least": everything(1.0),
        "exception: less": everything(0.99),
        "satisfied: exactly the most": everything(10.0),
        "exception: more": everything(10.1),
        "satisfied: an impedance of 12 %": transformer(12.0),
        "exception: an impedance in per unit": transformer(0.12),
        "exception: a slipped decimal point": transformer(125.0),
        "not applicable: not on record": transformer(None),
    },
)
