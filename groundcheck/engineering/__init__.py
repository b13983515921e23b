"""Formulas of grounding as functions on arrays, free of files, tables and SQL; imports numpy, and scipy for islands."""

from groundcheck.engineering.charging import capacitance_uf_from_charging, capacitive_susceptance_s, charging_current_a
from groundcheck.engineering.conductors import (
    largest_strap_share,
    material_constant,
    temperature_limit_c,
)
from groundcheck.engineering.coordination import least_interval_s
from groundcheck.engineering.cross_country import (
    second_ground_fault_ceiling_ka,
    second_ground_fault_ka,
)
from groundcheck.engineering.decrement import (
    decrement_factor,
)
from groundcheck.engineering.driving import fault_impedance, line_to_neutral_kv
from groundcheck.engineering.fault_voltages import (
    coefficient_of_grounding,
    healthy_phase_bounds_kv,
    healthy_phase_kv,
    neutral_shift_kv,
    phase_phasors_kv,
    phase_voltages_kv,
)
from groundcheck.engineering.faults import (
    double_line_to_ground_ka,
    line_to_ground_ka,
    line_to_line_ka,
    three_phase_ka,
)
from groundcheck.engineering.fusing import (
    fusing_area_mm2,
    fusing_current_ka,
)
from groundcheck.engineering.generator_neutral import (
    high_resistance_criterion_ohm,
    resistive_and_charging_a,
    secondary_current_a,
    secondary_voltage_v,
)
from groundcheck.engineering.grid_geometry import (
    effective_mesh_length_m,
    effective_parallel_conductors,
    effective_step_length_m,
    irregularity_factor,
)
from groundcheck.engineering.grid_resistance import (
    grid_resistance_ohm,
    schwarz_coefficients,
)
from groundcheck.engineering.grounding_class import classify_zone, is_effective
from groundcheck.engineering.grounding_transformer_size import (
    grounding_transformer_kva,
    short_duty_factors,
    winding_current_a,
    x0_for_current_ohm,
)
from groundcheck.engineering.impedance_correction import (
    generator_correction,
    transformer_correction,
    unit_correction,
    unit_correction_fixed_tap,
)
from groundcheck.engineering.infeed import infeed_z0_ohm, infeed_z1_ohm
from groundcheck.engineering.islands import connected
from groundcheck.engineering.machines import machine_impedance_ohm
from groundcheck.engineering.mesh_step import (
    grid_voltage_v,
    mesh_factor,
    mesh_formula_holds,
    step_factor,
)
from groundcheck.engineering.neutral_devices import (
    coil_tuning_ohm,
    let_through_ceiling_a,
    nameplate_mismatch,
    referred_resistance_ohm,
    resistor_power_kw,
)
from groundcheck.engineering.neutral_reactors import (
    line_to_ground_share,
    neutral_reactance_ohm,
)
from groundcheck.engineering.neutral_transformer_rating import (
    distribution_transformer_kva,
    overload_multiple,
    primary_rating_kv,
)
from groundcheck.engineering.neutral_unbalance import (
    unbalance_current_a,
)
from groundcheck.engineering.nodal import NetworkImpedances, group_by_size, impedance_matrices
from groundcheck.engineering.outage import impedance_after, outage_kernel
from groundcheck.engineering.ratio_class import classify_bus
from groundcheck.engineering.relay_curves import operating_time_s
from groundcheck.engineering.relay_elements import (
    Element,
    definite_operating_time_s,
    element_time_s,
    reset_time_s,
)
from groundcheck.engineering.resistor_heating import (
    adiabatic_time_s,
    hot_resistor_current_a,
    rated_energy_kj,
    resistor_energy_kj,
    temperature_rise_limit_k,
)
from groundcheck.engineering.resonance import (
    coil_power_kva,
    detuning,
    residual_current_a,
    sound_neutral_voltage_kv,
    tuned_inductance_h,
)
from groundcheck.engineering.schwarz import (
    combined_bed_ohm,
    conductor_bed_ohm,
    mutual_bed_ohm,
    rod_bed_ohm,
)
from groundcheck.engineering.secondary_loops import (
    bypassed_share,
    loop_current_a,
    wire_resistance_ohm,
)
from groundcheck.engineering.shield_wires import (
    earth_return_ohm_per_km,
    reduction_factor,
)
from groundcheck.engineering.star_admittance import star_admittance, star_arms
from groundcheck.engineering.stator_coverage import current_coverage, voltage_coverage
from groundcheck.engineering.touch_step import (
    surface_layer_factor,
    tolerable_voltage_v,
)
from groundcheck.engineering.transformer_admittance import (
    magnetizing_pairs,
    two_winding_admittance,
    winding_admittance,
    zero_sequence_admittance,
)
from groundcheck.engineering.transformer_impedance import leakage_ohm, scale_percent
from groundcheck.engineering.transients import (
    r0_over_x0,
    resistor_over_charging,
)
from groundcheck.engineering.voltage_factor import voltage_factor_max, voltage_factor_min
from groundcheck.engineering.voltage_transformers import (
    allowed_voltage_factor,
    broken_delta_v,
    damping_resistor_w,
    required_voltage_factor,
)
from groundcheck.engineering.zigzag import grounding_transformer_z0, zigzag_winding_z0

