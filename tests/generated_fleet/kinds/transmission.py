"""Stations between transmission and distribution."""

from math import inf

from generated_fleet import sizing
from generated_fleet.station import RUNS_ON, Station


def supply(s: Station, tag: str, kv: float, least: float, most: float, clearing: float = 0.5) -> None:
    """An effectively grounded bus with its supply, a line with shield wire, and the relays of both."""
    mva, share = s.between(least, most), s.between(0.75, 0.95)
    ka = sizing.infeed_ka(mva, kv)
    s.bus(tag, kv, "effective", clearing, 1.4, mva, 1.4 * ka)
    s.infeed(tag, mva, share)
    s.add(
        "line", f"L {tag}", from_bus=tag, length=s.between(5, 30), construction="overhead", r1=0.12, x1=0.4, r0=0.3,
        x0=1.2, c0=s.between(4, 6), shield_wire="ACSR 95/55", shield_wire_bonded_from=True,
        shield_wire_bonded_to=True,
    )  # fmt: skip
    s.relay(f"R {tag}", "51N", tag, round(min(0.1 * 0.6 * share * ka * 1e3, 500.0)), 0.4)
    s.voltage_transformer(tag)


def grid_resistor(s: Station) -> None:
    """110/20 kV, wye-wye with a buried delta: 110 kV solid, 20 kV through a resistor."""
    supply(s, "B110", 110.0, 1500, 5000)
    mva, percent, amperes = s.pick(25.0, 31.5, 40.0), s.between(10.5, 13), s.pick(300.0, 500.0, 1000.0)
    level = sizing.behind_transformer_mva(s.buses["B110"].mva, mva, percent)
    s.bus("B20", 20.0, "low_resistance", 1.2, 1.85, level, amperes / 1e3, limit=amperes * 1.05)
    s.transformer("T1", "B110", "B20", mva, "YNyn0d5", percent, tv_voltage=10.0, tv_power=round(mva / 3, 1),
                  hv_tv_impedance=round(percent * 0.6, 2), lv_tv_impedance=round(percent * 0.2, 2))  # fmt: skip
    s.solid("NL1", "T1", "hv")
    s.relay("R NL1", "51G", "NL1", 60.0, 1.0)
    s.resistor("NR1", "T1", "lv", "B20", amperes, 10.0)
    feeders(s, "B20", amperes, "NR1")


def feeders(s: Station, bus: str, amperes: float, device: str, km: tuple[float, float] = (2, 8)) -> None:
    """Three feeders behind a resistor, with relays that the one in the neutral backs up."""
    for number in range(1, 4):
        s.feeder(f"F{number} {bus}", bus, s.between(*km), s.pick("cable", "cable", "overhead"), 0.2 * amperes)
    s.relay(f"R {device}", "51G", device, 0.15 * amperes, 0.9, backs_up=f"R F1 {bus}")
    s.voltage_transformer(bus)


def grid_delta_wye(s: Station) -> None:
    """132/33 kV delta-wye; 33 kV through a resistor."""
    supply(s, "B132", 132.0, 2000, 6000)
    mva, percent, amperes = s.pick(45.0, 60.0, 90.0), s.between(12, 16), s.pick(500.0, 800.0, 1000.0)
    level = sizing.behind_transformer_mva(s.buses["B132"].mva, mva, percent)
    s.bus("B33", 33.0, "low_resistance", 1.2, 1.85, level, amperes / 1e3, limit=amperes * 1.05)
    s.transformer("T1", "B132", "B33", mva, "Dyn11", percent)
    s.resistor("NR1", "T1", "lv", "B33", amperes, s.pick(10.0, 30.0))
    feeders(s, "B33", amperes, "NR1")


def resonant(s: Station) -> None:
    """110/20 kV, delta-wye; a coil tuned to the charging current of the 20 kV zone, which runs on."""
    supply(s, "B110", 110.0, 1500, 5000)
    mva, percent = s.pick(25.0, 31.5, 40.0), s.between(10.5, 13)
    level = sizing.behind_transformer_mva(s.buses["B110"].mva, mva, percent)
    s.bus("B20", 20.0, "resonant", RUNS_ON, 1.8, level, 0.1)
    s.transformer("T1", "B110", "B20", mva, "Dyn5", percent)
    nf = sum(
        s.feeder(f"F{n} B20", "B20", s.between(8, 20), s.pick("cable", "cable", "overhead"), None) for n in (1, 2, 3)
    )
    coil(s, "PC1", "T1", "lv", "B20", nf)
    watched(s, "B20")


