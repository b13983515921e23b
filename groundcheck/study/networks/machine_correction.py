"""K_G of generators, and K_S or K_SO of power station units, from the records."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from groundcheck.engineering import generator_correction, unit_correction, unit_correction_fixed_tap
from groundcheck.study.networks.corners import Corner
from groundcheck.study.networks.equipment import Generators, Infeeds, Transformers
from groundcheck.study.networks.units import Units, find_units
from groundcheck.study.networks.zones import Topology
from groundcheck.study.records import Records
from groundcheck.study.typical import Typical

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


@dataclass(frozen=True)
class Corrections:
    """Factors in the maximum condition: transformer, shape (n, 3), and generator."""

    transformer: Floats
    generator: Floats


def machine_corrections(
    records: Records,
    topology: Topology,
    infeeds: Infeeds,
    generators: Generators,
    transformers: Transformers,
    by_pair: Floats,
    voltage_factor: Floats,
    typical: Typical,
    corner: Corner | None,
) -> Corrections:
    """Correct each machine by itself, or together with the transformer of its unit, whose K_T it takes the place of."""
    units = find_units(topology, infeeds, generators, transformers)
    cosine = _power_factor(records, generators, typical, corner)
    at = generators.bus
    x = records.numbers("generator", "xd_subtransient")
    rated = records.numbers("generator", "rated_voltage")
    alone = generator_correction(_at(records.nominal_kv, at), rated, x, cosine, _at(voltage_factor, at))

    g, t = units.generator, units.transformer
    high = transformers.bus[t, 0]
    nominal, c = _at(records.nominal_kv, high), _at(voltage_factor, high)
    ratio = transformers.ratio[t, 0]
    x_t = transformers.positive[t, 0].imag / transformers.base_ohm[t]
    changes_taps = unit_correction(nominal, rated[g], ratio, x[g], x_t, cosine[g], c)
    voltage_range = _voltage_range(records, generators, units, typical, corner)
    fixed = unit_correction_fixed_tap(nominal, rated[g], ratio, x[g], cosine[g], voltage_range[g], c)
    unit = _by_tap_changer(records, transformers, units, changes_taps, fixed, typical, corner)

    of_transformer, of_generator = by_pair.copy(), alone.copy()
    of_transformer[t] = unit[:, None]
    of_generator[g] = unit
    _block_disputed(records, topology, np.concatenate([at, high]), typical)
    return Corrections(of_transformer, of_generator)


def _power_factor(records: Records, generators: Generators, typical: Typical, corner: Corner | None) -> Floats:
    found = records.numbers("generator", "power_factor")
    if corner is not None:  # a higher power factor means a higher impedance
        end = "most" if corner.weak else "least"
        return np.where(np.isnan(found), typical.policy[f"range.{end}.generator_power_factor"], found)
    node = generators.node
    filled = typical.fill(
        "generator", "power_factor", found, "generator_power_factor",
        typical.policy["assume.value.generator_power_factor"], unit="", why="rated power factor not on record; K_G and "
        "K_S of IEC 60909-0 need it", nodes={"positive": node, "zero": node},
    )  # fmt: skip
    _block(typical, "generator", np.isnan(filled), "power_factor", node)
    return filled


def _voltage_range(
    records: Records, generators: Generators, units: Units, typical: Typical, corner: Corner | None
) -> Floats:
    """p_G per unit, asked for where the unit has no tap changer on record as working on load."""
    found = records.numbers("generator", "voltage_regulation_pg")
    if corner is not None:  # a wider range means a lower impedance
        end = "least" if corner.weak else "most"
        return np.where(np.isnan(found), typical.policy[f"range.{end}.generator_voltage_regulation"], found) / 100
    needed = np.zeros(found.size, dtype=bool)
    needed[units.generator] = records.flags("transformer", "tap_changer")[units.transformer] == 0
    node = np.where(needed, generators.node, -1)
    filled = typical.fill(
        "generator", "voltage_regulation_pg", found, "generator_voltage_regulation",
        np.where(needed, typical.policy["assume.value.generator_voltage_regulation"], np.nan), unit="%",
        why="p_G not on record; K_SO of IEC 60909-0 needs it", nodes={"positive": node, "zero": node},
    )  # fmt: skip
    _block(typical, "generator", needed & np.isnan(filled), "voltage_regulation_pg", node)
    return np.asarray(filled / 100, dtype=np.float64)


def _by_tap_changer(
    records: Records,
    transformers: Transformers,
    units: Units,
    changes_taps: Floats,
    fixed: Floats,
    typical: Typical,
    corner: Corner | None,
) -> Floats:
    """K_S with a tap changer, K_SO without; one not on record is taken to be there if the policy admits that."""
    on_load = records.flags("transformer", "tap_changer")[units.transformer]
    if corner is not None:
        either = np.fmax(changes_taps, fixed) if corner.weak else np.fmin(changes_taps, fixed)
    elif typical.policy.admits("unit_tap_changer"):
        either = changes_taps
    else:
        either = np.full(on_load.size, np.nan)
    silent = np.zeros(transformers.usable.size, dtype=bool)
    silent[units.transformer[np.isnan(on_load)]] = True
    if typical.policy.admits("unit_tap_changer"):
        typical.ledger.assume(
            "transformer", silent, "tap_changer", "yes",
            "not on record; a generator's own transformer is taken to have a tap changer that works on load",
            {"positive": transformers.node[:, 0], "zero": transformers.node[:, 0]},
        )  # fmt: skip
    else:
        _block(typical, "transformer", silent, "tap_changer", transformers.node[:, 0])
    return np.select([on_load == 1, on_load == 0], [changes_taps, fixed], default=either)


def _block_disputed(records: Records, topology: Topology, bus: NDArray[np.int64], typical: Typical) -> None:
    """A bus with two nominal voltages leaves the corrections of what stands there open."""
    asked = np.zeros(records.nominal_kv.size, dtype=bool)
    asked[bus[bus >= 0]] = True
    _block(typical, "bus", asked & np.isnan(records.nominal_kv), "nominal_voltage", topology.node)


def _block(typical: Typical, kind: str, which: Bools, field: str, node: NDArray[np.int64]) -> None:
    for network in ("positive", "zero"):
        typical.ledger.block(network, kind, which, field, node)


def _at(of_bus: Floats, bus: NDArray[np.int64]) -> Floats:
    return np.where(bus >= 0, of_bus[bus] if of_bus.size else np.nan, np.nan)
