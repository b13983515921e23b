"""What the phase-domain solution says of every bus, device and grounding transformer of a network."""

import numpy as np
from networks.circuit import Fault
from networks.nameplates import Row, device_ohm
from networks.phase_domain import PhaseDomain

Key = tuple[str, str]


def bus_answers(network: PhaseDomain) -> list[Row]:
    """One row a bus, in the terms of study.bus_fault."""
    return [_bus_answer(network, bus) for bus in network.kv]


def _bus_answer(network: PhaseDomain, bus: Key) -> Row:
    nodes, volts = network.phases(bus), network.kv[bus] * 1e3 / np.sqrt(3)
    z = network.response.sequences(nodes)
    floats = network.response.floats(nodes)
    ground, line, double, three = (
        network.response.fault(nodes, volts, kind) for kind in ("a-g", "b-c", "b-c-g", "a-b-c")
    )
    return {
        "substation": bus[0], "bus": bus[1], "condition": network.condition,
        "z1": z[1, 1], "z2": z[2, 2], "z0": np.nan if floats else z[0, 0],
        "line_to_ground_ka": abs(ground.currents[0]) / 1e3,
        "line_to_line_ka": abs(line.currents[1]) / 1e3,
        "double_line_to_ground_ka": abs(double.currents.sum()) / 1e3,
        "three_phase_ka": abs(three.currents[0]) / 1e3,
        "healthy_phase_kv": np.abs(ground.volts[1:]).max() / 1e3,
        "neutral_shift_kv": abs(ground.volts.sum()) / 3e3,
        "coupling": np.abs(z - np.diag(np.diag(z))).max() / np.abs(z[1, 1]),
    }  # fmt: skip


def neutral_answers(network: PhaseDomain) -> list[Row]:
    """Largest current of each device and grounding transformer, for a line-to-ground fault anywhere in its zone."""
    zones = _zones(network)
    answers: list[Row] = []
    faults: dict[Key, Fault] = {}
    for kind, asset, home, read in _meters(network):
        for bus in zones[home]:
            if bus not in faults:
                volts = network.kv[bus] * 1e3 / np.sqrt(3)
                faults[bus] = network.response.fault(network.phases(bus), volts, "a-g")
        currents = [abs(read(faults[bus])) for bus in zones[home]]
        answers.append({"kind": kind, "substation": asset[0], "asset": asset[1], "current_a": max(currents)})
    return answers


def _meters(network: PhaseDomain):
    """Kind, asset, bus it stands at, and how its current is read from a fault."""
    homes = {
        (row["substation"], row[table]): (row, table)
        for table in ("transformer", "generator", "grounding_transformer")
        for row in network.rows.get(table, [])
    }
    for row in network.rows.get("neutral_device", []):
        station, tag = row["substation"], row["neutral_device"]
        node, z = network.neutral(station, row["connected_to"][0], row.get("winding")), device_ohm(row)
        owner, table = homes[station, row["connected_to"][0]]
        field = f"{row['winding']}_bus" if table == "transformer" else "bus"
        home = network.bus(owner, field)
        if z == 0:
            yield "neutral_device", (station, tag), home, lambda f, n=("link", station, tag): f.at(n)
        elif np.isinf(z):
            yield "neutral_device", (station, tag), home, lambda f: 0.0
        else:
            yield "neutral_device", (station, tag), home, lambda f, n=node, z=z: f.at(n) / z
    for row in network.rows.get("grounding_transformer", []):
        asset, r0 = (row["substation"], row["grounding_transformer"]), row.get("r0", 0.0)
        z0 = complex(r0, np.sqrt(row["z0"] ** 2 - r0**2))
        nodes, neutral = network.phases(network.bus(row, "bus")), network.neutral(*asset, None)
        # Neutral current: that of the three phases together, which the leakage alone limits.
        yield (
            "grounding_transformer", asset, network.bus(row, "bus"),
            lambda f, nodes=nodes, neutral=neutral, z0=z0: (sum(f.at(n) for n in nodes) - 3 * f.at(neutral)) / z0,
        )  # fmt: skip


def _zones(network: PhaseDomain) -> dict[Key, list[Key]]:
    member = {bus: [bus] for bus in network.kv}
    pairs = [(row, "from_bus", "to_bus") for row in network.rows.get("line", []) if row.get("to_bus")]
    pairs += [(row, "bus_a", "bus_b") for row in network.rows.get("switch", []) if row["normal_state"] == "closed"]
    for row, one, other in pairs:
        a, b = member[network.bus(row, one)], member[network.bus(row, other)]
        if a is not b:
            a.extend(b)
            for bus in b:
                member[bus] = a
    return member
