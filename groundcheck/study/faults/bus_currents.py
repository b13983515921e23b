"""The line-to-ground current at every bus, as what carries it to the mat must bear it."""

import numpy as np

from groundcheck.study.bounded import Bounded, of_frame
from groundcheck.study.context import Study


def bus_currents(study: Study) -> Bounded:
    """
    Line-to-ground current in the maximum condition, in kA.

    Where only capacitance leads to ground and is not on record, the policy's range for a charging current bounds it.
    """
    faults = study.faults[study.faults["condition"] == "max"]
    found = of_frame(faults, "line_to_ground_ka")
    by_charging = study.solution.charging_decides & np.isnan(found.value)
    most = float(study.policy["range.most.charging_current"]) / 1e3
    return Bounded(found.value, found.low, np.where(by_charging, np.fmin(found.high, most), found.high))
