"""Random stations as inventory rows: the same seed gives the same stations.

Bus numbers count voltage angle in clock hours, so that lines, switches and parallel transformers join only buses at
which a balanced network has the same angle. All records that a network needs are there, and every zone has a line, so
that its capacitance is on record in full.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import pandas as pd

Rows = dict[str, list[dict[str, Any]]]


@dataclass(frozen=True)
class Bus:
    """A bus with the hours by which its voltage lags that of the first."""

    station: str
    tag: str
    kv: float
    hour: int

    def seen_from(self, station: str) -> str:
        """Its tag as a record of a station writes it."""
        return self.tag if station == self.station else f"{self.station}:{self.tag}"


@dataclass
class Fleet:
    """Stations of one network under construction; `capacitance` False records every line with none."""

    rng: np.random.Generator
    capacitance: bool = True
    rows: Rows = field(default_factory=dict)
    buses: list[Bus] = field(default_factory=list)
    joined: list[tuple[Bus, Bus]] = field(default_factory=list)
    count: int = 0

    def add(self, table: str, station: str, prefix: str, **row: Any) -> str:
        """Add a record under the next free tag; fields that are None are left out."""
        self.count += 1
        tag = f"{prefix}{self.count}"
        known = {name: value for name, value in row.items() if value is not None}
        self.rows.setdefault(table, []).append({"substation": station, table: tag, **known})
        return tag

    def chance(self, probability: float) -> bool:
        """Whether something is so."""
        return bool(self.rng.random() < probability)

    def pick(self, choices: Iterable[Any]) -> Any:
        """One of several."""
        several = list(choices)
        return several[int(self.rng.integers(len(several)))]

    def between(self, low: float, high: float) -> float:
        """A number, evenly spread over its logarithm."""
        return float(low * (high / low) ** self.rng.random())

    def bus(self, station: str, kv: float, hour: int) -> Bus:
        """A new bus."""
        bus = Bus(station, self.add("bus", station, "B", nominal_voltage=kv), kv, hour % 12)
        self.buses.append(bus)
        return bus

    def line(self, start: Bus, end: Bus | None) -> None:
        """A line or cable, with c0 or a charging current on record; radial without an end."""
        cable = self.chance(0.5)
        km = self.between(0.3, 8.0 if cable else 40.0)
        c0 = self.between(150, 400) if cable else self.between(4, 10)
        given: dict[str, Any] = {"c0": c0 if self.capacitance else 0.0}
        if self.capacitance and self.chance(0.2):
            given = {"charging_current": c0 * km * start.kv * 5e-4}
        self.add("line", start.station, "L", from_bus=start.tag, to_bus=end and end.seen_from(start.station),
                 length=km, construction="cable" if cable else "overhead", r1=self.between(0.05, 0.5),
                 x1=self.between(0.08, 0.4), r0=self.between(0.1, 1.0), x0=self.between(0.2, 1.5), **given)  # fmt: skip
        if end is not None:
            self.joined.append((start, end))

    def switch(self, a: Bus, b: Bus, state: str) -> None:
        """A switch between two buses."""
        self.add("switch", a.station, "Q", bus_a=a.tag, bus_b=b.seen_from(a.station), normal_state=state)
        if state == "closed":
            self.joined.append((a, b))

    def infeed(self, bus: Bus) -> None:
        """A supply, grounded or not, with or without a minimum condition."""
        level, ratio = self.between(200, 8000), self.between(2, 30)
        three_phase = level / (np.sqrt(3) * bus.kv)
        row: dict[str, Any] = {"bus": bus.tag, "x_over_r": ratio}
        row |= {"fault_level_3ph": level} if self.chance(0.5) else {"fault_current_3ph": three_phase}
        grounded = self.chance(0.7)
        if grounded:
            row |= {"fault_current_1ph": three_phase * self.between(0.3, 1.4), "grounded": self.pick([True, None])}
        else:
            row |= {"grounded": False}
        if self.chance(0.5):
            share = self.rng.uniform(0.4, 1.0)
            row |= {"fault_level_3ph_min": level * share, "x_over_r_min": ratio * self.rng.uniform(0.7, 1.0)}
            if grounded and self.chance(0.5):
                row |= {"fault_current_1ph_min": three_phase * share * self.between(0.3, 1.3)}
        self.add("infeed", bus.station, "I", **row)

    def zones(self) -> list[set[Bus]]:
        """Buses that lines and closed switches join."""
        zones = {bus: {bus} for bus in self.buses}
        for a, b in self.joined:
            if zones[a] is not zones[b]:
                zones[a] |= zones[b]
                for bus in zones[b]:
                    zones[bus] = zones[a]
        return list({id(zone): zone for zone in zones.values()}.values())


def as_frames(rows: Rows) -> dict[str, pd.DataFrame]:
    """Rows as a caller of the library hands them over."""
    return {table: pd.DataFrame(each) for table, each in rows.items()}


def together(networks: Iterable[Rows]) -> Rows:
    """Several networks as one fleet."""
    fleet: Rows = {}
    for rows in networks:
        for table, each in rows.items():
            fleet.setdefault(table, []).extend(each)
    return fleet
