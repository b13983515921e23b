"""Stage study: what is computed, and every assumption made."""

import pandas as pd

from groundcheck.schema.columns import count, key, quantity, text, yes_no
from groundcheck.schema.stages.basis import ZoneBasis
from groundcheck.schema.stages.bounds import HIGH, LOW
from groundcheck.schema.stages.contributions import Contribution
from groundcheck.schema.stages.grounding_equipment import EQUIPMENT_TABLES
from groundcheck.schema.stages.mat import MAT_TABLES
from groundcheck.schema.stages.outages import OUTAGE_TABLES
from groundcheck.schema.stages.relays import RELAY_TABLES
from groundcheck.schema.stages.standing import STANDING_TABLES
from groundcheck.schema.table import Table


class Zone(Table):
    """A galvanic zone: buses joined by lines, cables or closed switches, no transformer between."""

    zone: str = key("Name: that of its first bus, STATION:BUS.")
    substation: str = text("Station of the naming bus.")
    bus: str = text("The bus that names the zone.")
    nominal_kv: float = quantity("Nominal voltage; blank if its buses contradict one another.", "kV")
    grounding_class: str = text(
        "effective, solid_not_effective, solid (effectiveness not computed), low_resistance, high_resistance, "
        "resistance (size not on record), reactance, resonant, grounded_by_infeed (by infeeds alone, whose neutrals "
        "are not on record, and not effectively as far as computed), ungrounded; blank if not known."
    )
    ground_sources: pd.Int64Dtype = count("Ground sources on record.")
    buses: pd.Int64Dtype = count("Buses.")
    has_ground_source: pd.BooleanDtype = yes_no("Whether anything grounds it; blank if the record does not say.")
    supply_on_record: pd.BooleanDtype = yes_no("Whether the record says what energizes it.")
    continuity_required: pd.BooleanDtype = yes_no("Whether any of its buses is meant to run on through a ground fault.")
    clearing_time_s: float = quantity("Longest clearing time of its buses; infinite where it runs on.", "s")
    clearing_time_s_low: float = quantity(LOW, "s")
    clearing_time_s_high: float = quantity(HIGH, "s")
    charging_a: float = quantity("Capacitive ground-fault current of the whole zone (3I0).", "A")
    provisional: pd.BooleanDtype = yes_no("Whether an assumed value stands behind it.")


class ZoneBus(Table):
    """Which bus lies in which zone."""

    zone: str = text("Zone.")
    substation: str = key("Station.")
    bus: str = key("Bus.")


class GroundSource(Table):
    """What lets zero-sequence current into a zone."""

    zone: str = key("Zone.")
    substation: str = key("Station of the source.")
    asset: str = key("Its tag.")
    kind: str = key("transformer, grounding_transformer, generator or infeed.")
    treatment: str = text("Kind of its neutral device.")


class Neutral(Table):
    """Every neutral point that is, or is said to be, there."""

    substation: str = key("Station of the asset.")
    asset_kind: str = key("transformer, generator or grounding_transformer.")
    asset: str = key("Tag of the asset.")
    winding: str = key("hv, lv or tv of a transformer.")
    connection: str = text("Connection of the winding: YN, Y, D, ZN, Z, A.")
    has_neutral: pd.BooleanDtype = yes_no("Whether the winding has a neutral; blank if the record does not say.")
    bus: str = text("Bus of the winding.")
    zone: str = text("Zone of that bus.")
    device_substation: str = text("Station of the device.")
    neutral_device: str = key("Device in the neutral; blank if none is on record.")
    treatment: str = text("Kind of that device; blank if none is on record.")
    winding_kv: float = quantity("Nominal voltage of the zone.", "kV")