def coil(s: Station, tag: str, of: str, winding: str, bus: str, nf: float) -> None:
    """A coil for the capacitance of its zone, a little above resonance, with an alarm."""
    kv = s.buses[bus].kv
    amperes = sizing.charging_a(kv, nf, s.hz) * s.between(1.03, 1.08)
    reactance = sizing.phase(kv) * 1e3 / amperes
    s.equipment.append((tag, "neutral_device"))
    s.add(
        "neutral_device", tag, connected_to=[of], winding=winding, kind="arc_suppression_coil",
        reactance=round(reactance, 2), resistance=round(reactance * 0.02, 3),
        rated_voltage=round(sizing.phase(kv) * 1.1, 2), rated_current=round(amperes * 1.2, 1), rated_time=inf,
        continuous_current=round(amperes * 1.2, 1), monitored=True, insulation_bil=sizing.class_of(kv, s.hz)[2],
    )  # fmt: skip
    s.inspected(tag, "visual")
    s.relay(f"R {tag}", "51G", tag, 0.3 * amperes, 1.0, action="alarm")


def resonant_110(s: Station) -> None:
    """110/10 kV wye-delta in a 110 kV network that runs on, coils in both 110 kV neutrals, as in central Europe."""
    mva = s.between(1500, 4000)
    s.bus("B110", 110.0, "resonant", RUNS_ON, 1.8, mva, 0.1)
    s.infeed("B110", mva, None)
    nf = sum(s.feeder(f"L{n} B110", "B110", s.between(15, 40), "overhead", None) for n in (1, 2, 3))
    rated, percent, amperes = s.pick(25.0, 40.0), s.between(10, 13), s.pick(200.0, 400.0)
    level = sizing.behind_transformer_mva(mva, rated, percent)
    for number, tag in ((1, "B10A"), (2, "B10B")):
        s.bus(tag, 10.0, "low_resistance", 1.2, 1.85, level, amperes / 1e3, limit=amperes * 1.05)
        s.transformer(f"T{number}", "B110", tag, rated, "YNd5", percent)
        coil(s, f"PC{number}", f"T{number}", "hv", "B110", nf / 2)
        zigzag(s, tag, f"GT{number}", f"NR{number}", amperes)
        feeders(s, tag, amperes, f"NR{number}")
    watched(s, "B110")


def three_winding(s: Station) -> None:
    """132/33/11 kV: 132 kV solid, 33 kV through a resistor, the 11 kV delta through a zigzag with resistor."""
    supply(s, "B132", 132.0, 2000, 6000)
    mva, percent, amperes = s.pick(60.0, 90.0), s.between(12, 16), s.pick(500.0, 800.0, 1000.0)
    third, other = round(mva / 3, 1), s.pick(300.0, 400.0)
    level = sizing.behind_transformer_mva(s.buses["B132"].mva, mva, percent)
    s.bus("B33", 33.0, "low_resistance", 1.2, 1.85, level, amperes / 1e3, limit=amperes * 1.05)
    s.bus("B11", 11.0, "low_resistance", 1.2, 1.85, sizing.behind_transformer_mva(level, third, percent * 0.3),
          other / 1e3, limit=other * 1.05)  # fmt: skip
    s.transformer("T1", "B132", "B33", mva, "YNyn0d11", percent, tv_bus="B11", tv_voltage=11.0, tv_power=third,
                  hv_tv_impedance=round(percent * 0.65, 2), lv_tv_impedance=round(percent * 0.25, 2))  # fmt: skip
    s.solid("NL1", "T1", "hv")
    s.relay("R NL1", "51G", "NL1", 60.0, 1.0)
    s.resistor("NR1", "T1", "lv", "B33", amperes, 10.0)
    feeders(s, "B33", amperes, "NR1")
    zigzag(s, "B11", "GT1", "NR3", other)
    feeders(s, "B11", other, "NR3", (1, 4))


def delta_tertiary(s: Station) -> None:
    """230/69 kV wye-wye, solid on both sides, with a tertiary that feeds auxiliaries and runs on."""
    s.hz = 60.0
    supply(s, "B230", 230.0, 4000, 9000)
    mva, percent = s.pick(60.0, 90.0, 120.0), s.between(9, 12)
    tertiary = round(mva / 3, 1)
    level = sizing.behind_transformer_mva(s.buses["B230"].mva, mva, percent)
    s.bus("B69", 69.0, "effective", 0.6, 1.4, level, 1.5 * sizing.infeed_ka(level, 69.0))
    third = sizing.behind_transformer_mva(s.buses["B230"].mva, tertiary, percent * 0.5)
    s.bus("B13", 13.8, "ungrounded", RUNS_ON, 1.75, third, 0.01)
    s.transformer("T1", "B230", "B69", mva, "YNyn0d1", percent, tv_bus="B13", tv_voltage=13.8, tv_power=tertiary,
                  hv_tv_impedance=round(percent * 0.6, 2), lv_tv_impedance=round(percent * 0.25, 2))  # fmt: skip
    for winding, link in (("hv", "NL1"), ("lv", "NL2")):
        s.solid(link, "T1", winding)
        s.relay(f"R {link}", "51G", link, 120.0, 1.0)
    s.feeder("F1 B69", "B69", s.between(5, 20), "overhead", 200.0)
    s.feeder("F1 B13", "B13", s.between(0.1, 0.4), "cable", None)
    s.voltage_transformer("B69")
    watched(s, "B13")


