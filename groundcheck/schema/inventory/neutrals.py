"""What grounds the neutrals."""

import pandas as pd

from groundcheck.schema.columns import Day, choice, date, key, quantity, reference, references, yes_no
from groundcheck.schema.inventory.station import STATION
from groundcheck.schema.table import InventoryTable
from groundcheck.schema.vocabulary import GROUNDING_TRANSFORMER_CONNECTION, NEUTRAL_DEVICE_KINDS, WINDING


class NeutralDevice(InventoryTable):
    """What stands between a neutral and the ground mat."""

    substation: str = key("Station the device stands in.", *STATION)
    neutral_device: str = key(
        "Its tag in that station.",
        "device",
        "ngr tag",
        "ner no",
        "ner",
        "neutral equipment",
        "ngr",
        "device tag",
        "ner tag",
        "earthing device",
        "resistor tag",
    )
    connected_to: object = references(
        "Transformer, generator or grounding transformer whose neutral it grounds; several if shared.",
        ("transformer", "generator", "grounding_transformer"),
        "connected at",
        "neutral of",
        "on neutral of",
        "asset",
        "transformer",
        "equipment",
        "parent",
        "serves",
        "plant",
        required=True,
    )
    winding: str = choice("Which winding's neutral.", WINDING, "side", "winding side", "neutral side")
    kind: str = choice(
        "What it is.", NEUTRAL_DEVICE_KINDS, "type", "device type", "ner type", "neutral device type", required=True
    )
    resistance: float = quantity(
        "Nameplate resistance.", "ohm", "ner ohms", "r", "ohms", "resistance value", "ngr ohms", "ner resistance", ge=0
    )
    reactance: float = quantity(
        "Nameplate reactance.", "ohm", "x", "reactor ohms", "reactance value", "coil reactance", ge=0
    )
    rated_voltage: float = quantity(
        "Rated voltage of the device.", "kV", "voltage", "ner voltage", "kv", "device voltage", gt=0
    )
    rated_current: float = quantity(
        "Current it may carry for the rated time.",
        "A",
        "rating",
        "amps",
        "ner amps",
        "ner current",
        "current",
        "current rating",
        "rated amps",
        gt=0,
    )
    rated_time: float = quantity(
        "How long it may carry the rated current; infinite is continuous.",
        "s",
        "duty",
        "time",
        "ner time",
        "ner duty",
        "time rating",
        "ner seconds",
        "short time",
        gt=0,
    )
    continuous_current: float = quantity(
        "Current it may carry without limit.", "A", "continuous amps", "cont current", "continuous rating", ge=0
    )
    measured_resistance: float = quantity(
        "Resistance last measured.", "ohm", "measured ohms", "test ohms", "measured r", ge=0
    )
    measured_on: Day = date("When it was measured.", "test date", "measured date", "date measured", "last test")
    monitored: pd.BooleanDtype = yes_no(
        "Whether its continuity is supervised.", "monitor", "ner monitor", "supervised", "continuity monitor"
    )
    insulation_bil: float = quantity(
        "Lightning impulse withstand of its insulation.", "kV", "bil", "lightning impulse", gt=0
    )
    primary_voltage: float = quantity(
        "Rated primary voltage of a distribution transformer in the neutral.", "V", "primary v", "pri volts", gt=0
    )
    secondary_voltage: float = quantity(
        "Rated secondary voltage of a distribution transformer in the neutral.", "V", "secondary v", "sec volts", gt=0
    )
    secondary_resistance: float = quantity(
        "Resistor across that secondary.", "ohm", "secondary ohms", "loading resistor", "r secondary", gt=0
    )
    rated_power: float = quantity("Rated power of that distribution transformer.", "kVA", "kva", gt=0)


class GroundingTransformer(InventoryTable):
    """A zigzag or wye-delta transformer that gives a bus a neutral."""

    substation: str = key("Station it stands in.", *STATION)
    grounding_transformer: str = key(
        "Its tag in that station.",
        "earthing transformer",
        "et",
        "zigzag",
        "gt",
        "grounding bank",
        "net",
        "earthing tx",
        "et no",
    )
    bus: str = reference(
        "Bus whose neutral it makes.", ("bus",), "busbar", "connected to", "at bus", "on bus", required=True
    )
    connection: str = choice(
        "How it is wound.", GROUNDING_TRANSFORMER_CONNECTION, "winding", "vector group", "type", required=True
    )
    rated_voltage: float = quantity("Rated line-to-line voltage.", "kV", "voltage", "kv", gt=0)
    z0: float = quantity(
        "Zero-sequence impedance per phase.",
        "ohm",
        "zero sequence impedance",
        "zero sequence reactance",
        "z0 ohm",
        "x0",
        "z0 per phase",
        gt=0,
    )
    r0: float = quantity("Its resistive part per phase.", "ohm", "zero sequence resistance", ge=0)
    rated_neutral_current: float = quantity(
        "Neutral current for the rated time.",
        "A",
        "neutral current",
        "rated current",
        "neutral amps",
        "rating amps",
        "current",
        "short time current",
        gt=0,
    )
    rated_time: float = quantity(
        "How long it may carry that current; infinite is continuous.",
        "s",
        "time",
        "duty",
        "time rating",
        "short time",
        gt=0,
    )
    rated_power: float = quantity("Rated power.", "kVA", "kva", "rating", "power", gt=0)
    continuous_neutral_current: float = quantity(
        "Neutral current without time limit.",
        "A",
        "continuous amps",
        "continuous current",
        "cont neutral current",
        ge=0,
    )
