"""Grounding transformers rated for less than the voltage of their bus."""

from groundcheck.audit import Rule

BANK = {"substation": "ELM", "grounding_transformer": "GT1", "bus": "B1"}
BUS = {"substation": "ELM", "bus": "B1", "nominal_voltage": 12.0}


def inventory(rated=12.0, margin=1.0, bus=BUS, at="B1"):
    """One grounding transformer at its bus."""
    return {
        "grounding_transformer": [BANK | {"rated_voltage": rated, "bus": at}],
        "bus": [bus] if bus else [],
        "policy": {"margin": margin},
    }


RULE = Rule(
    title="The grounding transformer is rated below the voltage of its bus",
    severity="high",
    why="It stands at full voltage all the time. Rated for less, its core saturates and overheats without any fault, "
    "and its insulation meets the ground fault already weakened.",
    basis="IEEE C57.12.00 and IEC 60076-1, operation at 105 % of rated voltage (clauses recalled)",
    asks="grounding_transformer",
    inputs=("grounding_transformer.rated_voltage", "grounding_transformer.bus", "bus.nominal_voltage"),
    policy={"margin": "grounding_transformer.voltage_margin"},
    query="""
        SELECT g.substation, 'grounding_transformer' AS asset_kind, g.grounding_transformer AS asset, g.bus,
               'kV'                           AS unit,
               g.rated_voltage                AS actual,
               b.nominal_voltage * $margin    AS required,
               actual >= required             AS ok,
               b.nominal_voltage, 100 * b.nominal_voltage / nullif(g.rated_voltage, 0) AS percent_of_rated
        FROM inventory.grounding_transformer g
        LEFT JOIN inventory.bus b
               ON b.substation || ':' || b.bus = if(contains(g.bus, ':'), g.bus, g.substation || ':' || g.bus)
    """,
    message="{asset} is rated {actual:g} kV line to line; bus {bus} runs at {nominal_voltage:g} kV",
    formula="V_rated >= k V_LL",
    working="V_LL = {nominal_voltage:g} kV, nominal at bus {bus}: {percent_of_rated:.1f} % of rated\n"
    "k V_LL = {margin:g} x {nominal_voltage:g} kV = {required} kV\n"
    "V_rated = {actual:g} kV, on the nameplate",
    remedy="read the nameplate: a line-to-neutral voltage may have been recorded; if it is right, a grounding "
    "transformer of {nominal_voltage:g} kV or more",
    caution="Taking it out of service ungrounds the zone: clear or reground the zone first.",
    cannot_see="Takes the nominal voltage of the bus; one that runs above it all year strains the bank more.",
    examples={
        "satisfied: exactly the nominal voltage": inventory(),
        "exception: 11 kV at 12 kV": inventory(11.0),
        "satisfied: 13.2 kV at 12 kV": inventory(13.2),
        "satisfied: within what it bears lastingly": inventory(11.5, margin=0.95),
        "exception: line-to-neutral voltage on record": inventory(6.93, margin=0.95),
        "exception: at the bus of another station": inventory(11.0, at="OAK:B1", bus=BUS | {"substation": "OAK"}),
        "not assessable: rated voltage not on record": inventory(None),
        "not assessable: voltage of the bus not on record": inventory(bus=BUS | {"nominal_voltage": None}),
        "not assessable: bus not on record": inventory(bus=None),
    },
)
