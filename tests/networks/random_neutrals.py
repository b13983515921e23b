"""What stands in the neutrals of random stations."""

from typing import Any

import numpy as np
from networks.random_stations import Bus, Fleet

KINDS = (
    *("solid", "resistor", "reactor", "arc_suppression_coil", "distribution_transformer"),
    *("surge_arrester", "open"),
)


def device_size(fleet: Fleet, kind: str, kv: float) -> dict[str, Any]:
    """The record of one device for a neutral at a voltage."""
    phase_v = kv * 1e3 / np.sqrt(3)
    amperes = fleet.between(10, 2000)
    if kind == "resistor" and fleet.chance(0.15):
        return {"rated_voltage": phase_v / 1e3, "rated_current": amperes}  # ohms follow from the nameplate
    if kind == "resistor":
        return {"resistance": phase_v / amperes}
    if kind == "reactor":
        return {"reactance": fleet.between(0.3, 30), "resistance": fleet.pick([0.0, 0.2])}
    if kind == "arc_suppression_coil":
        return {"reactance": fleet.between(30, 3000), "resistance": fleet.between(1, 20)}
    if kind == "distribution_transformer":
        return {"primary_voltage": phase_v, "secondary_voltage": 240.0, "secondary_resistance": fleet.between(0.05, 3)}
    return {}


def ground(fleet: Fleet, station: str, assets: list[str], winding: str | None, kv: float) -> None:
    """Put a device in one neutral, or in one that several assets share; now and then a second beside it."""
    kinds = KINDS if len(assets) == 1 else ("solid", "resistor", "reactor", "arc_suppression_coil")
    kind = fleet.pick(kinds)
    fleet.add("neutral_device", station, "N", connected_to=assets, winding=winding, kind=kind,
              **device_size(fleet, kind, kv))  # fmt: skip
    if kind in ("resistor", "reactor", "arc_suppression_coil") and fleet.chance(0.2):
        second = fleet.pick(["surge_arrester", "resistor"])
        fleet.add("neutral_device", station, "N", connected_to=assets[:1], winding=winding, kind=second,
                  **device_size(fleet, second, kv))  # fmt: skip


def ground_alike(fleet: Fleet, station: str, assets: list[str], winding: str, kv: float) -> None:
    """Ground the same winding of parallel transformers, each by itself or all through one device."""
    if len(assets) > 1 and fleet.chance(0.5):
        ground(fleet, station, assets, winding, kv)
        return
    for asset in assets:
        ground(fleet, station, [asset], winding, kv)


def grounding_transformer(fleet: Fleet, bus: Bus) -> None:
    """A zigzag or wye-delta; without a device in its neutral it stands on the mat."""
    z0 = fleet.between(1, 80)
    r0 = z0 * fleet.rng.uniform(0, 0.5) if fleet.chance(0.7) else None
    tag = fleet.add("grounding_transformer", bus.station, "GT", bus=bus.tag, z0=z0, r0=r0,
                    connection=fleet.pick(["zigzag", "wye_delta"]))  # fmt: skip
    if fleet.chance(0.8):
        ground(fleet, bus.station, [tag], None, bus.kv)


def generator(fleet: Fleet, bus: Bus) -> None:
    """A machine, or two on one bus, with a negative-sequence reactance that differs from the subtransient one."""
    winding = fleet.pick(["wye", "wye", "delta"])
    tags = [_machine(fleet, bus, winding) for _ in range(fleet.pick([1, 1, 2]))]
    if winding == "wye":
        shared = len(tags) > 1 and fleet.chance(0.5)
        for assets in [tags] if shared else [[tag] for tag in tags]:
            ground(fleet, bus.station, assets, None, bus.kv)


def _machine(fleet: Fleet, bus: Bus, winding: str) -> str:
    return fleet.add(
        "generator", bus.station, "G", bus=bus.tag, rated_power=fleet.between(0.5, 4) * bus.kv,
        rated_voltage=bus.kv * fleet.rng.uniform(0.95, 1.05), xd_subtransient=fleet.between(0.1, 0.3),
        x2=fleet.between(0.1, 0.4), x0=fleet.between(0.02, 0.12), r=fleet.between(0.002, 0.03), winding=winding,
        capacitance_to_ground=fleet.between(0.05, 0.5) * fleet.capacitance,
    )  # fmt: skip
