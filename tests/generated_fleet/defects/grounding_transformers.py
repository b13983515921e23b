"""Defects of grounding transformers."""

import numpy as np
from generated_fleet.defects.register import changed, defect, one, scaled, strike, those
from generated_fleet.station import Rows


@defect("grounding-transformers/neutral-current")
def bank_underrated(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """Neutral current rated below what the resistor passes, or per phase."""
    return scaled(rows, one(rows, rng, "grounding_transformer"), "rated_neutral_current", rng.uniform(0.25, 0.45))


@defect("grounding-transformers/rated-time")
def bank_for_too_short_a_time(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """Rated for less than the relay takes."""
    return changed(rows, one(rows, rng, "grounding_transformer"), rated_time=round(rng.uniform(0.2, 0.8), 2))


@defect("grounding-transformers/power")
def bank_of_an_auxiliary_size(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """The kVA of its auxiliary winding."""
    return scaled(rows, one(rows, rng, "grounding_transformer"), "rated_power", rng.uniform(0.1, 0.4))


@defect("grounding-transformers/voltage")
def bank_of_another_voltage(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A bank made for line-to-neutral voltage."""
    return scaled(rows, one(rows, rng, "grounding_transformer"), "rated_voltage", 1 / 3**0.5)


@defect("grounding-transformers/continuous-current")
def bank_without_continuous_rating(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A continuous rating below what flows without a fault through the resistor in its neutral."""
    if not those(rows, "neutral_device", kind="resistor"):
        return None
    return changed(rows, one(rows, rng, "grounding_transformer"), continuous_neutral_current=0.002)


@defect(
    "grounding-transformers/effectiveness",
    return_path__declared_grounding="its class is another",
    arresters__temporary_overvoltage="healthy phases rise",
    detection__reach="it passes less",
    detection__coordination_interval="its backup may operate alone",
    detection__outage_reach="with the other bank out it passes less still",
)
def banks_that_ground_poorly(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """Banks chosen for their current, at a bus declared effectively grounded."""
    if those(rows, "neutral_device", kind="resistor") or "grounding_transformer" not in rows:
        return None
    times = rng.uniform(5, 9)
    for bank in rows["grounding_transformer"]:
        bank |= {"z0": round(bank["z0"] * times, 2), "r0": round(bank["r0"] * times, 3)}
    return rows


@defect("grounding-transformers/protection")
def bank_that_no_relay_watches(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """No relay at a bank of which no neutral device is on record."""
    served = {tag for device in rows.get("neutral_device", []) for tag in device["connected_to"]}
    for bank in rows.get("grounding_transformer", []):
        for relay in those(rows, "ground_relay", measures=bank["grounding_transformer"]):
            if bank["grounding_transformer"] not in served:
                return strike(rows, "ground_relay", relay)
    return None
