"""Ground faults solved phase by phase from inventory rows: an independent answer for every network of the study.

Nothing of the project is imported. What the records mean is taken from the data dictionary; the physics is that of
coupled coils with real neutrals. As in the study, all emf are taken as equal at the fault (its voltage before is the
nominal one), and the capacitance of lines and machines acts between the three phases together and ground.
"""

import numpy as np
from networks.circuit import GROUND, Circuit, Response
from networks.coils import (
    auto_shares,
    connect,
    impedance,
    induced,
    interleave,
    shapes,
    shares,
    star,
    three_phases,
)
from networks.nameplates import Row, device_ohm, leakage, split_group

SIDES = ("hv", "lv", "tv")


class PhaseDomain:
    """One network in one condition."""

    def __init__(self, rows: dict[str, list[Row]], condition: str = "max") -> None:
        self.rows, self.condition = rows, condition
        self.circuit = Circuit()
        self.kv = {(row["substation"], row["bus"]): row["nominal_voltage"] for row in self._all("bus")}
        self.hertz = {row["substation"]: row["frequency"] for row in self._all("substation")}
        self.neutral_of: dict[tuple[str, str], tuple] = {}
        self._join()
        for table in ("infeed", "line", "generator", "grounding_transformer", "transformer", "neutral_device"):
            for row in self._all(table):
                getattr(self, f"_{table}")(row)
        self.response: Response = self.circuit.solve()

    def _all(self, table: str) -> list[Row]:
        return self.rows.get(table, [])

    def bus(self, row: Row, field: str) -> tuple[str, str]:
        """The bus that a field names."""
        station, _, tag = row[field].rpartition(":")
        return station or row["substation"], tag

    def phases(self, bus: tuple[str, str]) -> list[tuple]:
        """The three nodes of a bus."""
        return [("bus", *bus, p) for p in range(3)]

    def _join(self) -> None:
        for row in self._all("switch"):
            if row["normal_state"] == "closed":
                pairs = zip(self.phases(self.bus(row, "bus_a")), self.phases(self.bus(row, "bus_b")), strict=True)
                for a, b in pairs:
                    self.circuit.join(a, b)
        self.single = {
            (row["substation"], row[table]): table
            for table in ("generator", "grounding_transformer")
            for row in self._all(table)
        }
        self.autos = {
            (row["substation"], row["transformer"]) for row in self._all("transformer") if "a" in row["vector_group"]
        }
        self.held = set()
        for row in self._all("neutral_device"):
            nodes = [self.neutral(row["substation"], asset, row.get("winding")) for asset in row["connected_to"]]
            self.held |= set(nodes)
            for node in nodes[1:]:
                self.circuit.join(node, nodes[0])

    def neutral(self, station: str, asset: str, winding: str | None) -> tuple:
        alone = (station, asset) in self.single or (station, asset) in self.autos
        return ("neutral", station, asset, None if alone else winding)

    def _infeed(self, row: Row) -> None:
        bus = self.bus(row, "bus")
        kv = self.kv[bus]
        level = row.get("fault_level_3ph") or np.sqrt(3) * kv * row["fault_current_3ph"]
        ratio, earth = row["x_over_r"], row.get("fault_current_1ph", 0.0)
        if self.condition == "min":
            least = row.get("fault_level_3ph_min", level)
            earth = row.get("fault_current_1ph_min", earth * least / level)
            level, ratio = least, row.get("x_over_r_min", ratio)
        z1 = impedance(100, ratio, level) * kv**2
        # The line-to-ground current that the record gives, with both impedances at one angle.
        z0 = z1 / abs(z1) * (np.sqrt(3) * kv / earth - 2 * abs(z1)) if earth else np.inf
        y = three_phases(0 if np.isinf(z0) else 1 / z0, 1 / z1)
        self.circuit.coils([(node, GROUND) for node in self.phases(bus)], y)

    def _line(self, row: Row) -> None:
        start, km = self.bus(row, "from_bus"), row["length"]
        if "charging_current" in row:  # 3I0, at the nominal voltage
            susceptance = row["charging_current"] / (np.sqrt(3) * self.kv[start] * 1e3)
        else:
            susceptance = 2 * np.pi * self.hertz[row["substation"]] * row["c0"] * 1e-9 * km
        ends = [start] if row.get("to_bus") is None else [start, self.bus(row, "to_bus")]
        for end in ends:
            self._capacitance(self.phases(end), susceptance / len(ends))
        if len(ends) == 2:
            z = three_phases(complex(row["r0"], row["x0"]) * km, complex(row["r1"], row["x1"]) * km)
            pairs = list(zip(self.phases(ends[0]), self.phases(ends[1]), strict=True))
            self.circuit.coils(pairs, np.linalg.inv(z))

    def _capacitance(self, nodes: list[tuple], susceptance: float) -> None:
        self.circuit.coils([(node, GROUND) for node in nodes], three_phases(1j * susceptance, 0))

    def _generator(self, row: Row) -> None:
        base = row["rated_voltage"] ** 2 / row["rated_power"]
        z1, z2 = complex(row["r"], row["xd_subtransient"]) * base, complex(row["r"], row["x2"]) * base
        nodes = self.phases(self.bus(row, "bus"))
        wye = row["winding"] == "wye"
        y0 = 1 / (1j * row["x0"] * base) if wye else 0
        neutral = self.neutral(row["substation"], row["generator"], None) if wye else GROUND
        self.circuit.coils([(node, neutral) for node in nodes], three_phases(y0, 1 / z1, 1 / z2))
        per_phase = 2 * np.pi * self.hertz[row["substation"]] * row["capacitance_to_ground"] * 1e-6
        self._capacitance(nodes, per_phase)

    def _grounding_transformer(self, row: Row) -> None:
        tag = (row["substation"], row["grounding_transformer"])
        neutral = self.neutral(*tag, None)
        r0 = row.get("r0", 0.0)
        z0 = complex(r0, np.sqrt(row["z0"] ** 2 - r0**2))
        nodes = self.phases(self.bus(row, "bus"))
        # One phase of either kind: two coils of equal turns on a core, half of the leakage in each.
        per_core = star([z0 / 2, z0 / 2], [1, 1])
        y = np.kron(per_core, np.eye(3))
        inner = [("inside", *tag, p) for p in range(3)]
        if row["connection"] == "zigzag":
            ends = [(nodes[p], inner[p]) for p in range(3)] + [(neutral, inner[(p - 1) % 3]) for p in range(3)]
        else:
            ends = [(nodes[p], neutral) for p in range(3)] + [(inner[p], inner[(p + 1) % 3]) for p in range(3)]
        self.circuit.coils(ends, y)
        if neutral not in self.held:
            self.circuit.link(("link", *tag), neutral)

    def _transformer(self, row: Row) -> None:
        letters, hours = split_group(row["vector_group"])
        kv = [row[f"{side}_voltage"] for side in SIDES[: len(letters)]]
        zero, positive = (leakage(row, sequence) for sequence in (0, 1))
        tank = []
        if row["core_form"] == "three_limb":
            tank = [3j * row["magnetizing_z0"] / 100 / row["rated_power"]]
        if letters[1] == "A":
            self._auto(row, kv, zero, positive, tank)
        elif "Z" in (letters[0][0], letters[1][0]):
            self._with_zigzag(row, letters, hours, kv, positive[0])
        else:
            turns = [v if letter == "D" else v / np.sqrt(3) for v, letter in zip(kv, letters, strict=True)]
            half = [([z[0] / 2] * 2 if len(letters) == 2 else shares(*z)) for z in (zero, positive)]
            y = interleave(star(half[0], turns, tank), star(half[1], turns))
            self.circuit.coils(self._ends(row, letters, hours), y)

    def _ends(self, row: Row, letters: list[str], hours: list[int]) -> list[tuple[tuple, tuple]]:
        station, tag = row["substation"], row["transformer"]
        first = next(iter(shapes(letters[0][0])))
        ends = []
        for side, letter, hour in zip(SIDES, letters, [0, *hours], strict=False):
            if row.get(f"{side}_bus"):
                terminals = self.phases(self.bus(row, f"{side}_bus"))
            else:
                terminals = [("inside", station, tag, side, p) for p in range(3)]
            coils = first if side == "hv" else connect(letter[0], induced(first), hour)
            named = {p: terminals[p] for p in range(3)} | {"n": self.neutral(station, tag, side)}
            named |= {f"j{p}": ("joint", station, tag, side, p) for p in range(3)}
            ends += [(named[a], named[b]) for a, b in coils]
        return ends

    def _with_zigzag(self, row: Row, letters: list[str], hours: list[int], kv: list[float], pair: complex) -> None:
        """Three coils a core: the plain winding and two halves. The halves against each other are Z0 = 0.4 R, 0.1 X."""
        zigzag = next(i for i, letter in enumerate(letters) if letter[0] == "Z")
        other = 1 - zigzag
        halves = complex(0.4 * pair.real, 0.1 * pair.imag)  # a typical value that the study takes, per square of turns
        # In positive sequence the two halves of a core carry sqrt(3) times the current of one: Z1 = Z0 + 3 z_plain.
        scale = 3.0  # line-to-neutral volts squared over those of a half
        each, plain = scale * halves / 2, pair - halves
        branches = {other: [plain], zigzag: [each, each]}
        turns = {other: [kv[other] / (1 if letters[other][0] == "D" else np.sqrt(3))], zigzag: [kv[zigzag] / 3] * 2}
        y = np.kron(star(branches[0] + branches[1], turns[0] + turns[1]), np.eye(3))
        self.circuit.coils(self._ends(row, letters, hours), y)

    def _auto(
        self, row: Row, kv: list[float], zero: list[complex], positive: list[complex], tank: list[complex]
    ) -> None:
        station, tag = row["substation"], row["transformer"]
        turns = [v / np.sqrt(3) for v in kv[:2]]
        series_common = [turns[0] - turns[1], turns[1]]
        if len(kv) == 3:
            turns_all = [*series_common, kv[2]]
            y = interleave(star(auto_shares(*zero, *turns), turns_all), star(auto_shares(*positive, *turns), turns_all))
        else:
            shorted = []
            stretch = turns[0] ** 2 / series_common[0] ** 2
            branches = [zero[0] * stretch / 2] * 2
            if tank:  # behind the middle of the leakage, seen from either terminal
                behind = zero[0] / 2 + tank[0]
                *branches, ring = auto_shares(zero[0], behind, behind, *turns)
                shorted = [ring]
            y = interleave(star(branches, series_common, shorted), star([positive[0] * stretch / 2] * 2, series_common))
        high, low = self.phases(self.bus(row, "hv_bus")), self.phases(self.bus(row, "lv_bus"))
        neutral = self.neutral(station, tag, None)
        ends = [(high[p], low[p]) for p in range(3)] + [(low[p], neutral) for p in range(3)]
        if len(kv) == 3:
            _, hours = split_group(row["vector_group"])
            third = self.phases(self.bus(row, "tv_bus")) if row.get("tv_bus") else [("in", tag, p) for p in range(3)]
            ends += [(third[a], third[b]) for a, b in connect("D", 1.0, hours[1])]
        self.circuit.coils(ends, y)

    def _neutral_device(self, row: Row) -> None:
        node = self.neutral(row["substation"], row["connected_to"][0], row.get("winding"))
        z = device_ohm(row)
        if z == 0:
            self.circuit.link(("link", row["substation"], row["neutral_device"]), node)
        elif np.isfinite(z):
            self.circuit.coils([(node, GROUND)], np.array([[1 / z]]))
