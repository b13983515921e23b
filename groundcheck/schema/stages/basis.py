"""What the ground-fault quantities of a zone are computed from."""

import pandas as pd

from groundcheck.schema.columns import count, key, text
from groundcheck.schema.table import Table


class ZoneBasis(Table):
    """A record that a zone's ground-fault quantities are computed from: in the zone, or towards its supply."""

    zone: str = key("Zone.")
    substation: str = text("Station of the record.")
    asset_kind: str = text("Kind of asset.")
    asset: str = text("Tag.")
    steps: pd.Int64Dtype = count("Transformers between the zone and it, towards the supply: 0 is the zone itself.")


# The fields of each kind of asset that the study computes with.
BASIS_FIELDS: dict[str, tuple[str, ...]] = {
    "bus": ("nominal_voltage", "ground_fault_clearing_time", "continuity_required"),
    "neutral_device": (
        "kind", "resistance", "reactance", "rated_voltage", "rated_current", "primary_voltage", "secondary_voltage",
        "secondary_resistance",
    ),
    "grounding_transformer": ("z0", "r0"),
    "generator": ("rated_power", "rated_voltage", "xd_subtransient", "x2", "x0", "capacitance_to_ground"),
    "transformer": (
        "vector_group", "rated_power", "hv_voltage", "lv_voltage", "tv_voltage", "impedance", "hv_tv_impedance",
        "lv_tv_impedance", "x_over_r", "z0", "z0_hv_tv", "z0_lv_tv", "z0_x_over_r", "core_form",
    ),
    "infeed": ("fault_level_3ph", "fault_current_3ph", "x_over_r", "fault_current_1ph", "r0_over_x0", "grounded"),
    "line": ("length", "r1", "x1", "r0", "x0", "c0", "charging_current"),
}  # fmt: skip