class BusFault(Table):
    """Faults at a bus, at nominal voltage before the fault, in the maximum and the minimum condition."""

    substation: str = key("Station.")
    bus: str = key("Bus.")
    condition: str = key("max or min.")
    r1_ohm: float = quantity("Positive-sequence resistance.", "ohm")
    x1_ohm: float = quantity("Positive-sequence reactance.", "ohm")
    r2_ohm: float = quantity("Negative-sequence resistance.", "ohm")
    x2_ohm: float = quantity("Negative-sequence reactance.", "ohm")
    r0_ohm: float = quantity("Zero-sequence resistance; blank: no path, or not known.", "ohm")
    x0_ohm: float = quantity("Zero-sequence reactance; blank: no path, or not known.", "ohm")
    three_phase_ka: float = quantity("Three-phase fault current.", "kA")
    three_phase_ka_low: float = quantity(LOW, "kA")
    three_phase_ka_high: float = quantity(HIGH, "kA")
    line_to_line_ka: float = quantity("Current of a fault between two phases, clear of ground.", "kA")
    line_to_line_ka_low: float = quantity(LOW, "kA")
    line_to_line_ka_high: float = quantity(HIGH, "kA")
    line_to_ground_ka: float = quantity("Line-to-ground fault current.", "kA")
    line_to_ground_ka_low: float = quantity(LOW, "kA")
    line_to_ground_ka_high: float = quantity(HIGH, "kA")
    double_line_to_ground_ka: float = quantity("Current to ground in a double line-to-ground fault.", "kA")
    double_line_to_ground_ka_low: float = quantity(LOW, "kA")
    double_line_to_ground_ka_high: float = quantity(HIGH, "kA")
    x0_over_x1: float = quantity("X0/X1.", None)
    r0_over_x1: float = quantity("R0/X1.", None)
    ratio_class: str = text(
        "Row of the table of IEEE C62.92.1 that X0/X1, R0/X1 and the current fit: very_effective, effective, "
        "low_inductance, high_inductance, low_resistance, high_resistance, inductance_and_resistance, resonant, "
        "ungrounded_a, ungrounded_b; none: no row; blank: not known."
    )
    cog: float = quantity("Coefficient of grounding: healthy-phase voltage / line-to-line voltage.", None)
    cog_low: float = quantity(LOW, None)
    cog_high: float = quantity(HIGH, None)
    healthy_phase_kv: float = quantity("Larger healthy-phase voltage to ground in a line-to-ground fault.", "kV")
    healthy_phase_kv_low: float = quantity(LOW, "kV")
    healthy_phase_kv_high: float = quantity(HIGH, "kV")
    neutral_shift_kv: float = quantity("Zero-sequence voltage at the fault.", "kV")
    neutral_shift_kv_low: float = quantity(LOW, "kV")
    neutral_shift_kv_high: float = quantity(HIGH, "kV")
    charging_a: float = quantity("Capacitive ground-fault current of the zone (3I0).", "A")
    provisional: pd.BooleanDtype = yes_no("Whether an assumed value stands behind it.")


class NeutralDuty(Table):
    """The largest current through a neutral device for a line-to-ground fault anywhere in its zone."""

    substation: str = key("Station of the device.")
    neutral_device: str = key("Device.")
    current_a: float = quantity("Largest current through it.", "A")
    current_a_low: float = quantity(LOW, "A")
    current_a_high: float = quantity(HIGH, "A")
    voltage_kv: float = quantity("Voltage across it at that current.", "kV")
    voltage_kv_low: float = quantity(LOW, "kV")
    voltage_kv_high: float = quantity(HIGH, "kV")
    duration_s: float = quantity("How long; infinite where the zone runs on.", "s")
    duration_s_low: float = quantity(LOW, "s")
    duration_s_high: float = quantity(HIGH, "s")
    fault_substation: str = text("Station of the bus whose fault is the worst for it.")
    fault_bus: str = text("That bus.")
    zone: str = text("Zone it grounds.")
    zone_kv: float = quantity("Nominal voltage of that zone.", "kV")
    resistance_ohm: float = quantity("Resistance used in the study.", "ohm")
    reactance_ohm: float = quantity("Reactance used in the study.", "ohm")
    charging_a: float = quantity("Charging current of the zone.", "A")
    provisional: pd.BooleanDtype = yes_no("Whether an assumed value stands behind it.")


class GroundingTransformerDuty(Table):
    """The largest neutral current of a grounding transformer for a line-to-ground fault anywhere in its zone."""

    substation: str = key("Station.")
    grounding_transformer: str = key("Grounding transformer.")
    current_a: float = quantity("Largest neutral current.", "A")
    current_a_low: float = quantity(LOW, "A")
    current_a_high: float = quantity(HIGH, "A")
    duration_s: float = quantity("How long.", "s")
    duration_s_low: float = quantity(LOW, "s")
    duration_s_high: float = quantity(HIGH, "s")
    zone: str = text("Zone it grounds.")
    provisional: pd.BooleanDtype = yes_no("Whether an assumed value stands behind it.")


class RelayReach(Table):
    """The smallest and the largest ground-fault current that a relay must see."""

    substation: str = key("Station.")
    ground_relay: str = key("Relay.")
    quantity_kind: str = text("current or voltage.")
    smallest_fault_a: float = quantity("Smallest ground-fault current it must see.", "A")
    smallest_fault_a_low: float = quantity(LOW, "A")
    smallest_fault_a_high: float = quantity(HIGH, "A")
    largest_fault_a: float = quantity("Largest ground-fault current through what it measures.", "A")
    largest_fault_a_low: float = quantity(LOW, "A")
    largest_fault_a_high: float = quantity(HIGH, "A")
    zone: str = text("Zone it guards.")
    provisional: pd.BooleanDtype = yes_no("Whether an assumed value stands behind it.")


