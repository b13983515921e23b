"""Shield wires that are not bonded to the station mat."""

from groundcheck.audit import Rule

L1 = {"substation": "ELM", "line": "L1", "shield_wire": "7/3.25 mm steel"}
END = {"substation": "ELM", "line": "L1", "end": "to", "end_substation": "OAK", "end_bus": "B9", "has_wire": True}
FAULT = {"substation": "OAK", "bus": "B9", "condition": "max", "line_to_ground_ka": 8.0}


def inventory(bonded, line=L1, **end):
    """The far end of a line with a shield wire."""
    return {
        "line": [line | {"shield_wire_bonded_to": bonded}],
        "shield_wire": [END | {"bonded": bonded} | end],
        "bus_fault": [FAULT, FAULT | {"condition": "min"}],
    }


RULE = Rule(
    title="The shield wire is not bonded to the station mat",
    severity="medium",
    why="Bonded, the wire carries part of a ground fault's current back along the towers. Without the bond the "
    "whole of it passes from the mat into the ground, with higher touch and step voltages, and the end of the wire can "
    "rise above the mat within reach of people.",
    basis="IEEE Std 80, division of fault current (clause recalled); that the wire is bonded: common practice",
    asks="line",
    inputs=(
        "line.shield_wire_bonded_from",
        "line.shield_wire_bonded_to",
        "line.shield_wire",
        "shield_wire.bonded",
    ),
    query="""
        SELECT w.substation, 'line' AS asset_kind, w.line AS asset, w."end" AS item, w."end",
               w.end_substation, w.end_bus,
               if(w.bonded, 'bonded', 'not bonded')  AS actual,
               'bonded'                              AS required,
               ''                                    AS unit,
               -- What is bonded is a wire, whether or not the line's record names it.
               CASE WHEN w.bonded THEN TRUE WHEN w.has_wire THEN w.bonded END AS ok,
               l.shield_wire, f.line_to_ground_ka    AS fault_ka,
               ['line.shield_wire_bonded_' || w."end", 'line.shield_wire'] AS needs
        FROM study.shield_wire w
        LEFT JOIN inventory.line l USING (substation, line)
        LEFT JOIN study.bus_fault f
               ON f.substation = w.end_substation AND f.bus = w.end_bus AND f.condition = 'max'
        -- Most lines on cable or wood have none; where neither wire nor bond is on record, none is looked for.
        WHERE w.has_wire OR (w.has_wire IS NULL AND w.bonded IS NOT NULL)
    """,
    message="{asset}: the shield wire ({shield_wire}) is not bonded to the mat of {end_substation}, at bus {end_bus}",
    working="shield wire of {asset}: {shield_wire}\n"
    "at {end_substation}: {actual}; required: {required}\n"
    "ground fault at bus {end_bus}: {fault_ka} kA, none of which the wire brings back",
    remedy="a bond from the shield wire to the mat of {end_substation}, sized for its share of {fault_ka} kA; then "
    "the mat's potential rise computed anew",
    caution="The gap between an unbonded wire and the mat can bear kilovolts in a ground fault: never bridge it by "
    "hand; bond with the line out of service, or by live procedure.",
    cannot_see="A wire may be kept off a mat on purpose, as at a gantry with its own ground; a waiver then says so.",
    examples={
        "exception: not bonded": inventory(False),
        "satisfied: bonded": inventory(True),
        "not assessable: bond not on record": inventory(None),
        "exception: this end": inventory(False, L1 | {"shield_wire_bonded_from": False}, end="from"),
        "not assessable: no bond, and whether there is a wire is not on record": inventory(
            False, L1 | {"shield_wire": None}, has_wire=None
        ),
        "satisfied: bonded, the wire itself is not on record": inventory(
            True, L1 | {"shield_wire": None}, has_wire=None
        ),
        "not applicable: no wire": inventory(False, has_wire=False),
        "not applicable: nothing on record": inventory(None, L1 | {"shield_wire": None}, has_wire=None),
        "exception: its bus is not on record": inventory(False) | {"bus_fault": []},
    },
)
