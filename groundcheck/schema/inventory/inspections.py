"""Inspections."""

from groundcheck.schema.columns import Day, choice, date, headings, key, quantity, reference, text
from groundcheck.schema.inventory.station import STATION
from groundcheck.schema.table import InventoryTable
from groundcheck.schema.vocabulary import INSPECTION_KINDS, INSPECTION_OUTCOMES


class Inspection(InventoryTable):
    """One inspection of one asset."""

    substation: str = key("Station inspected.", *STATION, example="ASH")
    inspection: str = key(
        "Number of the inspection.",
        *headings(
            "inspection no; ref; report no; id; inspection ref; work order; inspection id; inspection number",
            "report ref; report number; report id; test no; test ref; test report no; job no; wo no",
            "work order no; record no; visit no",
        ),
        example="I-204",
    )
    asset: str = reference(
        "Asset inspected.",
        (),
        *headings(
            "equipment; item; plant; apparatus; equipment id; equipment tag; asset id; asset tag; asset no",
            "asset inspected; equipment inspected; plant item; item inspected; equipment no; asset ref",
        ),
        required=True,
        example="NR1",
    )
    date: Day = date(
        "Date of the inspection.",
        *headings(
            "inspection date; inspected on; done on; date of inspection; date inspected; date tested; test date",
            "visit date; date of visit; tested on; inspection dt; date of test",
        ),
    )
    inspector: str = text(
        "Who inspected.",
        *headings(
            "inspected by; by; engineer; inspector name; tester; tested by; carried out by; technician; done by",
            "checked by; operative",
        ),
        example="A. Reed",
    )
    kind: str = choice(
        "What was done.",
        INSPECTION_KINDS,
        *headings(
            "type; inspection type; test; test type; inspection kind; activity; work done; type of test",
            "type of inspection; task; kind of test",
        ),
        example="resistor_measurement",
    )
    value: float = quantity(
        "Value found.",
        None,
        *headings(
            "result; reading; measurement; value found; measured value; test result; result value; measured",
            "test value",
        ),
        example="15.7",
    )
    unit: str = text(
        "Unit of the value.",
        *headings("units; uom; unit of measure; measurement unit; unit of measurement"),
        example="ohm",
    )
    outcome: str = choice(
        "Whether what was inspected is in order.",
        INSPECTION_OUTCOMES,
        *headings(
            "pass/fail; pass or fail; verdict; inspection outcome; test outcome; inspection verdict; passed/failed",
            "outcome of inspection; outcome of test",
        ),
    )
    remark: str = text(
        "Remark.",
        *headings(
            "remarks; notes; comment; comments; observation; inspector comments; findings; observations; note",
            "inspector remarks; defects",
        ),
        example="No damage seen.",
    )
