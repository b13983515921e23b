"""What neutral devices, generator neutrals, grounding transformers and coils are worked out to need."""

import pandas as pd

from groundcheck.schema.columns import key, quantity, text, yes_no
from groundcheck.schema.stages.bounds import HIGH, LOW
from groundcheck.schema.table import Table

PROVISIONAL = "Whether an assumed value stands behind it."


class DeviceHeating(Table):
    """Heat that the ground-fault duty puts into a neutral resistor, against its nameplate."""

    substation: str = key("Station of the device.")
    neutral_device: str = key("Device: a resistor, or a distribution transformer with a loaded secondary.")
    kind: str = text("Kind of device.")
    zone: str = text("Zone it grounds.")
    current_a: float = quantity("Largest current through it.", "A")
    current_a_low: float = quantity(LOW, "A")
    current_a_high: float = quantity(HIGH, "A")
    duration_s: float = quantity("How long; infinite where the zone runs on.", "s")
    duration_s_low: float = quantity(LOW, "s")
    duration_s_high: float = quantity(HIGH, "s")
    energy_kj: float = quantity("Heat of that duty, I2 R t.", "kJ")
    energy_kj_low: float = quantity(LOW, "kJ")
    energy_kj_high: float = quantity(HIGH, "kJ")
    rated_energy_kj: float = quantity("Heat of its rated current for its rated time.", "kJ")
    rated_energy_kj_low: float = quantity(LOW, "kJ")
    rated_energy_kj_high: float = quantity(HIGH, "kJ")
    power_kw: float = quantity("Power while the fault stands.", "kW")
    power_kw_low: float = quantity(LOW, "kW")
    power_kw_high: float = quantity(HIGH, "kW")
    borne_s: float = quantity("Time in which the duty's current puts in the rated heat, no heat given off.", "s")
    borne_s_low: float = quantity(LOW, "s")
    borne_s_high: float = quantity(HIGH, "s")
    temperature_rise_limit_k: float = quantity("Temperature rise that the class of its rated time permits.", "K")
    provisional: pd.BooleanDtype = yes_no(PROVISIONAL)


class NeutralUnbalance(Table):
    """What a neutral device carries without a fault, from unequal capacitances to ground."""

    substation: str = key("Station of the device.")
    neutral_device: str = key("Device.")
    kind: str = text("Kind of device.")
    zone: str = text("Zone it grounds.")
    charging_a: float = quantity("Charging current of the zone (3I0).", "A")
    charging_a_low: float = quantity(LOW, "A")
    charging_a_high: float = quantity(HIGH, "A")
    unbalance_a: float = quantity("Current through it without a fault.", "A")
    unbalance_a_low: float = quantity(LOW, "A")
    unbalance_a_high: float = quantity(HIGH, "A")
    continuous_a: float = quantity("What it may carry without limit; its rated current where that is continuous.", "A")
    continuous_a_low: float = quantity(LOW, "A")
    continuous_a_high: float = quantity(HIGH, "A")
    provisional: pd.BooleanDtype = yes_no(PROVISIONAL)


class GeneratorGrounding(Table):
    """A generator grounded through a resistor or a loaded distribution transformer, worked out."""

    substation: str = key("Station of the generator.")
    generator: str = key("Generator.")
    device_substation: str = key("Station of the device in its neutral.")
    neutral_device: str = key("Device in its neutral.")
    kind: str = text("Kind of device.")
    zone: str = text("Zone at generator voltage.")
    nominal_kv: float = quantity("Its nominal voltage.", "kV")
    charging_a: float = quantity("Charging current of the zone (3I0).", "A")
    charging_a_low: float = quantity(LOW, "A")
    charging_a_high: float = quantity(HIGH, "A")
    xc0_ohm: float = quantity("Capacitive reactance to ground of one phase of the zone.", "ohm")
    xc0_ohm_low: float = quantity(LOW, "ohm")
    xc0_ohm_high: float = quantity(HIGH, "ohm")
    criterion_ohm: float = quantity("Largest neutral resistance that passes the charging current.", "ohm")
    criterion_ohm_low: float = quantity(LOW, "ohm")
    criterion_ohm_high: float = quantity(HIGH, "ohm")
    referred_ohm: float = quantity("Resistance that the device puts into the neutral.", "ohm")
    referred_ohm_low: float = quantity(LOW, "ohm")
    referred_ohm_high: float = quantity(HIGH, "ohm")
    resistor_a: float = quantity("Current through the neutral in a solid fault at the terminals.", "A")
    resistor_a_low: float = quantity(LOW, "A")
    resistor_a_high: float = quantity(HIGH, "A")
    resistor_over_charging: float = quantity("That current over the charging current.", None)
    resistor_over_charging_low: float = quantity(LOW, None)
    resistor_over_charging_high: float = quantity(HIGH, None)
    total_fault_a: float = quantity("Current at the fault, charging current included.", "A")
    total_fault_a_low: float = quantity(LOW, "A")
    total_fault_a_high: float = quantity(HIGH, "A")
    power_kw: float = quantity("Power in the resistor.", "kW")
    power_kw_low: float = quantity(LOW, "kW")
    power_kw_high: float = quantity(HIGH, "kW")
    duration_s: float = quantity("How long the fault stands.", "s")
    duration_s_low: float = quantity(LOW, "s")
    duration_s_high: float = quantity(HIGH, "s")
    secondary_v: float = quantity("Voltage across the loaded secondary.", "V")
    secondary_a: float = quantity("Current of the loaded secondary.", "A")
    secondary_a_low: float = quantity(LOW, "A")
    secondary_a_high: float = quantity(HIGH, "A")
    kva_needed: float = quantity("Rating that a distribution transformer needs for that current and time.", "kVA")
    kva_needed_low: float = quantity(LOW, "kVA")
    kva_needed_high: float = quantity(HIGH, "kVA")
    rated_kva: float = quantity("Rating on record.", "kVA")
    primary_kv: float = quantity("Rated primary voltage on record.", "kV")
    primary_kv_needed: float = quantity("Rated primary voltage that stays unsaturated under field forcing.", "kV")
    provisional: pd.BooleanDtype = yes_no(PROVISIONAL)


