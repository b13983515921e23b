"""What holds for every network: boundary conditions at the fault, current kept whole, resistance that limits."""

import numpy as np
import pandas as pd
import pytest
from networks.coils import TO_PHASES, TO_SEQUENCES, A
from networks.random_networks import random_network
from networks.random_stations import Fleet, as_frames, together

from groundcheck.ingest import ingest
from groundcheck.policy import load_policy
from groundcheck.store import Store
from groundcheck.study import run_study

SEEDS = range(2000, 2030)
WITHOUT_CAPACITANCE = [seed for seed in SEEDS if seed % 5 == 0]
BEFORE = np.array([1, A**2, A])


def studied(networks):
    store = Store()
    ingest(store, as_frames(together(networks)))
    run_study(store, load_policy())
    return store


@pytest.fixture(scope="module")
def store():
    return studied([random_network(seed) for seed in SEEDS])


@pytest.fixture(scope="module")
def grounded(store):
    """Buses with a path to ground, in both conditions, with the line-to-neutral voltage before the fault."""
    faults = store.frame(
        "SELECT f.*, b.nominal_voltage / sqrt(3) AS phase_kv FROM study.bus_fault f "
        "JOIN inventory.bus b USING (substation, bus) WHERE x0_ohm IS NOT NULL"
    )
    assert len(faults) > 300
    return faults


def at_the_fault(faults, currents_from):
    """Phase currents (out of the network) and voltages of each bus, for sequence currents found from its impedances."""
    z = np.stack([faults[f"r{s}_ohm"] + 1j * faults[f"x{s}_ohm"] for s in (0, 1, 2)], axis=1)
    volts = faults["phase_kv"].to_numpy()[:, None, None] * BEFORE[:, None]
    phases = TO_PHASES @ (z[:, :, None] * np.eye(3)) @ TO_SEQUENCES
    rows, right = currents_from(phases, volts)
    currents = np.linalg.solve(rows, right)
    return currents[..., 0], (volts - phases @ currents)[..., 0]


def line_to_ground(phases, volts):
    rows = np.broadcast_to(np.eye(3, dtype=complex), phases.shape).copy()
    rows[:, 0] = phases[:, 0]
    right = np.zeros_like(volts)
    right[:, 0] = volts[:, 0]
    return rows, right


def double_line_to_ground(phases, volts):
    rows = phases.copy()
    rows[:, 0] = (1, 0, 0)
    right = volts.astype(complex)
    right[:, 0] = 0
    return rows, right


def test_line_to_ground_fault_holds_its_phase_at_ground_and_draws_from_it_alone(grounded):
    currents, volts = at_the_fault(grounded, line_to_ground)
    assert np.abs(currents[:, 0]) == pytest.approx(grounded["line_to_ground_ka"].to_numpy(), rel=1e-9)
    assert np.abs(volts[:, 1:]).max(axis=1) == pytest.approx(grounded["healthy_phase_kv"].to_numpy(), rel=1e-9)
    assert np.abs(volts.sum(axis=1) / 3) == pytest.approx(grounded["neutral_shift_kv"].to_numpy(), rel=1e-9)


def test_double_line_to_ground_fault_holds_two_phases_at_ground(grounded):
    currents, _ = at_the_fault(grounded, double_line_to_ground)
    to_ground = np.abs(currents.sum(axis=1))
    assert to_ground == pytest.approx(grounded["double_line_to_ground_ka"].to_numpy(), rel=1e-9)


def test_bus_without_a_path_to_ground_draws_nothing_and_lifts_the_healthy_phases_to_line_voltage(store):
    floating = store.frame(
        "SELECT f.*, b.nominal_voltage FROM study.bus_fault f JOIN inventory.bus b USING (substation, bus) "
        "WHERE x0_ohm IS NULL"
    )
    assert len(floating) > 5
    assert (floating["line_to_ground_ka"] == 0).all()
    assert floating["healthy_phase_kv"].to_numpy() == pytest.approx(floating["nominal_voltage"].to_numpy())


