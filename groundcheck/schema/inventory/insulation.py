"""What must bear the voltage: arresters and insulation."""

import pandas as pd

from groundcheck.schema.columns import choice, count, key, quantity, reference
from groundcheck.schema.inventory.station import STATION
from groundcheck.schema.table import InventoryTable
from groundcheck.schema.vocabulary import ARRESTER_POSITION, INSULATION_KINDS


class Arrester(InventoryTable):
    """A surge arrester set."""

    substation: str = key("Station it stands in.", *STATION)
    arrester: str = key(
        "Its tag in that station.", "surge arrester", "surge diverter", "sa", "la", "arrester tag", "lightning arrester"
    )
    bus: str = reference("Bus it protects.", ("bus",), "busbar", "at bus", "location bus", required=True)
    mcov: float = quantity(
        "Maximum continuous operating voltage, line to ground (IEC: Uc).",
        "kV",
        "uc",
        "continuous operating voltage",
        "cov",
        "mcov kv",
        gt=0,
    )
    rated_voltage: float = quantity(
        "Rated (duty-cycle) voltage (IEC: Ur).", "kV", "ur", "duty cycle voltage", "rating", "rated kv", gt=0
    )
    tov_1s: float = quantity(
        "Temporary overvoltage borne for 1 s, per unit of MCOV.", "pu", "tov 1 s", "tov 1 sec", gt=0, le=3
    )
    tov_10s: float = quantity(
        "Temporary overvoltage borne for 10 s, per unit of MCOV.", "pu", "tov 10 s", "tov 10 sec", gt=0, le=3
    )
    position: str = choice(
        "Between phase and ground, or neutral and ground.", ARRESTER_POSITION, "connection", "connected"
    )


class Insulation(InventoryTable):
    """Insulation to ground of equipment at a bus."""

    substation: str = key("Station it stands in.", *STATION)
    insulation: str = key(
        "Its tag in that station.", "equipment", "insulation tag", "item", "asset", "equipment tag", "apparatus"
    )
    bus: str = reference("Bus whose voltage it bears.", ("bus",), "busbar", "at bus", "connected bus", required=True)
    kind: str = choice(
        "What it insulates.",
        INSULATION_KINDS,
        "type",
        "equipment type",
        "insulation type",
        "class of equipment",
        required=True,
    )
    rated_line_voltage: float = quantity(
        "Rated line-to-line voltage (Um, or U of a cable).",
        "kV",
        "rated voltage",
        "rated kv",
        "um",
        "line voltage",
        "voltage class",
        gt=0,
    )
    rated_ground_voltage: float = quantity(
        "Voltage to ground it bears without time limit.",
        "kV",
        "voltage to ground",
        "voltage to earth",
        "line to ground rating",
        "ph-e rating",
        "phase to earth kv",
        "l-g rating",
        "u0",
        gt=0,
    )
    bil: float = quantity(
        "Lightning impulse withstand.", "kV", "lightning impulse", "liwl", "basic impulse level", "bil kv", gt=0
    )
    cable_insulation_level: pd.Int64Dtype = count(
        "Insulation level of a cable in per cent: 100, 133 or 173.",
        "insulation level",
        "cable level",
        "level %",
        "ins level",
        ge=100,
        le=173,
    )
