"""Stations and their buses."""

import pandas as pd

from groundcheck.schema.columns import Day, choice, count, date, headings, key, quantity, text, yes_no
from groundcheck.schema.table import InventoryTable
from groundcheck.schema.vocabulary import GROUNDING, NEUTRAL_WIRE

STATION = headings(
    "station; s/s; site; substation name; station name; ss; location; stn; sub; site name",
    "substation code; station code; substation id; s/s name; s/stn; substn; subst; substation no",
    "substation ref; station id; station no; station ref; site id; site code; site ref; s/s code; s/s id",
    "station number; substation number; switching station; plant location; substation tag; site no",
    "facility; sub station; sub-station; stn name; stn code",
)


class Substation(InventoryTable):
    """A station of the fleet."""

    substation: str = key("Code or name by which every other table knows the station.", *STATION, example="ASH")
    name: str = text(
        "Full name.",
        *headings("full name; description; long name; station full name; descriptive name"),
        example="Ash Lane",
    )
    also_known_as: str = text(
        "Other names in use, separated by semicolons.",
        *headings("aka; alias; other names; former name; other name; previous name; old name; known as"),
        example="Ash Lane Grid; Ashlane",
    )
    district: str = text(
        "District that keeps the record.",
        *headings(
            "region; area; zone office; division; depot; zone; sector; distribution area; business unit",
            "service area; territory",
        ),
        example="North",
    )
    owner: str = text(
        "Who owns the station.",
        *headings("operator; company; licence; license; utility; asset owner; owned by; network owner; dno; tso; dso"),
        example="Quarry Power",
    )
    frequency: float = quantity(
        "Power frequency.", "Hz", "freq", "hz", "system frequency", "nominal frequency", gt=0, le=70, example="50"
    )
    criticality: pd.Int64Dtype = count(
        "1 (least) to 5 (most): how much depends on the station.",
        *headings("priority; importance; critical rating; criticality rating; risk rank; importance rating"),
        ge=1,
        le=5,
        example="4",
    )
    customers: pd.Int64Dtype = count(
        "Customers supplied.",
        *headings(
            "customer count; no of customers; connections; number of customers; customers served; no of consumers",
            "consumers",
        ),
        example="12500",
    )
    attended: pd.BooleanDtype = yes_no(
        "Whether somebody is at the station at all times.",
        *headings("manned; staffed; attended station; manned station; is manned; permanently manned; is attended"),
    )
    recorded_on: Day = date(
        "When this station's record was last compared with what stands there.",
        *headings(
            "record date; verified on; record verified on; last verified; record checked on; survey date; surveyed on",
            "last survey; date of survey; record last verified",
        ),
    )
    latitude: float = quantity(
        "Latitude, WGS 84.", "deg", "lat", "lat (wgs84)", "gps lat", ge=-90, le=90, example="53.482"
    )
    longitude: float = quantity(
        "Longitude, WGS 84.", "deg", "lon", "long", "lng", "gps long", ge=-180, le=180, example="-1.274"
    )


class Bus(InventoryTable):
    """A busbar, or any point of one voltage to which equipment is connected."""

    substation: str = key("Station of the bus.", *STATION, example="ASH")
    bus: str = key(
        "Its tag in that station.",
        *headings(
            "busbar; bus name; bar; board; busbar name; bus no; node; section; bus id; bus tag; busbar no",
            "busbar id; bus ref; busbar ref; switchboard; bus section; node name; node id; bus number; switchgear",
            "busbar section; bus bar",
        ),
        example="B11",
    )
    nominal_voltage: float = quantity(
        "Nominal line-to-line voltage.",
        "kV",
        *headings(
            "voltage; system voltage; kv; nominal kv; un; volts; nominal; operating voltage; voltage level",
            "bus voltage; nominal system voltage; base kv; kv nominal; system kv; un kv; bus kv; busbar voltage",
            "voltage kv; base voltage",
        ),
        required=True,
        gt=0,
        le=1200,
        example="11",
    )
    highest_voltage: float = quantity(
        "Highest line-to-line voltage in normal service (Um of the system).",
        "kV",
        *headings(
            "um; max voltage; highest kv; maximum voltage; highest system voltage; max kv; max system voltage",
            "maximum system voltage; umax; highest voltage for equipment; um kv; max operating voltage",
            "maximum operating voltage",
        ),
        gt=0,
        le=1200,
        example="12",
    )
    declared_grounding: str = choice(
        "How the system at this bus is said to be grounded.",
        GROUNDING,
        *headings(
            "grounding; earthing; system grounding; system earthing; neutral grounding; neutral earthing",
            "earthing method; grounding method; method of earthing; neutral treatment; earthing type; neutral",
            "type of earthing; earthing system; grounding system; neutral status; earthing arrangement",
            "grounding arrangement; neutral point treatment; neutral regime; grounding type; type of grounding",
            "system neutral; neutral earthing method; earthing philosophy",
        ),
        example="low_resistance",
    )
    continuity_required: pd.BooleanDtype = yes_no(
        "Whether the system is meant to run on through a first ground fault.",
        *headings(
            "runs on; continuity; run on earth fault; run on; continue on fault; keeps running on e/f",
            "run through earth fault; operates with standing earth fault; sustained fault operation",
            "continuity of supply; continuous operation on earth fault; run through e/f",
        ),
    )
    ground_fault_clearing_time: float = quantity(
        "Longest time in which a ground fault at this bus is cleared.",
        "s",
        *headings(
            "clearing time; fault clearing time; e/f clearing time; earth fault clearing time; trip time",
            "fault duration; clearance time; e/f clearance; ground fault clearing time; e/f clearance time",
            "earth fault clearance time; fault clearance time; gf clearing time; tripping time",
            "ground fault clearance",
        ),
        gt=0,
        example="1.2",
    )
    ground_fault_limit: float = quantity(
        "Current to which ground faults here are meant to be limited.",
        "A",
        *headings(
            "earth fault limit; e/f limit; earth fault current limit; ground fault current limit; e/f level limit",
            "design earth fault current; intended earth fault current; intended ground fault current; limited to",
        ),
        gt=0,
        example="1000",
    )
    neutral_wire: str = choice(
        "Neutral conductor carried with the lines.",
        NEUTRAL_WIRE,
        *headings("wires; system wires; neutral conductor; no of wires; wires in system"),
    )
