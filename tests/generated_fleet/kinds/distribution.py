"""Primary substations."""

from generated_fleet import sizing
from generated_fleet.kinds.transmission import feeders, grid_delta_wye, supply, zigzag
from generated_fleet.station import Station


def behind_resistor(s: Station, tag: str, kv: float, least: float, most: float) -> None:
    """A bus whose supply is grounded through a resistor elsewhere."""
    mva, share = s.between(least, most), s.between(0.08, 0.15)
    s.bus(tag, kv, "low_resistance", 1.0, 1.85, mva, share * sizing.infeed_ka(mva, kv))
    s.infeed(tag, mva, share)
    s.relay(f"R {tag}", "51N", tag, round(0.2 * share * 0.6 * sizing.infeed_ka(mva, kv) * 1e3), 0.5)
    s.feeder(f"L {tag}", tag, s.between(2, 8), "overhead", None)
    s.voltage_transformer(tag)


def two_in_parallel(s: Station) -> None:
    """33/11 kV, two transformers on two sections with the coupler closed, a resistor each."""
    mva, percent, amperes = s.pick(15.0, 20.0, 24.0), s.between(10, 13), s.pick(300.0, 400.0, 600.0)
    behind_resistor(s, "B33", 33.0, 500, 1200)
    level = 2 * sizing.behind_transformer_mva(s.buses["B33"].mva, mva, percent)
    for section in ("B11A", "B11B"):
        s.bus(section, 11.0, "low_resistance", 1.2, 1.85, level, 2 * amperes / 1e3, limit=2.1 * amperes)
    s.add("switch", "Q0", bus_a="B11A", bus_b="B11B", normal_state="closed")
    for number, section in ((1, "B11A"), (2, "B11B")):
        s.transformer(f"T{number}", "B33", section, mva, "Dyn11", percent)
        s.resistor(f"NR{number}", f"T{number}", "lv", section, amperes, 10.0)
        feeders(s, section, amperes, f"NR{number}", (1, 4))


def zigzag_at_delta(s: Station) -> None:
    """66/11 kV wye-delta, two of them, each with a zigzag and a resistor at its delta."""
    supply(s, "B66", 66.0, 800, 2500)
    mva, percent, amperes = s.pick(12.5, 20.0), s.between(10, 12), s.pick(200.0, 300.0, 400.0)
    level = 2 * sizing.behind_transformer_mva(s.buses["B66"].mva, mva, percent)
    for section in ("B11A", "B11B"):
        s.bus(section, 11.0, "low_resistance", 1.2, 1.85, level, 2 * amperes / 1e3, limit=2.1 * amperes)
    s.add("switch", "Q0", bus_a="B11A", bus_b="B11B", normal_state="closed")
    for number, section in ((1, "B11A"), (2, "B11B")):
        s.transformer(f"T{number}", "B66", section, mva, "YNd1", percent)
        s.solid(f"NL{number}", f"T{number}", "hv")
        s.relay(f"R NL{number}", "51G", f"NL{number}", 60.0, 1.0)
        zigzag(s, section, f"GT{number}", f"NR{number}", amperes)
        feeders(s, section, amperes, f"NR{number}", (1, 4))


def four_wire(s: Station) -> None:
    """69/12.47 kV delta-wye, solid, four wires, the neutral grounded many times along the feeders."""
    s.hz = 60.0
    supply(s, "B69", 69.0, 800, 2500)
    mva, percent = s.pick(15.0, 20.0, 25.0), s.between(7.5, 9)
    level = sizing.behind_transformer_mva(s.buses["B69"].mva, mva, percent)
    ka = sizing.infeed_ka(level, 12.47)
    s.bus("B12", 12.47, "effective", 0.8, 1.25, level, 1.2 * ka, wire="multigrounded")
    s.transformer("T1", "B69", "B12", mva, "Dyn1", percent)
    s.solid("NL1", "T1", "lv")
    s.relay("R NL1", "51G", "NL1", 480.0, 0.9, backs_up="R F1 B12")
    for number in (1, 2, 3):
        s.feeder(f"F{number} B12", "B12", s.between(3, 10), "overhead", 300.0)
    s.voltage_transformer("B12")


