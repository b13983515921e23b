"""Transformers that give a bus a neutral."""

from groundcheck.schema.columns import choice, headings, key, quantity, reference
from groundcheck.schema.inventory.station import STATION
from groundcheck.schema.table import InventoryTable
from groundcheck.schema.vocabulary import GROUNDING_TRANSFORMER_CONNECTION


class GroundingTransformer(InventoryTable):
    """A zigzag or wye-delta transformer that gives a bus a neutral."""

    substation: str = key("Station it stands in.", *STATION, example="ASH")
    grounding_transformer: str = key(
        "Its tag in that station.",
        *headings(
            "earthing transformer; et; zigzag; gt; grounding bank; net; earthing tx; et no",
            "earthing transformer no; earthing transformer id; earthing transformer ref; grounding transformer no",
            "grounding transformer id; et id; et ref; et tag; gt no; gt id; grounding tx; earth transformer; nex",
            "nex no; earthing trf; zigzag no; et name; gtx; net no",
        ),
        example="ET1",
    )
    bus: str = reference(
        "Bus whose neutral it makes.",
        ("bus",),
        *headings(
            "busbar; connected to; at bus; on bus; connected bus; bus name; terminal bus; hv bus; connected at",
            "bus connected",
        ),
        required=True,
    )
    connection: str = choice(
        "How it is wound.",
        GROUNDING_TRANSFORMER_CONNECTION,
        *headings(
            "winding; vector group; type; winding type; winding connection; configuration; connection type",
            "winding arrangement; kind; winding configuration",
        ),
        required=True,
    )
    rated_voltage: float = quantity(
        "Rated line-to-line voltage.",
        "kV",
        *headings(
            "voltage; kv; rated kv; rated line voltage; nominal voltage; voltage rating; line voltage",
            "primary voltage",
        ),
        gt=0,
        example="11",
    )
    z0: float = quantity(
        "Zero-sequence impedance per phase.",
        "ohm",
        *headings(
            "zero sequence impedance; zero sequence reactance; z0 ohm; x0; z0 per phase; zero seq z",
            "zero seq impedance; z zero; z0 ohms per phase; zero sequence ohms; impedance per phase; x0 per phase",
            "zps impedance; zero seq reactance; z0 ohms",
        ),
        gt=0,
        example="24",
    )
    r0: float = quantity(
        "Its resistive part per phase.",
        "ohm",
        *headings("zero sequence resistance; zero seq r; zero seq resistance; r zero; winding resistance"),
        ge=0,
        example="1.5",
    )
    rated_neutral_current: float = quantity(
        "Neutral current for the rated time.",
        "A",
        *headings(
            "neutral current; rated current; neutral amps; rating amps; current; short time current",
            "short time neutral current; fault current rating; rated earth fault current",
            "rated ground fault current; neutral fault current; earth fault current; in rated; st current",
            "rated neutral amps",
        ),
        gt=0,
        example="800",
    )
    rated_time: float = quantity(
        "How long it may carry that current; infinite is continuous.",
        "s",
        *headings("time; duty; time rating; short time; rated duration; st time; duration; seconds; rating time"),
        gt=0,
        example="30",
    )
    rated_power: float = quantity(
        "Rated power.",
        "kVA",
        *headings("kva; rating; power; rated kva; short time kva; kva rating; capacity; aux kva"),
        gt=0,
        example="200",
    )
    continuous_neutral_current: float = quantity(
        "Neutral current without time limit.",
        "A",
        *headings(
            "continuous amps; continuous current; cont neutral current; continuous neutral amps",
            "continuous rating; cont amps; continuous current rating",
        ),
        ge=0,
        example="40",
    )
