"""Dimensions of each ground mat, gaps filled where its shape tells them or the policy allows."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from groundcheck.study.bounded import Bounded, recorded
from groundcheck.study.context import Study

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
GRID = "ground_grid"
DEEPEST_M = 10.0  # the inventory takes no mat deeper than this


@dataclass(frozen=True)
class GridDimensions:
    """
    In m, m2 and ohm m; NaN where not on record.

    rods_m : length of all rods. diameter : of a round conductor of the same area.
    at_perimeter : 1.0 where rods stand there, 0.0 where there are none or all stand inside.
    either : it is not on record where the rods stand.
    rectangle : area or perimeter is that of a rectangle, which the record does not say it is.
    assumed : that, or where the rods stand is assumed.
    """

    soil: Bounded
    area: Bounded
    buried: Bounded
    depth: Bounded
    length: Floats
    width: Floats
    perimeter: Floats
    conductor: Floats
    spacing: Floats
    diameter: Floats
    rods: Floats
    rod_length: Floats
    rods_m: Floats
    at_perimeter: Floats
    either: Bools
    rectangle: Bools
    assumed: Bools


def grid_dimensions(study: Study) -> GridDimensions:
    """Read the mats; a mat of which only the sides are on record is taken as a rectangle."""
    records, fill = study.records, study.typical.fill

    def number(field: str) -> Floats:
        return records.numbers(GRID, field)

    length, width = number("length"), number("width")
    why = "taken as a rectangle of the sides on record"
    area = fill(
        GRID, "area", number("area"), "rectangular_grid", length * width, unit="m2", why=why, nodes={}
    )  # fmt: skip
    perimeter = fill(
        GRID, "perimeter", number("perimeter"), "rectangular_grid", 2 * (length + width), unit="m", why=why, nodes={}
    )  # fmt: skip
    rods, rod_length = number("rods"), number("rod_length")
    rods_m = np.where(rods == 0, 0.0, rods * rod_length)
    at_perimeter, either, guessed = _rod_positions(study, rods)
    conductor, depth = number("conductor_length"), number("depth")
    blank_depth = np.isnan(depth)
    rectangle = _filled(number("area"), area) | _filled(number("perimeter"), perimeter)
    return GridDimensions(
        recorded(number("soil_resistivity"), float(study.policy["tolerance.measured"])),
        _area(number("area"), area, length, width),
        _buried(conductor, rods_m, number("area"), number("perimeter")),
        Bounded(depth, np.where(blank_depth, 0.0, depth), np.where(blank_depth, DEEPEST_M, depth)),
        length, width, perimeter, conductor, number("spacing"),
        2 * np.sqrt(number("conductor_size") / np.pi) * 1e-3, rods, rod_length, rods_m, at_perimeter, either,
        rectangle, guessed | rectangle,
    )  # fmt: skip


def _filled(known: Floats, filled: Floats) -> Bools:
    return np.isnan(known) & ~np.isnan(filled)


def _area(known: Floats, filled: Floats, length: Floats, width: Floats) -> Bounded:
    """A mat covers no more than the rectangle of its sides."""
    blank = np.isnan(known)
    most = np.where(np.isnan(length * width), np.inf, length * width)
    return Bounded(filled, np.where(blank, 0.0, known), np.where(blank, most, known))


def _buried(conductor: Floats, rods_m: Floats, area: Floats, perimeter: Floats) -> Bounded:
    """All buried conductor: at least what encloses the area, which is least for a circle."""
    around = np.fmax(np.nan_to_num(perimeter), 2 * np.sqrt(np.pi * np.nan_to_num(area)))
    value = conductor + rods_m
    least = np.where(np.isnan(conductor), around, conductor) + np.nan_to_num(rods_m)
    return Bounded(value, np.where(np.isnan(value), least, value), np.where(np.isnan(value), np.inf, value))


def _rod_positions(study: Study, rods: Floats) -> tuple[Floats, Bools, Bools]:
    words = study.records.words(GRID, "rod_positions")
    stated = np.select([words == "perimeter", words == "inside"], [1.0, 0.0], default=np.nan)
    open_place = np.isnan(stated) & ~(rods == 0)
    guessed = open_place & (rods > 0) & study.policy.admits("rods_at_perimeter")
    study.ledger.assume(
        GRID, guessed, "rod_positions", "perimeter", "IEEE Std 80 design practice, recalled: rods at the edge", {}
    )
    at_edge = np.where(rods == 0, 0.0, np.where(guessed, 1.0, stated))
    return at_edge, open_place, guessed
