"""Random networks of one to three stations, from the infeed down to the machines."""

from collections.abc import Sequence
from typing import Any

import numpy as np
from networks.random_neutrals import generator, ground_alike, grounding_transformer
from networks.random_stations import Bus, Fleet, Rows

LOWER = {132.0: (66.0, 33.0, 20.0, 11.0), 66.0: (33.0, 20.0, 11.0), 33.0: (11.0, 6.6), 20.0: (6.6, 0.4),
         11.0: (3.3, 0.4), 6.6: (0.4,)}  # fmt: skip
TWO = ("YN d", "YN d", "Y d", "D yn", "D yn", "D y", "YN yn", "YN yn", "YN y", "Y yn", "Y y", "D d", "D zn", "Y zn",
       "YN zn", "D z", "ZN d", "ZN yn")  # fmt: skip
THREE = ("YN yn d", "YN yn d", "YN d d", "YN y d", "YN d yn", "Y d d", "Y yn d", "YN yn yn", "D yn yn", "D yn d",
         "D d d", "D y yn")  # fmt: skip
ODD = {"y": 0, "d": 1, "z": 1}  # hours modulo 2 against a wye
RETURN_PATH = ("five_limb", "shell", "single_phase_bank")


def random_network(seed: int) -> Rows:
    """The records of one network; every fifth has lines without capacitance."""
    fleet = Fleet(np.random.default_rng(seed), capacitance=seed % 5 != 0)
    names = [f"S{seed:05d}{letter}" for letter in "ABC"[: fleet.pick([1, 1, 2, 3])]]
    hertz = fleet.pick([50.0, 60.0])
    fleet.rows["substation"] = [{"substation": name, "frequency": hertz} for name in names]
    _transmission(fleet, names)
    for name in names:
        for _ in range(fleet.pick([1, 2, 3])):
            _step_down(fleet, name)
    _mesh(fleet)
    _sections(fleet)
    for bus in list(fleet.buses):
        if bus.kv <= 33 and fleet.chance(0.2):
            grounding_transformer(fleet, bus)
        if bus.kv <= 20 and fleet.chance(0.2):
            generator(fleet, bus)
    on_record = {(row["substation"], row["from_bus"]) for row in fleet.rows.get("line", [])}
    for zone in fleet.zones():
        if not any((bus.station, bus.tag) in on_record for bus in zone):
            fleet.line(min(zone, key=lambda bus: (bus.station, bus.tag)), None)
    return fleet.rows


def _transmission(fleet: Fleet, names: Sequence[str]) -> None:
    kv = fleet.pick([132.0, 66.0])
    first = None
    for name in names:
        bus = fleet.bus(name, kv, 0)
        if first is None or fleet.chance(0.3):
            fleet.infeed(bus)
        if first is not None:
            fleet.line(first, bus)
            if fleet.chance(0.3):
                fleet.line(first, bus)
        first = first or bus


def _step_down(fleet: Fleet, station: str) -> None:
    hv = fleet.pick(bus for bus in fleet.buses if bus.station == station and bus.kv in LOWER)
    kind = fleet.pick(["two", "two", "three", "auto"] if hv.kv >= 66 else ["two", "two", "three"])
    if kind == "auto":
        windings = fleet.pick(["YN a", "YN a d", "YN a d"]).split()
        kv = [hv.kv, 66.0 if hv.kv == 132 else 33.0]
    else:
        windings = fleet.pick(TWO if kind == "two" else THREE).split()
        kv = [hv.kv, fleet.pick(LOWER[hv.kv])]
    if len(windings) == 3:
        kv.append(fleet.pick([6.6, 11.0, 20.0]))
    hours = [_hour(fleet, windings[0], winding) for winding in windings[1:]]
    brought_out = len(windings) == 3 and (windings[2] != "d" or fleet.chance(0.6))
    outside = list(zip(kv[1:], hours, strict=True))[: 1 + brought_out]
    below = [fleet.bus(station, v, hv.hour + h) for v, h in outside]
    group = windings[0] + "".join(f"{w}{h}" for w, h in zip(windings[1:], hours, strict=True))
    core = _core(fleet, windings)
    assets = [_transformer(fleet, hv, below, kv, group, windings, core) for _ in range(fleet.pick([1, 1, 2]))]
    for side, winding in zip(("hv", "lv", "tv"), windings, strict=False):
        if winding.lower().endswith("n"):
            ground_alike(fleet, station, assets, side, kv[("hv", "lv", "tv").index(side)])


