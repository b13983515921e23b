"""Sequence networks against power-grid-model, a general-purpose network library that knows nothing of this project.

The same assumptions on both sides: voltage before the fault 1.1 times nominal (scaled here), no magnetizing branch,
zero-sequence leakage equal to positive, purely reactive transformers (the library's zigzag winding takes a tenth of
the leakage resistance, this project four tenths), capacitance of lines in the zero sequence only.

Left out, since the library (1.12) does not have the path: a three-winding transformer whose first winding is a delta or
an ungrounded wye and whose second is a grounded wye. There it gives Dyn0d0 and Dyn0yn0 the same current, though at no
load the latter is a plain Dyn0. The cables are long because the library puts a minute admittance across windings that
carry no zero-sequence current, which shows beside a small capacitance.
"""

from dataclasses import dataclass, field
from typing import Any

import numpy as np
import pandas as pd
import power_grid_model as pgm
import pytest

from groundcheck.ingest import ingest
from groundcheck.policy import load_policy
from groundcheck.store import Store
from groundcheck.study import run_study

NETWORKS = 200
SEEDS_PER_TEST = 20
FACTOR = 1.1  # the library's voltage factor above 1 kV, IEC 60909-0 c_max
STATION = "TEST"
# Windings HV, LV (and tertiary) that both sides support, with a clock number of the right parity for the library.
TWO_WINDING = ("YNd1", "Yd1", "Dyn11", "Dy11", "YNyn0", "YNy0", "Yyn0", "Yy0", "Dd0", "Dzn0", "Yzn1", "YNzn1", "Dz0")
THREE_WINDING = ("YNyn0d1", "YNd1d1", "YNy0d1", "YNd1yn0", "Yd1d1", "YNyn0yn0")
WINDING_TYPES = {"Y": 0, "YN": 1, "D": 2, "Z": 3, "ZN": 4}


@dataclass
class Network:
    """One random network twice: as inventory rows and as library input."""

    rng: np.random.Generator
    rows: dict[str, list[dict[str, Any]]] = field(default_factory=dict)
    nodes: list[tuple[int, float]] = field(default_factory=list)
    source: dict[str, float] = field(default_factory=dict)
    lines: list[dict[str, float]] = field(default_factory=list)
    twos: list[dict[str, float]] = field(default_factory=list)
    threes: list[dict[str, float]] = field(default_factory=list)
    count: int = 0

    def number(self) -> int:
        self.count += 1
        return self.count

    def add(self, table: str, **row: Any) -> None:
        self.rows.setdefault(table, []).append({"substation": STATION, **row})

    def bus(self, kv: float) -> int:
        node = self.number()
        self.nodes.append((node, kv))
        self.add("bus", bus=f"B{node}", nominal_voltage=kv)
        return node

    def infeed(self, node: int, kv: float) -> None:
        mva, rx, ratio = self.rng.uniform(300, 5000), self.rng.uniform(0.05, 0.5), self.rng.uniform(0.5, 4)
        three_phase = mva / (np.sqrt(3) * kv)
        self.source = {"id": self.number(), "node": node, "sk": mva * 1e6, "rx_ratio": rx, "z01_ratio": ratio}
        self.add("infeed", infeed="Q", bus=f"B{node}", fault_level_3ph=mva, x_over_r=1 / rx,
                 fault_current_1ph=three_phase * 3 / (2 + ratio), grounded=True)  # fmt: skip

    def line(self, a: int, b: int) -> None:
        km, r1, x1, r0, x0 = self.rng.uniform((15, 0.05, 0.1, 0.2, 0.3), (40, 0.2, 0.3, 0.5, 0.9))
        c0, name = self.rng.uniform(1500, 2500), self.number()
        self.lines.append({"id": name, "from_node": a, "to_node": b, "r1": r1 * km, "x1": x1 * km, "r0": r0 * km,
                           "x0": x0 * km, "c0": c0 * km * 1e-9})  # fmt: skip
        self.add("line", line=f"L{name}", from_bus=f"B{a}", to_bus=f"B{b}", length=km, construction="cable",
                 r1=r1, x1=x1, r0=r0, x0=x0, c0=c0)  # fmt: skip

    def ground(self, transformer: str, winding: str, connection: str) -> tuple[float, float]:
        """Put something in a neutral; gives its R and X."""
        if not connection.endswith("N"):
            return np.nan, np.nan
        kind = str(self.rng.choice(["solid", "resistor", "reactor"]))
        ohm = {"solid": 0.0, "resistor": self.rng.uniform(1, 60), "reactor": self.rng.uniform(0.5, 20)}[kind]
        size = {"resistance": ohm} if kind == "resistor" else {"reactance": ohm} if kind == "reactor" else {}
        self.add("neutral_device", neutral_device=f"N {transformer} {winding}", connected_to=[transformer],
                 winding=winding, kind=kind, **size)  # fmt: skip
        return (ohm, 0.0) if kind == "resistor" else (0.0, ohm)

    def transformer(self, group: str, nodes: list[int], kv: list[float]) -> None:
        letters, clocks = split_group(group)
        mva, name = self.rng.uniform(10, 60), self.number()
        tag = f"T{name}"
        percent = self.rng.uniform((8, 12, 5), (16, 22, 9))  # HV-LV, HV-TV, LV-TV: a plausible star
        sides = list(zip(("hv", "lv", "tv"), letters, strict=False))
        ohms = [self.ground(tag, winding, letter) for winding, letter in sides]
        row = {"transformer": tag, "hv_bus": f"B{nodes[0]}", "lv_bus": f"B{nodes[1]}", "rated_power": mva,
               "hv_voltage": kv[0], "lv_voltage": kv[1], "vector_group": group, "impedance": percent[0],
               "z0": percent[0], "x_over_r": 1e9, "core_form": "shell"}  # fmt: skip
        common = {"id": name, "clock": clocks, "ohms": ohms, "letters": letters, "nodes": nodes, "kv": kv, "mva": mva}
        if len(nodes) == 3:
            row |= {"tv_bus": f"B{nodes[2]}", "tv_voltage": kv[2], "hv_tv_impedance": percent[1],
                    "lv_tv_impedance": percent[2]}  # fmt: skip
        (self.threes if len(nodes) == 3 else self.twos).append(common | {"percent": percent})
        self.add("transformer", **row)


