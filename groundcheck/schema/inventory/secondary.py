"""Instrument transformers, their circuits, and what detects a ground fault."""

from groundcheck.schema.columns import choice, key, places, quantity, reference, size, text
from groundcheck.schema.inventory.station import STATION
from groundcheck.schema.table import InventoryTable
from groundcheck.schema.vocabulary import DETECTION_METHOD, INSTRUMENT_TRANSFORMER_KINDS, RELAY_ACTION, RELAY_CURVES


class InstrumentTransformer(InventoryTable):
    """A current or voltage transformer set."""

    substation: str = key("Station it stands in.", *STATION)
    instrument_transformer: str = key(
        "Its tag in that station.", "it", "ct/vt", "vt", "ct", "instrument transformer tag", "vt tag", "ct tag"
    )
    kind: str = choice("Current or voltage.", INSTRUMENT_TRANSFORMER_KINDS, "type", "ct or vt", required=True)
    bus: str = reference("Bus it is connected to.", ("bus",), "busbar", "at bus")
    connection: str = text("How it is connected.", "winding connection", "vt connection")
    primary: float = quantity("Rated primary.", "V or A", "primary rating", "rated primary", "pri", gt=0)
    secondary: float = quantity("Rated secondary.", "V or A", "secondary rating", "rated secondary", "sec", gt=0)
    voltage_factor: float = quantity("Rated voltage factor.", "pu", "vf", "rated voltage factor", gt=0, le=3)
    voltage_factor_time: float = quantity(
        "How long the voltage factor may be applied.", "s", "vf time", "voltage factor duration", gt=0
    )
    damping_resistor: float = quantity(
        "Resistor across the broken delta.", "ohm", "damping ohms", "ferroresonance resistor", gt=0
    )


class SecondaryCircuit(InventoryTable):
    """The secondary wiring of an instrument transformer set."""

    substation: str = key("Station of the circuit.", *STATION)
    secondary_circuit: str = key(
        "Its tag in that station.",
        "circuit",
        "secondary",
        "ct circuit",
        "vt circuit",
        "circuit ref",
        "secondary circuit ref",
        "core",
    )
    kind: str = choice(
        "Current or voltage circuit.", INSTRUMENT_TRANSFORMER_KINDS, "type", "ct or vt", "ct/vt", required=True
    )
    instrument_transformer: str = reference(
        "The instrument transformer it belongs to.", ("instrument_transformer",), "fed from", "it", "source", "ct", "vt"
    )
    ground_points: object = places(
        "Places at which the circuit is grounded; 'none' if nowhere.",
        "grounded at",
        "earthed at",
        "earth points",
        "earth point",
        "ground point",
        "earth location",
        "earthing location",
        "earth(s)",
        "grounding point",
    )
    conductor_area: float = size("Conductor area.", "wire size", "conductor size", "csa", "area")
    length: float = quantity("One-way length.", "m", "run", "route length", ge=0)


class GroundRelay(InventoryTable):
    """A relay element that sees ground faults."""

    substation: str = key("Station of the relay.", *STATION)
    ground_relay: str = key(
        "Its tag in that station.",
        "relay",
        "relay tag",
        "e/f relay",
        "earth fault relay",
        "protection",
        "relay id",
        "relay name",
    )
    function: str = text(
        "Device function, IEEE C37.2: 51G, 51N, 50G, 67N, 59N, 59G, 87N, 64.",
        "ansi",
        "element",
        "device number",
        "ansi code",
        "ansi no",
        "c37.2",
        "function no",
    )
    measures: str = reference(
        "Asset whose ground current or neutral voltage it measures.",
        (
            "transformer",
            "neutral_device",
            "grounding_transformer",
            "generator",
            "line",
            "bus",
            "instrument_transformer",
        ),
        "protects",
        "protected plant",
        "measuring",
        "on",
        "applied to",
        "connected to",
        "asset",
    )
    ct_primary: float = quantity("CT primary.", "A", "ct pri", "ct prim", gt=0)
    ct_secondary: float = quantity("CT secondary.", "A", "ct sec", gt=0)
    vt_primary: float = quantity("VT primary.", "V", "vt pri", gt=0)
    vt_secondary: float = quantity("VT secondary.", "V", "vt sec", gt=0)
    pickup: float = quantity(
        "Pickup in primary amperes, or primary volts for a voltage element.",
        "A or V",
        "setting",
        "pick-up",
        "current setting",
        "plug setting",
        "is",
        "primary setting",
        "pickup primary",
        "pickup a",
        gt=0,
    )
    curve: str = choice("Operating characteristic.", RELAY_CURVES, "characteristic", "curve type", "char")
    time_dial: float = quantity(
        "Time dial or time multiplier.", None, "tms", "td", "time multiplier", "tm", "time multiplier setting", gt=0
    )
    definite_time: float = quantity("Definite time.", "s", "delay", "time delay", "dt setting", "time setting", ge=0)
    breaker_time: float = quantity(
        "Clearing time of the breaker it trips.",
        "s",
        "cb time",
        "breaker clearing time",
        "breaker operating time",
        gt=0,
    )
    action: str = choice("What it does.", RELAY_ACTION, "operates", "trip or alarm", "output", "trip/alarm")
    backs_up: str = reference("Relay that it backs up.", ("ground_relay",), "backup for", "back-up to", "grades with")


class GroundDetector(InventoryTable):
    """What tells of a ground fault that passes little current."""

    substation: str = key("Station it stands in.", *STATION)
    ground_detector: str = key(
        "Its tag in that station.",
        "detector",
        "earth fault indicator",
        "e/f detection",
        "earth fault detector",
        "detector tag",
        "ground detection",
    )
    bus: str = reference("Bus it watches.", ("bus",), "busbar", "at bus", "monitored bus", required=True)
    method: str = choice("How it detects.", DETECTION_METHOD, "type", "detection method", "principle", required=True)
    instrument_transformer: str = reference(
        "Voltage transformer that feeds it.", ("instrument_transformer",), "vt", "fed from", "it"
    )
    relay: str = reference("Relay that it drives.", ("ground_relay",), "relay tag", "drives")
