"""What stands at every bus and in every station, sized for what was planned there: done after the network is built."""

from generated_fleet import sizing
from generated_fleet.station import RUNS_ON, Bus, Station, side, strap

STRAP_TIME = 1.0  # s; a second ground fault in a zone that runs on is cleared sooner
X_OVER_R = 15.0


def dress(station: Station, soil: float, area: float, split: float) -> Station:
    """Arresters, insulation, straps, the mat, the instrument transformer circuits, inspections, the visit."""
    # Somebody has to hear the alarm of a fault that stands.
    attended = any(bus.runs_on for bus in station.buses.values()) or bool(station.rng.random() < 0.5)
    station.rows.setdefault("substation", []).append(
        {
            "substation": station.code, "name": f"{station.code} {station.kind.replace('_', ' ')}",
            "district": station.pick("Alder", "Birch", "Cedar"), "owner": "Harrow Vale Power", "frequency": station.hz,
            "criticality": int(station.rng.integers(1, 6)), "customers": int(station.rng.integers(0, 20_000)),
            "attended": attended, "recorded_on": station.days_ago(),
        }
    )  # fmt: skip
    for bus in station.buses.values():
        _at_bus(station, bus)
    _straps(station)
    _mat(station, soil, area, split)
    station.add("instrument_transformer", "CT 1", kind="ct", bus=next(iter(station.buses)), connection="wye",
                primary=600.0, secondary=1.0)  # fmt: skip
    station.circuit("CT 1 sec", "ct", "CT 1")
    for relay in station.rows.get("ground_relay", []):
        station.inspected(relay["ground_relay"], "relay_test")
    return station


def mcov(bus: Bus) -> float:
    """IEC 60099-5, recalled: 1.05 Um/sqrt3 and the temporary overvoltage of a fault, or Um where the fault stands."""
    if bus.runs_on:
        least = bus.highest * 1.05
    else:
        least = max(1.05 * bus.highest / 3**0.5, bus.factor * bus.highest / 3**0.5 / 1.35)
    return sizing.next_up(sizing.MCOV, least)


def _at_bus(station: Station, bus: Bus) -> None:
    _, equipment, bil = sizing.class_of(bus.kv, station.hz)
    lasting = equipment * 1.03 if bus.runs_on else equipment / 3**0.5
    station.add("insulation", f"SG {bus.tag}", bus=bus.tag, kind="switchgear", rated_line_voltage=equipment,
                rated_ground_voltage=round(lasting, 2), bil=bil)  # fmt: skip
    station.equipment.append((f"SG {bus.tag}", "switchgear"))
    if 3.0 < bus.kv < 40.0:
        station.add("insulation", f"C {bus.tag}", bus=bus.tag, kind="cable", rated_line_voltage=equipment,
                    cable_insulation_level=173 if bus.runs_on else 100 if bus.clearing <= 60 else 133,
                    bil=bil)  # fmt: skip
    if bus.kv > 1.0:
        rated = mcov(bus)
        station.add("arrester", f"SA {bus.tag}", bus=bus.tag, mcov=rated, rated_voltage=round(rated * 1.25, 1),
                    tov_1s=1.45, tov_10s=1.38, position="phase")  # fmt: skip


def _straps(station: Station) -> None:
    """Each to carry the worst fault of the station, two straps sixty per cent each."""
    worst = max(station.buses.values(), key=lambda bus: bus.strap_ka**2 * _seconds(bus))
    for number, (equipment, kind) in enumerate(station.equipment, start=1):
        joint = station.pick("exothermic", "brazed", "bolted")
        limit = {"exothermic": 1083.0, "brazed": 450.0, "bolted": 250.0}[joint]
        area = strap(worst.strap_ka, _seconds(worst), X_OVER_R, station.hz, 0.6, limit)
        station.add(
            "bond", f"BC{number}", equipment=equipment, equipment_kind=kind, conductor_size=max(area, 70.0),
            conductor_material="copper_annealed", parallel=2, joint=joint, connected_to_grid=True,
            measured_resistance=station.between(0.5, 2.0),
        )  # fmt: skip
    station.inspected("BC1", "continuity", 1.2, "mohm")


def _seconds(bus: Bus) -> float:
    return STRAP_TIME if bus.clearing == RUNS_ON else bus.clearing


def _mat(station: Station, soil: float, area: float, split: float) -> None:
    """A square mat of close meshes with rods at its edge."""
    worst = max(station.buses.values(), key=lambda bus: bus.strap_ka**2 * _seconds(bus))
    width, depth, rod = side(area), 0.6, 3.0
    spacing = max(station.pick(4.0, 5.0, 6.0), width / 22)  # the equations of IEEE Std 80 hold for 25 conductors a side
    lines = round(width / spacing) + 1
    buried = round(2 * lines * width, 1)
    rods = 16
    ohm = sizing.mat_ohm(soil, area, buried + rods * rod, depth) * station.between(0.95, 1.05)
    size = strap(worst.strap_ka, _seconds(worst), X_OVER_R, station.hz, 0.6, 450.0)
    station.add(
        "ground_grid", "Mat 1", area=round(width * width, 1), length=round(width, 2), width=round(width, 2),
        perimeter=round(4 * width, 2), conductor_length=buried, spacing=round(width / (lines - 1), 3), depth=depth,
        rods=rods, rod_length=rod, rod_positions="perimeter", conductor_size=max(size, 70.0),
        conductor_material="copper_annealed", soil_resistivity=soil, surface_resistivity=3000.0, surface_depth=0.1,
        split_factor=split, fault_duration=0.5, measured_resistance=round(ohm, 4), measured_on=station.days_ago(),
    )  # fmt: skip
    station.inspected("Mat 1", "grid_resistance", round(ohm, 4), "ohm")
