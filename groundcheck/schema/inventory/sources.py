"""What feeds the network: infeeds, generators, transformers."""

import pandas as pd

from groundcheck.schema.columns import choice, key, quantity, reference, vector_group, yes_no
from groundcheck.schema.inventory.station import STATION
from groundcheck.schema.table import InventoryTable
from groundcheck.schema.vocabulary import CORE_FORM, GENERATOR_WINDING, NEUTRAL_TREATMENT


class Infeed(InventoryTable):
    """A network equivalent: what lies behind the fleet's own records."""

    substation: str = key("Station it feeds.", *STATION)
    infeed: str = key("Its tag in that station.", "source", "grid supply", "supply", "incomer", "infeed name", "grid")
    bus: str = reference("Bus it feeds.", ("bus",), "busbar", "at bus", "connected bus", required=True)
    fault_level_3ph: float = quantity(
        "Three-phase fault level, maximum condition.",
        "MVA",
        "fault level",
        "short circuit mva",
        "fault mva",
        "sc level",
        "three phase fault level",
        "ssc",
        gt=0,
    )
    fault_current_3ph: float = quantity(
        "Three-phase fault current, maximum condition.",
        "kA",
        "fault current",
        "3ph ka",
        "short circuit current",
        "isc",
        "ik3",
        "three phase fault current",
        gt=0,
    )
    x_over_r: float = quantity("Its X/R.", None, "x/r", "xr ratio", "x r", gt=0)
    fault_current_1ph: float = quantity(
        "Line-to-ground fault current, maximum condition.",
        "kA",
        "1ph ka",
        "earth fault current",
        "ik1",
        "l-g ka",
        "single phase fault current",
        "e/f current",
        "line to ground current",
        ge=0,
    )
    fault_level_3ph_min: float = quantity(
        "Three-phase fault level, minimum condition.",
        "MVA",
        "min fault level",
        "minimum fault level",
        "fault level min",
        gt=0,
    )
    fault_current_3ph_min: float = quantity(
        "Three-phase fault current, minimum condition.", "kA", "min fault current", "minimum fault current", gt=0
    )
    x_over_r_min: float = quantity("Its X/R, minimum condition.", None, "x/r min", "min x/r", gt=0)
    fault_current_1ph_min: float = quantity(
        "Line-to-ground fault current, minimum condition.",
        "kA",
        "min earth fault current",
        "minimum earth fault current",
        ge=0,
    )
    grounded: pd.BooleanDtype = yes_no(
        "Whether the network behind it is grounded, so that it feeds ground faults.",
        "earthed",
        "source earthed",
        "neutral earthed",
        "upstream earthed",
    )


class Generator(InventoryTable):
    """A synchronous machine."""

    substation: str = key("Station of the machine.", *STATION)
    generator: str = key("Its tag in that station.", "gen", "machine", "unit", "alternator", "set", "generator name")
    bus: str = reference("Bus it is connected to.", ("bus",), "busbar", "terminal bus", required=True)
    rated_power: float = quantity(
        "Rated apparent power.", "MVA", "mva", "rating", "capacity", "size", required=True, gt=0
    )
    rated_voltage: float = quantity(
        "Rated line-to-line voltage.", "kV", "kv", "voltage", "terminal voltage", required=True, gt=0, le=60
    )
    xd_subtransient: float = quantity(
        "Subtransient reactance, saturated.",
        "pu",
        "xd''",
        "x''d",
        "xd sub",
        "subtransient reactance",
        "x d",
        gt=0,
        le=2,
    )
    x2: float = quantity("Negative-sequence reactance.", "pu", "negative sequence reactance", gt=0, le=2)
    x0: float = quantity("Zero-sequence reactance.", "pu", "zero sequence reactance", gt=0, le=2)
    r: float = quantity("Armature resistance.", "pu", "ra", "resistance", ge=0, le=1)
    winding: str = choice("How the stator is connected.", GENERATOR_WINDING, "connection", "stator connection")
    capacitance_to_ground: float = quantity(
        "Capacitance to ground of everything at generator voltage, per phase.",
        "uF",
        "c to ground",
        "capacitance",
        "stator capacitance",
        "capacitance to earth",
        ge=0,
    )


