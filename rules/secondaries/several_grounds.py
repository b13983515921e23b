"""Instrument-transformer secondaries that are grounded at more than one point."""

from groundcheck.audit import Rule

CIRCUIT = {"substation": "ELM", "secondary_circuit": "CT1-A", "kind": "ct", "instrument_transformer": "CT1"}


def inventory(places):
    """One circuit, grounded at these places."""
    return {"secondary_circuit": [CIRCUIT | {"ground_points": places}]}


RULE = Rule(
    title="A secondary circuit is grounded at more than one point",
    severity="medium",
    why="In a ground fault the two points of the mat are at different voltages, which drive current through the "
    "secondary: residual relays trip for faults elsewhere, or miss their own.",
    basis="IEEE C57.13.3, one ground point a circuit (clause recalled)",
    asks="secondary_circuit",
    inputs=("secondary_circuit.ground_points",),
    query="""
        SELECT s.substation, 'secondary_circuit' AS asset_kind, s.secondary_circuit AS asset,
               len(list_distinct(s.ground_points))  AS actual,
               1                                    AS required,
               'ground point'                       AS unit,
               actual <= required                   AS ok,
               upper(s.kind)                        AS kind,
               s.instrument_transformer,
               list_sort(list_distinct(s.ground_points)) AS places
        FROM inventory.secondary_circuit s
    """,
    message="secondary circuit {asset} ({kind} {instrument_transformer}) is grounded at {actual} points: {places}",
    formula="n_ground <= 1",
    working="n_ground = {actual}: {places}\nallowed: {required}",
    remedy="keep the ground at the first relay panel or switchboard and lift the others",
    caution="Never open a CT secondary in service, and lift a ground only after another is proved: the circuit must "
    "not be left without one.",
    cannot_see="The same place written in two ways counts as two.",
    examples={
        "exception: two places": inventory(["relay panel", "marshalling kiosk"]),
        "exception: three places": inventory(["relay panel", "marshalling kiosk", "CT terminal box"]),
        "satisfied: exactly one place": inventory(["relay panel"]),
        "satisfied: one place named twice": inventory(["relay panel", "relay panel"]),
        "satisfied: no place, another rule's question": inventory([]),
        "not assessable: places not on record": inventory(None),
    },
)
