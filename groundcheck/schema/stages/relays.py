"""What ground relays, detectors and voltage transformers see in a ground fault, and what follows from it."""

import pandas as pd

from groundcheck.schema.columns import key, quantity, text, yes_no
from groundcheck.schema.stages.bounds import HIGH, LOW
from groundcheck.schema.table import Table

PROVISIONAL = "Whether an assumed value stands behind it."


class RelayOperation(Table):
    """What a ground relay sees in the weakest and the strongest fault that it must see, and how long it takes."""

    substation: str = key("Station.")
    ground_relay: str = key("Relay.")
    quantity_kind: str = text("current or voltage.")
    zone: str = text("Zone it guards.")
    pickup: float = quantity("Pickup, in primary amperes or volts.", "A or V")
    smallest: float = quantity("What it sees in the weakest fault.", "A or V")
    smallest_low: float = quantity(LOW, "A or V")
    smallest_high: float = quantity(HIGH, "A or V")
    largest: float = quantity("What it sees in the strongest fault.", "A or V")
    largest_low: float = quantity(LOW, "A or V")
    largest_high: float = quantity(HIGH, "A or V")
    smallest_multiple: float = quantity("That of the weakest over pickup.", "pu")
    smallest_multiple_low: float = quantity(LOW, "pu")
    smallest_multiple_high: float = quantity(HIGH, "pu")
    largest_multiple: float = quantity("That of the strongest over pickup.", "pu")
    largest_multiple_low: float = quantity(LOW, "pu")
    largest_multiple_high: float = quantity(HIGH, "pu")
    slowest_s: float = quantity("Operating time in the weakest fault; infinite if it does not pick up.", "s")
    slowest_s_low: float = quantity(LOW, "s")
    slowest_s_high: float = quantity(HIGH, "s")
    fastest_s: float = quantity("Operating time in the strongest fault; infinite if it does not pick up.", "s")
    fastest_s_low: float = quantity(LOW, "s")
    fastest_s_high: float = quantity(HIGH, "s")
    breaker_s: float = quantity("Clearing time of the breaker it trips.", "s")
    clearing_s: float = quantity("Time to clear the weakest fault, breaker included.", "s")
    clearing_s_low: float = quantity(LOW, "s")
    clearing_s_high: float = quantity(HIGH, "s")
    limited_by: str = text(
        "What the time to clear the weakest fault is mostly made of: no_pickup, curve, definite_time or breaker."
    )
    provisional: pd.BooleanDtype = yes_no(PROVISIONAL)


class Coordination(Table):
    """By how much a relay waits for the one that it backs up, at the fault where it waits least."""

    substation: str = key("Station of the relay that waits.")
    ground_relay: str = key("Relay that waits.")
    backed_substation: str = key("Station of the relay that it backs up.")
    backed_relay: str = key("Relay that it backs up.")
    interval_s: float = quantity(
        "Smallest difference of their operating times; minus infinity where only the backup operates.", "s"
    )
    interval_s_low: float = quantity(LOW, "s")
    interval_s_high: float = quantity(HIGH, "s")
    at_value: float = quantity("What the relay that waits sees there.", "A or V")
    backed_at_value: float = quantity("What the relay that it backs up sees there.", "A or V")
    time_s: float = quantity("Operating time there of the relay that waits.", "s")
    backed_time_s: float = quantity("Operating time there of the relay that it backs up.", "s")
    backed_breaker_s: float = quantity("Clearing time of the breaker of the relay that it backs up.", "s")
    provisional: pd.BooleanDtype = yes_no(PROVISIONAL)


