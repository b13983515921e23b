"""Ground faults in the time domain: a small circuit integrated until it is at rest, against the study's functions.

Three phases: emf behind resistance and inductance, from a source neutral that is open or tied to ground through a
resistor, and the capacitance of each phase to ground. Phase a goes to ground through a small resistance. Nothing but
Kirchhoff's laws is used; the amplitude at rest is taken from whole periods at the end.
"""

from functools import cache

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from groundcheck.engineering import charging_current_a, healthy_phase_kv, line_to_ground_ka, neutral_shift_kv

OMEGA = 2 * np.pi * 50
KV = 11.0
PEAK = KV * 1e3 * np.sqrt(2 / 3)
RESISTANCE, INDUCTANCE = 0.8, 3e-3  # of each phase, in ohm and henry
FAULT_OHM = 0.5
SHIFTS = np.array([0, -2 * np.pi / 3, 2 * np.pi / 3])
SECONDS, PERIODS = 0.25, 4  # how long, and over how many periods at the end amplitudes are taken


def rms(t, values):
    """Rms of the fundamental, by its Fourier integral over whole periods."""
    wave = np.exp(-1j * OMEGA * t)
    span = t[-1] - t[0]
    return abs(np.trapezoid(values * wave, t)) * 2 / span / np.sqrt(2)


def slope(state, emf, capacitance, neutral_ohm):
    """Rate of three currents through the inductances and three voltages of the phases to ground."""
    currents, volts = state[:3], state[3:]
    into = currents - np.array([1, 0, 0]) * volts[0] / FAULT_OHM
    drop = neutral_voltage(currents, volts, emf, neutral_ohm) + emf - RESISTANCE * currents - volts
    return np.concatenate([drop / INDUCTANCE, into / capacitance])


def neutral_voltage(currents, volts, emf, neutral_ohm):
    """What comes up through the resistor; with an open neutral the currents and their rates add up to zero."""
    if np.isinf(neutral_ohm):
        return (volts + RESISTANCE * currents - emf).sum(axis=0) / 3
    return -neutral_ohm * currents.sum(axis=0)


@cache
def at_rest(capacitance, neutral_ohm):
    """Rms at rest of the phases, the neutral and the mean of the phases in V, and of the fault current in A."""
    of_state = np.array([slope(unit, np.zeros(3), capacitance, neutral_ohm) for unit in np.eye(6)]).T
    of_emf = np.array([slope(np.zeros(6), unit, capacitance, neutral_ohm) for unit in np.eye(3)]).T
    times = np.linspace(SECONDS - PERIODS / 50, SECONDS, PERIODS * 200 + 1)
    found = solve_ivp(
        lambda t, state: of_state @ state + of_emf @ (PEAK * np.sin(OMEGA * t + SHIFTS)), (0, SECONDS), np.zeros(6),
        method="LSODA", jac=lambda t, state: of_state, t_eval=times, rtol=1e-7, atol=1e-3,
    )  # fmt: skip
    currents, volts = found.y[:3], found.y[3:]
    emf = PEAK * np.sin(OMEGA * times + SHIFTS[:, None])
    return (
        [rms(times, phase) for phase in volts],
        rms(times, neutral_voltage(currents, volts, emf, neutral_ohm)),
        rms(times, volts.sum(axis=0) / 3),
        rms(times, volts[0] / FAULT_OHM),
    )


def impedances(capacitance, neutral_ohm):
    """Sequence impedances at the fault: source and capacitance side by side, three times the neutral resistor in Z0."""
    source = complex(RESISTANCE, OMEGA * INDUCTANCE)
    shunt = 1 / (1j * OMEGA * capacitance)
    z1 = 1 / (1 / source + 1 / shunt)
    behind = 0 if np.isinf(neutral_ohm) else 1 / (source + 3 * neutral_ohm)
    return z1, 1 / (behind + 1 / shunt), source / (source + shunt)


# Ungrounded with 8 A of charging current; resistors of about 400 A, 100 A and 20 A.
CASES = [(1.2e-6, np.inf), (0.4e-6, 15.9), (0.4e-6, 63.5), (1.2e-6, 317.5)]


@pytest.mark.parametrize(("capacitance", "neutral_ohm"), CASES)
def test_fault_at_rest_has_the_current_and_voltages_of_the_sequence_networks(capacitance, neutral_ohm):
    phases, _, shift, fault = at_rest(capacitance, neutral_ohm)
    z1, z0, lift = impedances(capacitance, neutral_ohm)
    before = KV * abs(1 - lift)  # the capacitance lifts the voltage before the fault
    assert fault == pytest.approx(line_to_ground_ka(before, z1, z1, z0, FAULT_OHM) * 1e3, rel=3e-4)
    assert max(phases[1:]) == pytest.approx(healthy_phase_kv(before, z1, z1, z0, FAULT_OHM) * 1e3, rel=3e-4)
    assert shift == pytest.approx(neutral_shift_kv(before, z1, z1, z0, FAULT_OHM) * 1e3, rel=3e-4)


def test_resistor_carries_the_voltage_of_its_neutral():
    _, neutral, _, _ = at_rest(0.4e-6, 63.5)
    z1, z0, lift = impedances(0.4e-6, 63.5)
    before = KV * abs(1 - lift)
    through = line_to_ground_ka(before, z1, z1, z0, FAULT_OHM) * 1e3 * abs(z0)
    share = through / abs(complex(RESISTANCE, OMEGA * INDUCTANCE) + 3 * 63.5)
    assert neutral == pytest.approx(share * 63.5, rel=3e-4)


def test_ungrounded_fault_draws_the_charging_current():
    _, _, _, fault = at_rest(1.2e-6, np.inf)
    # A few parts in a thousand less, for the source and the resistance of the fault.
    assert fault == pytest.approx(charging_current_a(KV, 1.2, 50.0), rel=5e-3)
