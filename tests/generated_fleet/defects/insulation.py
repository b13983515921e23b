"""Defects of insulation."""

from math import sqrt

import numpy as np
from generated_fleet.defects.register import bus_of, changed, defect, one, strike, those
from generated_fleet.station import Rows


@defect("insulation/healthy-phase-voltage")
def insulated_for_line_to_neutral_where_faults_stand(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """Insulation for V_LN in a zone that runs on."""
    for item in those(rows, "insulation", kind="switchgear"):
        bus = bus_of(rows, item["bus"])
        if bus["continuity_required"]:
            return changed(rows, item, rated_ground_voltage=round(bus["highest_voltage"] / 3**0.5 * 0.98, 2))
    return None


@defect(
    "insulation/cable-level",
    detection__run_on_time="what bears the fault least sets for how long it may stand",
)
def cable_of_the_hundred_per_cent_level(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """The usual cable, in a zone that runs on."""
    for item in those(rows, "insulation", kind="cable"):
        if bus_of(rows, item["bus"])["continuity_required"]:
            return changed(rows, item, cable_insulation_level=int(rng.choice([100, 133])))
    return None


@defect("insulation/standard-bil")
def impulse_withstand_of_a_lower_class(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A withstand below any of its class."""
    item = one(rows, rng, "insulation", kind="switchgear")
    if item is None or item["rated_line_voltage"] < 3:
        return None
    return changed(rows, item, bil=round(item["bil"] * rng.uniform(0.15, 0.3), 1))


@defect("insulation/neutral-bil")
def neutral_of_the_lowest_class(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A neutral end that bears less than the neutral's rise."""
    return changed(rows, one(rows, rng, "transformer", graded_neutral=True), neutral_bil=45.0)


@defect("insulation/graded-neutral")
def graded_neutral_unproven(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """Graded, behind an arrester, and nobody knows what its neutral end bears."""
    return changed(rows, one(rows, rng, "transformer", graded_neutral=True), neutral_bil=None)


@defect("insulation/graded-neutral", return_path__source_outage="one ground source fewer")
def graded_neutral_left_open(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """The link of a graded neutral taken off to lower the fault current."""
    link = one(rows, rng, "neutral_device", kind="solid", winding="hv")
    if link is None:
        return None
    row = next(t for t in rows["transformer"] if t["transformer"] in link["connected_to"])
    strike(rows, "neutral_device", link)
    rows["neutral_device"].append(link | {"kind": "open"})
    return changed(rows, row, graded_neutral=True)


@defect("insulation/outage-voltage")
def chosen_with_both_banks_in_service(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """Insulation that bears a ground fault with both grounding banks in service, not with one out."""
    banks = those(rows, "grounding_transformer", grounding_transformer=("GT1", "GT2"))
    if len(banks) != 2 or those(rows, "neutral_device", kind="resistor"):
        return None
    bus, supply = bus_of(rows, banks[0]["bus"]), rows["infeed"][0]
    x1 = bus["nominal_voltage"] ** 2 / supply["fault_level_3ph"]
    both, alone = (factor(banks[0]["z0"] / count / x1) for count in (2, 1))
    item = those(rows, "insulation", bus=bus["bus"], kind="switchgear")[0]
    borne = (both + alone) / 2 * bus["highest_voltage"] / sqrt(3)
    return changed(rows, item, rated_ground_voltage=round(borne * 0.98 / 1.9, 2))


def factor(k: float) -> float:
    """Earth fault factor of X0/X1 = k without resistance: sqrt3 sqrt(k2 + k + 1) / (k + 2), IEC 60909 texts."""
    return sqrt(3 * (k * k + k + 1)) / (k + 2)
