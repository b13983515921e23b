"""Impedances of infeeds, generators and transformers from their records, gaps filled as the policy allows."""

from dataclasses import dataclass
from functools import partial

import numpy as np
from numpy.typing import NDArray

from groundcheck.engineering import infeed_z0_ohm, infeed_z1_ohm, leakage_ohm, machine_impedance_ohm
from groundcheck.schema import parse_vector_group
from groundcheck.study.networks.zones import Topology, node_of
from groundcheck.study.records import Records
from groundcheck.study.typical import Typical

Floats = NDArray[np.float64]
Complexes = NDArray[np.complex128]
Ints = NDArray[np.int64]
TERTIARY = ("hv_tv", "lv_tv")  # the pairs of windings that a tertiary makes


@dataclass(frozen=True)
class Infeeds:
    """Impedances by condition; z0 infinite where the network behind is not grounded."""

    bus: Ints
    node: Ints
    z1: dict[str, Complexes]
    z0: dict[str, Complexes]
    grounded: Floats


@dataclass(frozen=True)
class Generators:
    """Impedances at the machine's own rating, in ohm."""

    bus: Ints
    node: Ints
    z1: Complexes
    z2: Complexes
    z0: Complexes


def read_infeeds(records: Records, topology: Topology, typical: Typical) -> Infeeds:
    """Infeeds in both conditions; the minimum falls back on the maximum."""
    ledger = typical.ledger
    bus = records.bus_of("infeed", "bus")
    node = node_of(topology.node, bus)
    kv = np.where(bus >= 0, records.nominal_kv[bus] if records.nominal_kv.size else np.nan, np.nan)
    number = partial(records.numbers, "infeed")
    ratio = typical.fill(
        "infeed", "x_over_r", number("x_over_r"), "infeed_x_over_r", typical.policy["assume.value.infeed_x_over_r"],
        unit="", why="X/R not on record; IEC 60909-0 R/X = 0.1, recalled", nodes={"positive": node, "zero": node},
    )  # fmt: skip
    level = _either(number("fault_level_3ph"), np.sqrt(3) * kv * number("fault_current_3ph"))
    least = _either(number("fault_level_3ph_min"), np.sqrt(3) * kv * number("fault_current_3ph_min"))
    earth = number("fault_current_1ph")
    grounded = records.flags("infeed", "grounded")
    grounded = np.where(np.isnan(grounded) & ~np.isnan(earth), (earth > 0).astype(float), grounded)

    least = typical.fill(
        "infeed", "fault_level_3ph_min", least, "minimum_infeed", level, unit="MVA",
        why="minimum condition not on record; taken equal to the maximum", nodes={"minimum": node},
    )  # fmt: skip
    least_ratio = typical.fill(
        "infeed", "x_over_r_min", number("x_over_r_min"), "minimum_infeed", ratio, unit="",
        why="minimum condition not on record; taken equal to the maximum", nodes={"minimum": node},
    )  # fmt: skip
    least_earth = typical.fill(
        "infeed", "fault_current_1ph_min", number("fault_current_1ph_min"), "minimum_infeed",
        _least_earth(earth, level, least), unit="kA", why="minimum condition not on record; in the ratio of the "
        "three-phase fault levels", nodes={"minimum": node},
    )  # fmt: skip
    z1 = {"max": infeed_z1_ohm(kv, level, ratio), "min": infeed_z1_ohm(kv, least, least_ratio)}
    angle = number("r0_over_x0")
    z0 = {
        "max": infeed_z0_ohm(kv, z1["max"], earth, angle),
        "min": infeed_z0_ohm(kv, z1["min"], least_earth, angle),
    }
    for condition in ("max", "min"):
        z0[condition] = np.where(grounded == 0, np.inf, z0[condition])
    present = node >= 0
    ledger.block("positive", "infeed", present & np.isnan(level), "fault_level_3ph", node)
    ledger.block("positive", "infeed", present & np.isnan(ratio), "x_over_r", node)
    known = present & ~np.isnan(level)
    ledger.block("minimum", "infeed", known & np.isnan(least), "fault_level_3ph_min", node)
    ledger.block("minimum", "infeed", known & np.isnan(least_ratio) & ~np.isnan(ratio), "x_over_r_min", node)
    ledger.block(
        "minimum", "infeed", known & (grounded == 1) & ~np.isnan(earth) & np.isnan(least_earth),
        "fault_current_1ph_min", node,
    )  # fmt: skip
    ledger.block("zero", "infeed", present & np.isnan(grounded), "grounded", node)
    ledger.block("zero", "infeed", present & (grounded == 1) & np.isnan(z0["max"]), "fault_current_1ph", node)
    return Infeeds(bus, node, z1, z0, grounded)


