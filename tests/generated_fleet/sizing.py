"""
Sizes of plant by the formulas of the handbooks, written here anew so that the project is not its own judge.

kV, A, ohm, s, mm2, m, V. Sources stand at each; 'recalled' was not re-read.
"""

from bisect import bisect_left
from math import exp, log, pi, sqrt

# Maximum continuous operating voltages of arresters, kV: duty-cycle ratings of IEEE C62.11, recalled.
MCOV = (2.55, 5.1, 7.65, 8.4, 10.2, 12.7, 15.3, 17.0, 19.5, 22.0, 24.4, 29.0, 31.5, 34.0, 36.5, 39.0, 42.0, 48.0, 53.0,
        57.0, 70.0, 76.0, 84.0, 98.0, 106.0, 115.0, 131.0, 140.0, 144.0, 152.0, 180.0, 190.0, 209.0, 220.0,
        245.0)  # fmt: skip
CT_PRIMARIES = (5, 10, 20, 25, 50, 75, 100, 150, 200, 300, 400, 500, 600, 800, 1000, 1200, 1500, 2000, 3000)
COPPER_AREAS = (35.0, 50.0, 70.0, 95.0, 120.0, 150.0, 185.0, 240.0, 300.0, 400.0, 500.0)

# Nominal voltage: highest voltage of the system, that of equipment, impulse withstand of equipment, in kV. IEC 60038
# and IEC 60071-1, recalled.
IEC = {
    0.4: (0.44, 1.1, 8.0), 0.69: (0.76, 1.1, 8.0), 3.3: (3.6, 3.6, 40.0), 6.6: (7.2, 7.2, 60.0),
    10.0: (12.0, 12.0, 75.0), 11.0: (12.0, 12.0, 75.0), 20.0: (24.0, 24.0, 125.0), 22.0: (24.0, 24.0, 125.0),
    33.0: (36.0, 36.0, 170.0), 66.0: (72.5, 72.5, 325.0), 110.0: (123.0, 123.0, 550.0), 132.0: (145.0, 145.0, 650.0),
}  # fmt: skip
# The same for 60 Hz: ANSI C84.1 for systems, C37.06 and C57.12.00 for equipment, recalled.
ANSI = {
    0.48: (0.508, 1.0, 10.0), 2.4: (2.54, 4.76, 60.0), 4.16: (4.4, 4.76, 60.0), 12.47: (13.09, 15.5, 110.0),
    13.8: (14.49, 15.5, 110.0), 18.0: (18.9, 24.0, 150.0), 34.5: (36.23, 38.0, 200.0), 69.0: (72.5, 72.5, 350.0),
    115.0: (121.0, 123.0, 550.0), 230.0: (242.0, 245.0, 900.0),
}  # fmt: skip


def class_of(kv: float, hz: float) -> tuple[float, float, float]:
    """Highest voltage of the system, of its equipment, and impulse withstand of that."""
    return (IEC if hz == 50.0 else ANSI)[kv]


def phase(kv: float) -> float:
    """Line-to-neutral voltage."""
    return kv / sqrt(3)


def resistor_ohm(kv: float, amperes: float) -> float:
    """R = V_LN / I. IEEE 142, recalled."""
    return phase(kv) * 1e3 / amperes


def charging_a(kv: float, nf: float, hz: float) -> float:
    """3 I_C0 = 3 w C0 V_LN, nF in all. Any text on ungrounded systems."""
    return 3 * 2 * pi * hz * nf * 1e-9 * phase(kv) * 1e3


def next_up(series: tuple[float, ...], least: float) -> float:
    """The first of a series of standard sizes that is large enough."""
    return series[bisect_left(series, least)]


def infeed_ka(mva: float, kv: float) -> float:
    """I = S / (sqrt3 U)."""
    return mva / (sqrt(3) * kv)


def behind_transformer_mva(source_mva: float, rated_mva: float, percent: float) -> float:
    """Fault level behind a transformer; the impedances in line."""
    return 1 / (1 / source_mva + percent / 100 / rated_mva)


def fusing_mm2(kiloamperes: float, seconds: float, limit_c: float) -> float:
    """Soft copper that reaches its limit, from 40 degC: IEEE Std 80, 11.3.1, recalled."""
    heat = log((234 + limit_c) / (234 + 40))
    return kiloamperes / sqrt(3.42e-4 / (seconds * 0.00393 * 1.72) * heat)


def decrement(seconds: float, x_over_r: float, hz: float) -> float:
    """RMS of current and DC offset over the symmetrical current: IEEE Std 80, 15.10, recalled."""
    constant = x_over_r / (2 * pi * hz)
    return sqrt(1 + constant / seconds * (1 - exp(-2 * seconds / constant)))


def mat_ohm(soil: float, area: float, buried: float, depth: float) -> float:
    """Resistance of a mat to remote ground by Sverak: IEEE Std 80, 14.2, recalled."""
    return soil * (1 / buried + 1 / sqrt(20 * area) * (1 + 1 / (1 + depth * sqrt(20 / area))))


def touch_limit_v(soil: float, surface: float, thickness: float, seconds: float) -> float:
    """Touch voltage that a person of 50 kg bears: IEEE Std 80, 8.4, recalled."""
    derating = 1 - 0.09 * (1 - soil / surface) / (2 * thickness + 0.09)
    return (1000 + 1.5 * derating * surface) * 0.116 / sqrt(seconds)


def zigzag_kva(kv: float, amperes: float, seconds: float) -> float:
    """Continuous rating of a zigzag: K V_LN I, Westinghouse T&D Reference Book, K 0.064 for 10 s, 0.104 for 1 min."""
    return (0.064 if seconds <= 10 else 0.104) * phase(kv) * amperes