class GroundingTransformerSize(Table):
    """How large a grounding transformer must be, and what reactance would ground its bus how firmly."""

    substation: str = key("Station.")
    grounding_transformer: str = key("Grounding transformer.")
    zone: str = text("Zone it grounds.")
    nominal_kv: float = quantity("Nominal voltage of its bus.", "kV")
    current_a: float = quantity("Largest neutral current.", "A")
    current_a_low: float = quantity(LOW, "A")
    current_a_high: float = quantity(HIGH, "A")
    duration_s: float = quantity("How long.", "s")
    duration_s_low: float = quantity(LOW, "s")
    duration_s_high: float = quantity(HIGH, "s")
    phase_current_a: float = quantity("Current of each phase, a third of it.", "A")
    phase_current_a_low: float = quantity(LOW, "A")
    phase_current_a_high: float = quantity(HIGH, "A")
    duty_factor: float = quantity("Continuous rating over V_LN I for that time; blank where no table gives it.", None)
    duty_factor_low: float = quantity(LOW, None)
    duty_factor_high: float = quantity(HIGH, None)
    kva_needed: float = quantity("Continuous rating needed.", "kVA")
    kva_needed_low: float = quantity(LOW, "kVA")
    kva_needed_high: float = quantity(HIGH, "kVA")
    rated_kva: float = quantity("Rating on record, which may be the continuous or the short-time one.", "kVA")
    short_time_kva: float = quantity("Short-time rating by rated neutral current and line-to-neutral voltage.", "kVA")
    short_time_kva_line: float = quantity("The same by line-to-line voltage, as some nameplates have it.", "kVA")
    z0_ohm: float = quantity("Zero-sequence impedance on record.", "ohm")
    x1_ohm: float = quantity("Positive-sequence reactance at its bus.", "ohm")
    effective_x0_ohm: float = quantity("Largest X0 that grounds its bus effectively, if nothing else does.", "ohm")
    transient_x0_ohm: float = quantity("Largest X0 against transient overvoltage, if nothing else grounds it.", "ohm")
    provisional: pd.BooleanDtype = yes_no(PROVISIONAL)


class CoilTuning(Table):
    """An arc-suppression coil against the charging current of its zone."""

    substation: str = key("Station of the coil.")
    neutral_device: str = key("Coil.")
    zone: str = text("Zone it grounds.")
    nominal_kv: float = quantity("Nominal voltage of the zone.", "kV")
    reactance_ohm: float = quantity("Reactance of the coil, as set.", "ohm")
    tuned_ohm: float = quantity("Reactance that would tune the zone, the other coils left as they are.", "ohm")
    coil_kvar: float = quantity("Reactive power of the coil while a fault stands.", "kvar")
    coil_a: float = quantity("Current of the coil at line-to-neutral voltage.", "A")
    coil_a_low: float = quantity(LOW, "A")
    coil_a_high: float = quantity(HIGH, "A")
    coils_a: float = quantity("Current of all coils of the zone together.", "A")
    coils_a_low: float = quantity(LOW, "A")
    coils_a_high: float = quantity(HIGH, "A")
    charging_a: float = quantity("Charging current of the zone (3I0).", "A")
    charging_a_low: float = quantity(LOW, "A")
    charging_a_high: float = quantity(HIGH, "A")
    detuning: float = quantity("(coil current - charging current) / charging current; positive: overcompensated.", None)
    detuning_low: float = quantity(LOW, None)
    detuning_high: float = quantity(HIGH, None)
    damping: float = quantity("Resistive share of the charging current.", None)
    damping_low: float = quantity(LOW, None)
    damping_high: float = quantity(HIGH, None)
    residual_a: float = quantity("Current left at a fault, at power frequency.", "A")
    residual_a_low: float = quantity(LOW, "A")
    residual_a_high: float = quantity(HIGH, "A")
    neutral_kv: float = quantity("Voltage of the neutral without a fault.", "kV")
    neutral_kv_low: float = quantity(LOW, "kV")
    neutral_kv_high: float = quantity(HIGH, "kV")
    provisional: pd.BooleanDtype = yes_no("Whether an assumed value stands behind currents and detuning.")
    residual_provisional: pd.BooleanDtype = yes_no("Whether one stands behind residual current and neutral voltage.")


EQUIPMENT_TABLES: dict[str, type[Table]] = {
    "device_heating": DeviceHeating,
    "neutral_unbalance": NeutralUnbalance,
    "generator_grounding": GeneratorGrounding,
    "grounding_transformer_size": GroundingTransformerSize,
    "coil_tuning": CoilTuning,
}