def read_generators(records: Records, topology: Topology, typical: Typical) -> Generators:
    """Generators; resistance not on record counts as zero."""
    bus = records.bus_of("generator", "bus")
    node = node_of(topology.node, bus)
    number = partial(records.numbers, "generator")
    x1 = number("xd_subtransient")
    r = typical.fill(
        "generator", "r", number("r"), "generator_r", 0.0, unit="pu", why="r not on record; small beside the reactance",
        nodes={"positive": node},
    )  # fmt: skip
    x2 = typical.fill(
        "generator", "x2", number("x2"), "generator_x2", x1, unit="pu", why="x2 taken equal to xd_subtransient",
        nodes={"positive": node},
    )  # fmt: skip
    x0 = typical.fill(
        "generator", "x0", number("x0"), "generator_x0", typical.policy["assume.value.generator_x0"], unit="pu",
        why="x0 not on record; 0.03 to 0.10 for turbo-generators", nodes={"zero": node},
    )  # fmt: skip
    kv, mva = number("rated_voltage"), number("rated_power")
    typical.ledger.block("positive", "generator", np.isnan(x1), "xd_subtransient", node)
    typical.ledger.block("positive", "generator", np.isnan(x2) & ~np.isnan(x1), "x2", node)
    return Generators(
        bus,
        node,
        machine_impedance_ohm(x1, r, kv, mva),
        machine_impedance_ohm(x2, r, kv, mva),
        machine_impedance_ohm(x0, 0.0, kv, mva),
    )


@dataclass(frozen=True)
class Transformers:
    """
    Leakage of each pair of windings in ohm, referred to HV, in the positive and the zero sequence.

    bus, node : shape (n, 3), of HV, LV, TV; -1 where there is none.
    ratio : rated HV voltage over that of LV and TV, shape (n, 2).
    usable : both HV and LV stand at different nodes.
    """

    bus: Ints
    node: Ints
    positive: Complexes
    zero: Complexes
    base_ohm: Floats
    ratio: Floats
    usable: NDArray[np.bool_]


def read_transformers(records: Records, topology: Topology, typical: Typical) -> Transformers:
    """Transformers from their nameplates; the tertiary's pairs are on the tertiary's rating where that is on record."""
    ledger, policy = typical.ledger, typical.policy
    bus = np.stack([records.bus_of("transformer", f"{w}_bus") for w in ("hv", "lv", "tv")], axis=1)
    node = node_of(topology.node, bus)
    number = partial(records.numbers, "transformer")
    hv, lv, tv, mva = number("hv_voltage"), number("lv_voltage"), number("tv_voltage"), number("rated_power")
    present = (node[:, 0] >= 0) & (node[:, 1] >= 0)
    same = present & (node[:, 0] == node[:, 1])
    ledger.leave_out(
        "transformer", same, "lv_bus", np.full(same.size, "closed switches join its HV and LV buses", dtype=object)
    )
    usable = present & ~same
    carries = np.where(_grounding_windings(records), node, -1)  # sides at which zero-sequence current may flow
    everywhere = {"positive": node[:, 0], "zero": carries}
    percent = number("impedance")
    x_over_r = typical.fill(
        "transformer", "x_over_r", number("x_over_r"), "transformer_x_over_r",
        policy["assume.value.transformer_x_over_r"], unit="", why="X/R not on record; common practice for power "
        "transformers", nodes=everywhere,
    )  # fmt: skip
    third = np.where(np.isnan(number("tv_power")), mva, number("tv_power"))
    tertiary = node[:, 2] >= 0
    ratio_z0 = np.where(tertiary | ~np.isnan(tv), 1.0, policy["assume.value.transformer_z0_ratio"])
    z0 = typical.fill(
        "transformer", "z0", number("z0"), "transformer_z0", percent * ratio_z0, unit="%",
        why="z0 not on record; ratio to the impedance by type", nodes={"zero": carries},
    )  # fmt: skip
    pairs = (percent, number("hv_tv_impedance"), number("lv_tv_impedance"))
    bases = (mva, third, third)
    positive = np.stack([leakage_ohm(z, x_over_r, hv, base) for z, base in zip(pairs, bases, strict=True)], axis=1)
    with np.errstate(invalid="ignore", divide="ignore"):
        scale = z0 / percent
    of_pairs = [z0, *(_either(number(f"z0_{p}"), z * scale) for p, z in zip(TERTIARY, pairs[1:], strict=True))]
    angle = _either(number("z0_x_over_r"), x_over_r)
    zero = np.stack([leakage_ohm(z, angle, hv, base) for z, base in zip(of_pairs, bases, strict=True)], axis=1)
    for network in ("positive", "zero"):
        for side in (0, 1):
            ledger.block(network, "transformer", usable & np.isnan(percent), "impedance", node[:, side])
            ledger.block(network, "transformer", usable & np.isnan(x_over_r), "x_over_r", node[:, side])
    for side in (0, 1):
        ledger.block("zero", "transformer", usable & np.isnan(z0) & ~np.isnan(percent), "z0", node[:, side])
    ratio = np.stack([hv / lv, np.where(np.isnan(tv), 1.0, hv / np.where(np.isnan(tv), 1.0, tv))], axis=1)
    return Transformers(bus, node, positive, zero, hv**2 / mva, ratio, usable)


def _grounding_windings(records: Records) -> NDArray[np.bool_]:
    """Which of HV, LV and TV are wye or zigzag, shape (n, 3)."""
    texts = records.words("transformer", "vector_group")
    shapes = {text: parse_vector_group(text) for text in set(texts)}
    rows = [[shapes[text].connection(w) not in (None, "D") for w in ("hv", "lv", "tv")] for text in texts]
    return np.array(rows, dtype=bool).reshape(len(texts), 3)


def _either(first: Floats, second: Floats) -> Floats:
    return np.where(np.isnan(first), second, first)


def _least_earth(earth: Floats, level: Floats, least: Floats) -> Floats:
    """The maximum line-to-ground current scaled with the three-phase level."""
    with np.errstate(invalid="ignore", divide="ignore"):
        return np.asarray(earth * least / level, dtype=np.float64)
