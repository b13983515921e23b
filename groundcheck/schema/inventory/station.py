"""Stations, buses, switches and lines."""

import pandas as pd

from groundcheck.schema.columns import choice, count, key, quantity, reference, text, yes_no
from groundcheck.schema.table import InventoryTable
from groundcheck.schema.vocabulary import GROUNDING, LINE_CONSTRUCTION, NEUTRAL_WIRE, SWITCH_STATE

STATION = (
    "station",
    "s/s",
    "site",
    "substation name",
    "station name",
    "ss",
    "location",
    "stn",
    "sub",
    "site name",
    "substation code",
    "station code",
    "substation id",
)


class Substation(InventoryTable):
    """A station of the fleet."""

    substation: str = key("Code or name by which every other table knows the station.", *STATION)
    name: str = text("Full name.", "full name", "description", "long name")
    also_known_as: str = text(
        "Other names in use, separated by semicolons.", "aka", "alias", "other names", "former name"
    )
    district: str = text("District that keeps the record.", "region", "area", "zone office", "division", "depot")
    owner: str = text("Who owns the station.", "operator", "company", "licence", "license", "utility")
    frequency: float = quantity("Power frequency.", "Hz", "freq", "hz", gt=0, le=70)
    criticality: pd.Int64Dtype = count(
        "1 (least) to 5 (most): how much depends on the station.", "priority", "importance", ge=1, le=5
    )
    customers: pd.Int64Dtype = count("Customers supplied.", "customer count", "no of customers", "connections")
    latitude: float = quantity("Latitude, WGS 84.", "deg", "lat", ge=-90, le=90)
    longitude: float = quantity("Longitude, WGS 84.", "deg", "lon", "long", ge=-180, le=180)


class Bus(InventoryTable):
    """A busbar, or any point of one voltage to which equipment is connected."""

    substation: str = key("Station of the bus.", *STATION)
    bus: str = key(
        "Its tag in that station.", "busbar", "bus name", "bar", "board", "busbar name", "bus no", "node", "section"
    )
    nominal_voltage: float = quantity(
        "Nominal line-to-line voltage.",
        "kV",
        "voltage",
        "system voltage",
        "kv",
        "nominal kv",
        "un",
        "volts",
        "nominal",
        "operating voltage",
        "voltage level",
        "bus voltage",
        required=True,
        gt=0,
        le=1200,
    )
    highest_voltage: float = quantity(
        "Highest line-to-line voltage in normal service (Um of the system).",
        "kV",
        "um",
        "max voltage",
        "highest kv",
        "maximum voltage",
        "highest system voltage",
        gt=0,
        le=1200,
    )
    declared_grounding: str = choice(
        "How the system at this bus is said to be grounded.",
        GROUNDING,
        "grounding",
        "earthing",
        "system grounding",
        "system earthing",
        "neutral grounding",
        "neutral earthing",
        "earthing method",
        "grounding method",
        "method of earthing",
        "neutral treatment",
        "earthing type",
        "neutral",
        "type of earthing",
    )
    continuity_required: pd.BooleanDtype = yes_no(
        "Whether the system is meant to run on through a first ground fault.",
        "runs on",
        "continuity",
        "run on earth fault",
        "run on",
        "continue on fault",
        "keeps running on e/f",
        "run through earth fault",
        "operates with standing earth fault",
        "sustained fault operation",
    )
    ground_fault_clearing_time: float = quantity(
        "Longest time in which a ground fault at this bus is cleared.",
        "s",
        "clearing time",
        "fault clearing time",
        "e/f clearing time",
        "earth fault clearing time",
        "trip time",
        "fault duration",
        "clearance time",
        "e/f clearance",
        "ground fault clearing time",
        gt=0,
    )
    neutral_wire: str = choice(
        "Neutral conductor carried with the lines.", NEUTRAL_WIRE, "wires", "system wires", "neutral conductor"
    )


class Switch(InventoryTable):
    """A switch, breaker or link that joins two buses of one voltage."""

    substation: str = key("Station of the switch.", *STATION)
    switch: str = key(
        "Its tag in that station.", "breaker", "coupler", "switch name", "bus coupler", "section switch", "cb"
    )
    bus_a: str = reference("Bus at one side.", ("bus",), "bus 1", "from", "side a", "from bus", required=True)
    bus_b: str = reference("Bus at the other side.", ("bus",), "bus 2", "to", "side b", "to bus", required=True)
    normal_state: str = choice(
        "State in normal running; blank leaves the zone undecided.",
        SWITCH_STATE,
        "position",
        "normal position",
        "state normal",
        "normally",
        required=False,
    )


class Line(InventoryTable):
    """A line or cable between two buses, or a radial feeder that starts at one."""

    substation: str = key("Station at which the line is recorded.", *STATION)
    line: str = key(
        "Its tag in that station.",
        "feeder",
        "circuit",
        "line name",
        "feeder name",
        "cct",
        "circuit name",
        "cable circuit",
    )
    from_bus: str = reference(
        "Bus at this end.", ("bus",), "from", "bus", "busbar", "start", "sending bus", required=True
    )
    to_bus: str = reference(
        "Bus at the far end; blank for a radial feeder.",
        ("bus",),
        "to",
        "end",
        "far end",
        "receiving bus",
        "remote bus",
    )
    length: float = quantity(
        "Route length.", "km", "route length", "km", "distance", "circuit length", "total length", ge=0
    )
    construction: str = choice(
        "How it is built.", LINE_CONSTRUCTION, "type", "line type", "oh/ug", "circuit type", "kind"
    )
    r1: float = quantity("Positive-sequence resistance.", "ohm/km", "r", "r+", "resistance", "rpos", ge=0)
    x1: float = quantity("Positive-sequence reactance.", "ohm/km", "x", "x+", "reactance", "xpos", gt=0)
    r0: float = quantity("Zero-sequence resistance.", "ohm/km", "rzero", "zero sequence resistance", ge=0)
    x0: float = quantity("Zero-sequence reactance.", "ohm/km", "xzero", "zero sequence reactance", gt=0)
    c0: float = quantity(
        "Zero-sequence capacitance per phase.",
        "nF/km",
        "capacitance",
        "zero sequence capacitance",
        "c",
        "capacitance to earth",
        "capacitance to ground",
        ge=0,
    )
    charging_current: float = quantity(
        "Capacitive ground-fault current of the whole line (3I0).",
        "A",
        "charging amps",
        "capacitive current",
        "capacitive earth fault current",
        "e/f charging",
        ge=0,
    )
    shield_wire: str = text(
        "Shield wire, as built.", "earth wire", "ground wire", "opgw", "overhead ground wire", "sky wire"
    )
    shield_wire_bonded_from: pd.BooleanDtype = yes_no(
        "Whether it is bonded to the mat at this end.", "earth wire bonded", "ow bonded from", "bonded here"
    )
    shield_wire_bonded_to: pd.BooleanDtype = yes_no(
        "Whether it is bonded at the far end.", "earth wire bonded far end", "ow bonded to", "bonded far end"
    )