class Transformer(InventoryTable):
    """A power transformer of two or three windings, or an auto-transformer."""

    substation: str = key("Station of the transformer.", *STATION)
    transformer: str = key(
        "Its tag in that station.",
        "tx",
        "trf",
        "transformer name",
        "transformer no",
        "txf",
        "trafo",
        "unit",
        "transformer id",
    )
    hv_bus: str = reference(
        "Bus at the HV side.",
        ("bus",),
        "hv busbar",
        "primary bus",
        "from bus",
        "node 1",
        "hv node",
        "bus hv",
        required=True,
    )
    lv_bus: str = reference(
        "Bus at the LV side.",
        ("bus",),
        "lv busbar",
        "secondary bus",
        "to bus",
        "node 2",
        "lv node",
        "bus lv",
        required=True,
    )
    tv_bus: str = reference(
        "Bus at the tertiary, if it is brought out.", ("bus",), "tertiary bus", "node 3", "tv busbar"
    )
    rated_power: float = quantity(
        "Rated power of the HV-LV pair.",
        "MVA",
        "mva",
        "rating",
        "nominal rating",
        "capacity",
        "size",
        "power",
        required=True,
        gt=0,
        le=2000,
    )
    hv_voltage: float = quantity(
        "Rated HV line-to-line voltage.",
        "kV",
        "hv",
        "primary voltage",
        "hv kv",
        "operating voltage 1",
        "voltage hv",
        "primary kv",
        required=True,
        gt=0,
        le=1200,
    )
    lv_voltage: float = quantity(
        "Rated LV line-to-line voltage.",
        "kV",
        "lv",
        "secondary voltage",
        "lv kv",
        "operating voltage 2",
        "voltage lv",
        "secondary kv",
        required=True,
        gt=0,
        le=1200,
    )
    tv_voltage: float = quantity(
        "Rated tertiary line-to-line voltage.",
        "kV",
        "tv",
        "tertiary voltage",
        "tertiary kv",
        "operating voltage 3",
        gt=0,
        le=1200,
    )
    vector_group: str = vector_group(
        "Vector group, IEC 60076-1.",
        "vg",
        "vect grp",
        "connection",
        "winding connection",
        "vector",
        "connections",
        "vector grp",
        required=True,
    )
    impedance: float = quantity(
        "HV-LV impedance on own rating.",
        "%",
        "z",
        "z%",
        "impedance voltage",
        "uk",
        "percent impedance",
        "impedance hv-lv",
        "%z",
        "pos seq z",
        "zps",
        gt=0,
        le=60,
    )
    hv_tv_impedance: float = quantity(
        "HV-TV impedance on own rating.", "%", "z hv-tv", "impedance hv-tv", "hv-tertiary impedance", gt=0, le=200
    )
    lv_tv_impedance: float = quantity(
        "LV-TV impedance on own rating.", "%", "z lv-tv", "impedance lv-tv", "lv-tertiary impedance", gt=0, le=200
    )
    tv_power: float = quantity("Rated power of the tertiary.", "MVA", "tertiary mva", "tv mva", gt=0, le=2000)
    x_over_r: float = quantity("X/R of the leakage impedance.", None, "x/r", "xr ratio", "x r", gt=0)
    z0: float = quantity(
        "Zero-sequence impedance on own rating.",
        "%",
        "zero sequence impedance",
        "z0%",
        "zero seq z",
        "z zero",
        gt=0,
        le=400,
    )
    core_form: str = choice("Core.", CORE_FORM, "core", "core type", "construction")
    graded_neutral: pd.BooleanDtype = yes_no(
        "Whether the neutral end of the HV winding has reduced insulation.",
        "graded insulation",
        "reduced neutral insulation",
        "non-uniform insulation",
        "graded",
    )
    neutral_bil: float = quantity(
        "Lightning impulse withstand of the neutral end.",
        "kV",
        "neutral bil kv",
        "neutral insulation level",
        "bil neutral",
        gt=0,
    )
    hv_neutral: str = choice(
        "How the HV neutral is grounded, in words.",
        NEUTRAL_TREATMENT,
        "hv neutral earthing",
        "hv earthing",
        "hv neutral grounding",
        "hv star point",
        "primary neutral",
    )
    lv_neutral: str = choice(
        "How the LV neutral is grounded, in words.",
        NEUTRAL_TREATMENT,
        "lv neutral earthing",
        "lv earthing",
        "lv neutral grounding",
        "lv star point",
        "method of earthing",
        "neutral earthing",
        "earthing",
        "secondary neutral",
        "grounding",
        "neutral grounding",
        "method of grounding",
        "earthing method",
    )
    tv_neutral: str = choice(
        "How the tertiary's neutral is grounded, in words.",
        NEUTRAL_TREATMENT,
        "tv neutral earthing",
        "tertiary neutral",
    )