def split_group(group: str) -> tuple[list[str], list[int]]:
    letters, clocks, word = [], [], ""
    for character in group + "\0":
        if character.isdigit():
            clocks[-1:] = [clocks[-1] * 10 + int(character)] if word == "" else [*clocks, int(character)]
            if word:
                letters += _windings(word)
                word = ""
        elif character != "\0":
            word += character
    return letters, clocks


def _windings(word: str) -> list[str]:
    first = next((i for i, c in enumerate(word) if c.islower()), 0)
    return [part.upper() for part in (word[:first], word[first:]) if part]


def random_network(seed: int) -> Network:
    """A tree: an infeed, then transformers and cables one behind the other; each zone has a cable's capacitance."""
    network = Network(np.random.default_rng(seed))
    rng = network.rng
    network.rows["substation"] = [{"substation": STATION, "frequency": 50.0}]
    top = network.bus(110.0)
    network.infeed(top, 110.0)
    first = network.bus(110.0)
    network.line(top, first)
    frontier = [(first, 110.0)]
    for step in range(int(rng.integers(2, 6))):
        node, kv = frontier[int(rng.integers(len(frontier)))]
        lower = {110.0: 33.0, 33.0: 11.0, 11.0: 6.6}.get(kv)
        if lower is None:
            continue
        three = bool(rng.random() < 0.4)
        # Over 200 seeds the counter walks through every arrangement many times.
        if three:
            group = THREE_WINDING[(seed * 3 + step) % len(THREE_WINDING)]
            levels = [kv, lower, {33.0: 20.0, 11.0: 5.0, 6.6: 3.3}[lower]]
        else:
            group = TWO_WINDING[(seed + 5 * step) % len(TWO_WINDING)]
            levels = [kv, lower]
        below = [network.bus(level) for level in levels[1:]]
        network.transformer(group, [node, *below], levels)
        for bus, level in zip(below, levels[1:], strict=True):
            far = network.bus(level)
            network.line(bus, far)
            if rng.random() < 0.3:
                network.line(bus, far)  # a parallel path
            if level in (33.0, 11.0):
                frontier.append((far, level))
    return network


def library_currents(network: Network, kind: pgm.FaultType) -> dict[int, float]:
    """Fault current in A at every node but that of the source."""
    data = {"node": _array("node", id=[n for n, _ in network.nodes], u_rated=[kv * 1e3 for _, kv in network.nodes])}
    data["source"] = _array("source", status=1, u_ref=1.0, **{k: [v] for k, v in network.source.items()})
    lines = {key: [line[key] for line in network.lines] for key in network.lines[0]}
    data["line"] = _array("line", from_status=1, to_status=1, c1=0.0, tan1=0.0, tan0=0.0, i_n=1e3, **lines)
    if network.twos:
        data["transformer"] = _two_winding(network.twos)
    if network.threes:
        data["three_winding_transformer"] = _three_winding(network.threes)
    targets = [node for node, _ in network.nodes if node != network.source["node"]]
    phase = pgm.FaultPhase.a if kind == pgm.FaultType.single_phase_to_ground else pgm.FaultPhase.abc
    data["fault"] = _array("fault", id=[10**6], status=1, fault_type=kind, fault_object=targets[0],
                           fault_phase=phase, r_f=0.0, x_f=0.0)  # fmt: skip
    update = pgm.initialize_array("update", "fault", (len(targets), 1))
    update["id"], update["fault_object"] = 10**6, np.array(targets)[:, None]
    result = pgm.PowerGridModel(data).calculate_short_circuit(
        update_data={"fault": update}, short_circuit_voltage_scaling=pgm.ShortCircuitVoltageScaling.maximum
    )
    return dict(zip(targets, result["fault"]["i_f"][:, 0, 0], strict=True))


