"""Ratings, insulation, arresters and relays for random networks: some sound, some not."""

from typing import Any

import numpy as np
from networks.random_stations import Rows

SHORT = (0.3, 1.0, 3.0)
RATED = (5.0, 10.0, 60.0, np.inf)


def add_ratings(rows: Rows, rng: np.random.Generator) -> Rows:
    """The network with what stands at its buses and neutrals, rated at random round what is customary."""
    fleet = {table: [dict(row) for row in each] for table, each in rows.items()}
    for bus in fleet["bus"]:
        _at_bus(fleet, bus, rng)
    for device in fleet.get("neutral_device", []):
        _of_device(fleet, device, rng)
    for bank in fleet.get("grounding_transformer", []):
        bank |= {"rated_neutral_current": _near(400, rng), "rated_time": _one_of(RATED, rng)}
    return fleet


def _at_bus(fleet: Rows, bus: dict[str, Any], rng: np.random.Generator) -> None:
    kv, here = bus["nominal_voltage"], {"substation": bus["substation"], "bus": bus["bus"]}
    bus |= {"highest_voltage": kv * rng.uniform(1.0, 1.15), "ground_fault_clearing_time": _one_of(SHORT, rng),
            "continuity_required": bool(rng.random() < 0.15)}  # fmt: skip
    bears = kv * _one_of((1 / np.sqrt(3), 0.8, 1.0, 1.2), rng)
    fleet.setdefault("insulation", []).append(
        here
        | {
            "insulation": f"SG {bus['bus']}",
            "kind": "switchgear",
            "rated_line_voltage": kv,
            "rated_ground_voltage": bears,
        }
    )
    fleet["insulation"].append(
        here | {"insulation": f"C {bus['bus']}", "kind": "cable", "rated_line_voltage": kv,
                "cable_insulation_level": _one_of((100, 133, 173), rng)}
    )  # fmt: skip
    fleet.setdefault("arrester", []).append(
        here | {"arrester": f"SA {bus['bus']}", "mcov": kv * _one_of((0.55, 0.7, 0.9, 1.1), rng), "position": "phase"}
    )
    fleet.setdefault("ground_relay", []).append(
        {"substation": bus["substation"], "ground_relay": f"R{bus['bus']}", "function": "51N", "measures": bus["bus"],
         "pickup": _near(100, rng), **_setting(rng)}
    )  # fmt: skip


def _of_device(fleet: Rows, device: dict[str, Any], rng: np.random.Generator) -> None:
    if device["kind"] in ("solid", "open", "surge_arrester"):
        return
    device |= {"rated_time": _one_of(RATED, rng)}
    device.setdefault("rated_current", _near(400, rng))
    device.setdefault("rated_voltage", _near(6, rng))
    fleet["ground_relay"].append(
        {"substation": device["substation"], "ground_relay": f"R{device['neutral_device']}", "function": "51G",
         "measures": device["neutral_device"], "pickup": _near(60, rng), **_setting(rng)}
    )  # fmt: skip


def _setting(rng: np.random.Generator) -> dict[str, Any]:
    trips = {"breaker_time": 0.08, "action": "trip"}
    if rng.random() < 0.5:
        return trips | {"curve": "iec_standard_inverse", "time_dial": rng.uniform(0.1, 0.5)}
    return trips | {"curve": "definite_time", "definite_time": rng.uniform(0.2, 5.0)}


def _near(value: float, rng: np.random.Generator) -> float:
    return float(value * 4 ** rng.uniform(-1, 1))


def _one_of(choices: tuple[Any, ...], rng: np.random.Generator) -> Any:
    return choices[int(rng.integers(len(choices)))]
