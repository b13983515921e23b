"""Arc-suppression coils against their zones, and the screens for transient overvoltage."""

import numpy as np
import pytest


@pytest.fixture
def resonant(station):
    """The station with a coil in place of the 6.6 kV resistor, and 10 km of cable."""
    station["line"] = [
        {"line": "F1", "from_bus": "L", "length": 10.0, "construction": "cable", "c0": 400.0, "r1": 0.1, "x1": 0.1}
    ]
    charging = np.sqrt(3) * 2 * np.pi * 50 * 4e-6 * 6600
    reactance = 6600 / np.sqrt(3) / charging / 1.05  # 5 % overcompensated
    station["neutral_device"][2] = {
        "neutral_device": "COIL", "connected_to": "T2", "winding": "lv", "kind": "arc_suppression_coil",
        "reactance": reactance, "resistance": 0.0, "rated_current": 20.0, "rated_time": 7200.0,
        "continuous_current": 10.0,
    }  # fmt: skip
    return station


def coil(store):
    return store.frame("SELECT * FROM study.coil_tuning").iloc[0]


def test_coil_five_percent_above_tune(study, resonant):
    # Derived: v = 0.05; Kasikci, section 7.1: a resistive share of about 10 %; residual I_C sqrt(d^2 + v^2).
    found = coil(study(resonant))
    charging = np.sqrt(3) * 2 * np.pi * 50 * 4e-6 * 6600
    assert found.charging_a == pytest.approx(charging)
    assert found.coil_a == pytest.approx(1.05 * charging)
    assert found.detuning == pytest.approx(0.05)
    assert found.residual_a == pytest.approx(charging * np.hypot(0.1, 0.05))
    assert found.tuned_ohm == pytest.approx(6600 / np.sqrt(3) / charging)
    # 2 % unbalance over detuning and damping, derived.
    assert found.neutral_kv == pytest.approx(6.6 / np.sqrt(3) * 0.02 / np.hypot(0.1, 0.05))
    assert bool(found.residual_provisional) is True


def test_two_coils_are_tuned_together(study, resonant):
    resonant["transformer"].append(resonant["transformer"][1] | {"transformer": "T3"})
    half = resonant["neutral_device"][2] | {"reactance": resonant["neutral_device"][2]["reactance"] * 2}
    resonant["neutral_device"][2:] = [half, half | {"neutral_device": "COIL2", "connected_to": "T3"}]
    found = study(resonant).frame("SELECT * FROM study.coil_tuning")
    assert list(found.detuning) == pytest.approx([0.05, 0.05])
    assert list(found.coils_a) == pytest.approx(list(found.coil_a * 2))


def test_coil_against_an_unknown_charging_current_may_be_anything(study, resonant):
    del resonant["line"][0]["c0"]
    store = study(resonant)
    found = coil(store)
    assert np.isnan(found.detuning)
    assert (found.detuning_low, found.detuning_high) == (-1, np.inf)
    asked = store.frame("SELECT blocking_asset, field FROM study.blocked WHERE quantity = 'coil_tuning.detuning'")
    assert list(asked.itertuples(index=False, name=None)) == [("F1", "c0")]
    assert store.frame("SELECT * FROM study.assumption WHERE field = 'damping'").empty


def test_resonant_zone_runs_on_as_long_as_its_coil(study, resonant):
    found = study(resonant).frame("SELECT * FROM study.standing_fault").iloc[0]
    duty = study(resonant).frame("SELECT current_a FROM study.neutral_duty WHERE neutral_device = 'COIL'").iloc[0, 0]
    # Derived from E = I^2 R t: 20 A for 7200 s, above 10 A continuous.
    assert found.may_run_s == pytest.approx(7200 * (20 / duty) ** 2 if duty > 10 else np.inf)
    assert found.standing_a == pytest.approx(coil(study(resonant)).residual_a)


def test_resistor_carries_its_share_of_the_capacitive_unbalance(study, station):
    station["line"] = [
        {"line": "F1", "from_bus": "L", "length": 10.0, "construction": "cable", "c0": 400.0, "r1": 0.1, "x1": 0.1}
    ]
    found = study(station).frame("SELECT * FROM study.neutral_unbalance").set_index("neutral_device").loc["NR2"]
    susceptance, conductance = 3 * 2 * np.pi * 50 * 4e-6, 1 / 9.5
    source = 0.02 * 6600 / np.sqrt(3)
    # Derived: the unbalanced source drives device and capacitance as a divider.
    assert found.unbalance_a == pytest.approx(source * susceptance * conductance / abs(conductance + 1j * susceptance))
    assert found.unbalance_a_low <= found.unbalance_a <= found.unbalance_a_high


def test_resistor_of_a_zone_with_cable_against_its_charging_current(study, station):
    # IEEE Std 142 (recalled): the resistor's current over 3I_C0.
    station["line"] = [
        {"line": "F1", "from_bus": "L", "length": 10.0, "construction": "cable", "c0": 400.0, "r1": 0.1, "x1": 0.1}
    ]
    found = study(station).frame("SELECT * FROM study.transient_screen WHERE bus = 'L'").iloc[0]
    charging = np.sqrt(3) * 2 * np.pi * 50 * 4e-6 * 6600
    assert found.resistor_over_charging == pytest.approx(6600 / np.sqrt(3) / 9.5 / charging)
    assert found.largest_resistance_ohm == pytest.approx(6600 / np.sqrt(3) / charging)
    assert np.isnan(found.x0_over_x1_low)


def test_reactor_is_screened_by_x0_over_x1_and_sized_for_the_limit(study, station):
    station["neutral_device"][2] |= {"kind": "reactor", "resistance": 0.0, "reactance": 5.0}
    store = study(station)
    fault = store.frame("SELECT x0_over_x1, x1_ohm FROM study.bus_fault WHERE bus = 'L' AND condition = 'max'").iloc[0]
    found = store.frame("SELECT * FROM study.transient_screen WHERE bus = 'L'").iloc[0]
    assert found.x0_over_x1 == pytest.approx(fault.x0_over_x1)
    assert found.x0_over_x1_low < found.x0_over_x1 < found.x0_over_x1_high
    station["neutral_device"][2]["reactance"] += found.reactance_change_ohm
    # IEEE 142, 1.4.4 (as quoted): X0/X1 of 10.
    changed = study(station).frame("SELECT x0_over_x1 FROM study.transient_screen WHERE bus = 'L'").iloc[0, 0]
    assert changed == pytest.approx(10)
