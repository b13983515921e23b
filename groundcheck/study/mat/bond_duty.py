"""The bonds of equipment to the mat, and the conductor of the mat: area needed against area installed."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.engineering import largest_strap_share, material_constant
from groundcheck.schema.vocabulary import CONDUCTOR_MATERIAL
from groundcheck.study.bounded import Bounded, monotone, recorded
from groundcheck.study.context import Study
from groundcheck.study.gaps import assets_of, joined, own_field
from groundcheck.study.mat.bonded_equipment import bond_cases, station_cases
from groundcheck.study.mat.fault_heat import FaultHeat, bus_heat
from groundcheck.study.mat.strap_constants import strap_constant, unit_area
from groundcheck.study.mat.strap_duty import area_columns, fault_blocks, fault_columns, product, strap_duty

Floats = NDArray[np.float64]
Tables = dict[str, pd.DataFrame]


def bond_tables(study: Study) -> Tables:
    """study.bond_duty and study.grid_conductor_duty."""
    heat = bus_heat(study)
    bonds, bond_blocks = _bonds(study, heat)
    grids, grid_blocks = _grid_conductors(study, heat)
    return {"bond_duty": bonds, "grid_conductor_duty": grids, "blocked": joined([*bond_blocks, *grid_blocks])}


def _bonds(study: Study, heat: FaultHeat) -> tuple[pd.DataFrame, list[pd.DataFrame]]:
    records, policy = study.records, study.policy
    cases = bond_cases(study)
    duty = strap_duty(cases, heat)
    material, joint = records.words("bond", "conductor_material"), records.words("bond", "joint")
    constant, limit = strap_constant(material, joint, policy)
    needed = product(duty.heat, constant)
    straps = _straps(study)
    size = recorded(records.numbers("bond", "conductor_size"))
    imbalance = float(policy["bonding.strap_imbalance"])
    share = largest_strap_share(straps.value, imbalance)
    with np.errstate(divide="ignore"):
        installed = monotone(lambda area, n: area / largest_strap_share(n, imbalance), (size, straps))
    assets = assets_of(records, "bond")
    table = assets[["substation"]].assign(
        bond=assets["asset"],
        **fault_columns(study, duty, heat),
        stands_at=np.where(cases.placed, "bus", "station"),
        limit_c=limit,
        strap_share=share,
        **area_columns(needed, installed, duty),
        provisional=duty.provisional | _one_assumed(study),
    )
    quantity, missing = "bond_duty.needed_mm2", np.isnan(needed.value)
    blocks = [
        own_field(assets, quantity, missing & _blank(material), "conductor_material"),
        own_field(assets, quantity, missing & _blank(joint), "joint"),
        own_field(assets, "bond_duty.installed_mm2", np.isnan(size.value), "conductor_size"),
        own_field(assets, "bond_duty.installed_mm2", np.isnan(straps.value), "parallel"),
        *fault_blocks(study, cases, assets, quantity, missing, heat),
    ]
    return table, blocks


def _straps(study: Study) -> Bounded:
    """Straps in parallel: at least one where the number is not on record."""
    found = study.records.numbers("bond", "parallel")
    value = study.typical.fill(
        "bond", "parallel", found, "bond_parallel", 1.0, unit="",
        why="the record names no number of straps; common practice, no source", nodes={},
    )  # fmt: skip
    blank = np.isnan(found)
    return Bounded(value, np.where(blank, 1.0, found), np.where(blank, np.inf, found))


def _one_assumed(study: Study) -> NDArray[np.bool_]:
    return np.isnan(study.records.numbers("bond", "parallel")) & study.policy.admits("bond_parallel")


def _grid_conductors(study: Study, heat: FaultHeat) -> tuple[pd.DataFrame, list[pd.DataFrame]]:
    records, policy = study.records, study.policy
    cases = station_cases(study, "ground_grid")
    # A fault at any bus of the station is one that the mat must carry.
    duty = strap_duty(cases, heat)
    heaviest = duty.heat
    material = records.words("ground_grid", "conductor_material")
    constant, limit = _mat_constant(study, material)
    share = float(policy["ground_grid.conductor_share"])
    needed = product(heaviest, Bounded(constant.value * share, constant.low * share, constant.high * share))
    installed = recorded(records.numbers("ground_grid", "conductor_size"))
    assets = assets_of(records, "ground_grid")
    table = assets[["substation"]].assign(
        ground_grid=assets["asset"],
        **fault_columns(study, duty, heat),
        limit_c=limit,
        conductor_share=share,
        **area_columns(needed, installed, duty),
        provisional=duty.provisional,
    )
    quantity, missing = "grid_conductor_duty.needed_mm2", np.isnan(needed.value)
    blocks = [
        own_field(assets, quantity, missing & _blank(material), "conductor_material"),
        own_field(assets, "grid_conductor_duty.installed_mm2", np.isnan(installed.value), "conductor_size"),
        *fault_blocks(study, cases, assets, quantity, missing, heat),
    ]
    return table, blocks


def _mat_constant(study: Study, material: NDArray[np.object_]) -> tuple[Bounded, Floats]:
    """Area per kA s^0.5 in the mat, whose joints bear the policy's limit; any metal where it is not on record."""
    policy = study.policy
    joints = float(policy["ground_grid.joint_limit"])
    limit = np.minimum(material_constant(material, "fusing_c"), joints)
    value = unit_area(material, limit, policy)
    metals = np.array(list(CONDUCTOR_MATERIAL), dtype=object)
    every = unit_area(metals, np.minimum(material_constant(metals, "fusing_c"), joints), policy)
    unknown = np.isnan(value)
    return Bounded(value, np.where(unknown, every.min(), value), np.where(unknown, every.max(), value)), limit


def _blank(words: NDArray[np.object_]) -> NDArray[np.bool_]:
    return np.array([word is None for word in words], dtype=bool)
