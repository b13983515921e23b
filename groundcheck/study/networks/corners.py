"""
The corners of what the record leaves open: every value at one end of its interval.

A value on record is off by its tolerance; one that is not on record lies within the policy's range for it, whether or
not a typical value stands in for it elsewhere. Four corners are solved: all impedances small or large, with the
unknown ratios of reactance to resistance high or low.
"""

from dataclasses import dataclass, replace

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from groundcheck.policy import Policy
from groundcheck.study.networks.neutrals import nameplate_ohm
from groundcheck.study.records import Records

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Corner:
    """`weak`: impedances at their high end; `reactive`: unknown X/R at its high end."""

    weak: bool
    reactive: bool


CORNERS = tuple(Corner(weak, reactive) for weak in (False, True) for reactive in (True, False))

# Field: tolerance, and the entry of the policy's range for a blank; None: a blank is filled below, or stays one.
IMPEDANCES: dict[tuple[str, str], tuple[str, str | None]] = {
    ("transformer", "impedance"): ("impedance", "transformer_impedance"),
    ("transformer", "hv_tv_impedance"): ("impedance", None),
    ("transformer", "lv_tv_impedance"): ("impedance", None),
    ("transformer", "z0"): ("impedance", None),
    ("transformer", "magnetizing_z0"): ("impedance", "magnetizing_z0"),
    ("transformer", "z0_hv_tv"): ("impedance", None),
    ("transformer", "z0_lv_tv"): ("impedance", None),
    ("generator", "xd_subtransient"): ("impedance", "generator_reactance"),
    ("generator", "x2"): ("impedance", "generator_reactance"),
    ("generator", "x0"): ("impedance", "generator_x0"),
    ("line", "length"): ("impedance", "line_length"),
    ("line", "x1"): ("impedance", "line_x1"),
    ("line", "x0"): ("impedance", "line_x0"),
    ("grounding_transformer", "z0"): ("impedance", None),
    ("neutral_device", "resistance"): ("resistance", None),
    ("neutral_device", "reactance"): ("resistance", None),
    ("neutral_device", "secondary_resistance"): ("resistance", None),
}
RESISTANCES: dict[tuple[str, str], tuple[str, str]] = {
    ("generator", "r"): ("impedance", "generator_r"),
    ("line", "r1"): ("impedance", "line_r1"),
    ("line", "r0"): ("impedance", "line_r0"),
}
RATIOS = {("transformer", "x_over_r"): "transformer_x_over_r", ("infeed", "x_over_r"): "infeed_x_over_r"}


def records_at(records: Records, policy: Policy, corner: Corner) -> Records:
    """The records with every value at this corner."""
    ends = _Ends(records, policy, corner)
    for (kind, field), (tolerance, entry) in IMPEDANCES.items():
        low_to_high = (ends.least(entry), ends.most(entry)) if entry else (np.nan, np.nan)
        ends.set(kind, field, ends.off(ends.number(kind, field), tolerance), low_to_high[corner.weak])
    for (kind, field), (tolerance, entry) in RESISTANCES.items():
        at = ends.least(entry) if corner.reactive else ends.most(entry)
        ends.set(kind, field, ends.off(ends.number(kind, field), tolerance), at)
    for (kind, field), entry in RATIOS.items():
        at = ends.most(entry) if corner.reactive else ends.least(entry)
        ends.set(kind, field, ends.number(kind, field), at)
    _transformers(ends)
    _infeeds(ends)
    _devices(ends)
    _grounding_transformers(ends)
    return replace(records, tables=ends.tables())


class _Ends:
    """The fields being moved to a corner."""

    def __init__(self, records: Records, policy: Policy, corner: Corner) -> None:
        self.records, self.policy, self.corner = records, policy, corner
        self.changed: dict[str, dict[str, Floats]] = {kind: {} for kind in records.tables}

    def number(self, kind: str, field: str) -> Floats:
        return self.records.numbers(kind, field)

    def moved(self, kind: str, field: str) -> Floats:
        """A field as it now stands at the corner."""
        changed = self.changed[kind]
        return changed[field] if field in changed else self.number(kind, field)

    def tables(self) -> dict[str, pd.DataFrame]:
        """The tables as they stand at the corner."""
        return {
            kind: frame.assign(**self.changed[kind]) if self.changed[kind] else frame
            for kind, frame in self.records.tables.items()
        }

    def off(self, values: Floats, tolerance: str) -> Floats:
        """Values off by their tolerance, towards this corner."""
        moved: Floats = values * self.factor(tolerance)
        return moved

    def factor(self, tolerance: str) -> float:
        share = float(self.policy[f"tolerance.{tolerance}"])
        return 1 + share if self.corner.weak else 1 - share

    def least(self, entry: str) -> float:
        return float(self.policy[f"range.least.{entry}"])

    def most(self, entry: str) -> float:
        return float(self.policy[f"range.most.{entry}"])

    def small_or_large(self, entry: str) -> float:
        """The end of a range that makes an impedance small, or large."""
        return self.most(entry) if self.corner.weak else self.least(entry)

    def strong_or_weak(self, entry: str) -> float:
        """The end of a range of currents that belongs to this corner."""
        return self.least(entry) if self.corner.weak else self.most(entry)

    def set(self, kind: str, field: str, values: Floats, blank: float | Floats = np.nan) -> None:
        """Give a field its values; `blank` where there is none."""
        self.changed[kind][field] = np.where(np.isnan(values), blank, values)

    def phase_volts(self, kind: str, field: str) -> Floats:
        """Line-to-neutral voltage of the bus that a field refers to, in V."""
        bus = self.records.bus_of(kind, field)
        kv = self.records.nominal_kv
        volts: Floats = np.where(bus >= 0, kv[bus] if kv.size else np.nan, np.nan) * 1e3 / np.sqrt(3)
        return volts


