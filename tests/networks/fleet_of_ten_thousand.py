"""Ten thousand stations of eight buses each, as columns: for the inventory of the store and for power-grid-model.

H (infeed) - T1 Dyn, resistor - M1 - M2 - M3, M1 - M4;  M1 - T2 Dyn, resistor - L1 - L3;  M2 - T3 Dyn, link - L2
"""

from dataclasses import dataclass

import numpy as np
import pandas as pd
import power_grid_model as pgm

STATIONS = 10_000
BUSES = {"H": 110.0, "M1": 20.0, "M2": 20.0, "M3": 20.0, "M4": 20.0, "L1": 6.6, "L2": 6.6, "L3": 6.6}
LINES = {"C1": ("M1", "M2"), "C2": ("M2", "M3"), "C3": ("M1", "M4"), "C4": ("L1", "L3")}
TRANSFORMERS = {"T1": ("H", "M1", 40.0), "T2": ("M1", "L1", 10.0), "T3": ("M2", "L2", 8.0)}
DEVICES = {"N1": ("T1", "resistor"), "N2": ("T2", "resistor"), "N3": ("T3", "solid")}
FACTOR = 1.1  # voltage factor of the library above 1 kV, IEC 60909-0
PURE = 1e9  # X/R of the transformers: the library takes a winding's zero sequence as purely reactive


@dataclass(frozen=True)
class Drawn:
    """Values that differ by station: one column an asset."""

    level_mva: np.ndarray
    z0_over_z1: np.ndarray
    km: np.ndarray
    percent: np.ndarray
    ohm: np.ndarray


def draw(stations: int = STATIONS) -> Drawn:
    """The same every time."""
    rng = np.random.default_rng(1)
    return Drawn(
        rng.uniform(500, 5000, stations),
        rng.uniform(1, 3, stations),
        rng.uniform(1, 20, (stations, len(LINES))),
        rng.uniform(7, 14, (stations, len(TRANSFORMERS))),
        rng.uniform(5, 60, (stations, 2)),
    )


def inventory(drawn: Drawn) -> dict[str, pd.DataFrame]:
    """Inventory tables, with the references resolved."""
    count = drawn.level_mva.size
    names = np.array([f"S{i:05}" for i in range(count)], dtype=object)

    def table(kind: str, tags: list[str], /, **columns: object) -> pd.DataFrame:
        frame = pd.DataFrame({"substation": np.repeat(names, len(tags)), kind: tags * count})
        return frame.assign(**{k: np.tile(v, count) if np.size(v) == len(tags) else v for k, v in columns.items()})

    infeed_ka = drawn.level_mva / (np.sqrt(3) * 110.0)
    tables = {
        "substation": pd.DataFrame({"substation": names, "frequency": 50.0}),
        "bus": table("bus", list(BUSES), nominal_voltage=list(BUSES.values()), ground_fault_clearing_time=1.0),
        "infeed": table("infeed", ["Q"], bus="H", x_over_r=10.0, grounded=True, fault_level_3ph=drawn.level_mva,
                        fault_current_1ph=3 * infeed_ka / (2 + drawn.z0_over_z1)),
        "line": table("line", list(LINES), from_bus=[a for a, _ in LINES.values()],
                      to_bus=[b for _, b in LINES.values()], length=drawn.km.ravel(), construction="cable", r1=0.1,
                      x1=0.12, r0=0.3, x0=0.4, c0=250.0),
        "transformer": table("transformer", list(TRANSFORMERS), hv_bus=[t[0] for t in TRANSFORMERS.values()],
                             lv_bus=[t[1] for t in TRANSFORMERS.values()],
                             rated_power=[t[2] for t in TRANSFORMERS.values()],
                             hv_voltage=[BUSES[t[0]] for t in TRANSFORMERS.values()],
                             lv_voltage=[BUSES[t[1]] for t in TRANSFORMERS.values()], vector_group="Dyn11",
                             impedance=drawn.percent.ravel(), z0=drawn.percent.ravel(), x_over_r=PURE,
                             core_form="shell"),
        "neutral_device": table("neutral_device", list(DEVICES), kind=[k for _, k in DEVICES.values()], winding="lv",
                                resistance=np.column_stack([drawn.ohm, np.full(count, np.nan)]).ravel()),
    }  # fmt: skip
    fields = [("infeed", "bus", "bus"), ("line", "from_bus", "bus"), ("line", "to_bus", "bus"),
              ("transformer", "hv_bus", "bus"), ("transformer", "lv_bus", "bus")]  # fmt: skip
    mentions = [_mentions(kind, tables[kind], field, tables[kind][field], target) for kind, field, target in fields]
    devices = tables["neutral_device"]
    mentions.append(
        _mentions("neutral_device", devices, "connected_to", [t for t, _ in DEVICES.values()] * count, "transformer")
    )
    return tables | {"reference": pd.concat(mentions, ignore_index=True)}


