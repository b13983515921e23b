"""Every kind of station, and a fleet of them that the same seed gives again."""

from collections.abc import Callable

import numpy as np
from generated_fleet.dress import dress
from generated_fleet.kinds import distribution, industrial, transmission
from generated_fleet.station import Rows, Station

# Kind: how its network is built, soil (ohm m), area of its mat (m2), share of the current that leaves by the mat.
KINDS: dict[str, tuple[Callable[[Station], None], float, float, float]] = {
    "grid_resistor": (transmission.grid_resistor, 50.0, 4900.0, 0.4),
    "grid_delta_wye": (transmission.grid_delta_wye, 50.0, 4900.0, 0.4),
    "resonant": (transmission.resonant, 50.0, 4900.0, 0.4),
    "resonant_110": (transmission.resonant_110, 50.0, 4900.0, 0.4),
    "three_winding": (transmission.three_winding, 50.0, 8100.0, 0.3),
    "island": (industrial.island, 50.0, 900.0, 0.6),
    "delta_tertiary": (transmission.delta_tertiary, 50.0, 10000.0, 0.3),
    "open_neutral": (transmission.open_neutral, 50.0, 4900.0, 0.4),
    "two_in_parallel": (distribution.two_in_parallel, 50.0, 1600.0, 0.6),
    "zigzag_at_delta": (distribution.zigzag_at_delta, 50.0, 2500.0, 0.3),
    "banks": (distribution.banks, 50.0, 2500.0, 0.4),
    "shared_resistor": (distribution.shared_resistor, 50.0, 1600.0, 0.6),
    "bank_limits": (distribution.bank_limits, 50.0, 2500.0, 0.3),
    "auto_transformer": (transmission.auto_transformer, 50.0, 10000.0, 0.2),
    "pair": (distribution.pair, 50.0, 4900.0, 0.4),
    "low_voltage": (distribution.low_voltage, 50.0, 400.0, 0.6),
    "four_wire": (distribution.four_wire, 50.0, 2500.0, 0.25),
    "reactor": (distribution.reactor, 50.0, 3600.0, 0.3),
    "ungrounded": (industrial.ungrounded, 50.0, 1600.0, 0.6),
    "high_resistance": (industrial.high_resistance, 50.0, 900.0, 0.6),
    "generators": (industrial.generators, 50.0, 2500.0, 0.4),
    "unit": (industrial.unit, 50.0, 8100.0, 0.3),
}


def sound_station(kind: str, code: str, rng: np.random.Generator) -> Rows:
    """The records of a station of this kind in which nothing is wrong, and of those drawn with it."""
    build, soil, area, split = KINDS[kind]
    station = Station(code, kind, rng)
    build(station)
    rows: Rows = {}
    for each in (station, *station.others):
        dress(each, soil * station.between(0.6, 1.2), area * station.between(0.8, 1.2), split)
        for table, records in each.rows.items():
            rows.setdefault(table, []).extend(records)
    return rows