def reactor(s: Station) -> None:
    """115/34.5 kV delta-wye, the neutral through a reactor of a few ohms."""
    s.hz = 60.0
    supply(s, "B115", 115.0, 1500, 5000)
    mva, percent = s.pick(30.0, 40.0, 60.0), s.between(8.5, 11)
    level = sizing.behind_transformer_mva(s.buses["B115"].mva, mva, percent)
    x1 = 34.5**2 / level
    x0 = 34.5**2 / mva * percent / 100 * 0.95
    ohm = round((s.between(4.5, 7.0) * x1 - x0) / 3, 2)
    amperes = 3 * sizing.phase(34.5) * 1e3 / (2 * x1 + x0 + 3 * ohm)
    s.bus("B34", 34.5, "reactance", 1.0, 1.6, level, amperes / 1e3)
    s.transformer("T1", "B115", "B34", mva, "Dyn1", percent)
    s.equipment.append(("XN1", "neutral_device"))
    s.add(
        "neutral_device", "XN1", connected_to=["T1"], winding="lv", kind="reactor", reactance=ohm,
        resistance=round(ohm * 0.02, 4), rated_voltage=round(amperes * 1.15 * ohm / 1e3, 3),
        rated_current=round(amperes * 1.15), rated_time=10.0, continuous_current=round(amperes * 0.05),
        insulation_bil=200.0, monitored=True,
    )  # fmt: skip
    s.inspected("XN1", "visual")
    for number in (1, 2):
        s.feeder(f"F{number} B34", "B34", s.between(3, 10), "overhead", 0.15 * amperes)
    s.relay("R XN1", "51G", "XN1", 0.12 * amperes, 0.8, backs_up="R F1 B34")
    s.voltage_transformer("B34")


def banks(s: Station) -> None:
    """34.5 kV, fed from a delta winding elsewhere, grounded by two zigzag banks, either of which suffices."""
    s.hz = 60.0
    mva = s.between(100, 220)
    x1 = 34.5**2 / mva
    z0 = round(s.between(2.2, 2.6) * x1, 3)
    amperes = 3 * sizing.phase(34.5) * 1e3 / (2 * x1 + z0)
    s.bus("B34", 34.5, "effective", 1.0, 1.4, mva, 3 * sizing.phase(34.5) / (2 * x1 + z0 / 2))
    s.infeed("B34", mva, None)
    for number in (1, 2):
        bank, link = f"GT{number}", f"NL{number}"
        s.equipment.append((bank, "transformer"))
        rated = round(amperes * 1.2)
        s.add(
            "grounding_transformer", bank, bus="B34", connection="zigzag", rated_voltage=34.5, z0=z0,
            r0=round(z0 * 0.05, 4), rated_neutral_current=rated, rated_time=10.0,
            rated_power=round(1.3 * sizing.zigzag_kva(34.5, rated, 10.0)), continuous_neutral_current=rated * 0.04,
        )  # fmt: skip
        s.inspected(bank, "visual")
        if number == 1:
            s.add("neutral_device", link, connected_to=[bank], kind="solid")
        # The neutral of the second goes to the mat inside its tank: no device is on record for it.
        s.relay(f"R {bank}", "51G", link if number == 1 else bank, 0.1 * amperes, 0.9, backs_up="R F1 B34")
        s.feeder(f"F{number} B34", "B34", s.between(3, 10), "overhead", 0.12 * amperes)
    s.voltage_transformer("B34")


def shared_resistor(s: Station) -> None:
    """33/11 kV, two transformers on one bus, their neutrals on a busbar that one resistor grounds."""
    behind_resistor(s, "B33", 33.0, 500, 1200)
    mva, percent, amperes = s.pick(15.0, 20.0, 24.0), s.between(10, 13), s.pick(400.0, 800.0)
    level = 2 * sizing.behind_transformer_mva(s.buses["B33"].mva, mva, percent)
    s.bus("B11", 11.0, "low_resistance", 1.2, 1.85, level, amperes / 1e3, limit=1.05 * amperes)
    for number in (1, 2):
        s.transformer(f"T{number}", "B33", "B11", mva, "Dyn11", percent)
    s.resistor("NR1", ["T1", "T2"], "lv", "B11", amperes, s.pick(10.0, 30.0))
    feeders(s, "B11", amperes, "NR1", (1, 4))


