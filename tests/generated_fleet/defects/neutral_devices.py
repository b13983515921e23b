"""Defects of what stands in neutrals."""

from math import isinf

import numpy as np
from generated_fleet.defects.register import Row, changed, defect, one, scaled, those
from generated_fleet.station import Rows


def resistor(rows: Rows, rng: np.random.Generator) -> Row | None:
    """A resistor, if there is one."""
    return one(rows, rng, "neutral_device", kind="resistor")


@defect(
    "neutral-devices/rated-current",
    neutral_devices__nameplate_agreement="its volts and ohms stay",
)
def device_underrated(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """Rated well below what it passes."""
    device = one(rows, rng, "neutral_device", kind=("resistor", "reactor"))
    return scaled(rows, device, "rated_current", rng.uniform(0.4, 0.8))


@defect(
    "neutral-devices/rated-time",
)
def device_for_too_short_a_time(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """Rated for less than the relay takes, or for seconds where the fault stands."""
    device = one(rows, rng, "neutral_device", kind=("resistor", "reactor", "arc_suppression_coil"))
    if device is None:
        return None
    stands = isinf(device["rated_time"])
    return changed(rows, device, rated_time=10.0 if stands else round(rng.uniform(0.2, 0.8), 2))


@defect("neutral-devices/rated-voltage")
def device_of_the_next_lower_voltage(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """Rated below V_LN, its amperes still agreeing with volts and ohms."""
    device = one(rows, rng, "neutral_device", kind=("resistor", "arc_suppression_coil"))
    if device is None:
        return None
    share = rng.uniform(0.93, 0.95) if device["kind"] == "resistor" else rng.uniform(0.5, 0.85)
    return changed(rows, device, rated_voltage=round(device["rated_voltage"] * share, 3))


@defect("neutral-devices/nameplate-agreement")
def line_to_line_voltage_on_the_nameplate(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """V_LL where V_LN belongs."""
    return scaled(rows, resistor(rows, rng), "rated_voltage", 3**0.5)


@defect(
    "neutral-devices/charging-current",
    neutral_devices__high_resistance_limits="it is about such resistors too",
    return_path__intended_current="the charging current passes through the fault as well",
)
def cables_added_after_the_resistor_was_chosen(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """Feeders grow, and with them the charging current."""
    zone = one(rows, rng, "bus", declared_grounding="high_resistance")
    line = None if zone is None else one(rows, rng, "line", from_bus=zone["bus"], construction="cable")
    if zone is None or line is None:
        return None
    amperes = sum(device["rated_current"] for device in those(rows, "neutral_device", kind="resistor"))
    per_km = 3 * 314 * line["c0"] * 1e-9 * zone["nominal_voltage"] * 1e3 / 3**0.5
    return changed(rows, line, length=round(amperes * rng.uniform(1.5, 2.5) / per_km, 2))


@defect("neutral-devices/energy")
def loading_resistor_for_a_fraction_of_a_second(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A loading resistor that takes up its rated heat before the relay has tripped."""
    device = one(rows, rng, "neutral_device", kind="distribution_transformer")
    return changed(rows, device, rated_time=round(rng.uniform(0.1, 0.4), 2))


@defect("neutral-devices/measured-resistance")
def element_burned_in_part(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """An element of which a part is open or bridged."""
    device = resistor(rows, rng)
    if device is None:
        return None
    found = round(device["resistance"] * float(rng.choice([0.5, 0.7, 1.4, 3.0])), 3)
    for visit in those(rows, "inspection", asset=device["neutral_device"], kind="resistor_measurement"):
        visit["value"] = found
    return changed(rows, device, measured_resistance=found)


@defect("neutral-devices/continuous-current")
def coil_for_two_hours(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A coil that carries its current for hours, not lastingly, in a zone that runs on."""
    device = one(rows, rng, "neutral_device", kind="arc_suppression_coil")
    return scaled(rows, device, "continuous_current", rng.uniform(0.3, 0.7))


@defect("neutral-devices/unbalance")
def element_that_the_lines_unbalance_heats(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A continuous rating below the current without a fault."""
    if not those(rows, "line", construction="cable"):
        return None
    device = one(rows, rng, "neutral_device", kind="resistor", rated_time=(10.0, 30.0))
    return changed(rows, device, continuous_current=0.002)


@defect("neutral-devices/high-resistance-limits", return_path__intended_current="it passes more than was intended")
def runs_on_with_too_much(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A resistor of twenty amperes in a zone that runs on through the fault."""
    zone = one(rows, rng, "bus", declared_grounding="high_resistance", continuity_required=True)
    device = None if zone is None else resistor(rows, rng)
    if device is None:
        return None
    times = rng.uniform(16, 22) * 1.06 / device["rated_current"]
    more = {name: round(device[name] * times, 2) for name in ("rated_current", "continuous_current")}
    less = {name: round(device[name] / times, 3) for name in ("resistance", "measured_resistance")}
    for visit in those(rows, "inspection", asset=device["neutral_device"], kind="resistor_measurement"):
        visit["value"] = less["measured_resistance"]
    return changed(rows, device, **more, **less)


@defect("neutral-devices/monitoring")
def resistor_that_nobody_supervises(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """Where nobody is at the station, an open resistor is noticed by the next fault."""
    alone = tuple(station["substation"] for station in those(rows, "substation", attended=False))
    return changed(rows, one(rows, rng, "neutral_device", kind="resistor", substation=alone), monitored=False)


@defect("neutral-devices/reactor-ratio", neutral_devices__rated_voltage="a larger reactance takes more of the voltage",
        detection__reach="it passes less")  # fmt: skip
def reactor_too_large(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A reactance that leaves X0 above ten times X1."""
    return scaled(rows, one(rows, rng, "neutral_device", kind="reactor"), "reactance", rng.uniform(4, 8))


@defect(
    "neutral-devices/coil-tuning",
    neutral_devices__coil_residual="what the coil leaves over grows",
    detection__reach="the coil carries less",
)
def coil_of_before_the_cables(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """Taps that were right for a smaller network."""
    coils = those(rows, "neutral_device", kind="arc_suppression_coil")
    times = rng.uniform(1.4, 2.5)
    for coil in coils:
        coil |= {"reactance": round(coil["reactance"] * times, 1)}
    return rows if coils else None


@defect("neutral-devices/coil-residual", neutral_devices__coil_tuning="it is the same coil")
def network_outgrown_its_coil(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """Cables added, the coil left as it was."""
    lines = those(rows, "line", from_bus="B20")
    if not lines or not those(rows, "neutral_device", kind="arc_suppression_coil"):
        return None
    for line in lines:
        line |= {"construction": "cable", "length": round(rng.uniform(25, 50), 1), "c0": 280.0}
    return rows


@defect("neutral-devices/transformer-rating")
def distribution_transformer_too_small(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A rating of a few kVA."""
    return changed(
        rows, one(rows, rng, "neutral_device", kind="distribution_transformer"), rated_power=round(rng.uniform(2, 8), 1)
    )


@defect("neutral-devices/transformer-resistor")
def secondary_resistor_too_large(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A secondary resistor of some ohms."""
    device = one(rows, rng, "neutral_device", kind="distribution_transformer")
    return scaled(rows, device, "secondary_resistance", rng.uniform(2, 4))


@defect("neutral-devices/transformer-voltage")
def primary_below_the_machines_voltage(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A primary for line-to-neutral voltage less a tenth, with the ratio kept."""
    device = one(rows, rng, "neutral_device", kind="distribution_transformer")
    return changed(rows, device, primary_voltage=9000.0, secondary_voltage=120.0)


@defect("neutral-devices/neutral-insulation")
def insulated_for_low_voltage(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A device on insulators of the 3 kV class."""
    device = one(rows, rng, "neutral_device", kind=("resistor", "arc_suppression_coil"))
    if device is None or device["rated_voltage"] < 5:
        return None
    return changed(rows, device, insulation_bil=10.0)
