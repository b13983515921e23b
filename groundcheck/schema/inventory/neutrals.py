"""What grounds the neutrals."""

import pandas as pd

from groundcheck.schema.columns import Day, choice, date, headings, key, quantity, references, yes_no
from groundcheck.schema.inventory.station import STATION
from groundcheck.schema.table import InventoryTable
from groundcheck.schema.vocabulary import NEUTRAL_DEVICE_KINDS, WINDING


class NeutralDevice(InventoryTable):
    """What stands between a neutral and the ground mat."""

    substation: str = key("Station the device stands in.", *STATION, example="ASH")
    neutral_device: str = key(
        "Its tag in that station.",
        *headings(
            "device; ngr tag; ner no; ner; neutral equipment; ngr; device tag; ner tag; earthing device",
            "resistor tag; neutral device id; neutral device no; ner id; ner ref; ner number; ngr no; ngr id",
            "ngr ref; device id; device no; device ref; device name; resistor no; resistor id; neutral resistor",
            "neutral earthing resistor; neutral grounding resistor; grounding device; neutral device tag; asc",
            "ner name; ngr name; neutral reactor; petersen coil",
        ),
        example="NR1",
    )
    connected_to: object = references(
        "Transformer, generator or grounding transformer whose neutral it grounds; several if shared.",
        ("transformer", "generator", "grounding_transformer"),
        *headings(
            "connected at; neutral of; on neutral of; asset; transformer; equipment; parent; serves; plant",
            "transformer no; tx; connected transformer; installed on; fitted to; in neutral of; neutral point of",
            "grounds; earths; associated transformer; transformer ref; for transformer; associated plant; tx no",
            "parent asset; neutral served",
        ),
        required=True,
        example="T1",
    )
    winding: str = choice(
        "Which winding's neutral.",
        WINDING,
        *headings(
            "side; winding side; neutral side; neutral of winding; which winding; hv/lv; winding earthed",
            "winding grounded",
        ),
        example="lv",
    )
    kind: str = choice(
        "What it is.",
        NEUTRAL_DEVICE_KINDS,
        *headings(
            "type; device type; ner type; neutral device type; ner/ngr/coil; kind of device; type of device",
            "device kind; earthing type; grounding type; type of earthing device; device class",
        ),
        required=True,
        example="resistor",
    )
    resistance: float = quantity(
        "Nameplate resistance.",
        "ohm",
        *headings(
            "ner ohms; r; ohms; resistance value; ngr ohms; ner resistance; resistance r; nominal resistance",
            "rated resistance; ohmic value; resistance at 25c; ner value; ngr resistance; design resistance",
            "nameplate resistance; r ohms; cold resistance; nominal ohms; rated ohms",
        ),
        ge=0,
        example="15.9",
    )
    reactance: float = quantity(
        "Nameplate reactance.",
        "ohm",
        *headings(
            "x; reactor ohms; reactance value; coil reactance; reactor reactance; inductive reactance; xl",
            "rated reactance; x ohms; nominal reactance",
        ),
        ge=0,
        example="15.9",
    )
    rated_voltage: float = quantity(
        "Rated voltage of the device.",
        "kV",
        *headings(
            "voltage; ner voltage; kv; device voltage; rated kv; rated volts; voltage rating",
            "line to neutral voltage; l-n voltage; ngr voltage",
        ),
        gt=0,
        example="6.35",
    )
    rated_current: float = quantity(
        "Current it may carry for the rated time.",
        "A",
        *headings(
            "rating; amps; ner amps; ner current; current; current rating; rated amps; ngr amps; ngr current",
            "fault rating; short time current; st current; nominal current; fault current rating; current limit",
            "rated fault current; rated a; rating amps",
        ),
        gt=0,
        example="400",
    )
    rated_time: float = quantity(
        "How long it may carry the rated current; infinite is continuous.",
        "s",
        *headings(
            "duty; time; ner time; ner duty; time rating; ner seconds; short time; rated duration; st time",
            "duty time; rating time; seconds; short time duration; duration; rated secs; time rating s",
        ),
        gt=0,
        example="10",
    )
    continuous_current: float = quantity(
        "Current it may carry without limit.",
        "A",
        *headings(
            "continuous amps; cont current; continuous rating; continuous current rating; cont amps",
            "continuous rated current; cont rating; continuous duty current; icont",
        ),
        ge=0,
        example="20",
    )
    measured_resistance: float = quantity(
        "Resistance last measured.",
        "ohm",
        *headings(
            "measured ohms; test ohms; measured r; latest resistance; last measured resistance; tested ohms",
            "test value; measured value; actual resistance; as found resistance",
        ),
        ge=0,
        example="15.7",
    )
    measured_on: Day = date(
        "When it was measured.",
        *headings(
            "test date; measured date; date measured; last test; date of test; last tested; tested on",
            "last measured; measurement date; test dt",
        ),
    )
    monitored: pd.BooleanDtype = yes_no(
        "Whether its continuity is supervised.",
        *headings(
            "monitor; ner monitor; supervised; continuity monitor; ngr monitor; resistor monitor",
            "monitoring fitted; ngr monitored; ner monitoring; continuity supervised; monitoring relay fitted",
        ),
    )
    insulation_bil: float = quantity(
        "Lightning impulse withstand of its insulation.",
        "kV",
        *headings("bil; lightning impulse; bil kv; liwl; impulse level; insulation level"),
        gt=0,
        example="75",
    )
    primary_voltage: float = quantity(
        "Rated primary voltage of a distribution transformer in the neutral.",
        "V",
        *headings("primary v; pri volts; ngt primary; primary volts; ngt primary voltage; primary rated voltage"),
        gt=0,
        example="6600",
    )
    secondary_voltage: float = quantity(
        "Rated secondary voltage of a distribution transformer in the neutral.",
        "V",
        *headings(
            "secondary v; sec volts; ngt secondary; secondary volts; ngt secondary voltage", "secondary rated voltage"
        ),
        gt=0,
        example="240",
    )
    secondary_resistance: float = quantity(
        "Resistor across that secondary.",
        "ohm",
        *headings(
            "secondary ohms; loading resistor; r secondary; loading resistance; secondary resistor; load resistor",
            "resistor across secondary; secondary resistor ohms; loading resistor ohms",
        ),
        gt=0,
        example="0.45",
    )
    rated_power: float = quantity(
        "Rated power of that distribution transformer.",
        "kVA",
        *headings("kva; ngt kva; rated kva; ngt rating; kva rating"),
        gt=0,
        example="25",
    )
