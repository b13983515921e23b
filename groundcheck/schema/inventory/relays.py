"""What trips for a ground fault, and what tells of one."""

from groundcheck.schema.columns import choice, headings, key, quantity, reference, text
from groundcheck.schema.inventory.station import STATION
from groundcheck.schema.table import InventoryTable
from groundcheck.schema.vocabulary import DETECTION_METHOD, RELAY_ACTION, RELAY_CURVES


class GroundRelay(InventoryTable):
    """A relay element that sees ground faults."""

    substation: str = key("Station of the relay.", *STATION, example="ASH")
    ground_relay: str = key(
        "Its tag in that station.",
        *headings(
            "relay; relay tag; e/f relay; earth fault relay; protection; relay id; relay name; relay no",
            "relay ref; relay number; protection relay; protection id; protection ref; relay element; ef relay",
            "ground fault relay; device tag; prot relay; protection device",
        ),
        example="EF1",
    )
    function: str = text(
        "Device function, IEEE C37.2: 51G, 51N, 50G, 67N, 59N, 59G, 87N, 64.",
        *headings(
            "ansi; element; device number; ansi code; ansi no; c37.2; function no; ansi function; ansi device",
            "device function; ieee no; ansi device no; protection function; relay function; ansi number",
            "element type; function code",
        ),
        example="51N",
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
        *headings(
            "protects; protected plant; measuring; on; applied to; connected to; asset; protected equipment",
            "protected asset; protected item; equipment; measures on; monitors; plant; measured asset",
            "protected object; protected plant item",
        ),
        example="NR1",
    )
    ct_primary: float = quantity(
        "CT primary.",
        "A",
        *headings("ct pri; ct prim; ct primary a; primary ct; ct prim a; ctr primary; ct pri a"),
        gt=0,
        example="400",
    )
    ct_secondary: float = quantity(
        "CT secondary.",
        "A",
        *headings("ct sec; ct secondary a; secondary ct; ct sec a; ctr secondary"),
        gt=0,
        example="1",
    )
    vt_primary: float = quantity(
        "VT primary.", "V", *headings("vt pri; vt primary v; vt prim; pt primary; pt pri"), gt=0, example="11000"
    )
    vt_secondary: float = quantity(
        "VT secondary.", "V", "vt sec", "vt secondary v", "pt secondary", "pt sec", gt=0, example="110"
    )
    pickup: float = quantity(
        "Pickup in primary amperes, or primary volts for a voltage element.",
        "A or V",
        *headings(
            "setting; pick-up; current setting; plug setting; is; primary setting; pickup primary; pickup a",
            "pick up; pickup setting; pick-up setting; pickup current; i>; io>; ie>; ipickup; start current",
            "operating current; setting a; pick up current; primary pickup; setting current",
        ),
        gt=0,
        example="80 A",
    )
    curve: str = choice(
        "Operating characteristic.",
        RELAY_CURVES,
        *headings(
            "characteristic; curve type; char; curve shape; idmt curve; operating curve; tcc",
            "characteristic curve; relay curve; time curve; inverse curve",
        ),
        example="iec_standard_inverse",
    )
    time_dial: float = quantity(
        "Time dial or time multiplier.",
        None,
        *headings(
            "tms; td; time multiplier; tm; time multiplier setting; tm setting; time dial setting; tds; dial; t/m",
            "time lever",
        ),
        gt=0,
        example="0.2",
    )
    definite_time: float = quantity(
        "Definite time.",
        "s",
        *headings(
            "delay; time delay; dt setting; time setting; operating time delay; time delay setting; t>; def time",
            "definite time delay; dmt delay; op time",
        ),
        ge=0,
        example="0.5",
    )
    breaker_time: float = quantity(
        "Clearing time of the breaker it trips.",
        "s",
        *headings(
            "cb time; breaker clearing time; breaker operating time; cb clearing time; cb operating time",
            "breaker opening time; cb opening time; circuit breaker time; interrupting time; cb trip time",
        ),
        gt=0,
        example="0.08",
    )
    action: str = choice(
        "What it does.",
        RELAY_ACTION,
        *headings(
            "operates; trip or alarm; output; trip/alarm; trip/alm; function (trip/alarm); trips/alarms", "relay action"
        ),
    )
    backs_up: str = reference(
        "Relay that it backs up.",
        ("ground_relay",),
        *headings(
            "backup for; back-up to; grades with; back up to; backup to; coordinates with; graded with",
            "downstream relay; grades over",
        ),
        example="EF2",
    )


class GroundDetector(InventoryTable):
    """What tells of a ground fault that passes little current."""

    substation: str = key("Station it stands in.", *STATION, example="ASH")
    ground_detector: str = key(
        "Its tag in that station.",
        *headings(
            "detector; earth fault indicator; e/f detection; earth fault detector; detector tag; ground detection",
            "detector no; detector id; detector ref; detection device; ground fault detector; ef indicator",
            "indicator tag; detector name; imd",
        ),
        example="GD1",
    )
    bus: str = reference(
        "Bus it watches.",
        ("bus",),
        *headings("busbar; at bus; monitored bus; connected bus; bus name; watches; connected to; system monitored"),
        required=True,
    )
    method: str = choice(
        "How it detects.",
        DETECTION_METHOD,
        *headings(
            "type; detection method; principle; detection type; detection principle; scheme; kind", "detection scheme"
        ),
        required=True,
    )
    instrument_transformer: str = reference(
        "Voltage transformer that feeds it.",
        ("instrument_transformer",),
        *headings("vt; fed from; it; vt ref; vt no; source vt; vt used; pt"),
        example="VT1",
    )
    relay: str = reference(
        "Relay that it drives.",
        ("ground_relay",),
        *headings("relay tag; drives; relay no; alarm relay; output relay; relay ref"),
        example="EF1",
    )
