"""The settings of every ground relay, and its times at a current: as recorded, and over what they may be."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.engineering import Element, element_time_s
from groundcheck.engineering.relay_elements import DEFINITE
from groundcheck.policy import Policy
from groundcheck.study.currents.reach import sees, sees_voltage
from groundcheck.study.records import Records
from groundcheck.study.typical import Typical

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


@dataclass(frozen=True)
class Settings:
    """
    What is set on each relay; pickups in primary amperes, or primary volts of a voltage element.

    curve : 'definite_time', or the name of an inverse curve; None where not on record.
    breaker_s : clearing time of the breaker that it trips.
    assumed : relays of which an operating time is a typical value.
    told : relays whose kind of time, inverse or definite, the record tells beyond doubt.
    """

    pickup: Floats
    curve: NDArray[np.object_]
    time_dial: Floats
    definite_s: Floats
    breaker_s: Floats
    assumed: Bools
    told: Bools

    def element(self, low: float = 1.0, high: float = 1.0) -> Element:
        """Each relay with its pickup times `low`, its times times `high`."""
        return Element(self.pickup * low, self.curve, self.time_dial * high, self.definite_s * high)


def read_settings(records: Records, policy: Policy, typical: Typical | None = None) -> Settings:
    """
    Read the settings; an instantaneous element takes a typical time of its own where `typical` admits one.

    An inverse curve is one of currents: the time of a voltage relay on one is not told.
    """
    curve = records.words("ground_relay", "curve").copy()
    dial = records.numbers("ground_relay", "time_dial")
    delay = records.numbers("ground_relay", "definite_time")
    blank = np.array([word is None for word in curve], dtype=bool)
    curve[blank & (~np.isnan(delay) | np.isnan(dial))] = DEFINITE
    inverse_voltage = sees_voltage(records, policy) & (curve != DEFINITE)
    curve[inverse_voltage] = None
    given = np.isnan(delay)
    if typical is not None:
        instantaneous = np.array([s is True for s in sees(records, policy, "ground_relay.instantaneous_functions")])
        wanted = instantaneous.astype(bool) & (curve == DEFINITE) & np.isnan(dial)
        value = np.where(wanted, policy["assume.value.instantaneous_time"], np.nan)
        delay = typical.fill(
            "ground_relay", "definite_time", delay, "instantaneous_time", value,
            unit="s", why="an instantaneous element without a time on record", nodes={},
        )  # fmt: skip
    told = ~blank | (~np.isnan(records.numbers("ground_relay", "definite_time")) & np.isnan(dial))
    told &= ~inverse_voltage
    return Settings(
        records.numbers("ground_relay", "pickup"), curve, dial, delay,
        records.numbers("ground_relay", "breaker_time"), given & ~np.isnan(delay), told,
    )  # fmt: skip


def missing_settings(records: Records, settings: Settings) -> dict[str, Bools]:
    """Of each field, the relays whose operating time waits for it."""
    definite = settings.curve == DEFINITE
    blank = np.array([word is None for word in records.words("ground_relay", "curve")], dtype=bool)
    no_time = np.isnan(settings.definite_s)
    return {
        "pickup": np.isnan(settings.pickup),
        "curve": (blank & no_time) | np.array([word is None for word in settings.curve], dtype=bool),
        "time_dial": ~definite & ~blank & np.isnan(settings.time_dial),
        "definite_time": definite & ~blank & no_time,
    }


def clearing_s(settings: Settings, current_a: Floats) -> Floats:
    """Time from fault to clearing of each relay at a primary current; NaN where a setting is not on record."""
    return element_time_s(current_a, settings.element()) + settings.breaker_s


def operating_bounds_s(settings: Settings, low_a: Floats, high_a: Floats, tolerance: float) -> tuple[Floats, Floats]:
    """
    Shortest and longest operating time of each relay, breaker not included.

    low_a, high_a : what current it may see; 0 and infinity where nothing tells.
    tolerance : relative, of pickups and times. A typical time stands for none on record.
    """
    recorded = np.where(settings.assumed, np.nan, settings.definite_s)
    given = Settings(
        settings.pickup, settings.curve, settings.time_dial, recorded, settings.breaker_s, settings.assumed,
        settings.told,
    )  # fmt: skip
    pickup_low = np.where(np.isnan(settings.pickup), np.nan, settings.pickup * (1 - tolerance))
    quick = element_time_s(
        np.where(np.isnan(pickup_low), np.inf, high_a),
        Element(np.nan_to_num(pickup_low, nan=1.0), given.curve, given.time_dial * (1 - tolerance),
                given.definite_s * (1 - tolerance)),
    )  # fmt: skip
    slow = element_time_s(low_a, given.element(1 + tolerance, 1 + tolerance))
    slow = np.where(np.isnan(slow) | ~settings.told, np.inf, slow)
    return np.where(np.isnan(quick) | ~settings.told, 0.0, quick), slow


def clearing_bounds_s(settings: Settings, low_a: Floats, high_a: Floats, tolerance: float) -> tuple[Floats, Floats]:
    """Shortest and longest time from fault to clearing of each relay; see operating_bounds_s."""
    quick, slow = operating_bounds_s(settings, low_a, high_a, tolerance)
    return quick + np.nan_to_num(settings.breaker_s), np.where(
        np.isnan(settings.breaker_s), np.inf, slow + np.nan_to_num(settings.breaker_s)
    )


@dataclass(frozen=True)
class SeenCurrents:
    """What each relay sees in the weakest and in the strongest fault, with the ends of both. [A], [V]"""

    smallest: Floats
    largest: Floats
    smallest_low: Floats
    smallest_high: Floats
    largest_low: Floats
    largest_high: Floats


def unplaced(records: Records) -> Bools:
    """Relays of which the record does not tell what they measure."""
    station, tag = records.tags("ground_relay")
    mentions = records.references
    mentions = mentions[(mentions["asset_kind"] == "ground_relay") & (mentions["field"] == "measures")]
    known = pd.MultiIndex.from_frame(mentions[["substation", "asset"]])
    return ~np.asarray(pd.MultiIndex.from_arrays([station, tag]).isin(known), dtype=bool)
