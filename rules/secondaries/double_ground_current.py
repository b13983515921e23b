"""Secondary circuits grounded twice, and the current that a ground fault drives through their wiring."""

from groundcheck.audit import Rule

CIRCUIT = {"substation": "ELM", "secondary_circuit": "S1", "kind": "ct", "instrument_transformer": "CT1",
           "ground_points": ["kiosk", "relay panel"], "conductor_area": 4.0, "length": 85.0}  # fmt: skip
CT = {"substation": "ELM", "instrument_transformer": "CT1", "kind": "ct", "primary": 400.0, "secondary": 5.0}
# Handbook section 13: 10 V between the points, 0.5 ohm of wire and 0.02 ohm of mat drive 19.23 A.
LOOP = {"substation": "ELM", "secondary_circuit": "S1", "mat_voltage_v": 10.0, "wire_ohm": 0.5, "mat_ohm": 0.02,
        "wire_current_a": 19.2308, "bears_a": 400.0, "duration_s": 0.5, "bypassed_share": 0.9615}  # fmt: skip


def inventory(kind="vt", rated=5.0, share=0.1, **loop):
    """One circuit grounded twice, and the loop that it makes."""
    return {"secondary_circuit": [CIRCUIT | {"kind": kind}], "instrument_transformer": [CT | {"secondary": rated}],
            "secondary_loop": [LOOP | loop], "policy": {"share": share}}  # fmt: skip


RULE = Rule(
    title="A ground fault drives too much current through a secondary circuit that is grounded twice",
    severity="high",
    why="The two points of the mat are at different voltages in a ground fault, and the wiring is the link between "
    "them. Relays see current that no fault sends, or miss what theirs does; wiring that is too thin for it burns.",
    basis="IEEE C57.13.3, one ground point a circuit (clause recalled); heating of insulated conductors, IEC 60724 "
    "(recalled)",
    asks="secondary_circuit",
    inputs=(
        "secondary_circuit.ground_points",
        "secondary_loop.wire_current_a",
        "secondary_loop.bears_a",
        "instrument_transformer.secondary",
    ),
    policy={"share": "secondary.false_current"},
    query="""
        WITH circuit AS (
            SELECT l.*, upper(c.kind) AS kind, c.ground_points AS places, c.conductor_area, c.instrument_transformer,
                   i.secondary AS rated_a,
                   coalesce(l.wire_current_a, l.wire_current_a_low)   AS least_a,
                   coalesce(l.wire_current_a, l.wire_current_a_high)  AS most_a,
                   unnest(if(c.kind = 'ct', ['conductor', 'relay'], ['conductor'])) AS item
            FROM study.secondary_loop l
            JOIN inventory.secondary_circuit c USING (substation, secondary_circuit)
            LEFT JOIN inventory.instrument_transformer i
              ON i.substation = c.substation AND i.instrument_transformer = c.instrument_transformer
        )
        SELECT substation, 'secondary_circuit' AS asset_kind, secondary_circuit AS asset, item,
               item = 'relay' AS misled,
               if(misled, rated_a * $share, coalesce(bears_a, bears_a_low))   AS least_limit,
               if(misled, rated_a * $share, coalesce(bears_a, bears_a_high))  AS most_limit,
               CASE WHEN most_a <= least_limit THEN TRUE
                    WHEN least_a > most_limit THEN FALSE END AS ok,
               if(ok IS FALSE, least_a, most_a)          AS actual,
               if(ok IS FALSE, most_limit, least_limit)  AS required,
               'A' AS unit, wire_current_a_low AS actual_low, wire_current_a_high AS actual_high,
               if(misled, NULL, bears_a_low) AS required_low, if(misled, NULL, bears_a_high) AS required_high,
               kind, places, instrument_transformer, mat_voltage_v, wire_ohm, mat_ohm, bypassed_share, rated_a,
               if(misled, printf('%g x %g A, rated secondary of %s', $share, rated_a, instrument_transformer),
                  printf('%g mm2 of copper for %g s', conductor_area, duration_s)) AS limit_of,
               ['secondary_loop.wire_current_a',
                if(misled, 'instrument_transformer.secondary', 'secondary_loop.bears_a')] AS needs
        FROM circuit
    """,
    message="secondary circuit {asset} ({kind}), grounded at {places}, carries {actual} A in a ground fault; "
    "{required} A is the most for its {item}",
    formula="I = U / (R_wire + R_mat)\nI <= I_bears for the conductor, e I_rated for a relay",
    working="U of the mat = {mat_voltage_v} V\nR_wire + R_mat = {wire_ohm} ohm + {mat_ohm} ohm\n"
    "I = {actual} A\nlimit for the {item}: {limit_of} = {required} A\n"
    "share of a true residual current that passes the wire by: {bypassed_share:.0%}",
    remedy="the ground at the first relay panel or switchboard kept, the others lifted",
    caution="Never open a CT secondary in service, and lift a ground only after another is proved: the circuit must "
    "not be left without one.",
    cannot_see="The voltage between two points of a mat is a typical share of its rise, and the burden of the relays "
    "is left out. Two names of one place make a loop that is not there.",
    examples={
        "satisfied: handbook example, 19.2 A through wire that bears 400 A": inventory(),
        "exception: the same through wire that bears 19 A": inventory(bears_a=19.0),
        "satisfied: exactly what the wire bears": inventory(wire_current_a=400.0),
        "exception: handbook example at a current transformer, wire of 19 A": inventory("ct", bears_a=19.0),
        "satisfied: exactly a tenth of 5 A": inventory("ct", wire_current_a=0.5),
        "satisfied: 19.2 A, half of 50 A allowed": inventory("ct", 50.0, 0.5),
        "exception: above a tenth of 1 A, above what the wire bears": inventory(
            "ct", 1.0, wire_current_a=0.11, bears_a=0.1
        ),
        "satisfied: exactly the least that the wire bears by the record": inventory(
            wire_current_a=None,
            wire_current_a_low=0.0,
            wire_current_a_high=300.0,
            bears_a=None,
            bears_a_low=300.0,
            bears_a_high=500.0,
        ),
        "exception: at least more than it bears at most": inventory(
            wire_current_a=None,
            wire_current_a_low=501.0,
            wire_current_a_high=900.0,
            bears_a=None,
            bears_a_low=300.0,
            bears_a_high=500.0,
        ),
        "not assessable: at least exactly what it bears at most": inventory(
            wire_current_a=None,
            wire_current_a_low=500.0,
            wire_current_a_high=900.0,
            bears_a=None,
            bears_a_low=300.0,
            bears_a_high=500.0,
        ),
        "not assessable: current not computed": inventory("ct", wire_current_a=None),
        "not assessable: what the wire bears not computed": inventory(bears_a=None),
        "not assessable: rated secondary not on record either": inventory("ct", None, bears_a=None),
        "not applicable: grounded once": {"secondary_circuit": [CIRCUIT]},
    },
)