def test_what_is_not_there_or_not_on_record_is_blank_in_all_columns(store):
    # A complex number that is not known has two parts, neither of which is zero.
    for pair in ("1", "2", "0"):
        halves = store.frame(f"SELECT (r{pair}_ohm IS NULL) <> (x{pair}_ohm IS NULL) AS half FROM study.bus_fault")
        assert not halves["half"].any()
    ratios = store.frame("SELECT x0_over_x1, r0_over_x1 FROM study.bus_fault WHERE r0_ohm IS NULL")
    assert ratios.isna().all(axis=None)


def resistor_grounded(name, seed, ohm):
    """An ungrounded infeed, a Dyn transformer with a resistor, a line without capacitance; the rest drawn by seed."""
    fleet = Fleet(np.random.default_rng(seed), capacitance=False)
    high, low = fleet.bus(name, 66.0, 0), fleet.bus(name, 11.0, 1)
    far = fleet.bus(name, 11.0, 1)
    fleet.add("infeed", name, "I", bus=high.tag, fault_level_3ph=fleet.between(200, 5000), x_over_r=10.0,
              grounded=False)  # fmt: skip
    percent = fleet.between(5, 15)
    tag = fleet.add("transformer", name, "T", hv_bus=high.tag, lv_bus=low.tag, rated_power=fleet.between(5, 40),
                    hv_voltage=66.0, lv_voltage=11.0, vector_group="Dyn1", impedance=percent, z0=percent,
                    x_over_r=fleet.between(5, 40), core_form="shell")  # fmt: skip
    fleet.line(low, far)
    fleet.add("neutral_device", name, "N", connected_to=[tag], winding="lv", kind="resistor", resistance=ohm)
    return fleet.rows


def test_a_larger_resistance_in_the_only_neutral_always_lowers_the_fault_current():
    # Where capacitance is left out. Derived: it adds to the real part of a passive loop. Beside a second way to ground
    # it need not: j1 + (R + j1) parallel to 1 ohm is 1.58 ohm at R = 0 and 1.34 ohm at R = 1.
    ohms = (0.02, 0.3, 1.0, 4.0, 20.0, 300.0)
    store = studied(
        [resistor_grounded(f"S{seed:02}R{step}", seed, ohm) for seed in range(20) for step, ohm in enumerate(ohms)]
    )
    faults = store.frame(
        "SELECT substation[:3] AS drawn, bus, line_to_ground_ka FROM study.bus_fault "
        "WHERE condition = 'max' AND bus IN ('B2', 'B3') ORDER BY substation, bus"
    )
    for _, one in faults.groupby(["drawn", "bus"]):
        assert len(one) == len(ohms)
        assert (np.diff(one["line_to_ground_ka"]) < 0).all()


def test_ground_sources_together_carry_the_fault_current():
    # Kirchhoff: without capacitance all current returns through the grounded neutrals of the zone and its infeeds.
    store = studied([random_network(seed) for seed in range(2000, 2150, 5)])
    parts = store.frame("FROM study.contribution").groupby(["substation", "bus"])[["current_re_a", "current_im_a"]]
    total = parts.sum().reset_index()
    fault = store.frame("SELECT substation, bus, line_to_ground_ka FROM study.bus_fault WHERE condition = 'max'")
    both = fault[fault["line_to_ground_ka"] > 0].merge(total, how="left", validate="one_to_one")
    assert len(both) > 50
    assert np.hypot(both["current_re_a"], both["current_im_a"]).to_numpy() == pytest.approx(
        both["line_to_ground_ka"].to_numpy() * 1e3, rel=1e-6
    )


def test_order_of_the_records_changes_nothing(store):
    rows = together(random_network(seed) for seed in SEEDS)
    turned = Store()
    ingest(turned, as_frames({table: each[::-1] for table, each in rows.items()}))
    run_study(turned, load_policy())
    one, other = (each.frame("FROM study.bus_fault ORDER BY ALL") for each in (store, turned))
    numbers = one.select_dtypes("number").columns
    pd.testing.assert_frame_equal(one[numbers], other[numbers], rtol=1e-9)