def _mentions(kind: str, frame: pd.DataFrame, field: str, target: object, target_kind: str) -> pd.DataFrame:
    station = frame["substation"]
    return pd.DataFrame(
        {"substation": station, "asset_kind": kind, "asset": frame[kind], "field": field, "position": 1,
         "target_kind": target_kind, "target_substation": station, "target": target}
    )  # fmt: skip


def library_model(drawn: Drawn, first: int, last: int) -> tuple[pgm.PowerGridModel, np.ndarray]:
    """One model of some of the stations, and its batch: a fault in every station at once, at one bus after another."""
    part = slice(first, last)
    count = last - first
    number = np.arange(count)[:, None]
    place = {bus: i for i, bus in enumerate(BUSES)}
    width = 100

    def ids(start: int, each: int) -> np.ndarray:
        return (number * width + start + np.arange(each)).ravel()

    def ends(tags: list[str]) -> np.ndarray:
        return (number * width + np.array([place[t] for t in tags])).ravel()

    def filled(component: str, size: int, **values: object) -> np.ndarray:
        array = pgm.initialize_array("input", component, size)
        for name, value in values.items():
            array[name] = value
        return array

    km, banks = drawn.km[part].ravel(), list(TRANSFORMERS.values())
    ohm = np.column_stack([drawn.ohm[part], np.zeros(count)]).ravel()
    volts = [np.tile([BUSES[bank[side]] * 1e3 for bank in banks], count) for side in (0, 1)]
    data = {
        "node": filled("node", count * 8, id=ids(0, 8), u_rated=np.tile([v * 1e3 for v in BUSES.values()], count)),
        "source": filled("source", count, id=ids(10, 1), node=ends(["H"]), status=1, u_ref=1.0, rx_ratio=0.1,
                         sk=drawn.level_mva[part] * 1e6, z01_ratio=drawn.z0_over_z1[part]),
        "line": filled("line", count * 4, id=ids(20, 4), from_node=ends([a for a, _ in LINES.values()]),
                       to_node=ends([b for _, b in LINES.values()]), from_status=1, to_status=1, r1=0.1 * km,
                       x1=0.12 * km, r0=0.3 * km, x0=0.4 * km, c1=0.0, tan1=0.0, c0=250e-9 * km, tan0=0.0, i_n=1e3),
        "transformer": filled("transformer", count * 3, id=ids(30, 3), from_node=ends([t[0] for t in banks]),
                              to_node=ends([t[1] for t in banks]), from_status=1, to_status=1, u1=volts[0],
                              u2=volts[1], sn=np.tile([t[2] * 1e6 for t in banks], count),
                              uk=drawn.percent[part].ravel() / 100, pk=0.0, i0=0.0, p0=0.0, winding_from=2,
                              winding_to=1, clock=11, tap_side=0, tap_pos=0, tap_min=0, tap_max=0, tap_nom=0,
                              tap_size=0.0, r_grounding_to=ohm, x_grounding_to=0.0),
        "fault": filled("fault", count, id=ids(50, 1), status=1, fault_type=pgm.FaultType.single_phase_to_ground,
                        fault_phase=pgm.FaultPhase.a, fault_object=ids(0, 1), r_f=0.0, x_f=0.0),
    }  # fmt: skip
    update = pgm.initialize_array("update", "fault", (len(BUSES), count))
    update["id"] = ids(50, 1)
    update["fault_object"] = (number * width + np.arange(len(BUSES))).T
    return pgm.PowerGridModel(data), update
