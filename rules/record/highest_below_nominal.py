"""Buses whose highest voltage is on record as lower than their nominal voltage."""

from groundcheck.audit import Rule

BUS = {"substation": "ELM", "bus": "B1", "nominal_voltage": 132.0}


def inventory(highest):
    """A bus of 132 kV."""
    return {"bus": [BUS | {"highest_voltage": highest}]}


RULE = Rule(
    title="The highest voltage of the bus is below its nominal voltage",
    severity="medium",
    why="One of the two is wrong, often by a decimal point. Insulation and arresters of the bus are judged by them.",
    basis="IEC 60038, highest voltage of a system not below its nominal voltage (clause recalled)",
    asks="bus",
    inputs=("bus.highest_voltage", "bus.nominal_voltage"),
    query="""
        SELECT b.substation, 'bus' AS asset_kind, b.bus AS asset,
               b.highest_voltage   AS actual,
               b.nominal_voltage   AS required,
               'kV'                AS unit,
               actual >= required  AS ok
        FROM inventory.bus b
        WHERE b.highest_voltage IS NOT NULL
    """,
    formula="U_m >= U_n",
    message="bus {asset} has a highest voltage of {actual:g} kV, below its nominal voltage of {required:g} kV",
    working="highest voltage U_m = {actual:g} kV\nnominal voltage U_n = {required:g} kV\n"
    "{actual:g} kV < {required:g} kV",
    remedy="correct the wrong one of the two",
    caution="Until it is settled, take the bus for the higher voltage of the two.",
    cannot_see="Does not know which of the two is wrong.",
    always_assessable=True,
    examples={
        "exception: 13.2 kV on a 132 kV bus": inventory(13.2),
        "exception: a little below": inventory(131.9),
        "satisfied: exactly nominal voltage": inventory(132.0),
        "satisfied: above nominal voltage": inventory(145.0),
        "not applicable: highest voltage not on record": inventory(None),
    },
)
