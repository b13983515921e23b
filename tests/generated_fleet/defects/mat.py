"""Defects of mats."""

from datetime import timedelta

import numpy as np
from generated_fleet.defects.register import Row, changed, defect, heavy, those
from generated_fleet.station import TODAY, Rows


def mat(rows: Rows) -> Row:
    """The mat."""
    return rows["ground_grid"][0]


def measurements(rows: Rows) -> list[Row]:
    """Inspections that measured it."""
    here = mat(rows)["substation"]
    return those(rows, "inspection", asset="Mat 1", kind="grid_resistance", substation=here)


@defect("mat/conductor-area", mat__touch_voltage="a thinner conductor raises the mesh voltage a little")
def conductor_too_thin(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """The size of a lead for one of the mat."""
    return changed(rows, mat(rows), conductor_size=float(rng.choice([2.5, 4.0])) if heavy(rows) else 1.5)


@defect("mat/measurement-overdue")
def measured_long_ago(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """Last measured when the station was built."""
    years = int(rng.integers(12, 30))
    for visit in measurements(rows):
        rows["inspection"].remove(visit)
    return changed(rows, mat(rows), measured_on=TODAY - timedelta(days=years * 365))


@defect("mat/computed-agreement", mat__potential_rise="that resistance lifts the mat higher")
def measured_in_the_wrong_unit(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A resistance that no mat of these dimensions has in this soil."""
    wrong = round(mat(rows)["measured_resistance"] * float(rng.choice([0.1, 4.0, 10.0])), 4)
    for visit in measurements(rows):
        visit["value"] = wrong
    return changed(rows, mat(rows), measured_resistance=wrong)


@defect("mat/resistance-drift")
def risen_since_the_first_measurement(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """The resistance of twelve years ago was half of today's."""
    earlier = dict(measurements(rows)[0])
    earlier |= {"inspection": "I900", "date": TODAY - timedelta(days=4300)}
    earlier["value"] = round(mat(rows)["measured_resistance"] * rng.uniform(0.35, 0.6), 4)
    rows["inspection"].append(earlier)
    return rows


@defect(
    "mat/potential-rise",
    mat__touch_voltage="the same current through the same soil raises them",
    mat__step_voltage="the same current through the same soil raises them",
)
def rock_below_the_station(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """The soil of a dry summer, and no shield wire that would take a part of the current."""
    return in_worse_soil(rows, rng.uniform(25, 40)) if heavy(rows) else None


@defect(
    "mat/touch-voltage",
    mat__step_voltage="bare soil bears less of either",
    mat__potential_rise="all of the current passes through the mat",
)
def surfacing_gone(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """Grass where there was gravel, and a mat of a few wide meshes."""
    if not heavy(rows):
        return None
    grid = mat(rows)
    wider = rng.uniform(2.0, 2.5)
    return changed(
        rows, grid, surface_resistivity=grid["soil_resistivity"], surface_depth=0.0, split_factor=1.0,
        spacing=round(grid["spacing"] * wider, 2), conductor_length=round(grid["conductor_length"] / wider, 1),
    )  # fmt: skip


@defect(
    "mat/step-voltage",
    mat__touch_voltage="bare soil bears less of either",
    mat__potential_rise="all of the current passes through the mat, into worse soil",
)
def shallow_at_the_edge(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A mat that lies shallow in bare soil of some hundred ohm meters."""
    if not heavy(rows):
        return None
    in_worse_soil(rows, rng.uniform(6, 9))
    return changed(rows, mat(rows), depth=0.27, surface_resistivity=mat(rows)["soil_resistivity"], surface_depth=0.0)


def in_worse_soil(rows: Rows, times: float) -> Rows:
    """The resistivity so many times, and the resistances measured; all of the current through the mat."""
    grid = mat(rows)
    measured = round(grid["measured_resistance"] * times, 3)
    grid |= {"soil_resistivity": round(grid["soil_resistivity"] * times, 1), "measured_resistance": measured}
    grid["split_factor"] = 1.0
    for visit in measurements(rows):
        visit["value"] = measured
    return rows
