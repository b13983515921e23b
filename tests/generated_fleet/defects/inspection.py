"""Defects of inspections."""

from datetime import timedelta

import numpy as np
from generated_fleet.defects.register import changed, defect, one, those
from generated_fleet.station import TODAY, Rows


@defect("inspection/overdue")
def last_visit_long_ago(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """The last test of a relay, an element or a look at a coil, years ago."""
    visit = one(rows, rng, "inspection", kind=("relay_test", "resistor_measurement", "visual"))
    if visit is None:
        return None
    day = TODAY - timedelta(days=int(rng.integers(2600, 6000)))
    for device in those(rows, "neutral_device", neutral_device=visit["asset"]):
        device |= {"measured_on": day}
    return changed(rows, visit, date=day)


@defect("inspection/failed")
def failed_and_nothing_done(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """The last inspection found a defect."""
    visit = one(rows, rng, "inspection")
    return changed(rows, visit, outcome="failed", remark="to be repaired")


@defect("inspection/never-done")
def never_inspected(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """No inspection of an asset on record."""
    visit = one(rows, rng, "inspection", kind=("relay_test", "resistor_measurement"))
    if visit is None:
        return None
    for device in those(rows, "neutral_device", neutral_device=visit["asset"]):
        device |= {"measured_on": None, "measured_resistance": None}
    rows["inspection"] = [each for each in rows["inspection"] if each["asset"] != visit["asset"]]
    return rows
