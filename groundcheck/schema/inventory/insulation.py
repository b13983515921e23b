"""What must bear the voltage: arresters and insulation."""

import pandas as pd

from groundcheck.schema.columns import choice, count, headings, key, quantity, reference
from groundcheck.schema.inventory.station import STATION
from groundcheck.schema.table import InventoryTable
from groundcheck.schema.vocabulary import ARRESTER_POSITION, INSULATION_KINDS


class Arrester(InventoryTable):
    """A surge arrester set."""

    substation: str = key("Station it stands in.", *STATION, example="ASH")
    arrester: str = key(
        "Its tag in that station.",
        *headings(
            "surge arrester; surge diverter; sa; la; arrester tag; lightning arrester; arrester no; arrester id",
            "arrester ref; arrester name; sa no; sa id; sa tag; sa ref; la no; la id; surge arrestor",
            "lightning arrestor; arrestor; diverter; surge arrester no; surge arrester id; arrester set",
        ),
        example="SA1",
    )
    bus: str = reference(
        "Bus it protects.",
        ("bus",),
        *headings(
            "busbar; at bus; location bus; connected bus; bus name; protects bus; connected at; installed at",
            "protected bus",
        ),
        required=True,
    )
    mcov: float = quantity(
        "Maximum continuous operating voltage, line to ground (IEC: Uc).",
        "kV",
        *headings(
            "uc; continuous operating voltage; cov; mcov kv; max continuous operating voltage",
            "maximum continuous operating voltage; uc kv; mcov rating; continuous voltage; cov kv",
        ),
        gt=0,
        example="9.6",
    )
    rated_voltage: float = quantity(
        "Rated (duty-cycle) voltage (IEC: Ur).",
        "kV",
        *headings(
            "ur; duty cycle voltage; rating; rated kv; ur kv; duty cycle rating; arrester rating; voltage rating",
            "arrester kv; duty cycle kv",
        ),
        gt=0,
        example="12",
    )
    tov_1s: float = quantity(
        "Temporary overvoltage borne for 1 s, per unit of MCOV.",
        "pu",
        *headings("tov 1 s; tov 1 sec; tov at 1s; tov 1s pu; 1s tov"),
        gt=0,
        le=3,
        example="1.45",
    )
    tov_10s: float = quantity(
        "Temporary overvoltage borne for 10 s, per unit of MCOV.",
        "pu",
        *headings("tov 10 s; tov 10 sec; tov at 10s; tov 10s pu; 10s tov"),
        gt=0,
        le=3,
        example="1.38",
    )
    position: str = choice(
        "Between phase and ground, or neutral and ground.",
        ARRESTER_POSITION,
        *headings("connection; connected; installed; mounting; phase/neutral; phase or neutral"),
    )


class Insulation(InventoryTable):
    """Insulation to ground of equipment at a bus."""

    substation: str = key("Station it stands in.", *STATION, example="ASH")
    insulation: str = key(
        "Its tag in that station.",
        *headings(
            "equipment; insulation tag; item; asset; equipment tag; apparatus; equipment id; equipment no",
            "equipment ref; asset id; asset no; apparatus id; insulation id; plant item; plant",
        ),
        example="C1",
    )
    bus: str = reference(
        "Bus whose voltage it bears.",
        ("bus",),
        *headings("busbar; at bus; connected bus; bus name; connected to; installed at"),
        required=True,
    )
    kind: str = choice(
        "What it insulates.",
        INSULATION_KINDS,
        *headings(
            "type; equipment type; insulation type; class of equipment; equipment kind; apparatus type; class",
            "category; plant type; equipment class; kind of insulation",
        ),
        required=True,
        example="cable",
    )
    rated_line_voltage: float = quantity(
        "Rated line-to-line voltage (Um, or U of a cable).",
        "kV",
        *headings(
            "rated voltage; rated kv; um; line voltage; voltage class; um kv; highest voltage for equipment",
            "rated um; equipment voltage; rated line to line voltage; u (kv)",
        ),
        gt=0,
        example="12",
    )
    rated_ground_voltage: float = quantity(
        "Voltage to ground it bears without time limit.",
        "kV",
        *headings(
            "voltage to ground; voltage to earth; line to ground rating; ph-e rating; phase to earth kv",
            "l-g rating; u0; phase to ground kv; phase to ground rating; l-e rating; line to earth rating; uo",
            "rated voltage to earth; rated voltage to ground; phase to earth rating; l-g kv; u0 kv",
        ),
        gt=0,
        example="6.35",
    )
    bil: float = quantity(
        "Lightning impulse withstand.",
        "kV",
        *headings(
            "lightning impulse; liwl; basic impulse level; bil kv; impulse withstand; impulse level",
            "lightning withstand; lightning impulse withstand; bil rating; liwv; lightning impulse kv",
        ),
        gt=0,
        example="75",
    )
    cable_insulation_level: pd.Int64Dtype = count(
        "Insulation level of a cable in per cent: 100, 133 or 173.",
        *headings(
            "insulation level; cable level; level %; ins level; % insulation level; insulation level %",
            "insulation percent",
        ),
        ge=100,
        le=173,
        example="133",
    )
