"""Resistance of each mat: computed two ways, measured, and the one that the rest uses."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.engineering import (
    combined_bed_ohm,
    conductor_bed_ohm,
    grid_resistance_ohm,
    mutual_bed_ohm,
    rod_bed_ohm,
    schwarz_coefficients,
)
from groundcheck.study.bounded import Bounded, monotone, recorded
from groundcheck.study.context import Study
from groundcheck.study.gaps import own_field
from groundcheck.study.mat.grid_dimensions import GRID, GridDimensions

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


@dataclass(frozen=True)
class GridResistances:
    """Of each mat in ohm; `used` is the measured one where there is one, else Sverak's."""

    sverak: Bounded
    schwarz: Floats
    ratio: Bounded
    used: Bounded
    measured: Bools


def grid_resistances(study: Study, size: GridDimensions) -> GridResistances:
    """
    Sverak's and Schwarz's resistance, and the measured one.

    A measurement replaces the formula: it holds the real soil, and whatever was connected when it was made.
    """
    sverak = monotone(
        lambda soil, area, buried, depth: grid_resistance_ohm(soil, area, buried, depth),
        (size.soil,), (size.area, size.buried, size.depth),
    )  # fmt: skip
    ohms = study.records.numbers(GRID, "measured_resistance")
    measured = recorded(ohms, float(study.policy["tolerance.measured"]))
    known = ~np.isnan(ohms)
    used = Bounded(
        *(np.where(known, m, s) for m, s in (
            (measured.value, sverak.value), (measured.low, sverak.low), (measured.high, sverak.high),
        ))
    )  # fmt: skip
    with np.errstate(divide="ignore", invalid="ignore"):
        ratio = monotone(lambda m, s: m / s, (measured,), (sverak,))
    return GridResistances(sverak, _schwarz(study, size), ratio, used, known)


def _schwarz(study: Study, size: GridDimensions) -> Floats:
    """NaN where an input is not on record, or the shape lies outside the figure of the coefficients."""
    area, depth, soil = size.area.value, size.depth.value, size.soil.value
    longer, shorter = np.fmax(size.length, size.width), np.fmin(size.length, size.width)
    k1, k2 = schwarz_coefficients(area, longer / shorter, depth)
    no_rods = size.rods == 0
    count = study.records.tags(GRID)[0].size
    diameter = study.typical.fill(
        GRID, "rod_diameter", np.where(no_rods | np.isnan(size.rods_m), 1.0, np.full(count, np.nan)), "rod_diameter",
        study.policy["assume.value.rod_diameter"], unit="m", why="no record holds it; common practice, no source",
        nodes={},
    )  # fmt: skip
    conductors = conductor_bed_ohm(soil, area, size.conductor, depth, size.diameter, k1, k2)
    number, length = np.where(no_rods, 1.0, size.rods), np.where(no_rods, 1.0, size.rod_length)
    rods = rod_bed_ohm(soil, area, number, length, diameter, k1)
    mutual = mutual_bed_ohm(soil, area, size.conductor, length, k1, k2)
    sound = (conductors > 0) & (rods > 0) & (mutual >= 0)
    together = combined_bed_ohm(*(np.where(sound, r, np.nan) for r in (conductors, rods, mutual)))
    return np.where(no_rods, np.where(conductors > 0, conductors, np.nan), together)


def resistance_blocks(study: Study, assets: pd.DataFrame, size: GridDimensions, found: GridResistances) -> list[
    pd.DataFrame
]:  # fmt: skip
    """What Sverak's resistance waits for; the measured one is asked for besides where neither is there."""
    missing = np.isnan(found.sverak.value)
    blank = {
        "soil_resistivity": np.isnan(size.soil.value),
        "area": np.isnan(size.area.value),
        "conductor_length": np.isnan(size.conductor),
        "depth": np.isnan(size.depth.value),
        "rods": np.isnan(size.rods),
        "rod_length": (size.rods > 0) & np.isnan(size.rod_length),
    }
    rows = []
    for quantity in ("sverak_ohm", "resistance_ohm", "gpr_v", "measured_over_computed"):
        waits = missing & (~found.measured if quantity in ("resistance_ohm", "gpr_v") else True)
        rows += [own_field(assets, f"ground_grid_duty.{quantity}", waits & gap, name) for name, gap in blank.items()]
    for quantity in ("resistance_ohm", "gpr_v"):
        neither = missing & ~found.measured
        rows.append(own_field(assets, f"ground_grid_duty.{quantity}", neither, "measured_resistance"))
    rows.append(own_field(assets, "ground_grid_duty.measured_over_computed", ~found.measured, "measured_resistance"))
    return rows
