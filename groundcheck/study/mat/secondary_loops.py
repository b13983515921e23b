"""Secondary circuits that are grounded at two points or more."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.engineering import (
    bypassed_share,
    fusing_current_ka,
    loop_current_a,
    material_constant,
    wire_resistance_ohm,
)
from groundcheck.engineering.secondary_loops import COPPER_OHM_MM2_PER_M
from groundcheck.study.bounded import Bounded, monotone, of_frame, recorded
from groundcheck.study.context import Study
from groundcheck.study.gaps import assets_of, foreign_field, own_field

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
CIRCUIT = "secondary_circuit"


def secondary_loop_table(study: Study, grids: pd.DataFrame) -> tuple[pd.DataFrame, list[pd.DataFrame]]:
    """
    The rows of study.secondary_loop, and of study.blocked for them.

    grids : study.ground_grid_duty.

    Two points of one mat are apart by a part of its rise, and by all of it where one of them stands off the mat. The
    burden of the relays is left out: it lowers the current.
    """
    several = _several(study)
    mat, provisional = _mat(study, grids)
    share, path = _typical(study, several, "mat_voltage_share"), _typical(study, several, "mat_path")
    volts = Bounded(mat["gpr_v"].value * share, np.zeros(several.size), mat["gpr_v"].high)
    area = recorded(study.records.numbers(CIRCUIT, "conductor_area"))
    length = recorded(study.records.numbers(CIRCUIT, "length"))
    with np.errstate(divide="ignore", invalid="ignore"):
        wire = monotone(lambda m, a: COPPER_OHM_MM2_PER_M * m / a, (length,), (area,))
    wire = Bounded(wire_resistance_ohm(area.value, length.value), wire.low, wire.high)
    loop = Bounded(path, np.zeros(several.size), np.full(several.size, np.inf))
    current = monotone(loop_current_a, (volts,), (wire, loop))
    bypassed = _bypassed(wire, loop)
    bears = _bears(study, area, mat["fault_duration_s"])
    assets = assets_of(study.records, CIRCUIT)
    table = assets[["substation"]].assign(
        secondary_circuit=assets["asset"],
        **volts.columns("mat_voltage_v"),
        **wire.columns("wire_ohm"),
        mat_ohm=path,
        **current.columns("wire_current_a"),
        **bypassed.columns("bypassed_share"),
        duration_s=mat["fault_duration_s"].value,
        **bears.columns("bears_a"),
        provisional=provisional | ~np.isnan(share) | ~np.isnan(path),
    )
    return table[several].reset_index(drop=True), _blocks(study, assets, several, table, grids)


def _several(study: Study) -> Bools:
    """Circuits with two different ground points or more."""
    places = study.records.tables[CIRCUIT]["ground_points"]
    lists = (list, tuple, np.ndarray)
    return np.array([isinstance(each, lists) and len(set(each)) > 1 for each in places], dtype=bool)


def _typical(study: Study, several: Bools, switch: str) -> Floats:
    """The policy's value for the circuits asked about; NaN where the policy does not admit it."""
    return study.typical.fill(
        CIRCUIT, switch, np.where(several, np.nan, 0.0), switch, float(study.policy[f"assume.value.{switch}"]),
        unit="ohm" if switch == "mat_path" else "", why="no record holds it; common practice, no source", nodes={},
    )  # fmt: skip


def _mat(study: Study, grids: pd.DataFrame) -> tuple[dict[str, Bounded], Bools]:
    """Rise of the station's mat and duration of the fault; of the mat that rises most where a station has several."""
    worst_first = grids.assign(place=np.arange(len(grids)))
    worst_first = worst_first.sort_values(["gpr_v_high", "place"], ascending=[False, True])
    chosen = worst_first.drop_duplicates("substation").set_index("substation")["place"]
    station, _ = study.records.tags(CIRCUIT)
    place = chosen.reindex(station).fillna(-1).to_numpy(dtype=np.int64)
    found = {name: of_frame(grids, name).take(place) for name in ("gpr_v", "fault_duration_s")}
    marks = grids["provisional"].to_numpy(dtype=bool)
    return found, np.where(place >= 0, marks[place] if marks.size else False, False).astype(bool)


def _bypassed(wire: Bounded, path: Bounded) -> Bounded:
    found = monotone(bypassed_share, (wire,), (path,))
    # Of a share, no more is ever open than all of it.
    return Bounded(found.value, found.low, np.fmin(found.high, 1.0))


def _bears(study: Study, area: Bounded, time: Bounded) -> Bounded:
    """Current that brings copper to the limit of its insulation."""
    names = ("alpha_r", "k0", "resistivity", "heat_capacity")
    copper = {name: material_constant("copper_annealed", name) for name in names}
    limit, ambient = float(study.policy["secondary.insulation_limit"]), float(study.policy["bonding.ambient"])

    def amperes(mm2: Floats, seconds: Floats) -> Floats:
        return fusing_current_ka(mm2, seconds, **copper, limit_c=limit, ambient_c=ambient) * 1e3

    with np.errstate(invalid="ignore"):
        return monotone(amperes, (area,), (time,))


def _blocks(
    study: Study, assets: pd.DataFrame, several: Bools, table: pd.DataFrame, grids: pd.DataFrame
) -> list[pd.DataFrame]:
    """The circuit's own fields; and the mat of its station, where that is missing or its rise is not known."""
    rows = []
    for field, quantities in (
        ("conductor_area", ("wire_ohm", "wire_current_a", "bypassed_share", "bears_a")),
        ("length", ("wire_ohm", "wire_current_a", "bypassed_share")),
    ):
        blank = several & np.isnan(study.records.numbers(CIRCUIT, field))
        rows += [own_field(assets, f"secondary_loop.{name}", blank, field) for name in quantities]
    station = assets["substation"]
    no_mat = several & ~station.isin(grids["substation"]).to_numpy(dtype=bool)
    stations = pd.DataFrame({"substation": station, "asset_kind": "substation", "asset": station})
    rows += [
        foreign_field(assets, f"secondary_loop.{name}", no_mat, stations, "ground_grid")
        for name in ("mat_voltage_v", "wire_current_a", "bears_a")
    ]
    unknown = several & table["mat_voltage_v"].isna().to_numpy(dtype=bool) & ~no_mat
    rows.append(foreign_field(assets, "secondary_loop.mat_voltage_v", unknown, stations, "ground_grid"))
    return rows
