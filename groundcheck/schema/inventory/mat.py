"""The ground mat."""

import pandas as pd

from groundcheck.schema.columns import Day, choice, count, date, headings, key, quantity, size
from groundcheck.schema.inventory.station import STATION
from groundcheck.schema.table import InventoryTable
from groundcheck.schema.vocabulary import CONDUCTOR_MATERIAL, ROD_POSITIONS


class GroundGrid(InventoryTable):
    """The buried ground mat of a station."""

    substation: str = key("Station of the mat.", *STATION, example="ASH")
    ground_grid: str = key(
        "Its tag in that station.",
        *headings(
            "earth grid; mat; earth mat; grid; earthing grid; ground mat; earthing system; grid id; grid no",
            "grid ref; mat id; mat no; earth grid id; earth grid no; earth mat no; ground grid id; grid name",
            "earth system; grounding grid; grounding system; ground mat id; earthing mat; earth grid ref",
        ),
        example="Mat 1",
    )
    area: float = quantity(
        "Area covered.",
        "m2",
        *headings("grid area; mat area; area of grid; grid area m2; mat area m2; site area; area covered; plan area"),
        gt=0,
        example="2400",
    )
    length: float = quantity(
        "Longest side.",
        "m",
        *headings("grid length; length x; length of grid; mat length; grid length m; lx; long side"),
        gt=0,
        example="60",
    )
    width: float = quantity(
        "Other side.",
        "m",
        *headings("grid width; length y; width of grid; mat width; grid width m; ly; short side; breadth"),
        gt=0,
        example="40",
    )
    perimeter: float = quantity(
        "Perimeter.",
        "m",
        "grid perimeter",
        "perimeter length",
        "mat perimeter",
        "perimeter of grid",
        gt=0,
        example="200",
    )
    conductor_length: float = quantity(
        "Total length of horizontal conductor.",
        "m",
        *headings(
            "buried length; total conductor; length of conductor; total conductor length; conductor total length",
            "total buried length; total length of conductor; grid conductor length; buried conductor",
            "total buried conductor; lc",
        ),
        gt=0,
        example="900",
    )
    spacing: float = quantity(
        "Spacing of parallel conductors.",
        "m",
        *headings(
            "mesh spacing; conductor spacing; grid spacing; mesh size; mesh; conductor pitch; parallel spacing",
            "mesh spacing m",
        ),
        gt=0,
        example="6",
    )
    depth: float = quantity(
        "Burial depth.",
        "m",
        *headings("burial depth; depth of burial; grid depth; depth of grid; buried depth; mat depth"),
        gt=0,
        le=10,
        example="0.6",
    )
    rods: pd.Int64Dtype = count(
        "Number of rods.",
        *headings(
            "no of rods; earth rods; number of rods; electrodes; ground rods; earth electrodes; no of earth rods",
            "number of electrodes; number of ground rods; no of electrodes; rod count; no rods",
        ),
        example="24",
    )
    rod_length: float = quantity(
        "Length of one rod.",
        "m",
        *headings("rod length m; length of rods; length of rod; rod depth; electrode length; length per rod"),
        gt=0,
        example="3",
    )
    rod_positions: str = choice(
        "Where the rods stand: any in the corners or along the perimeter count as perimeter.",
        ROD_POSITIONS,
        *headings(
            "rod location; rod position; location of rods; position of rods; rods at; electrode position",
            "electrode location; where rods stand",
        ),
    )
    conductor_size: float = size(
        "Size of the mat conductor.",
        *headings(
            "conductor; mat conductor; grid conductor; earth conductor size; conductor csa; grid conductor size",
            "mat conductor size; size of conductor; conductor cross section; csa",
        ),
    )
    conductor_material: str = choice(
        "Material of the mat conductor.",
        CONDUCTOR_MATERIAL,
        *headings("material; grid material; material of conductor; mat material; conductor mat"),
    )
    soil_resistivity: float = quantity(
        "Soil resistivity, uniform equivalent.",
        "ohm m",
        *headings(
            "resistivity; soil; rho; resistivity of soil; earth resistivity; ground resistivity",
            "apparent resistivity; soil rho; average resistivity",
        ),
        gt=0,
        example="80",
    )
    surface_resistivity: float = quantity(
        "Resistivity of the surface layer, wet.",
        "ohm m",
        *headings(
            "surface layer resistivity; gravel resistivity; crushed rock resistivity; surface layer rho; rho s",
            "surfacing resistivity; chippings resistivity; gravel rho; rock resistivity",
        ),
        gt=0,
        example="3000",
    )
    surface_depth: float = quantity(
        "Thickness of the surface layer.",
        "m",
        *headings(
            "surface layer depth; gravel depth; surface thickness; thickness of surface layer; gravel thickness",
            "chippings depth; crushed rock depth; depth of surface layer; surface layer thickness; hs",
        ),
        ge=0,
        le=1,
        example="0.1",
    )
    split_factor: float = quantity(
        "Share of the ground-fault current that returns through the mat.",
        "pu",
        *headings(
            "split; current division factor; sf; division factor; current split factor; grid current split",
            "reduction factor; current split",
        ),
        gt=0,
        le=1,
        example="0.6",
    )
    fault_duration: float = quantity(
        "Duration for touch and step limits.",
        "s",
        *headings(
            "shock duration; clearing time; duration of fault; fault clearing time; fault time; clearance time",
            "duration of shock; exposure time; ts",
        ),
        gt=0,
        example="0.5",
    )
    measured_resistance: float = quantity(
        "Measured resistance to remote ground.",
        "ohm",
        *headings(
            "earth resistance; measured ohms; grid resistance; resistance; ground resistance; grid ohms",
            "mat resistance; earth grid resistance; measured earth resistance; measured grid resistance",
            "resistance to earth; rg; measured ground resistance; resistance to remote earth",
        ),
        ge=0,
        example="0.45",
    )
    measured_on: Day = date(
        "When it was measured.",
        *headings(
            "test date; date measured; last test; date of test; last tested; measured date; measurement date",
            "tested on; date tested; last measured",
        ),
    )
