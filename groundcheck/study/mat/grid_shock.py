"""Mesh and step voltage of each mat, and what a person bears there."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.engineering import (
    effective_mesh_length_m,
    effective_parallel_conductors,
    effective_step_length_m,
    grid_voltage_v,
    irregularity_factor,
    mesh_factor,
    mesh_formula_holds,
    step_factor,
    surface_layer_factor,
    tolerable_voltage_v,
)
from groundcheck.engineering.touch_step import SHOCK_S
from groundcheck.study.bounded import Bounded, monotone, recorded
from groundcheck.study.context import Study
from groundcheck.study.gaps import own_field
from groundcheck.study.mat.grid_dimensions import GRID, GridDimensions
from groundcheck.study.mat.strap_duty import product

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
THICKEST_M = 1.0  # the inventory takes no thicker surfacing


@dataclass(frozen=True)
class GridShock:
    """Volts per mat; `holds` is None where the record does not decide whether the equations hold."""

    holds: NDArray[np.object_]
    mesh: Bounded
    step: Bounded
    footing: Bounded
    tolerable: dict[str, Bounded]


def grid_shock(study: Study, size: GridDimensions, current_a: Bounded, time: Bounded) -> GridShock:
    """
    Voltages at the surface for a current of the mat, and those borne for its duration.

    The geometry is wholly on record or it bounds nothing: the equations neither grow nor fall with one dimension alone.
    """
    n = effective_parallel_conductors(size.conductor, size.perimeter, size.area.value, size.length, size.width)
    usable = np.where(n > 0.5, n, np.nan)
    depth = size.depth.value
    holds = mesh_formula_holds(size.spacing, depth, size.diameter, usable)
    inside = np.array([answer is True for answer in holds], dtype=bool)
    per_ohm = {}
    for edge in (False, True):
        k_m = mesh_factor(size.spacing, depth, size.diameter, usable, np.full(n.size, edge))
        length = effective_mesh_length_m(
            size.conductor, size.rods_m, size.rod_length, np.hypot(size.length, size.width), np.full(n.size, edge)
        )
        per_ohm[edge] = grid_voltage_v(1.0, 1.0, np.where(inside, k_m, np.nan), irregularity_factor(usable), length)
    k_s = np.where(inside, step_factor(size.spacing, depth, usable), np.nan)
    steps = grid_voltage_v(
        1.0, 1.0, k_s, irregularity_factor(usable), effective_step_length_m(size.conductor, size.rods_m)
    )
    current = product(size.soil, current_a)
    of_step = _open_shape(recorded(np.where(steps > 0, steps, np.nan)), size.rectangle)
    return GridShock(
        holds, product(_mesh(size, per_ohm), current), product(of_step, current), *_borne(study, size, time)
    )


def _mesh(size: GridDimensions, per_ohm: dict[bool, Floats]) -> Bounded:
    """Mesh voltage per ohm m and A: for rods where they stand, or for both places where that is not on record."""
    inside, edge = (np.where(v > 0, v, np.nan) for v in (per_ohm[False], per_ohm[True]))
    value = np.select([size.at_perimeter == 1, size.at_perimeter == 0], [edge, inside], default=np.nan)
    both = Bounded(value, np.minimum(inside, edge), np.maximum(inside, edge))
    own = recorded(value)
    low, high = (np.where(size.either, b, o) for b, o in ((both.low, own.low), (both.high, own.high)))
    found = Bounded(value, np.nan_to_num(low), np.where(np.isnan(high), np.inf, high))
    return _open_shape(found, size.rectangle)


def _open_shape(found: Bounded, rectangle: Bools) -> Bounded:
    """Anything where the record does not say that a mat is the rectangle it is taken for."""
    return Bounded(found.value, np.where(rectangle, 0.0, found.low), np.where(rectangle, np.inf, found.high))


def _borne(study: Study, size: GridDimensions, time: Bounded) -> tuple[Bounded, dict[str, Bounded]]:
    footing = _footing(study, size)
    clipped = Bounded(*(np.clip(t, *SHOCK_S) for t in (time.value, time.low, time.high)))
    known = (time.value >= SHOCK_S[0]) & (time.value <= SHOCK_S[1])
    borne = {}
    for touch, name in ((True, "touch"), (False, "step")):
        for body in (50, 70):

            def formula(under: Floats, t: Floats, body: int = body, touch: bool = touch) -> Floats:
                return tolerable_voltage_v(under, t, body, touch=touch)

            found = monotone(formula, (footing,), (clipped,))
            # Beyond the longest duration of the source a person bears less, how much it does not say.
            low = np.where(time.high > SHOCK_S[1], 0.0, found.low)
            high = np.where(time.low < SHOCK_S[0], np.inf, found.high)
            borne[f"{name}_{body}_v"] = Bounded(np.where(known, found.value, np.nan), low, high)
    return footing, borne


def _footing(study: Study, size: GridDimensions) -> Bounded:
    """C_s rho_s. It grows with both resistivities; with the thickness towards that of the surfacing."""
    surface = study.records.numbers(GRID, "surface_resistivity")
    thickness = study.records.numbers(GRID, "surface_depth")
    bare = thickness == 0
    rho, soil = recorded(surface, float(study.policy["tolerance.measured"])), size.soil

    def under(ground: Floats, top: Floats, deep: Floats) -> Floats:
        with np.errstate(invalid="ignore"):
            weight = 0.09 / (2 * deep + 0.09)
            mixed = top - np.where(weight == 0, 0.0, weight * (top - ground))
        return np.where(deep == 0, ground, mixed)

    factor = surface_layer_factor(soil.value, np.where(surface > 0, surface, np.nan), thickness)
    value = np.where(bare, soil.value, factor * surface)
    thin, thick = np.where(np.isnan(thickness), 0.0, thickness), np.where(np.isnan(thickness), THICKEST_M, thickness)
    lows = under(soil.low, rho.low, thin), under(soil.low, rho.low, thick)
    highs = under(soil.high, rho.high, thin), under(soil.high, rho.high, thick)
    low, high = np.fmin(*lows), np.maximum(*highs)
    return Bounded(value, np.nan_to_num(low), np.where(np.isnan(high), np.inf, high))


def shock_blocks(study: Study, assets: pd.DataFrame, size: GridDimensions, shock: GridShock) -> list[pd.DataFrame]:
    """What mesh and step voltage, and what a person bears, wait for in the record of the mat itself."""
    records = study.records
    outside = np.array([answer is False for answer in shock.holds], dtype=bool)
    shape = ("conductor_length", "spacing", "depth", "length", "width", "conductor_size", "soil_resistivity")
    gaps = {name: np.isnan(records.numbers(GRID, name)) for name in shape}
    gaps |= {"area": np.isnan(size.area.value), "perimeter": np.isnan(size.perimeter), "rods": np.isnan(size.rods)}
    gaps["rod_length"] = (size.rods > 0) & np.isnan(size.rod_length)
    rows = []
    for quantity, of in (("mesh_v", shock.mesh), ("step_v", shock.step)):
        waits = np.isnan(of.value) & ~outside
        places = {"rod_positions": np.isnan(size.at_perimeter) & (size.rods > 0)} if quantity == "mesh_v" else {}
        rows += [
            own_field(assets, f"ground_grid_duty.{quantity}", waits & gap, name)
            for name, gap in (gaps | places).items()
        ]
    surfacing = {name: np.isnan(records.numbers(GRID, name)) for name in ("surface_resistivity", "surface_depth")}
    surfacing["soil_resistivity"] = gaps["soil_resistivity"]
    missing = np.isnan(shock.footing.value)
    for quantity in shock.tolerable:
        rows += [
            own_field(assets, f"ground_grid_duty.{quantity}", missing & gap, name) for name, gap in surfacing.items()
        ]
    return rows