__all__ = [
    "Element",
    "NetworkImpedances",
    "adiabatic_time_s",
    "allowed_voltage_factor",
    "broken_delta_v",
    "bypassed_share",
    "capacitance_uf_from_charging",
    "capacitive_susceptance_s",
    "charging_current_a",
    "classify_bus",
    "classify_zone",
    "coefficient_of_grounding",
    "coil_power_kva",
    "coil_tuning_ohm",
    "combined_bed_ohm",
    "conductor_bed_ohm",
    "connected",
    "current_coverage",
    "damping_resistor_w",
    "decrement_factor",
    "definite_operating_time_s",
    "detuning",
    "distribution_transformer_kva",
    "double_line_to_ground_ka",
    "earth_return_ohm_per_km",
    "effective_mesh_length_m",
    "effective_parallel_conductors",
    "effective_step_length_m",
    "element_time_s",
    "fault_impedance",
    "fusing_area_mm2",
    "fusing_current_ka",
    "generator_correction",
    "grid_resistance_ohm",
    "grid_voltage_v",
    "grounding_transformer_kva",
    "grounding_transformer_z0",
    "group_by_size",
    "healthy_phase_bounds_kv",
    "healthy_phase_kv",
    "high_resistance_criterion_ohm",
    "hot_resistor_current_a",
    "impedance_after",
    "impedance_matrices",
    "infeed_z0_ohm",
    "infeed_z1_ohm",
    "irregularity_factor",
    "is_effective",
    "largest_strap_share",
    "leakage_ohm",
    "least_interval_s",
    "let_through_ceiling_a",
    "line_to_ground_ka",
    "line_to_ground_share",
    "line_to_line_ka",
    "line_to_neutral_kv",
    "loop_current_a",
    "machine_impedance_ohm",
    "magnetizing_pairs",
    "material_constant",
    "mesh_factor",
    "mesh_formula_holds",
    "mutual_bed_ohm",
    "nameplate_mismatch",
    "neutral_reactance_ohm",
    "neutral_shift_kv",
    "operating_time_s",
    "outage_kernel",
    "overload_multiple",
    "phase_phasors_kv",
    "phase_voltages_kv",
    "primary_rating_kv",
    "r0_over_x0",
    "rated_energy_kj",
    "reduction_factor",
    "referred_resistance_ohm",
    "required_voltage_factor",
    "reset_time_s",
    "residual_current_a",
    "resistive_and_charging_a",
    "resistor_energy_kj",
    "resistor_over_charging",
    "resistor_power_kw",
    "rod_bed_ohm",
    "scale_percent",
    "schwarz_coefficients",
    "second_ground_fault_ceiling_ka",
    "second_ground_fault_ka",
    "secondary_current_a",
    "secondary_voltage_v",
    "short_duty_factors",
    "sound_neutral_voltage_kv",
    "star_admittance",
    "star_arms",
    "step_factor",
    "surface_layer_factor",
    "temperature_limit_c",
    "temperature_rise_limit_k",
    "three_phase_ka",
    "tolerable_voltage_v",
    "transformer_correction",
    "tuned_inductance_h",
    "two_winding_admittance",
    "unbalance_current_a",
    "unit_correction",
    "unit_correction_fixed_tap",
    "voltage_coverage",
    "voltage_factor_max",
    "voltage_factor_min",
    "winding_admittance",
    "winding_current_a",
    "wire_resistance_ohm",
    "x0_for_current_ohm",
    "zero_sequence_admittance",
    "zigzag_winding_z0",
]
