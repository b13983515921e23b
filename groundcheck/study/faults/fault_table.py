"""Faults at every bus, in both conditions, with the bounds of what the record leaves open."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.engineering import (
    classify_bus,
    coefficient_of_grounding,
    double_line_to_ground_ka,
    healthy_phase_kv,
    line_to_ground_ka,
    line_to_line_ka,
    neutral_shift_kv,
    three_phase_ka,
)
from groundcheck.study.faults.intervals import SHIFTED, Bounds, find_intervals
from groundcheck.study.networks.bus_faults import CONDITIONS, Solution
from groundcheck.study.networks.capacitance import Capacitance
from groundcheck.study.networks.method import driving_kv
from groundcheck.study.networks.zones import Topology
from groundcheck.study.records import Records

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
TO_GROUND = ("line_to_ground_ka", "double_line_to_ground_ka")


def fault_table(
    records: Records,
    topology: Topology,
    solution: Solution,
    corners: list[Solution],
    capacitance: Capacitance,
    provisional: dict[str, Bools],
) -> pd.DataFrame:
    """The rows of study.bus_fault: those of the maximum condition, then those of the minimum."""
    kv = records.nominal_kv
    driving = driving_kv(kv, solution.voltage_factor)
    intervals = find_intervals(kv, solution, corners, driving)
    charging = capacitance.charging_a[topology.zone] if topology.zone.size else np.zeros(0)
    open_charging = solution.open_charging
    frames = []
    for condition in CONDITIONS:
        columns = _quantities(kv, driving[condition], solution, condition)
        for name, (low, high) in _bounds(intervals.of, condition, open_charging).items():
            columns[f"{name}_low"], columns[f"{name}_high"] = low, high
        for name in TO_GROUND:
            columns[name] = np.where(open_charging, np.nan, columns[name])
        frames.append(
            pd.DataFrame(
                {
                    "substation": records.bus["substation"].to_numpy(dtype=object),
                    "bus": records.bus["bus"].to_numpy(dtype=object),
                    "condition": condition,
                    **columns,
                    "charging_a": charging,
                    "provisional": provisional[condition],
                }
            )
        )
    return pd.concat(frames, ignore_index=True)


def with_ratio_classes(
    faults: pd.DataFrame, topology: Topology, solution: Solution, grounding_class: NDArray[np.object_]
) -> pd.DataFrame:
    """The faults with the row of IEEE C62.92.1 that the ratios at each bus fit, once the classes of zones are known."""
    resonant = np.tile((grounding_class == "resonant")[topology.zone], len(CONDITIONS))
    numbers = {
        name: faults[name].to_numpy(dtype=float)
        for name in ("x0_over_x1", "r0_over_x1", "line_to_ground_ka", "three_phase_ka")
    }
    with np.errstate(divide="ignore", invalid="ignore"):
        share = numbers["line_to_ground_ka"] / numbers["three_phase_ka"]
    path = np.tile(~solution.no_path, len(CONDITIONS))
    return faults.assign(ratio_class=classify_bus(numbers["x0_over_x1"], numbers["r0_over_x1"], share, path, resonant))


def _quantities(kv: Floats, driving: Floats, solution: Solution, condition: str) -> dict[str, Floats]:
    z1, z2, z0 = solution.z1[condition], solution.z2[condition], solution.z0[condition]
    healthy = healthy_phase_kv(kv, z1, z2, z0)
    path = np.where(np.isinf(z0), complex(np.nan, np.nan), z0)
    with np.errstate(divide="ignore", invalid="ignore"):
        return {
            "r1_ohm": z1.real,
            "x1_ohm": z1.imag,
            "r2_ohm": z2.real,
            "x2_ohm": z2.imag,
            "r0_ohm": path.real,
            "x0_ohm": path.imag,
            "three_phase_ka": three_phase_ka(driving, z1),
            "line_to_line_ka": line_to_line_ka(driving, z1, z2),
            "line_to_ground_ka": line_to_ground_ka(driving, z1, z2, z0),
            "double_line_to_ground_ka": double_line_to_ground_ka(driving, z1, z2, z0),
            "x0_over_x1": path.imag / z1.imag,
            "r0_over_x1": path.real / z1.imag,
            "cog": coefficient_of_grounding(healthy, kv),
            "healthy_phase_kv": healthy,
            "neutral_shift_kv": neutral_shift_kv(kv, z1, z2, z0),
        }


def _bounds(of: dict[tuple[str, str], Bounds], condition: str, open_charging: Bools) -> dict[str, Bounds]:
    """Bounds by quantity; a current that capacitance alone decides, which is not on record, may be any."""
    return widened({name: bounds for (each, name), bounds in of.items() if each == condition}, open_charging)


def widened(of: dict[str, Bounds], open_charging: Bools) -> dict[str, Bounds]:
    """Bounds by quantity where capacitance that is not on record in full decides the current."""
    found = dict(of)
    for name in TO_GROUND:
        low, high = found[name]
        found[name] = np.where(open_charging, 0.0, low), np.where(open_charging, np.inf, high)
    # Capacitance that is not on record shifts the neutral a little further, or less.
    for name in ("healthy_phase_kv", "cog", "neutral_shift_kv"):
        low, high = found[name]
        found[name] = np.where(open_charging, low / SHIFTED, low), np.where(open_charging, high * SHIFTED, high)
    return found
