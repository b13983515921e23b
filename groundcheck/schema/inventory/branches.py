"""Switches and lines."""

import pandas as pd

from groundcheck.schema.columns import choice, headings, key, quantity, reference, text, yes_no
from groundcheck.schema.inventory.station import STATION
from groundcheck.schema.table import InventoryTable
from groundcheck.schema.vocabulary import LINE_CONSTRUCTION, SWITCH_STATE


class Switch(InventoryTable):
    """A switch, breaker or link that joins two buses of one voltage."""

    substation: str = key("Station of the switch.", *STATION, example="ASH")
    switch: str = key(
        "Its tag in that station.",
        *headings(
            "breaker; coupler; switch name; bus coupler; section switch; cb; circuit breaker; cb no; cb id",
            "breaker no; breaker id; switch no; switch id; switch ref; device no; isolator; disconnector; cb ref",
            "switch tag; breaker tag",
        ),
        example="Q12",
    )
    bus_a: str = reference(
        "Bus at one side.",
        ("bus",),
        *headings("bus 1; from; side a; from bus; from busbar; bus from; side 1; busbar 1; busbar a; from node"),
        required=True,
    )
    bus_b: str = reference(
        "Bus at the other side.",
        ("bus",),
        *headings("bus 2; to; side b; to bus; to busbar; bus to; side 2; busbar 2; busbar b; to node"),
        required=True,
        example="B12",
    )
    normal_state: str = choice(
        "State in normal running; blank leaves the zone undecided.",
        SWITCH_STATE,
        *headings(
            "position; normal position; state normal; normally; normal status; normally open/closed; no/nc",
            "n/o or n/c; open/closed; switch position; running position; normal operating state",
        ),
        required=False,
    )


class Line(InventoryTable):
    """A line or cable between two buses, or a radial feeder that starts at one."""

    substation: str = key("Station at which the line is recorded.", *STATION, example="ASH")
    line: str = key(
        "Its tag in that station.",
        *headings(
            "feeder; circuit; line name; feeder name; cct; circuit name; cable circuit; line id; line no",
            "feeder no; feeder id; circuit id; circuit no; circuit number; line ref; feeder ref; cable no",
            "cable id; line tag; feeder number; branch; cable; cable ref; cable name; overhead line",
        ),
        example="F1",
    )
    from_bus: str = reference(
        "Bus at this end.",
        ("bus",),
        *headings(
            "from; bus; busbar; start; sending bus; from busbar; from node; bus from; sending end; end a; node 1",
            "near end; source bus; from station bus",
        ),
        required=True,
    )
    to_bus: str = reference(
        "Bus at the far end; blank for a radial feeder.",
        ("bus",),
        *headings(
            "to; end; far end; receiving bus; remote bus; to busbar; to node; bus to; receiving end; end b",
            "node 2; destination bus; remote end",
        ),
        example="ELM:B11",
    )
    length: float = quantity(
        "Route length.",
        "km",
        *headings(
            "route length; km; distance; circuit length; total length; line length; cable length; feeder length",
            "length km; len; circuit km",
        ),
        ge=0,
        example="6.4",
    )
    construction: str = choice(
        "How it is built.",
        LINE_CONSTRUCTION,
        *headings("type; line type; oh/ug; circuit type; kind; overhead/cable; oh/cable; line construction; ohl/cable"),
    )
    r1: float = quantity(
        "Positive-sequence resistance.",
        "ohm/km",
        *headings("r; r+; resistance; rpos; r1 per km; positive sequence resistance; pos seq r; r pos"),
        ge=0,
        example="0.27",
    )
    x1: float = quantity(
        "Positive-sequence reactance.",
        "ohm/km",
        *headings("x; x+; reactance; xpos; x1 per km; positive sequence reactance; pos seq x; x pos"),
        gt=0,
        example="0.36",
    )
    r0: float = quantity(
        "Zero-sequence resistance.",
        "ohm/km",
        *headings("rzero; zero sequence resistance; r0 per km; zero seq r; r zero"),
        ge=0,
        example="0.42",
    )
    x0: float = quantity(
        "Zero-sequence reactance.",
        "ohm/km",
        *headings("xzero; zero sequence reactance; x0 per km; zero seq x; x zero"),
        gt=0,
        example="1.5",
    )
    c0: float = quantity(
        "Zero-sequence capacitance per phase.",
        "nF/km",
        *headings(
            "capacitance; zero sequence capacitance; c; capacitance to earth; capacitance to ground; c0 per km",
            "shunt capacitance; zero seq c",
        ),
        ge=0,
        example="6",
    )
    charging_current: float = quantity(
        "Capacitive ground-fault current of the whole line (3I0).",
        "A",
        *headings(
            "charging amps; capacitive current; capacitive earth fault current; e/f charging",
            "earth fault charging current; 3ic0; capacitive ef current; charging current e/f",
        ),
        ge=0,
        example="0.7",
    )
    shield_wire: str = text(
        "Shield wire, as built.",
        *headings(
            "earth wire; ground wire; opgw; overhead ground wire; sky wire; shield wires; earthwire; ehs", "sky wires"
        ),
        example="7/3.25 mm steel",
    )
    shield_wire_bonded_from: pd.BooleanDtype = yes_no(
        "Whether it is bonded to the mat at this end.",
        "earth wire bonded",
        "ow bonded from",
        "bonded here",
        "shield wire bonded",
    )
    shield_wire_bonded_to: pd.BooleanDtype = yes_no(
        "Whether it is bonded at the far end.",
        "earth wire bonded far end",
        "ow bonded to",
        "bonded far end",
        "shield wire bonded far end",
    )
