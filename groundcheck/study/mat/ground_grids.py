"""What each ground mat does in a ground fault: resistance, rise, touch and step; and what relieves it."""

from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.study.bounded import Bounded, of_frame
from groundcheck.study.context import Study
from groundcheck.study.faults.zone_table import nullable
from groundcheck.study.gaps import assets_of, joined, own_field
from groundcheck.study.mat.earth_currents import earth_currents
from groundcheck.study.mat.fault_heat import FaultHeat, bus_heat
from groundcheck.study.mat.grid_currents import GridCurrents, grid_currents
from groundcheck.study.mat.grid_dimensions import GRID, grid_dimensions
from groundcheck.study.mat.grid_resistances import grid_resistances, resistance_blocks
from groundcheck.study.mat.grid_shock import grid_shock, shock_blocks
from groundcheck.study.mat.secondary_loops import secondary_loop_table
from groundcheck.study.mat.shield_wires import shield_wire_table, wire_ends
from groundcheck.study.mat.strap_duty import product
from groundcheck.study.worst import taken_words

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Tables = dict[str, pd.DataFrame]
FROM_CURRENT = ("grid_current_a", "gpr_v", "mesh_v", "step_v")


def ground_grid_tables(study: Study) -> Tables:
    """study.ground_grid_duty, study.shield_wire and study.secondary_loop."""
    ends, heat = wire_ends(study), bus_heat(study)
    wires, wire_blocks = shield_wire_table(study, ends)
    currents = grid_currents(study, earth_currents(study), ends, heat)
    grids, grid_blocks = _grids(study, currents, heat)
    loops, loop_blocks = secondary_loop_table(study, grids)
    return {
        "ground_grid_duty": grids,
        "shield_wire": wires,
        "secondary_loop": loops,
        "blocked": joined([wire_blocks, *grid_blocks, *loop_blocks]),
    }


def _grids(study: Study, currents: GridCurrents, heat: FaultHeat) -> tuple[pd.DataFrame, list[pd.DataFrame]]:
    size = grid_dimensions(study)
    ohms = grid_resistances(study, size)
    shock = grid_shock(study, size, currents.shock_a, currents.shock_s)
    gpr = product(currents.current_a, ohms.used)
    assets = assets_of(study.records, GRID)
    within = np.array([np.nan if answer is None else float(answer) for answer in shock.holds], dtype=float)
    borne = {key: part for name, of in shock.tolerable.items() for key, part in of.columns(name).items()}
    table = assets[["substation"]].assign(
        ground_grid=assets["asset"],
        **ohms.sverak.columns("sverak_ohm"),
        schwarz_ohm=ohms.schwarz,
        **ohms.ratio.columns("measured_over_computed"),
        **ohms.used.columns("resistance_ohm"),
        resistance_basis=np.where(ohms.measured, "measured", "computed"),
        **_fault_columns(study, currents),
        **currents.current_a.columns("grid_current_a"),
        **gpr.columns("gpr_v"),
        **currents.shock_s.columns("fault_duration_s"),
        within_limits=nullable(within),
        **shock.mesh.columns("mesh_v"),
        **shock.step.columns("step_v"),
        footing_ohm_m=shock.footing.value,
        **borne,
        provisional=currents.provisional | size.assumed,
    )
    blocks = [
        *resistance_blocks(study, assets, size, ohms),
        *shock_blocks(study, assets, size, shock),
        *_current_blocks(study, assets, currents, heat, table),
    ]
    return table, blocks


def _fault_columns(study: Study, currents: GridCurrents) -> dict[str, NDArray[Any]]:
    """The fault that drives most current, and what of it counts; bounds over all faults where it is not known."""
    at, pairs = currents.raises, currents.pairs
    bus = np.where(at >= 0, pairs.bus[at] if pairs.bus.size else -1, -1)
    frame = study.records.bus
    station, tag = (frame[name].to_numpy(dtype=object) for name in ("substation", "bus"))
    amperes = of_frame(study.faults[study.faults["condition"] == "max"], "line_to_ground_ka").take(bus).value * 1e3
    earth, split, offset = (each.take(at) for each in (pairs.earth_a, pairs.split, pairs.decrement))
    ceiling = Bounded(split.value, split.low, np.fmin(split.high, 1.0))
    return {
        "fault_substation": taken_words(station, bus),
        "fault_bus": taken_words(tag, bus),
        "fault_a": amperes,
        **earth.columns("earth_current_a"),
        **ceiling.columns("split_factor"),
        "decrement": offset.value,
    }


def _current_blocks(
    study: Study, assets: pd.DataFrame, currents: GridCurrents, heat: FaultHeat, table: pd.DataFrame
) -> list[pd.DataFrame]:
    """What the current of each mat waits for: faults, split factor, duration, frequency."""
    pairs, tracer = currents.pairs, study.tracer
    of_pair = assets.iloc[pairs.row].reset_index(drop=True)
    waits = np.isnan(pairs.current_a.value)
    no_earth, no_split = waits & np.isnan(pairs.earth_a.value), waits & np.isnan(pairs.split.value)
    no_time, no_hz = waits & np.isnan(pairs.time.value), waits & np.isnan(heat.frequency_hz.value[pairs.bus])
    zone = study.topology.zone[pairs.bus]
    station = study.records.bus["substation"].to_numpy(dtype=object)[pairs.bus]
    home: dict[str, Any] = {"blocking_substation": station, "blocking_asset": station}
    ask_hz = of_pair.assign(**home, blocking_asset_kind="substation", field="frequency")
    rows = []
    for quantity in FROM_CURRENT:
        name = f"ground_grid_duty.{quantity}"
        open_one: Bools = table[quantity].isna().to_numpy(dtype=bool)[pairs.row]
        rows += [
            tracer.at_bus(of_pair, name, no_earth & open_one, pairs.bus, charging=True),
            tracer.at_zone(of_pair, name, no_earth & open_one, zone, "disputed"),
            own_field(of_pair, name, no_split & open_one, "split_factor"),
            own_field(of_pair, name, no_time & open_one, "fault_duration"),
            ask_hz.assign(quantity=name)[no_hz & open_one],
        ]
    no_shock = np.isnan(currents.shock_s.value)
    return rows + [
        own_field(assets, f"ground_grid_duty.{name}", no_shock, "fault_duration")
        for name in ("touch_50_v", "step_50_v", "touch_70_v", "step_70_v")
    ]