def bank_limits(s: Station) -> None:
    """66/22 kV wye-delta; the impedance of a zigzag on the mat is what limits the ground-fault current."""
    supply(s, "B66", 66.0, 800, 2500)
    mva, percent = s.pick(15.0, 25.0), s.between(10, 12)
    level = sizing.behind_transformer_mva(s.buses["B66"].mva, mva, percent)
    x1 = 22.0**2 / level
    z0 = round(s.between(6, 8) * x1, 3)
    amperes = 3 * sizing.phase(22.0) * 1e3 / (2 * x1 + z0)
    s.bus("B22", 22.0, "reactance", 1.2, 1.75, level, amperes / 1e3, limit=1.05 * amperes)
    s.transformer("T1", "B66", "B22", mva, "YNd11", percent)
    s.solid("NL1", "T1", "hv")
    s.relay("R NL1", "51G", "NL1", 60.0, 1.0)
    s.equipment.append(("GT1", "transformer"))
    s.add(
        "grounding_transformer", "GT1", bus="B22", connection="zigzag", rated_voltage=22.0, z0=z0,
        r0=round(z0 * s.between(0.08, 0.2), 3), rated_neutral_current=round(amperes * 1.1), rated_time=30.0,
        rated_power=round(1.3 * sizing.zigzag_kva(22.0, amperes * 1.1, 30.0)), continuous_neutral_current=30.0,
    )  # fmt: skip
    s.inspected("GT1", "visual")
    s.add("neutral_device", "NL2", connected_to=["GT1"], kind="solid")
    feeders(s, "B22", amperes, "NL2")


def pair(s: Station) -> None:
    """A 132/33 kV station, and at the far end of one of its 33 kV lines a 33/11 kV station of its own record."""
    grid_delta_wye(s)
    near = s.buses["B33"]
    far = Station(f"{s.code}F", s.kind, s.rng, s.hz)
    s.others.append(far)
    limit = next(bus for bus in s.rows["bus"] if bus["bus"] == "B33")["ground_fault_limit"]
    far.bus("C33", 33.0, "low_resistance", 1.2, 1.85, near.mva, near.ground_ka, limit=limit)
    s.add(
        "line", "L1 B33", from_bus="B33", to_bus=f"{far.code}:C33", length=s.between(4, 15), construction="overhead",
        r1=0.15, x1=0.38, r0=0.3, x0=1.3, c0=s.between(4, 6), shield_wire="steel 50", shield_wire_bonded_from=True,
        shield_wire_bonded_to=True,
    )  # fmt: skip
    s.relay("R L1 B33", "67N", "L1 B33", 0.2 * near.ground_ka * 1e3, 0.5)
    mva, percent, amperes = s.pick(10.0, 15.0), s.between(9, 12), s.pick(300.0, 400.0)
    level = sizing.behind_transformer_mva(near.mva, mva, percent)
    far.bus("C11", 11.0, "low_resistance", 1.2, 1.85, level, amperes / 1e3, limit=1.05 * amperes)
    far.transformer("T11", "C33", "C11", mva, "Dyn11", percent)
    far.resistor("NR11", "T11", "lv", "C11", amperes, 10.0)
    far.voltage_transformer("C33")
    feeders(far, "C11", amperes, "NR11", (1, 4))


def low_voltage(s: Station) -> None:
    """33/0.4 kV, delta-wye, the neutral solid; fuses and breakers of the feeders clear ground faults, no relay."""
    behind_resistor(s, "B33", 33.0, 300, 800)
    mva = s.pick(0.5, 1.0, 1.6)
    level = sizing.behind_transformer_mva(s.buses["B33"].mva, mva, 5.0)
    s.bus("BL", 0.4, "solid", 0.5, 1.4, level, 1.2 * sizing.infeed_ka(level, 0.4))
    s.transformer("T1", "B33", "BL", mva, "Dyn11", 5.0)
    s.solid("NL1", "T1", "lv")
    for number in (1, 2):
        s.feeder(f"F{number} BL", "BL", s.between(0.05, 0.3), "cable", None)
