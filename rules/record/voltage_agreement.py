"""Windings and machines whose rated voltage is not that of their bus."""

from groundcheck.audit import Rule

T1 = {"substation": "ELM", "transformer": "T1", "hv_voltage": 33.0, "lv_voltage": 11.0}
B11 = {"substation": "ELM", "bus": "B11", "nominal_voltage": 10.0}
AT = {"substation": "ELM", "asset_kind": "transformer", "asset": "T1", "field": "lv_bus", "position": 1,
      "written": "B11", "target_kind": "bus", "target_substation": "ELM", "target": "B11"}  # fmt: skip
OPEN = {"substation": "ELM", "asset_kind": "bus", "asset": "B11", "field": "nominal_voltage", "value_a": "10"}
G1 = {"substation": "ELM", "generator": "G1"}


def lv(voltage, bus=B11, **tables):
    """The LV winding of a transformer at a bus of 10 kV; 9.0 to 11.1 kV are admitted."""
    return {"transformer": [T1 | {"lv_voltage": voltage}], "bus": [bus], "reference": [AT]} | tables


RULE = Rule(
    title="Rated voltage and the nominal voltage of the bus disagree",
    severity="medium",
    why="One of the two is wrong, or the plant stands at another bus. Every fault current beyond it is computed with "
    "the wrong ratio.",
    basis="common practice, no source",
    asks="record",
    inputs=(
        "transformer.hv_voltage",
        "transformer.lv_voltage",
        "transformer.tv_voltage",
        "generator.rated_voltage",
        "bus.nominal_voltage",
    ),
    policy={"least": "record.voltage_least", "most": "record.voltage_most"},
    formula="k_least U_n <= U_r <= k_most U_n",
    query="""
        WITH terminal AS (
            SELECT substation, 'transformer' AS asset_kind, transformer AS asset, 'hv_bus' AS place,
                   'hv_voltage' AS field, hv_voltage AS kv FROM inventory.transformer
            UNION ALL SELECT substation, 'transformer', transformer, 'lv_bus', 'lv_voltage', lv_voltage
                      FROM inventory.transformer
            UNION ALL SELECT substation, 'transformer', transformer, 'tv_bus', 'tv_voltage', tv_voltage
                      FROM inventory.transformer
            UNION ALL SELECT substation, 'generator', generator, 'bus', 'rated_voltage', rated_voltage
                      FROM inventory.generator
        )
        SELECT t.substation, t.asset_kind, t.asset, t.field, t.field AS item,
               t.kv                                 AS actual,
               b.nominal_voltage                    AS nominal_kv,
               nominal_kv * $least                  AS least_kv,
               nominal_kv * $most                   AS most_kv,
               actual >= least_kv AND actual <= most_kv AS ok,
               if(actual < least_kv, least_kv, most_kv) AS required,
               'kV'                                 AS unit,
               b.bus, b.substation                  AS bus_substation,
               replace(t.asset_kind, '_', ' ')      AS kind,
               replace(t.field, '_', ' ')           AS fact,
               [t.asset_kind || '.' || t.field, 'bus.nominal_voltage'] AS needs
        FROM terminal t
        JOIN inventory.reference r ON r.asset_kind = t.asset_kind AND r.substation = t.substation
                                  AND r.asset = t.asset AND r.field = t.place
        JOIN inventory.bus b ON r.target_kind = 'bus' AND b.substation = r.target_substation AND b.bus = r.target
        -- While the voltage of the bus itself is in dispute, that is what is asked.
        WHERE NOT EXISTS (FROM inventory.contradiction c
                          WHERE c.asset_kind = 'bus' AND c.field = 'nominal_voltage' AND c.settled_by IS NULL
                            AND c.substation = b.substation AND c.asset = b.bus)
    """,
    message="{kind} {asset} has {fact} {actual:g} kV at bus {bus} of {nominal_kv:g} kV",
    working="{least:g} x {nominal_kv:g} kV = {least_kv} kV\n{most:g} x {nominal_kv:g} kV = {most_kv} kV\n"
    "on record {actual:g} kV",
    remedy="correct the wrong one of the two, or the bus that {kind} {asset} is said to stand at",
    caution="Until it is settled, take the bus for the higher voltage of the two.",
    cannot_see="Does not know which of the two is wrong.",
    examples={
        "satisfied: a tenth above": lv(11.0),
        "satisfied: exactly the least": lv(9.0),
        "exception: less": lv(8.9),
        "satisfied: exactly the most": lv(1.11 * 10.0),
        "exception: more": lv(11.2),
        "exception: 3.3 kV typed for 33 kV": {
            "generator": [G1 | {"rated_voltage": 3.3}],
            "bus": [B11 | {"nominal_voltage": 33.0}],
            "reference": [AT | {"asset_kind": "generator", "asset": "G1", "field": "bus"}],
        },
        "exception: the bus is settled, the transformer is not": lv(
            20.0, contradiction=[OPEN | {"value_b": "20", "settled_by": 12}]
        ),
        "exception: the tertiary": lv(
            10.0, transformer=[T1 | {"tv_voltage": 20.0}], reference=[AT | {"field": "tv_bus"}]
        ),
        "exception: the HV side": lv(10.0, reference=[AT | {"field": "hv_bus"}]),
        "not assessable: voltage of the tertiary not on record": lv(10.0, reference=[AT | {"field": "tv_bus"}]),
        "not assessable: voltage of the bus not on record": lv(10.0, B11 | {"nominal_voltage": None}),
        "not applicable: the voltage of the bus is in dispute": lv(20.0, contradiction=[OPEN | {"value_b": "20"}]),
    },
)