def _transformers(ends: _Ends) -> None:
    ratio = ends.small_or_large("transformer_z0_ratio")
    ends.set("transformer", "z0", ends.moved("transformer", "z0"), ends.moved("transformer", "impedance") * ratio)


def _infeeds(ends: _Ends) -> None:
    """Levels become currents in kA; what is blank takes the weakest supply that is admitted, or an infinite bus."""
    kv = ends.phase_volts("infeed", "bus") * np.sqrt(3) / 1e3
    with np.errstate(invalid="ignore", divide="ignore"):
        three = _either(
            ends.number("infeed", "fault_current_3ph"), ends.number("infeed", "fault_level_3ph") / kv / 3**0.5
        )
        least = _either(
            ends.number("infeed", "fault_current_3ph_min"), ends.number("infeed", "fault_level_3ph_min") / kv / 3**0.5
        )
    one, least_one = ends.number("infeed", "fault_current_1ph"), ends.number("infeed", "fault_current_1ph_min")
    ratio = ends.number("infeed", "x_over_r"), ends.number("infeed", "x_over_r_min")
    most_a, least_a = ends.most("infeed_fault_current"), ends.least("infeed_fault_current")
    # No infeed gives more than 1.5 times its three-phase current to a line-to-ground fault: what is blank is no less.
    floor = np.fmax(least_a, np.fmax(one, least_one) / 1.5 * (1 + 1e-6))
    open_end = floor if ends.corner.weak else np.full(three.size, most_a)
    z0_ratio = ends.small_or_large("infeed_z0_over_z1")
    grounded = ends.records.flags("infeed", "grounded")
    grounded = np.where(np.isnan(grounded) & (one > 0), 1.0, grounded)
    strength = 1 / ends.factor("infeed")
    for suffix, level, earth, own, upper in (
        ("", three, one, ratio[0], None), ("_min", least, least_one, ratio[1], three),
    ):  # fmt: skip
        # A minimum that is blank is no more than the maximum.
        blank = open_end if upper is None else np.fmin(open_end, upper)
        current = np.where(np.isnan(level), blank, level) * strength
        ends.set("infeed", f"fault_level_3ph{suffix}", np.sqrt(3) * kv * current)
        ends.set("infeed", f"fault_current_3ph{suffix}", current)
        feeds = np.where(grounded == 1, 3 * current / (2 + z0_ratio), np.nan)
        ends.set("infeed", f"fault_current_1ph{suffix}", earth * strength, feeds)
        ends.set("infeed", f"x_over_r{suffix}", own, ends.moved("infeed", "x_over_r"))


def _devices(ends: _Ends) -> None:
    """A device whose ohms are blank: its rated voltage over its rated current if the policy admits that, else any."""
    records, kind = ends.records, ends.records.words("neutral_device", "kind")
    volts = _device_volts(ends)
    anything = volts / ends.strong_or_weak("neutral_device_current")
    if ends.policy.admits("neutral_device_ohms"):
        anything = _either(ends.off(nameplate_ohm(records), "resistance"), anything)
    reactor = np.isin(kind.astype(str), ("reactor", "arc_suppression_coil"))
    ends.set(
        "neutral_device", "reactance", ends.moved("neutral_device", "reactance"), np.where(reactor, anything, np.nan)
    )
    r_over_x = ends.least("reactor_r_over_x") if ends.corner.reactive else ends.most("reactor_r_over_x")
    of_reactor = ends.moved("neutral_device", "reactance") * r_over_x
    referred = np.isnan(
        records.numbers("neutral_device", "secondary_resistance")
        * records.numbers("neutral_device", "primary_voltage")
        * records.numbers("neutral_device", "secondary_voltage")
    )
    blank = np.select([reactor, kind == "resistor", (kind == "distribution_transformer") & referred],
                      [of_reactor, anything, anything], default=np.nan)  # fmt: skip
    ends.set("neutral_device", "resistance", ends.moved("neutral_device", "resistance"), blank)


def _device_volts(ends: _Ends) -> Floats:
    """The highest voltage to neutral of any bus at the device's station: what its ohms are measured by where blank."""
    records = ends.records
    highest = records.bus.assign(kv=records.nominal_kv).groupby("substation")["kv"].max()
    kv = highest.reindex(records.tables["neutral_device"]["substation"]).to_numpy(dtype=float)
    return np.asarray(kv * 1e3 / np.sqrt(3), dtype=np.float64)


def _grounding_transformers(ends: _Ends) -> None:
    kind = "grounding_transformer"
    amperes = ends.strong_or_weak("grounding_transformer_current")
    ends.set(kind, "z0", ends.moved(kind, "z0"), 3 * ends.phase_volts(kind, "bus") / amperes)
    entry = "grounding_transformer_r0_over_z0"
    share = ends.least(entry) if ends.corner.reactive else ends.most(entry)
    ends.set(kind, "r0", ends.off(ends.number(kind, "r0"), "impedance"), ends.moved(kind, "z0") * share)


def _either(first: Floats, second: Floats) -> Floats:
    return np.where(np.isnan(first), second, first)
