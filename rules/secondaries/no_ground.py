"""Instrument-transformer secondaries that are grounded nowhere."""

from groundcheck.audit import Rule

CIRCUIT = {"substation": "ELM", "secondary_circuit": "CT1-A", "kind": "ct", "instrument_transformer": "CT1"}


def inventory(places):
    """One circuit, grounded at these places."""
    return {"secondary_circuit": [CIRCUIT | {"ground_points": places}]}


RULE = Rule(
    title="A secondary circuit is grounded nowhere",
    severity="high",
    why="Through the capacitance of the instrument transformer an ungrounded secondary floats towards primary voltage, "
    "and an insulation failure there puts primary voltage on relay panels that people touch.",
    basis="IEEE C57.13.3, grounding of instrument-transformer secondaries (clause recalled)",
    asks="secondary_circuit",
    inputs=("secondary_circuit.ground_points",),
    query="""
        SELECT s.substation, 'secondary_circuit' AS asset_kind, s.secondary_circuit AS asset,
               len(list_distinct(s.ground_points))  AS actual,
               1                                    AS required,
               'ground point'                       AS unit,
               actual >= required                   AS ok,
               upper(s.kind)                        AS kind,
               s.instrument_transformer
        FROM inventory.secondary_circuit s
    """,
    message="secondary circuit {asset} ({kind} {instrument_transformer}) is grounded nowhere",
    formula="n_ground >= 1",
    working="n_ground = {actual}\nrequired: {required}",
    remedy="ground it at one point, at the first relay panel or switchboard",
    caution="Never open a CT secondary in service; treat the circuit as live at primary voltage until it is grounded.",
    cannot_see="A circuit grounded through another one that it is wired to has to be recorded as grounded there.",
    examples={
        "exception: no place": inventory([]),
        "satisfied: exactly one place": inventory(["relay panel"]),
        "satisfied: two places, another rule's question": inventory(["relay panel", "marshalling kiosk"]),
        "not assessable: places not on record": inventory(None),
    },
)
