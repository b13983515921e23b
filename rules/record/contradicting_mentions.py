"""Facts of which the record gives two values."""

from groundcheck.audit import Rule

BUS = {"substation": "ELM", "bus": "B1", "nominal_voltage": 0.4}
TWICE = {"substation": "ELM", "asset_kind": "bus", "asset": "B1", "field": "nominal_voltage",
         "value_a": "0.4", "value_b": "0.69"}  # fmt: skip

RULE = Rule(
    title="The record gives two values for one fact",
    severity="medium",
    why="Nothing that rests on the fact can be computed until one of the two is known to be right; for the voltage of "
    "a bus, that is every fault current and every overvoltage at it.",
    basis="common practice, no source",
    asks="record",
    inputs=("bus.nominal_voltage", "bus.highest_voltage", "bus.declared_grounding"),
    query="""
        SELECT c.substation, c.asset_kind, c.asset,
               c.field || ' ' || c.value_a || ' ' || c.value_b  AS item,
               c.value_a                      AS actual,
               c.value_b                      AS required,
               coalesce(c.unit, '')           AS unit,
               FALSE                          AS ok,
               c.field,
               replace(c.asset_kind, '_', ' ') AS kind,
               replace(c.field, '_', ' ')      AS fact,
               c.value_a || coalesce(' ' || c.unit, '') AS one,
               c.value_b || coalesce(' ' || c.unit, '') AS other
        FROM inventory.contradiction c
        UNION ALL
        SELECT b.substation, 'bus', b.bus, NULL, 'no contradiction', 'no contradiction', '', TRUE, NULL, 'bus',
               '', '', ''
        FROM inventory.bus b
        WHERE NOT EXISTS (FROM inventory.contradiction c
                          WHERE c.asset_kind = 'bus' AND c.substation = b.substation AND c.asset = b.bus)
    """,
    message="{kind} {asset} is on record with {fact} {one} and with {other}",
    working="first mention: {one}\nother mention: {other}",
    remedy="find out which of the two is right and correct the other",
    caution="Until it is settled, take the bus for the higher voltage of the two.",
    cannot_see="Does not know which of the two is right, nor whether both are wrong.",
    always_assessable=True,
    examples={
        "exception: two voltages for one bus": {"bus": [BUS], "contradiction": [TWICE]},
        "exception: three voltages for one bus": {"bus": [BUS], "contradiction": [TWICE, TWICE | {"value_b": "6.6"}]},
        "exception: another kind of asset": {"contradiction": [TWICE | {"asset_kind": "transformer", "asset": "T1"}]},
        "satisfied: nothing contradicts": {"bus": [BUS]},
        "not applicable: no bus on record": {"contradiction": []},
    },
)