class StatorCoverage(Table):
    """Share of a generator's stator winding that a ground relay protects, counted from the terminals."""

    substation: str = key("Station of the generator.")
    generator: str = key("Generator.")
    relay_substation: str = key("Station of the relay.")
    ground_relay: str = key("Relay.")
    quantity_kind: str = text("current or voltage.")
    pickup: float = quantity("Pickup, in primary amperes or volts.", "A or V")
    full: float = quantity("What the relay sees in a solid fault at the terminals.", "A or V")
    full_low: float = quantity(LOW, "A or V")
    full_high: float = quantity(HIGH, "A or V")
    coverage: float = quantity("Share protected.", "pu")
    coverage_low: float = quantity(LOW, "pu")
    coverage_high: float = quantity(HIGH, "pu")
    zone: str = text("Zone of the generator.")
    provisional: pd.BooleanDtype = yes_no(PROVISIONAL)


class DetectorOutput(Table):
    """What a ground detector, or a voltage transformer with a broken delta, gives in a solid fault at its bus."""

    substation: str = key("Station.")
    asset_kind: str = key("ground_detector or instrument_transformer.")
    asset: str = key("Its tag.")
    vt_substation: str = text("Station of the voltage transformer.")
    instrument_transformer: str = text("Voltage transformer.")
    zone: str = text("Zone of its bus.")
    residual_kv: float = quantity("Primary residual voltage, 3V0.", "kV")
    residual_kv_low: float = quantity(LOW, "kV")
    residual_kv_high: float = quantity(HIGH, "kV")
    broken_delta_v: float = quantity("Voltage of the broken delta, by the ratio on record.", "V")
    broken_delta_v_low: float = quantity("Its lower bound; the winding in the delta may have a ratio of its own.", "V")
    broken_delta_v_high: float = quantity(HIGH, "V")
    faulted_phase_kv: float = quantity("Voltage to ground of the faulted phase.", "kV")
    lagging_phase_kv: float = quantity("Voltage to ground of the healthy phase that lags it.", "kV")
    leading_phase_kv: float = quantity("Voltage to ground of the healthy phase that leads it.", "kV")
    relay: str = text("The most sensitive voltage relay on it, STATION:TAG.")
    relay_pickup_v: float = quantity("Pickup of that relay, in primary volts of 3V0.", "V")
    pickup_share: float = quantity("Pickup of that relay over 3V0.", "pu")
    pickup_share_low: float = quantity(LOW, "pu")
    pickup_share_high: float = quantity(HIGH, "pu")
    damping_resistor_ohm: float = quantity("Resistor across the broken delta.", "ohm")
    damping_w: float = quantity("Power in it while the fault stands.", "W")
    damping_w_low: float = quantity(LOW, "W")
    damping_w_high: float = quantity(HIGH, "W")
    provisional: pd.BooleanDtype = yes_no(PROVISIONAL)


class VtStress(Table):
    """Voltage factor that a voltage transformer needs in a ground fault, and the one that it has for as long."""

    substation: str = key("Station.")
    instrument_transformer: str = key("Voltage transformer.")
    zone: str = text("Zone of its bus.")
    to_ground: pd.BooleanDtype = yes_no("Whether its primary is connected to ground; blank if not on record.")
    rated_v: float = quantity("Rated primary voltage of one unit.", "V")
    voltage_kv: float = quantity("Highest voltage across its primary.", "kV")
    voltage_kv_low: float = quantity(LOW, "kV")
    voltage_kv_high: float = quantity(HIGH, "kV")
    factor: float = quantity("Voltage factor that it needs.", "pu")
    factor_low: float = quantity(LOW, "pu")
    factor_high: float = quantity(HIGH, "pu")
    duration_s: float = quantity("How long.", "s")
    duration_s_low: float = quantity(LOW, "s")
    duration_s_high: float = quantity(HIGH, "s")
    allowed: float = quantity("Voltage factor that it bears for that time.", "pu")
    allowed_low: float = quantity(LOW, "pu")
    allowed_high: float = quantity(HIGH, "pu")
    provisional: pd.BooleanDtype = yes_no(PROVISIONAL)


RELAY_TABLES = {
    "relay_operation": RelayOperation,
    "coordination": Coordination,
    "stator_coverage": StatorCoverage,
    "detector_output": DetectorOutput,
    "vt_stress": VtStress,
}
