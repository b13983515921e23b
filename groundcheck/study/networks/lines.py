"""Impedances and capacitance of lines from their records, gaps filled as the policy allows."""

from dataclasses import dataclass
from functools import partial

import numpy as np
from numpy.typing import NDArray

from groundcheck.study.networks.zones import Topology
from groundcheck.study.records import Records
from groundcheck.study.typical import Typical

Floats = NDArray[np.float64]
Complexes = NDArray[np.complex128]


@dataclass(frozen=True)
class Lines:
    """Impedance of the whole line; zero-sequence susceptance of the whole line, NaN where not on record."""

    z1: Complexes
    z0: Complexes
    susceptance: Floats


def read_lines(records: Records, topology: Topology, typical: Typical, frequency_hz: Floats) -> Lines:
    """Lines; `frequency_hz` is that of each line's station, NaN where not on record."""
    policy, ledger = typical.policy, typical.ledger
    number = partial(records.numbers, "line")
    at, through = topology.line_from, topology.line_to
    series = (at >= 0) & (through >= 0)
    km, r1, x1 = number("length"), number("r1"), number("x1")
    cable = np.isin(records.words("line", "construction"), ("cable", "aerial_cable"))
    ratio = np.where(
        cable, policy["assume.value.line_x0_over_x1_cable"], policy["assume.value.line_x0_over_x1_overhead"]
    )
    in_series = {"zero": np.where(series, at, -1)}
    r0 = typical.fill(
        "line", "r0", number("r0"), "line_zero_sequence",
        np.where(series, r1 * policy["assume.value.line_r0_over_r1"], np.nan),
        unit="ohm/km", why="r0 not on record; ratio to r1, common practice", nodes=in_series,
    )  # fmt: skip
    x0 = typical.fill(
        "line", "x0", number("x0"), "line_zero_sequence", np.where(series, x1 * ratio, np.nan), unit="ohm/km",
        why="x0 not on record; ratio to x1 by construction, common practice", nodes=in_series,
    )  # fmt: skip
    for field, values, network in (
        ("length", km, "positive"), ("r1", r1, "positive"), ("x1", x1, "positive"),
        ("length", km, "zero"), ("r0", r0, "zero"), ("x0", x0, "zero"),
    ):  # fmt: skip
        ledger.block(network, "line", series & np.isnan(values), field, at)

    given = number("charging_current")
    typical_c0 = np.where(cable, policy["assume.value.line_c0_cable"], policy["assume.value.line_c0_overhead"])
    known_kind = np.array([word is not None for word in records.words("line", "construction")], dtype=bool)
    c0 = typical.fill(
        "line", "c0", number("c0"), "line_capacitance",
        np.where(np.isnan(given) & known_kind, typical_c0, np.nan), unit="nF/km",
        why="c0 not on record; by construction", nodes={"zero": at},
    )  # fmt: skip
    bus = records.bus_of("line", "from_bus")
    kv = np.where(bus >= 0, records.nominal_kv[bus] if records.nominal_kv.size else np.nan, np.nan)
    from_current = given / (np.sqrt(3) * kv * 1e3)  # 3I0 = 3 B0 V_LN
    from_capacitance = 2 * np.pi * frequency_hz * c0 * 1e-9 * km
    return Lines(_complex(r1, x1) * km, _complex(r0, x0) * km, _either(from_current, from_capacitance))


def _either(first: Floats, second: Floats) -> Floats:
    return np.where(np.isnan(first), second, first)


def _complex(real: Floats, imaginary: Floats) -> Complexes:
    return np.asarray(real + 1j * imaginary, dtype=np.complex128)