def watched(s: Station, bus: str) -> None:
    """A voltage transformer with broken delta and a relay that tells of a ground fault."""
    vt = s.voltage_transformer(bus)
    alarm = s.relay(f"R {vt}", "59N", vt, 3 * sizing.phase(s.buses[bus].kv) * 1e3 * 0.2, 2.0, action="alarm")
    s.detector(bus, vt, alarm)


def open_neutral(s: Station) -> None:
    """110/10 kV wye-delta, the graded 110 kV neutral open behind an arrester; 10 kV by a zigzag with resistor."""
    supply(s, "B110", 110.0, 1500, 5000)
    mva, percent, amperes = s.pick(16.0, 25.0), s.between(10, 11.5), s.pick(200.0, 400.0)
    level = sizing.behind_transformer_mva(s.buses["B110"].mva, mva, percent)
    s.bus("B10", 10.0, "low_resistance", 1.2, 1.85, level, amperes / 1e3, limit=amperes * 1.05)
    s.transformer("T1", "B110", "B10", mva, "YNd11", percent, graded_neutral=True, neutral_bil=325.0)
    s.add("neutral_device", "NS1", connected_to=["T1"], winding="hv", kind="surge_arrester", rated_voltage=72.0)
    s.add("arrester", "SA N1", bus="B110", mcov=53.0, rated_voltage=66.0, tov_1s=1.45, tov_10s=1.38,
          position="neutral")  # fmt: skip
    zigzag(s, "B10", "GT1", "NR1", amperes)
    feeders(s, "B10", amperes, "NR1")


def zigzag(s: Station, bus: str, bank: str, device: str, amperes: float) -> None:
    """A zigzag at a delta winding, its current limited by a resistor in its neutral."""
    kv = s.buses[bus].kv
    z0 = round(s.between(0.04, 0.08) * 3 * sizing.resistor_ohm(kv, amperes), 3)
    s.equipment.append((bank, "transformer"))
    s.add(
        "grounding_transformer", bank, bus=bus, connection="zigzag", rated_voltage=kv, z0=z0, r0=round(z0 * 0.1, 3),
        rated_neutral_current=round(amperes * 1.1, 1), rated_time=10.0,
        rated_power=round(1.3 * sizing.zigzag_kva(kv, amperes * 1.1, 10.0), 1),
        continuous_neutral_current=round(amperes * 0.1, 1),
    )  # fmt: skip
    s.inspected(bank, "visual")
    s.resistor(device, bank, None, bus, amperes, 10.0)


def auto_transformer(s: Station) -> None:
    """230/115 kV auto-transformer, supplied from both sides, its tertiary brought out for auxiliaries."""
    s.hz = 60.0
    supply(s, "B230", 230.0, 5000, 9000)
    supply(s, "B115", 115.0, 1500, 3000)
    mva, percent = s.pick(150.0, 200.0, 250.0), s.between(6, 9)
    tertiary = round(mva / 5, 1)
    third = sizing.behind_transformer_mva(s.buses["B230"].mva + s.buses["B115"].mva, tertiary, percent * 0.6)
    for tag, kv in (("B230", 230.0), ("B115", 115.0)):
        bus = s.buses[tag]
        other = s.buses["B115" if tag == "B230" else "B230"]
        bus.mva += sizing.behind_transformer_mva(other.mva, mva, percent)
        bus.ground_ka = 1.45 * sizing.infeed_ka(bus.mva, kv)
    s.bus("B13", 13.8, "ungrounded", RUNS_ON, 1.75, third, 0.01)
    s.transformer("T1", "B230", "B115", mva, "YNa0d1", percent, tv_bus="B13", tv_voltage=13.8, tv_power=tertiary,
                  hv_tv_impedance=round(percent * 1.2, 2), lv_tv_impedance=round(percent * 0.7, 2))  # fmt: skip
    # Its neutral sees next to nothing of some faults: what guards the station are the relays at the buses.
    s.solid("NL1", "T1", "hv")
    s.feeder("F1 B13", "B13", s.between(0.1, 0.4), "cable", None)
    watched(s, "B13")
