"""The ground mat, the bonds to it, and inspections."""

import pandas as pd

from groundcheck.schema.columns import Day, choice, count, date, key, quantity, reference, size, text, yes_no
from groundcheck.schema.inventory.station import STATION
from groundcheck.schema.table import InventoryTable
from groundcheck.schema.vocabulary import CONDUCTOR_MATERIAL, EQUIPMENT_KINDS, INSPECTION_KINDS, JOINT_KINDS


class GroundGrid(InventoryTable):
    """The buried ground mat of a station."""

    substation: str = key("Station of the mat.", *STATION)
    ground_grid: str = key(
        "Its tag in that station.",
        "earth grid",
        "mat",
        "earth mat",
        "grid",
        "earthing grid",
        "ground mat",
        "earthing system",
    )
    area: float = quantity("Area covered.", "m2", "grid area", "mat area", gt=0)
    length: float = quantity("Longest side.", "m", "grid length", "length x", gt=0)
    width: float = quantity("Other side.", "m", "grid width", "length y", gt=0)
    perimeter: float = quantity("Perimeter.", "m", "grid perimeter", gt=0)
    conductor_length: float = quantity(
        "Total length of horizontal conductor.", "m", "buried length", "total conductor", gt=0
    )
    spacing: float = quantity("Spacing of parallel conductors.", "m", "mesh spacing", "conductor spacing", gt=0)
    depth: float = quantity("Burial depth.", "m", "burial depth", gt=0, le=10)
    rods: pd.Int64Dtype = count("Number of rods.", "no of rods", "earth rods", "number of rods", "electrodes")
    rod_length: float = quantity("Length of one rod.", "m", "rod length m", gt=0)
    conductor_size: float = size("Size of the mat conductor.", "conductor", "mat conductor", "grid conductor")
    conductor_material: str = choice("Material of the mat conductor.", CONDUCTOR_MATERIAL, "material")
    soil_resistivity: float = quantity(
        "Soil resistivity, uniform equivalent.", "ohm m", "resistivity", "soil", "rho", gt=0
    )
    surface_resistivity: float = quantity(
        "Resistivity of the surface layer, wet.",
        "ohm m",
        "surface layer resistivity",
        "gravel resistivity",
        "crushed rock resistivity",
        gt=0,
    )
    surface_depth: float = quantity(
        "Thickness of the surface layer.", "m", "surface layer depth", "gravel depth", ge=0, le=1
    )
    split_factor: float = quantity(
        "Share of the ground-fault current that returns through the mat.",
        "pu",
        "split",
        "current division factor",
        "sf",
        gt=0,
        le=1,
    )
    fault_duration: float = quantity(
        "Duration for touch and step limits.", "s", "shock duration", "clearing time", gt=0
    )
    measured_resistance: float = quantity(
        "Measured resistance to remote ground.",
        "ohm",
        "earth resistance",
        "measured ohms",
        "grid resistance",
        "resistance",
        ge=0,
    )
    measured_on: Day = date("When it was measured.", "test date", "date measured", "last test", "date of test")


class Bond(InventoryTable):
    """The connection of one piece of equipment to the mat."""

    substation: str = key("Station of the equipment.", *STATION)
    bond: str = key(
        "Its tag in that station.",
        "bond no",
        "strap",
        "earth strap",
        "bond tag",
        "connection no",
        "earth tail",
        "earth connection",
    )
    equipment: str = reference(
        "Equipment that is bonded.", (), "asset", "apparatus", "equipment tag", "item", "plant", required=True
    )
    equipment_kind: str = choice("Kind of equipment.", EQUIPMENT_KINDS, "type", "equipment type", "plant type")
    conductor_size: float = size("Size of one conductor.", "size", "strap size", "conductor", "csa", "earth tape")
    conductor_material: str = choice("Material.", CONDUCTOR_MATERIAL, "material")
    parallel: pd.Int64Dtype = count(
        "Conductors in parallel.", "no off", "number of straps", "qty", "number", "in parallel", ge=1
    )
    joint: str = choice("Weakest joint.", JOINT_KINDS, "joint type", "connection type", "jointing", "termination")
    connected_to_grid: pd.BooleanDtype = yes_no(
        "Whether it reaches the mat.",
        "connected",
        "bonded",
        "connected to mat",
        "bonded to grid",
        "connected to earth grid",
        "earthed",
        "bonded to mat",
        "connected to earth",
    )
    measured_resistance: float = quantity(
        "Measured resistance of the bond.", "mohm", "resistance", "continuity", "milliohms", "ductor reading", ge=0
    )


class Inspection(InventoryTable):
    """One inspection of one asset."""

    substation: str = key("Station inspected.", *STATION)
    inspection: str = key(
        "Number of the inspection.", "inspection no", "ref", "report no", "id", "inspection ref", "work order"
    )
    asset: str = reference("Asset inspected.", (), "equipment", "item", "plant", "apparatus", required=True)
    date: Day = date("Date of the inspection.", "inspection date", "inspected on", "done on")
    inspector: str = text("Who inspected.", "inspected by", "by", "engineer")
    kind: str = choice("What was done.", INSPECTION_KINDS, "type", "inspection type", "test", "test type")
    value: float = quantity("Value found.", None, "result", "reading", "measurement")
    unit: str = text("Unit of the value.", "units", "uom")
    remark: str = text("Remark.", "remarks", "notes", "comment", "comments", "observation")