class BusStress(Table):
    """What a bus puts on the insulation and the arresters at it: voltage to ground, and for how long."""

    substation: str = key("Station.")
    bus: str = key("Bus.")
    zone: str = text("Zone of the bus.")
    nominal_kv: float = quantity("Nominal voltage.", "kV")
    ratio: float = quantity("Highest voltage per unit of nominal; the policy's where it is not on record.", "pu")
    ratio_low: float = quantity(LOW, "pu")
    ratio_high: float = quantity(HIGH, "pu")
    sound_kv: float = quantity("Voltage to ground without a fault, at highest voltage.", "kV")
    sound_kv_low: float = quantity(LOW, "kV")
    sound_kv_high: float = quantity(HIGH, "kV")
    healthy_kv: float = quantity("Larger healthy-phase voltage to ground, at highest voltage.", "kV")
    healthy_kv_low: float = quantity(LOW, "kV")
    healthy_kv_high: float = quantity(HIGH, "kV")
    duration_s: float = quantity("How long a ground fault stands; infinite where the zone runs on.", "s")
    duration_s_low: float = quantity(LOW, "s")
    duration_s_high: float = quantity(HIGH, "s")
    allowance: float = quantity("What insulation bears for that time, per unit of lastingly.", "pu")
    allowance_at_low: float = quantity("What insulation bears for the shortest time, per unit of lastingly.", "pu")
    allowance_at_high: float = quantity("What it bears for the longest time, per unit of lastingly.", "pu")
    grounding_class: str = text("Grounding class of the zone.")
    provisional: pd.BooleanDtype = yes_no("Whether an assumed value stands behind it.")


class GroundWatch(Table):
    """What watches for ground faults: a row for each zone and each neutral device that a relay or detector watches."""

    substation: str = key("Station of the watcher.")
    watcher_kind: str = key("ground_relay or ground_detector.")
    watcher: str = key("Its tag.")
    zone: str = text("Zone it watches, or may watch.")
    target_kind: str = text("Kind of what it measures; blank if that is not on record.")
    target_substation: str = text("Station of what it measures.")
    target: str = text("Tag of what it measures.")
    device_substation: str = text("Station of the neutral device.")
    neutral_device: str = text("Neutral device whose current it sees: at it, the asset it serves, or that one's bus.")
    sees_current: pd.BooleanDtype = yes_no("Whether it sees ground-fault current; blank: function not on record.")
    sees_standing: pd.BooleanDtype = yes_no("Whether it tells of a fault that passes little; blank as above.")
    placed: pd.BooleanDtype = yes_no("Whether it is on record where it measures; if not, any zone of its station.")


class ProtectionRecord(Table):
    """Whether a station's district keeps its ground protection on record; where it does not, silence says nothing."""

    substation: str = key("Station.")
    ground_relays: pd.BooleanDtype = yes_no("Whether ground relays of its district are on record.")
    ground_detectors: pd.BooleanDtype = yes_no("Whether ground detectors of its district are on record.")


class LeftOut(Table):
    """A record that the study could not use, and why."""

    substation: str = key("Station.")
    asset_kind: str = key("Kind of asset.")
    asset: str = key("Tag.")
    why: str = text("Why it is left out.")
    field: str = text("The field that decided it.")


class Blocked(Table):
    """A study quantity that could not be computed, and the field that would settle it."""

    substation: str = key("Station.")
    asset_kind: str = key("Kind of asset whose quantity it is.")
    asset: str = key("Its tag.")
    quantity: str = key("table.column of the study.")
    blocking_substation: str = text("Station of the asset whose record is thin.")
    blocking_asset_kind: str = key("Its kind.")
    blocking_asset: str = key("Its tag.")
    field: str = key("Field to fill in.")


class Assumption(Table):
    """A typical value used in place of one that is not on record."""

    substation: str = key("Station.")
    asset_kind: str = key("Kind of asset.")
    asset: str = key("Tag.")
    field: str = key("Field assumed.")
    value: str = text("Value used, with unit.")
    why: str = text("Why, and the source of the value.")


STUDY_TABLES: dict[str, type[Table]] = {
    "zone": Zone,
    "zone_bus": ZoneBus,
    "zone_basis": ZoneBasis,
    "ground_source": GroundSource,
    "neutral": Neutral,
    "bus_fault": BusFault,
    "contribution": Contribution,
    "neutral_duty": NeutralDuty,
    "grounding_transformer_duty": GroundingTransformerDuty,
    "relay_reach": RelayReach,
    **MAT_TABLES,
    **EQUIPMENT_TABLES,
    **STANDING_TABLES,
    **RELAY_TABLES,
    **OUTAGE_TABLES,
    "bus_stress": BusStress,
    "ground_watch": GroundWatch,
    "protection_record": ProtectionRecord,
    "left_out": LeftOut,
    "blocked": Blocked,
    "assumption": Assumption,
}
