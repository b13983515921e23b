"""Formulas of grounding as functions on arrays, free of files, tables and SQL; imports numpy, and scipy for islands."""

from groundcheck.engineering.charging import capacitance_uf_from_charging, capacitive_susceptance_s, charging_current_a
from groundcheck.engineering.faults import (
    coefficient_of_grounding,
    double_line_to_ground_ka,
    healthy_phase_bounds_kv,
    healthy_phase_kv,
    line_to_ground_ka,
    line_to_line_ka,
    neutral_shift_kv,
    three_phase_ka,
)
from groundcheck.engineering.grounding_class import classify_zone, is_effective
from groundcheck.engineering.infeed import infeed_z0_ohm, infeed_z1_ohm
from groundcheck.engineering.islands import connected
from groundcheck.engineering.machines import machine_impedance_ohm
from groundcheck.engineering.neutral_devices import (
    coil_tuning_ohm,
    let_through_ceiling_a,
    nameplate_mismatch,
    referred_resistance_ohm,
    resistor_power_kw,
)
from groundcheck.engineering.nodal import NetworkImpedances, group_by_size, impedance_matrices
from groundcheck.engineering.relay_curves import operating_time_s
from groundcheck.engineering.transformer_admittance import (
    magnetizing_pairs,
    two_winding_admittance,
    winding_admittance,
    zero_sequence_admittance,
)
from groundcheck.engineering.transformer_impedance import leakage_ohm, scale_percent
from groundcheck.engineering.zigzag import grounding_transformer_z0, zigzag_winding_z0

__all__ = [
    "NetworkImpedances",
    "capacitance_uf_from_charging",
    "capacitive_susceptance_s",
    "charging_current_a",
    "classify_zone",
    "coefficient_of_grounding",
    "coil_tuning_ohm",
    "connected",
    "double_line_to_ground_ka",
    "grounding_transformer_z0",
    "group_by_size",
    "healthy_phase_bounds_kv",
    "healthy_phase_kv",
    "impedance_matrices",
    "infeed_z0_ohm",
    "infeed_z1_ohm",
    "is_effective",
    "leakage_ohm",
    "let_through_ceiling_a",
    "line_to_ground_ka",
    "line_to_line_ka",
    "machine_impedance_ohm",
    "magnetizing_pairs",
    "nameplate_mismatch",
    "neutral_shift_kv",
    "operating_time_s",
    "referred_resistance_ohm",
    "resistor_power_kw",
    "scale_percent",
    "three_phase_ka",
    "two_winding_admittance",
    "winding_admittance",
    "zero_sequence_admittance",
    "zigzag_winding_z0",
]
