"""The method of the study: nominal voltage and impedances as they are, or voltage and corrections of IEC 60909-0."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from groundcheck.engineering import transformer_correction, voltage_factor_max, voltage_factor_min
from groundcheck.policy import Policy
from groundcheck.study.networks.corners import Corner
from groundcheck.study.networks.equipment import Generators, Infeeds, Transformers
from groundcheck.study.networks.machine_correction import machine_corrections
from groundcheck.study.networks.zones import Topology
from groundcheck.study.records import Records
from groundcheck.study.typical import Typical

Floats = NDArray[np.float64]
Complexes = NDArray[np.complex128]


@dataclass(frozen=True)
class Method:
    """
    Factors by condition, each 1 where nothing is corrected.

    voltage : of each bus, voltage that drives a fault current over nominal.
    infeed : on the impedances behind each infeed.
    transformer : on the impedance of each pair of windings in every sequence, HV-LV, HV-TV, LV-TV; shape (n, 3).
    generator : on the impedances of each machine.
    corrected : whether transformers and machines differ from one condition to the other.
    """

    voltage: dict[str, Floats]
    infeed: dict[str, Floats]
    transformer: dict[str, Floats]
    generator: dict[str, Floats]
    corrected: bool

    def infeeds(self, infeeds: Infeeds) -> Infeeds:
        """The infeeds with the voltage factor in their impedances."""
        return replace(
            infeeds,
            z1={condition: scaled(z, self.infeed[condition]) for condition, z in infeeds.z1.items()},
            z0={condition: scaled(z, self.infeed[condition]) for condition, z in infeeds.z0.items()},
        )

    def generators(self, generators: Generators, condition: str) -> Generators:
        """The machines as one condition has them."""
        k = self.generator[condition]
        return replace(
            generators, z1=scaled(generators.z1, k), z2=scaled(generators.z2, k), z0=scaled(generators.z0, k)
        )

    def transformers(self, transformers: Transformers, condition: str) -> Transformers:
        """The transformers as one condition has them; impedances in their neutrals are not theirs."""
        k = self.transformer[condition]
        return replace(transformers, positive=scaled(transformers.positive, k), zero=scaled(transformers.zero, k))


def choose_method(
    records: Records,
    topology: Topology,
    infeeds: Infeeds,
    generators: Generators,
    transformers: Transformers,
    typical: Typical,
    corner: Corner | None = None,
) -> Method:
    """The factors of the method that the policy names; what they need and lack is noted in the ledger."""
    ones = {
        "bus": np.ones(records.nominal_kv.size),
        "infeed": np.ones(infeeds.node.size),
        "transformer": np.ones((transformers.usable.size, 3)),
        "generator": np.ones(generators.node.size),
    }
    if typical.policy["study.method"] == "nominal":
        same = {name: {"max": one, "min": one} for name, one in ones.items()}
        return Method(same["bus"], same["infeed"], same["transformer"], same["generator"], corrected=False)
    tolerance = float(typical.policy["study.low_voltage_tolerance"])
    kv = records.nominal_kv
    voltage = {"max": voltage_factor_max(kv, tolerance), "min": voltage_factor_min(kv, tolerance)}
    by_pair = _pair_corrections(records, transformers, tolerance)
    machines = machine_corrections(
        records, topology, infeeds, generators, transformers, by_pair, voltage["max"], typical, corner
    )
    return Method(
        voltage,
        _infeed_factors(records, infeeds, voltage),
        {"max": machines.transformer, "min": ones["transformer"]},
        {"max": machines.generator, "min": ones["generator"]},
        corrected=True,
    )


def largest_factor(kv: Floats, policy: Policy) -> Floats:
    """By how much the voltage that drives a fault current may exceed the nominal."""
    if policy["study.method"] == "nominal":
        return np.ones(kv.shape)
    return voltage_factor_max(kv, float(policy["study.low_voltage_tolerance"]))


def method_note(policy: Policy) -> str:
    """The method in a sentence, stated in every report."""
    if policy["study.method"] == "nominal":
        return "nominal voltage before the fault, impedances uncorrected"
    return (
        "IEC 60909-0: currents with the voltage factor c (low voltage +"
        f"{policy['study.low_voltage_tolerance']:g} %), impedances corrected by K_T, K_G, K_S for the maximum "
        "condition; voltages to ground from the nominal voltage"
    )


def driving_kv(kv: Floats, factor: dict[str, Floats]) -> dict[str, Floats]:
    """The line-to-line voltage that drives a fault current, by condition; one array for both if they are alike."""
    most = np.asarray(kv * factor["max"], dtype=np.float64)
    least = most if factor["min"] is factor["max"] else np.asarray(kv * factor["min"], dtype=np.float64)
    return {"max": most, "min": least}


def scaled(z: Complexes, factor: Floats) -> Complexes:
    """Impedances times a real factor; an infinite one stays infinite, whatever the factor."""
    endless = np.isinf(z)
    return np.where(endless, z, np.where(endless, 0, z) * factor)


def _infeed_factors(records: Records, infeeds: Infeeds, voltage: dict[str, Floats]) -> dict[str, Floats]:
    """c of the condition in which each infeed's three-phase level is declared: Z_Q = c U_n/(sqrt(3) I''_k)."""
    at = infeeds.bus
    most, least = (np.where(at >= 0, voltage[c][at] if at.size else np.nan, np.nan) for c in ("max", "min"))
    declared = np.ones(at.size, dtype=bool)  # of infeeds beyond those on record too
    level, current = (records.numbers("infeed", f"fault_{what}_3ph_min") for what in ("level", "current"))
    declared[: level.size] = ~(np.isnan(level) & np.isnan(current))
    return {"max": most, "min": np.where(declared, least, most)}


def _pair_corrections(records: Records, transformers: Transformers, tolerance: float) -> Floats:
    """K_T of each pair of windings, from its own reactance and the voltage of the lower of its two systems."""
    rated = np.stack([records.numbers("transformer", f"{w}_voltage") for w in ("hv", "lv", "tv")], axis=1)
    at = transformers.bus
    nominal = np.where(at >= 0, records.nominal_kv[at] if records.nominal_kv.size else np.nan, np.nan)
    kv = np.where(np.isnan(nominal), rated, nominal)
    mva, tertiary = records.numbers("transformer", "rated_power"), records.numbers("transformer", "tv_power")
    base = np.stack([mva, *[np.where(np.isnan(tertiary), mva, tertiary)] * 2], axis=1)
    x_pu = transformers.positive.imag * base / rated[:, :1] ** 2
    low = np.stack([np.fmin(kv[:, a], kv[:, b]) for a, b in ((0, 1), (0, 2), (1, 2))], axis=1)
    return transformer_correction(x_pu, voltage_factor_max(low, tolerance))