def _hour(fleet: Fleet, first: str, winding: str) -> int:
    if winding == "a":
        return 0
    odd = (ODD[first[0].lower()] + ODD[winding[0]]) % 2
    return int(fleet.pick([1, 1, 11, 5, 7] if odd else [0, 0, 0, 6, 2]))


def _core(fleet: Fleet, windings: Sequence[str]) -> str | None:
    wye_wye = len(windings) == 2 and all(w[0].lower() == "y" for w in windings)
    if wye_wye or windings == ["YN", "a"]:
        return fleet.pick(["three_limb", *RETURN_PATH])
    return fleet.pick(RETURN_PATH)


def _transformer(
    fleet: Fleet, hv: Bus, below: list[Bus], kv: list[float], group: str, windings: list[str], core: str | None
) -> str:
    mva = fleet.between(0.3, 2.5) if min(kv) < 1 else fleet.between(2, 20) if hv.kv < 30 else fleet.between(10, 150)
    # Unequal ratios in parallel let a little current in between grounded neutrals even where nothing else does.
    rated = [v * (fleet.rng.uniform(0.95, 1.05) if fleet.capacitance else 1.0) for v in kv]
    percent = fleet.rng.uniform((8, 12, 5), (16, 22, 9))
    row: dict[str, Any] = {
        "hv_bus": hv.tag, "lv_bus": below[0].tag, "rated_power": mva, "hv_voltage": rated[0], "lv_voltage": rated[1],
        "vector_group": group, "impedance": percent[0], "z0": percent[0] * fleet.rng.uniform(0.8, 1.3),
        "x_over_r": fleet.between(5, 50), "core_form": core,
    }  # fmt: skip
    if core == "three_limb":
        row["magnetizing_z0"] = fleet.between(40, 150)
    if len(windings) == 3:
        row |= {"tv_voltage": rated[2], "hv_tv_impedance": percent[1], "lv_tv_impedance": percent[2]}
        if fleet.chance(0.3):  # a smaller tertiary, its pairs given on its own rating
            share = fleet.rng.uniform(0.25, 0.6)
            row |= {"tv_power": mva * share, "hv_tv_impedance": percent[1] * share}
            row |= {"lv_tv_impedance": percent[2] * share}
    if len(below) == 2:
        row["tv_bus"] = below[1].tag
    return fleet.add("transformer", hv.station, "T", **row)


def _mesh(fleet: Fleet) -> None:
    """Lines between buses of one voltage and angle, also of different stations."""
    for i, a in enumerate(fleet.buses):
        for b in fleet.buses[i + 1 :]:
            if (a.kv, a.hour) == (b.kv, b.hour) and fleet.chance(0.25):
                fleet.line(a, b)


def _sections(fleet: Fleet) -> None:
    """Bus sections behind a closed switch, open points, and radial feeders."""
    for bus in list(fleet.buses):
        if fleet.chance(0.2):
            section = fleet.bus(bus.station, bus.kv, bus.hour)
            fleet.switch(bus, section, "closed")
            if fleet.chance(0.5):
                fleet.line(section, None)
        if fleet.chance(0.2):
            fleet.line(bus, None)
    for a in fleet.buses:
        for b in fleet.buses:
            if a is not b and a.kv == b.kv and fleet.chance(0.05):
                fleet.switch(a, b, "open")
