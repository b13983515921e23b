"""Defects of surge arresters."""

import numpy as np
from generated_fleet.defects.register import bus_of, changed, defect, one, those
from generated_fleet.station import Rows


@defect("arresters/continuous-voltage")
def chosen_for_line_to_neutral_where_faults_stand(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """MCOV for V_LN, as at an effectively grounded bus."""
    for arrester in those(rows, "arrester", position="phase"):
        bus = bus_of(rows, arrester["bus"])
        if bus["continuity_required"]:
            return changed(rows, arrester, mcov=round(bus["highest_voltage"] / 3**0.5 * rng.uniform(1.05, 1.2), 2))
    return None


@defect("arresters/continuous-voltage")
def mcov_of_the_next_lower_voltage(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """MCOV below V_LN."""
    arrester = one(rows, rng, "arrester", position="phase")
    if arrester is None:
        return None
    kv = bus_of(rows, arrester["bus"])["nominal_voltage"]
    return changed(rows, arrester, mcov=round(kv * rng.uniform(0.3, 0.5), 2))


@defect("arresters/temporary-overvoltage")
def chosen_for_effective_grounding_behind_a_resistor(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """MCOV just above V_LN where the healthy phases rise to V_LL until the fault is cleared."""
    for arrester in those(rows, "arrester", position="phase"):
        bus = bus_of(rows, arrester["bus"])
        if bus.get("declared_grounding") == "low_resistance":
            return changed(rows, arrester, mcov=round(bus["highest_voltage"] / 3**0.5 * rng.uniform(1.01, 1.1), 2))
    return None


@defect("arresters/needless-rating")
def chosen_for_line_to_line_at_a_solid_bus(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """MCOV for V_LL at an effectively grounded bus, with too high a protective level."""
    if "generator" in rows:
        return None  # a machine may feed the zone from its delta side while the supply, which grounds it, is out
    for arrester in those(rows, "arrester", position="phase"):
        bus = bus_of(rows, arrester["bus"])
        if bus.get("declared_grounding") == "effective":
            return changed(rows, arrester, mcov=round(bus["highest_voltage"] * rng.uniform(1.05, 1.3), 1))
    return None


@defect("arresters/neutral-voltage")
def neutral_arrester_of_a_lower_voltage(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """An arrester of the 20 kV store at an open 110 kV neutral."""
    return changed(rows, one(rows, rng, "arrester", position="neutral"), mcov=round(rng.uniform(8, 14), 1))
