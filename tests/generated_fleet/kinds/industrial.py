"""Works, and the machines in them."""

from math import inf

from generated_fleet import sizing
from generated_fleet.kinds.distribution import behind_resistor
from generated_fleet.kinds.transmission import supply, watched
from generated_fleet.station import RUNS_ON, Station


def ungrounded(s: Station) -> None:
    """33/6.6 kV delta-delta; the 6.6 kV zone runs on through a ground fault, which a broken delta tells of."""
    behind_resistor(s, "B33", 33.0, 500, 1200)
    mva, percent = s.pick(7.5, 10.0, 12.5), s.between(7, 9)
    level = sizing.behind_transformer_mva(s.buses["B33"].mva, mva, percent)
    s.bus("B6", 6.6, "ungrounded", RUNS_ON, 1.75, level, 0.01)
    s.transformer("T1", "B33", "B6", mva, "Dd0", percent)
    # A relay sees what the other feeders charge, and must not see what its own does.
    for number in range(1, 7):
        tag = f"F{number} B6"
        nf = s.feeder(tag, "B6", s.between(0.42, 0.5), "cable", None)
        own = sizing.charging_a(6.6, nf, s.hz)
        s.relay(f"R {tag}", "51N", tag, 1.6 * own, 1.0, ct_primary=25.0, action="alarm")
    watched(s, "B6")


def high_resistance(s: Station) -> None:
    """Medium to low voltage, a few amperes through the neutral, continuously; an alarm and no trip."""
    american = s.rng.random() < 0.5
    s.hz = 60.0 if american else 50.0
    high, low = (34.5, s.pick(0.48, 2.4, 4.16)) if american else (33.0, s.pick(0.69, 3.3, 6.6))
    behind_resistor(s, "BH", high, 300, 800)
    mva = s.pick(1.0, 1.6, 2.0) if low < 1 else s.pick(5.0, 7.5)
    percent = s.between(5.5, 7)
    level = sizing.behind_transformer_mva(s.buses["BH"].mva, mva, percent)
    s.bus("BL", low, "high_resistance", RUNS_ON, 1.78, level, 0.02)
    s.transformer("T1", "BH", "BL", mva, "Dyn11", percent)
    nf = sum(s.feeder(f"F{n} BL", "BL", s.between(0.1, 0.4), "cable", None) for n in (1, 2))
    charging = sizing.charging_a(low, nf, s.hz)
    amperes = max(s.pick(3.0, 5.0), round(1.6 * charging, 1))
    s.rows["bus"][-1]["ground_fault_limit"] = round(2.2 * amperes, 1)
    s.resistor("NR1", "T1", "lv", "BL", amperes, inf)
    s.relay("R NR1", "51G", "NR1", 0.25 * amperes, 2.0, action="alarm")
    watched(s, "BL") if low > 1 else s.relay(
        "R BL", "59N", "BL", 3 * sizing.phase(low) * 1e3 * 0.2, 2.0, action="alarm"
    )


def generators(s: Station) -> None:
    """Two machines on a 13.8 kV bus, a resistor in each neutral; a wye-delta transformer ties it to the utility."""
    s.hz = 60.0
    supply(s, "B69", 69.0, 500, 1500)
    mva, percent, amperes = s.pick(20.0, 30.0), s.between(8, 10), s.pick(200.0, 400.0)
    machine = s.pick(12.5, 20.0, 25.0)
    level = sizing.behind_transformer_mva(s.buses["B69"].mva, mva, percent) + 2 * machine / 0.15
    s.bus("B13", 13.8, "low_resistance", 1.2, 1.85, level, 2 * amperes / 1e3, limit=2.1 * amperes)
    s.transformer("T1", "B69", "B13", mva, "YNd1", percent)
    s.solid("NL1", "T1", "hv")
    s.relay("R NL1", "51G", "NL1", 60.0, 1.0)
    for number in (1, 2):
        tag, device = f"G{number}", f"NGR{number}"
        s.equipment.append((tag, "generator"))
        s.add(
            "generator", tag, bus="B13", rated_power=machine, rated_voltage=13.8, power_factor=0.8,
            voltage_regulation_pg=5.0, xd_subtransient=s.between(0.16, 0.22), x2=s.between(0.16, 0.22),
            x0=s.between(0.05, 0.09), r=0.005, winding="wye", capacitance_to_ground=s.between(0.1, 0.2),
        )  # fmt: skip
        s.resistor(device, tag, None, "B13", amperes, 10.0)
        s.feeder(f"F{number} B13", "B13", s.between(0.3, 1.5), "cable", 0.2 * amperes)
        s.relay(f"R {device}", "51G", device, 0.1 * amperes, 0.9, backs_up=f"R F{number} B13")
    s.voltage_transformer("B13")