def _array(component: str, **values: Any) -> np.ndarray:
    size = max(len(v) for v in values.values() if isinstance(v, list))
    array = pgm.initialize_array("input", component, size)
    for name, value in values.items():
        array[name] = value
    return array


def _two_winding(rows: list[dict[str, Any]]) -> np.ndarray:
    take = lambda key, i: [row[key][i] for row in rows]  # noqa: E731 - one expression used eleven times
    return _array(
        "transformer", id=[row["id"] for row in rows], from_node=take("nodes", 0), to_node=take("nodes", 1),
        from_status=1, to_status=1, u1=[row["kv"][0] * 1e3 for row in rows], u2=[row["kv"][1] * 1e3 for row in rows],
        sn=[row["mva"] * 1e6 for row in rows], uk=[row["percent"][0] / 100 for row in rows], pk=0.0, i0=0.0, p0=0.0,
        winding_from=[WINDING_TYPES[row["letters"][0]] for row in rows],
        winding_to=[WINDING_TYPES[row["letters"][1]] for row in rows], clock=take("clock", 0), tap_side=0, tap_pos=0,
        tap_min=0, tap_max=0, tap_nom=0, tap_size=0.0,
        r_grounding_from=[row["ohms"][0][0] for row in rows], x_grounding_from=[row["ohms"][0][1] for row in rows],
        r_grounding_to=[row["ohms"][1][0] for row in rows], x_grounding_to=[row["ohms"][1][1] for row in rows],
    )  # fmt: skip


def _three_winding(rows: list[dict[str, Any]]) -> np.ndarray:
    values: dict[str, Any] = {}
    for i in range(3):
        values |= {
            f"node_{i + 1}": [row["nodes"][i] for row in rows],
            f"u{i + 1}": [row["kv"][i] * 1e3 for row in rows],
            f"sn_{i + 1}": [row["mva"] * 1e6 for row in rows],
            f"winding_{i + 1}": [WINDING_TYPES[row["letters"][i]] for row in rows],
            f"r_grounding_{i + 1}": [row["ohms"][i][0] for row in rows],
            f"x_grounding_{i + 1}": [row["ohms"][i][1] for row in rows],
            f"status_{i + 1}": 1,
        }
    for pair, name in enumerate(("12", "13", "23")):
        values |= {f"uk_{name}": [row["percent"][pair] / 100 for row in rows], f"pk_{name}": 0.0}
    return _array(
        "three_winding_transformer", id=[row["id"] for row in rows], clock_12=[row["clock"][0] for row in rows],
        clock_13=[row["clock"][1] for row in rows], i0=0.0, p0=0.0, tap_side=0, tap_pos=0, tap_min=0, tap_max=0,
        tap_nom=0, tap_size=0.0, **values,
    )  # fmt: skip


@pytest.fixture(scope="module")
def own_currents() -> pd.DataFrame:
    """All networks as one fleet, a station each, solved in one run."""
    fleet: dict[str, list[dict[str, Any]]] = {}
    for seed in range(NETWORKS):
        for table, rows in random_network(seed).rows.items():
            fleet.setdefault(table, []).extend(row | {"substation": f"S{seed:03d}"} for row in rows)
    store = Store()
    ingest(store, {table: pd.DataFrame(rows) for table, rows in fleet.items()})
    run_study(store, load_policy())
    return store.frame("SELECT * FROM study.bus_fault WHERE condition = 'max'").set_index(["substation", "bus"])


@pytest.mark.parametrize("first", range(0, NETWORKS, SEEDS_PER_TEST))
@pytest.mark.parametrize(
    ("kind", "column"),
    [(pgm.FaultType.three_phase, "three_phase_ka"), (pgm.FaultType.single_phase_to_ground, "line_to_ground_ka")],
)
def test_random_networks_agree_within_a_tenth_of_a_percent(
    own_currents: pd.DataFrame, first: int, kind: pgm.FaultType, column: str
) -> None:
    for seed in range(first, first + SEEDS_PER_TEST):
        expected = library_currents(random_network(seed), kind)
        for node, amperes in expected.items():
            own = own_currents.loc[(f"S{seed:03d}", f"B{node}"), column] * 1e3 * FACTOR
            assert own == pytest.approx(amperes, rel=1e-3), (seed, node)


def test_every_winding_arrangement_is_among_them() -> None:
    used = {row["vector_group"] for seed in range(NETWORKS) for row in random_network(seed).rows.get("transformer", [])}
    assert used == {*TWO_WINDING, *THREE_WINDING}
