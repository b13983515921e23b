"""Neutrals through which no current can pass, and what passes the windings all the same."""

import numpy as np
import pytest
from networks.expected import bus_answers
from networks.phase_domain import PhaseDomain
from networks.random_stations import as_frames

from groundcheck.ingest import ingest
from groundcheck.policy import load_policy
from groundcheck.store import Store
from groundcheck.study import run_study

HOME = {"substation": "ELM"}


def station(group, core, kind, **more):
    """A grounded 132 kV infeed, one transformer to 66 kV whose HV neutral holds a device, a cable on either side."""
    line = HOME | {"length": 5.0, "construction": "cable", "r1": 0.1, "x1": 0.1, "r0": 0.3, "x0": 0.3, "c0": 200.0}
    return {
        "substation": [HOME | {"frequency": 50.0}],
        "bus": [HOME | {"bus": "H", "nominal_voltage": 132.0}, HOME | {"bus": "L", "nominal_voltage": 66.0}],
        "infeed": [HOME | {"infeed": "Q", "bus": "H", "fault_level_3ph": 3000.0, "x_over_r": 15.0,
                           "fault_current_1ph": 11.0, "grounded": True}],
        "transformer": [HOME | {"transformer": "T", "hv_bus": "H", "lv_bus": "L", "rated_power": 60.0,
                                "hv_voltage": 132.0, "lv_voltage": 66.0, "vector_group": group, "impedance": 12.0,
                                "z0": 11.0, "x_over_r": 25.0, "core_form": core, "magnetizing_z0": 70.0}],
        "line": [line | {"line": "F1", "from_bus": "H"}, line | {"line": "F2", "from_bus": "L"}],
        "neutral_device": [HOME | {"neutral_device": "N", "connected_to": ["T"], "winding": "hv", "kind": kind}],
        **more,
    }  # fmt: skip


def studied(rows):
    store = Store()
    ingest(store, as_frames(rows))
    run_study(store, load_policy())
    return store


@pytest.mark.parametrize("kind", ["open", "surge_arrester"])
def test_three_limb_auto_transformer_with_an_open_neutral_grounds_its_low_side_from_the_high(kind):
    # The flux of the unbalanced ampere-turns returns through the tank, which stands for a delta.
    rows = station("YNa0", "three_limb", kind)
    found = studied(rows).frame("SELECT * FROM study.bus_fault WHERE condition = 'max' ORDER BY bus")
    expected = [row["line_to_ground_ka"] for row in bus_answers(PhaseDomain(rows))]
    assert found["line_to_ground_ka"].to_numpy() == pytest.approx(expected, rel=1e-6)
    assert expected[1] > 0.5  # kA; the capacitance alone gives 0.02


def test_auto_transformer_of_single_phase_units_with_an_open_neutral_passes_nothing():
    rows = station("YNa0", "single_phase_bank", "open")
    found = studied(rows).frame("SELECT * FROM study.bus_fault WHERE condition = 'max' AND bus = 'L'").iloc[0]
    # The charging current of the cable, 3 w C0 V, and a little more by the reactance of the source.
    charging = 3 * 2 * np.pi * 50 * 1e-6 * 66e3 / np.sqrt(3) / 1e3
    assert found.line_to_ground_ka == pytest.approx(charging, rel=0.02)


def test_solid_link_of_a_wye_winding_that_nothing_balances_carries_zero_and_is_not_unknown():
    duty = studied(station("YNy0", "shell", "solid")).frame("SELECT current_a FROM study.neutral_duty").iloc[0]
    assert duty.current_a == 0


def test_grounding_transformer_with_an_open_neutral_carries_zero_and_is_not_unknown():
    bank = HOME | {"grounding_transformer": "GT", "bus": "L", "connection": "zigzag", "z0": 20.0, "r0": 2.0}
    rows = station("YNd1", "shell", "solid", grounding_transformer=[bank])
    rows["neutral_device"].append(
        HOME | {"neutral_device": "N2", "connected_to": ["GT"], "kind": "open", "winding": None}
    )
    duty = studied(rows).frame("SELECT current_a FROM study.grounding_transformer_duty").iloc[0]
    assert duty.current_a == 0