def unit(s: Station) -> None:
    """A machine and its transformer to 230 kV, the machine's neutral through a distribution transformer."""
    s.hz = 60.0
    supply(s, "B230", 230.0, 5000, 12000)
    mva, percent = s.pick(120.0, 160.0, 200.0), s.between(11, 14)
    level = sizing.behind_transformer_mva(s.buses["B230"].mva, mva, percent) + mva / 0.15
    s.bus("B18", 18.0, "high_resistance", 0.9, 1.8, level, 0.02)
    s.transformer("T1", "B230", "B18", mva, "YNd1", percent, tap_changer=True)
    s.solid("NL1", "T1", "hv")
    s.relay("R NL1", "51G", "NL1", 150.0, 1.0)
    capacitance = s.between(0.35, 0.6)
    s.equipment.append(("G1", "generator"))
    s.add(
        "generator", "G1", bus="B18", rated_power=mva, rated_voltage=18.0, power_factor=0.85,
        voltage_regulation_pg=5.0, xd_subtransient=s.between(0.15, 0.2), x2=s.between(0.15, 0.2),
        x0=s.between(0.06, 0.1), r=0.003, winding="wye", capacitance_to_ground=capacitance,
    )  # fmt: skip
    s.add(
        "line", "Bus duct", from_bus="B18", length=0.05, construction="aerial_cable", r1=0.01, x1=0.1, r0=0.05, x0=0.2,
        c0=1.0,
    )  # fmt: skip
    # R = Xc0/3 at most, seen through the ratio: IEEE C37.101, recalled.
    charging = sizing.charging_a(18.0, capacitance * 1e3, s.hz)
    amperes = charging * s.between(1.1, 1.3)
    s.rows["bus"][-1]["ground_fault_limit"] = round(1.6 * amperes, 1)
    ratio = 18000.0 / 240.0
    seconds = 60.0
    s.equipment.append(("NGT1", "neutral_device"))
    ohm = round(sizing.resistor_ohm(18.0, amperes) / ratio**2, 4)
    s.add(
        "neutral_device", "NGT1", connected_to=["G1"], kind="distribution_transformer", primary_voltage=18000.0,
        secondary_voltage=240.0, secondary_resistance=ohm, rated_power=round(18.0 * amperes / 3.0, 1),
        rated_voltage=18.0, rated_current=round(amperes * 1.15, 2), rated_time=seconds, monitored=True,
        continuous_current=round(amperes / 3, 2), insulation_bil=125.0,
    )  # fmt: skip
    s.inspected("NGT1", "visual")
    vt = s.voltage_transformer("B18")
    s.relay("R NGT1", "59G", "NGT1", 0.05 * sizing.phase(18.0) * 1e3, 0.5)
    s.relay("R TN1", "27TN", "NGT1", 100.0, 0.5)
    alarm = s.relay(f"R {vt}", "59N", vt, 3 * sizing.phase(18.0) * 1e3 * 0.1, 1.0, action="alarm")
    s.detector("B18", vt, alarm)


def island(s: Station) -> None:
    """Two machines that supply a works alone, a few amperes through each neutral; a ground fault may stand."""
    s.hz = 60.0
    kv, machine = s.pick((0.48, 1.5), (4.16, 5.0))
    s.bus("B1", kv, "high_resistance", RUNS_ON, 1.78, 2 * machine / 0.15, 0.02)
    nf = sum(s.feeder(f"F{n} B1", "B1", s.between(0.1, 0.4), "cable", None) for n in (1, 2))
    capacitance = s.between(0.02, 0.05)
    charging = sizing.charging_a(kv, nf + 2e3 * capacitance, s.hz)
    amperes = max(3.0, round(1.3 * charging, 1))
    s.rows["bus"][-1]["ground_fault_limit"] = round(3 * amperes, 1)
    for number in (1, 2):
        tag, device = f"G{number}", f"NGR{number}"
        s.equipment.append((tag, "generator"))
        s.add(
            "generator", tag, bus="B1", rated_power=machine, rated_voltage=kv, power_factor=0.8,
            voltage_regulation_pg=5.0, xd_subtransient=s.between(0.14, 0.2), x2=s.between(0.14, 0.2),
            x0=s.between(0.04, 0.08), r=0.01, winding="wye", capacitance_to_ground=capacitance,
        )  # fmt: skip
        s.resistor(device, tag, None, "B1", amperes, inf)
        s.relay(f"R {device}", "51G", device, 0.1 * amperes, 2.0, action="alarm")
    if kv > 1:
        watched(s, "B1")
