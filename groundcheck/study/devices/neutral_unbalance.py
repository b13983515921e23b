"""What each neutral device carries while there is no fault, from unequal capacitances to ground."""

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.engineering import unbalance_current_a
from groundcheck.study.bounded import Bounded, recorded
from groundcheck.study.context import Study
from groundcheck.study.currents.readings import taken
from groundcheck.study.faults.zone_quantities import charging_bounds, device_ohms, naming_bus, phase_volts
from groundcheck.study.gaps import assets_of, joined, own_field

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
CONDUCTING = ("resistor", "reactor", "arc_suppression_coil", "distribution_transformer")


def neutral_unbalance_tables(study: Study) -> dict[str, pd.DataFrame]:
    """study.neutral_unbalance, and what blocks it."""
    records, zone = study.records, study.readings.device_zone
    kinds = records.words("neutral_device", "kind").astype(str)
    shown = np.isin(kinds, CONDUCTING) & (zone >= 0)
    charging = charging_bounds(study).take(zone)
    used = shown & ~np.isnan(charging.value) & ~np.isnan(study.neutrals.z_device)
    share = assumed_unbalance(study, zone[used])
    volts = np.asarray(taken(phase_volts(study), zone), dtype=float)
    current = _current(study, volts, charging, share)
    station, tag = records.tags("neutral_device")
    frame = pd.DataFrame(
        {
            "substation": station,
            "neutral_device": tag,
            "kind": kinds,
            "zone": [study.names.name[z] if z >= 0 else None for z in zone],
            **charging.columns("charging_a"),
            **current.columns("unbalance_a"),
            **_continuous(study).columns("continuous_a"),
            "provisional": used & ~np.isnan(share),  # the capacitive unbalance is never on record
        }
    )
    assets = assets_of(records, "neutral_device")
    blank = shown & np.isnan(charging.value)
    size = shown & np.isnan(study.neutrals.z_device)
    inductive = np.isin(kinds, ("reactor", "arc_suppression_coil"))
    rows = [
        study.tracer.at_zone(assets, "neutral_unbalance.unbalance_a", blank, zone, "charging"),
        own_field(assets, "neutral_unbalance.unbalance_a", size & inductive, "reactance"),
        own_field(assets, "neutral_unbalance.unbalance_a", size & (kinds == "resistor"), "resistance"),
        own_field(
            assets, "neutral_unbalance.unbalance_a", size & (kinds == "distribution_transformer"),
            "secondary_resistance",
        ),
        own_field(
            assets, "neutral_unbalance.continuous_a", shown & np.isnan(frame["continuous_a"].to_numpy(dtype=float)),
            "continuous_current",
        ),
    ]  # fmt: skip
    return {"neutral_unbalance": frame[shown], "blocked": joined(rows)}


def assumed_unbalance(study: Study, zone: NDArray[np.int64]) -> float:
    """Typical capacitive unbalance, noted for these zones; NaN where the policy does not admit it."""
    if not study.policy.admits("capacitive_unbalance"):
        return float("nan")
    value = float(study.policy["assume.value.capacitive_unbalance"])
    marked = np.zeros(len(study.records.bus), dtype=bool)
    marked[naming_bus(study, np.unique(zone[zone >= 0]))] = True
    study.ledger.assume(
        "bus", marked, "capacitive_unbalance", f"{value:.3g}", "no record has it; of an untransposed overhead line", {}
    )
    return value


def _current(study: Study, volts: Floats, charging: Bounded, share: float) -> Bounded:
    """
    Current, and the most that any charging current and any admitted unbalance drives.

    Beside a resistor the current grows with the charging current. Beside a coil it is greatest in tune, where the
    losses of the zone alone hold it: k I_C sqrt(1 + d^2)/d.
    """
    z, policy = study.neutrals.z_device, study.policy
    least, most = (policy[f"range.{end}.capacitive_unbalance"] for end in ("least", "most"))
    loss = policy["range.least.coil_damping"]
    kv = np.where(volts > 0, volts, np.nan) * np.sqrt(3) / 1e3
    ohms = device_ohms(study)
    resists = z.imag == 0
    finite = np.where(np.isfinite(charging.high), charging.high, np.nan)
    with np.errstate(divide="ignore", invalid="ignore"):
        of_zone = most * charging.high  # all of it through the device
        of_device = most * volts / ohms.low  # no more than that share of V_LN across it
        exact = unbalance_current_a(kv, ohms.low + 0j, finite, most)
        beside_resistor = np.where(np.isnan(exact), np.fmin(of_zone, of_device), exact)
        high = np.where(resists, beside_resistor, of_zone * np.hypot(1, loss) / loss)
        weakest = unbalance_current_a(kv, ohms.high + 0j, charging.low, least, policy["range.most.coil_damping"])
    low = np.where(resists, np.nan_to_num(weakest), 0.0)
    damping = np.where(resists, 0.0, policy["assume.value.coil_damping"])
    value = unbalance_current_a(kv, z, charging.value, share, damping)
    return Bounded(value, low, np.where(np.isnan(high), np.inf, high))


def _continuous(study: Study) -> Bounded:
    """What each device may carry without limit: on record, or its rated current where that is continuous."""
    number = study.records.numbers
    rated = number("neutral_device", "rated_current")
    lasting = np.where(np.isposinf(number("neutral_device", "rated_time")), rated, np.nan)
    given = number("neutral_device", "continuous_current")
    found = recorded(np.where(np.isnan(given), lasting, given))
    return found.within(np.zeros(rated.size), np.where(np.isnan(rated), np.inf, rated))
