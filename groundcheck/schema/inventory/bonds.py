"""The bonds of equipment to the ground mat."""

import pandas as pd

from groundcheck.schema.columns import choice, count, headings, key, quantity, reference, size, yes_no
from groundcheck.schema.inventory.station import STATION
from groundcheck.schema.table import InventoryTable
from groundcheck.schema.vocabulary import CONDUCTOR_MATERIAL, EQUIPMENT_KINDS, JOINT_KINDS


class Bond(InventoryTable):
    """The connection of one piece of equipment to the mat."""

    substation: str = key("Station of the equipment.", *STATION, example="ASH")
    bond: str = key(
        "Its tag in that station.",
        *headings(
            "bond no; strap; earth strap; bond tag; connection no; earth tail; earth connection; bond id",
            "bond ref; bond name; connection id; connection ref; strap no; strap id; earth bond; ground strap",
            "bonding ref; earthing connection; strap ref",
        ),
        example="BC1",
    )
    equipment: str = reference(
        "Equipment that is bonded.",
        (),
        *headings(
            "asset; apparatus; equipment tag; item; plant; asset bonded; equipment bonded; bonded equipment",
            "bonded item; equipment id; equipment no; asset id; plant item; equipment ref; asset tag",
            "connected equipment",
        ),
        required=True,
        example="T1",
    )
    equipment_kind: str = choice(
        "Kind of equipment.",
        EQUIPMENT_KINDS,
        *headings(
            "type; equipment type; plant type; equipment class; asset type; class of equipment",
            "equipment category; kind of equipment; category",
        ),
    )
    conductor_size: float = size(
        "Size of one conductor.",
        *headings(
            "size; strap size; conductor; csa; earth tape; conductor csa; bond size; tape size; size of strap",
            "cross section; bond conductor; strap dimensions; conductor dimensions",
        ),
        example="40x5 mm",
    )
    conductor_material: str = choice(
        "Material.", CONDUCTOR_MATERIAL, "material", "bond material", "strap material", "tape material"
    )
    parallel: pd.Int64Dtype = count(
        "Conductors in parallel.",
        *headings(
            "no off; number of straps; qty; number; in parallel; no of straps; no of conductors",
            "number of conductors; quantity; no in parallel; straps; number of bonds; count; no of tapes",
        ),
        ge=1,
        example="2",
    )
    joint: str = choice(
        "Weakest joint.",
        JOINT_KINDS,
        *headings(
            "joint type; connection type; jointing; termination; type of joint; joint method; fixing",
            "connection method; type of connection; joint kind",
        ),
    )
    connected_to_grid: pd.BooleanDtype = yes_no(
        "Whether it reaches the mat.",
        *headings(
            "connected; bonded; connected to mat; bonded to grid; connected to earth grid; earthed; bonded to mat",
            "connected to earth; connected to ground grid; bonded to earth; grounded; bonded?; connected?",
            "bonded to earth grid; connection intact; connected to earth mat; intact",
        ),
    )
    measured_resistance: float = quantity(
        "Measured resistance of the bond.",
        "mohm",
        *headings(
            "resistance; continuity; milliohms; ductor reading; bond resistance; continuity resistance",
            "measured milliohms; joint resistance; micro-ohm reading; test reading; continuity reading; ductor",
            "dlro reading; milli-ohms",
        ),
        ge=0,
        example="1.8",
    )
