"""Instrument transformers and their circuits."""

from groundcheck.schema.columns import choice, headings, key, places, quantity, reference, size, text
from groundcheck.schema.inventory.station import STATION
from groundcheck.schema.table import InventoryTable
from groundcheck.schema.vocabulary import INSTRUMENT_TRANSFORMER_KINDS


class InstrumentTransformer(InventoryTable):
    """A current or voltage transformer set."""

    substation: str = key("Station it stands in.", *STATION, example="ASH")
    instrument_transformer: str = key(
        "Its tag in that station.",
        *headings(
            "it; ct/vt; vt; ct; instrument transformer tag; vt tag; ct tag; it tag; it no; it id; ct no; ct id",
            "ct ref; vt no; vt id; vt ref; pt; pt no; pt id; pt tag; ct name; vt name; instrument transformer id",
            "instrument transformer no; ct/vt no; ct/vt ref",
        ),
        example="VT1",
    )
    kind: str = choice(
        "Current or voltage.",
        INSTRUMENT_TRANSFORMER_KINDS,
        *headings("type; ct or vt; ct/pt; it type; instrument transformer type"),
        required=True,
        example="vt",
    )
    bus: str = reference(
        "Bus it is connected to.",
        ("bus",),
        *headings("busbar; at bus; connected bus; bus name; connected to; installed at; location bus"),
    )
    connection: str = text(
        "How it is connected.",
        *headings(
            "winding connection; vt connection; configuration; winding configuration; secondary connection",
            "vt winding; primary connection",
        ),
        example="wye, broken delta",
    )
    primary: float = quantity(
        "Rated primary.",
        "V or A",
        *headings(
            "primary rating; rated primary; pri; primary rated; rated primary value; pri rating; primary value",
            "primary current; primary voltage",
        ),
        gt=0,
        example="11000 V",
    )
    secondary: float = quantity(
        "Rated secondary.",
        "V or A",
        *headings(
            "secondary rating; rated secondary; sec; secondary rated; rated secondary value; sec rating",
            "secondary value; secondary current; secondary voltage",
        ),
        gt=0,
        example="110 V",
    )
    voltage_factor: float = quantity(
        "Rated voltage factor.",
        "pu",
        *headings("vf; rated voltage factor; fv; overvoltage factor; rated vf"),
        gt=0,
        le=3,
        example="1.9",
    )
    voltage_factor_time: float = quantity(
        "How long the voltage factor may be applied.",
        "s",
        "vf time",
        "voltage factor duration",
        "rated time vf",
        gt=0,
        example="28800",
    )
    damping_resistor: float = quantity(
        "Resistor across the broken delta.",
        "ohm",
        *headings(
            "damping ohms; ferroresonance resistor; damping resistance; damping load; open delta resistor",
            "broken delta resistor; loading resistor",
        ),
        gt=0,
        example="50",
    )


class SecondaryCircuit(InventoryTable):
    """The secondary wiring of an instrument transformer set."""

    substation: str = key("Station of the circuit.", *STATION, example="ASH")
    secondary_circuit: str = key(
        "Its tag in that station.",
        *headings(
            "circuit; secondary; ct circuit; vt circuit; circuit ref; secondary circuit ref; core; circuit no",
            "circuit id; circuit name; circuit tag; secondary no; secondary id; ct core; core no",
            "secondary winding",
        ),
        example="VT1 sec",
    )
    kind: str = choice(
        "Current or voltage circuit.",
        INSTRUMENT_TRANSFORMER_KINDS,
        *headings("type; ct or vt; ct/vt; ct/pt; circuit type; ct/vt circuit"),
        required=True,
        example="vt",
    )
    instrument_transformer: str = reference(
        "The instrument transformer it belongs to.",
        ("instrument_transformer",),
        *headings(
            "fed from; it; source; ct; vt; ct no; vt no; ct/vt ref; instrument transformer ref; parent ct",
            "from ct; pt; ct ref; vt ref",
        ),
        example="VT1",
    )
    ground_points: object = places(
        "Places at which the circuit is grounded; 'none' if nowhere.",
        *headings(
            "grounded at; earthed at; earth points; earth point; ground point; earth location; earthing location",
            "earth(s); grounding point; earthed; earthing points; grounding points; grounding location",
            "ground location; place of earth; earth positions; star point earthed at; earthing point",
        ),
        example="relay panel",
    )
    conductor_area: float = size(
        "Conductor area.",
        *headings(
            "wire size; conductor size; csa; area; core size; cable size; wire csa; conductor csa; cross section",
            "cable csa; lead size",
        ),
        example="2.5 mm2",
    )
    length: float = quantity(
        "One-way length.",
        "m",
        *headings("run; route length; cable length; lead length; wire length; cable run; one way length; loop length"),
        ge=0,
        example="85",
    )
