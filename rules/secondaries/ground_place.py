"""Instrument-transformer secondaries whose ground is in the yard."""

from groundcheck.audit import Rule

CIRCUIT = {"substation": "ELM", "secondary_circuit": "CT1-A", "kind": "ct", "instrument_transformer": "CT1"}


def inventory(*places, kind="ct"):
    """One circuit, grounded at these places."""
    return {"secondary_circuit": [CIRCUIT | {"ground_points": list(places), "kind": kind}]}


RULE = Rule(
    title="The ground of a secondary circuit is in the yard",
    severity="low",
    why="With the ground in the yard, the voltage between yard and panel stands at the panel in a ground fault, where "
    "people work. Those who test there do not see that ground either, and add a second one.",
    basis="IEEE C57.13.3-2014, ground at the switchboard or relay panel (clause recalled)",
    asks="secondary_circuit",
    inputs=("secondary_circuit.ground_points",),
    policy={"panels": "secondary.ground_places", "yard": "secondary.yard_places"},
    query="""
        WITH circuit AS (
            SELECT *, lower(ground_points[1]) AS place FROM inventory.secondary_circuit
            -- None, or several, are other rules' questions.
            WHERE ground_points IS NULL OR len(list_distinct(ground_points)) = 1
        )
        SELECT substation, 'secondary_circuit' AS asset_kind, secondary_circuit AS asset,
               ground_points[1]                     AS actual,
               'relay panel or switchboard'         AS required,
               ''                                   AS unit,
               NOT regexp_matches(place, $yard)     AS ok,
               upper(kind) AS kind, instrument_transformer
        FROM circuit
        -- A place that the policy knows neither of as a panel nor as the yard tells nothing.
        WHERE place IS NULL OR regexp_matches(place, $yard) OR regexp_matches(place, $panels)
    """,
    message="secondary circuit {asset} ({kind} {instrument_transformer}) is grounded at the {actual}, not at the relay "
    "panel or switchboard",
    working="ground point on record: {actual}\nits place: {required}",
    remedy="a ground at the first relay panel or switchboard, then the one at the {actual} lifted",
    caution="Never open a CT secondary in service, and lift a ground only after the other is proved: the circuit must "
    "not be left without one.",
    cannot_see="Some owners ground voltage transformers at their terminals by rule, with reason: the policy's list of "
    "places decides. A place in none of its lists is not asked about.",
    examples={
        "exception: terminal box": inventory("CT terminal box"),
        "exception: marshalling kiosk, a voltage transformer": inventory("Marshalling kiosk", kind="vt"),
        "exception: yard, though at a panel there": inventory("panel in the yard"),
        "satisfied: relay panel": inventory("Relay panel RP1"),
        "satisfied: control room": inventory("control room"),
        "satisfied: one place named twice": inventory("relay panel", "relay panel"),
        "not assessable: places not on record": {"secondary_circuit": [CIRCUIT]},
        "not applicable: nowhere, another rule's question": inventory(),
        "not applicable: two places, another rule's question": inventory("CT terminal box", "relay panel"),
        "not applicable: a place that tells nothing": inventory("core 2"),
    },
)
