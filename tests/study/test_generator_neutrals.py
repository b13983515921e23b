"""A generator grounded through a distribution transformer, from its records."""

import numpy as np
import pytest


def inventory(**device):
    loaded = {
        "neutral_device": "NGT", "connected_to": "G1", "kind": "distribution_transformer", "primary_voltage": 18000.0,
        "secondary_voltage": 240.0, "secondary_resistance": 0.297427, "rated_power": 25.0,
    }  # fmt: skip
    return {
        "substation": [{"frequency": 60.0}],
        "bus": [{"bus": "G", "nominal_voltage": 18.0, "ground_fault_clearing_time": 60.0}],
        "generator": [
            {"generator": "G1", "bus": "G", "rated_power": 160.0, "rated_voltage": 18.0, "xd_subtransient": 0.2,
             "x2": 0.2, "x0": 0.1, "r": 0.002, "winding": "wye", "capacitance_to_ground": 0.5285}
        ],
        "neutral_device": [loaded | device],
    }  # fmt: skip


def row(store):
    return store.frame("SELECT * FROM study.generator_grounding").iloc[0]


def test_textbook_example_of_18_kv(study):
    # Blackburn and Domin, Protective Relaying (recalled, recomputed): 0.5285 uF at 60 Hz, 5019 ohm, 1673 ohm, 138.6 V,
    # 466 A, 64.6 kW, 6.21 A; total 8.78 A and 23.79 kVA for 1 min derived.
    found = row(study(inventory()))
    assert found.xc0_ohm == pytest.approx(5019, abs=0.5)
    assert found.criterion_ohm == pytest.approx(1673, abs=0.5)
    assert found.referred_ohm == pytest.approx(1673, abs=0.5)
    assert found.secondary_v == pytest.approx(138.6, abs=0.05)
    assert found.secondary_a == pytest.approx(466, abs=0.5)
    assert found.power_kw == pytest.approx(64.6, abs=0.05)
    assert found.resistor_a == pytest.approx(6.21, abs=0.005)
    assert found.resistor_over_charging == pytest.approx(1, abs=1e-5)
    assert found.total_fault_a == pytest.approx(8.785, abs=5e-4)
    assert found.kva_needed == pytest.approx(23.789, abs=0.001)
    assert found.primary_kv_needed == pytest.approx(1.3 * 18 / np.sqrt(3))


def test_textbook_example_of_24_kv(study):
    # Published textbook problem 18.7 (data): 24 kV, 60 Hz, 0.4422 uF, 14400/240 V; results derived.
    rows = inventory(primary_voltage=14400.0, secondary_resistance=0.555426)
    rows["bus"][0]["nominal_voltage"] = 24.0
    rows["generator"][0] |= {"rated_voltage": 24.0, "rated_power": 810.0, "capacitance_to_ground": 0.4422}
    found = row(study(rows))
    assert found.criterion_ohm == pytest.approx(1999.53, abs=0.005)
    assert found.secondary_v == pytest.approx(230.940, abs=5e-4)
    assert found.secondary_a == pytest.approx(415.789, abs=1e-3)
    assert found.power_kw == pytest.approx(96.0224, abs=2e-4)
    assert found.total_fault_a == pytest.approx(9.80024, abs=2e-5)


def test_generator_without_capacitance_on_record_asks_for_it(study):
    rows = inventory()
    del rows["generator"][0]["capacitance_to_ground"]
    store = study(rows)
    found = row(store)
    assert np.isnan(found.criterion_ohm)
    assert (found.criterion_ohm_low, found.criterion_ohm_high) == (0, np.inf)
    asked = store.frame(
        "SELECT blocking_asset, field FROM study.blocked WHERE quantity = 'generator_grounding.criterion_ohm'"
    )
    assert list(asked.itertuples(index=False, name=None)) == [("G1", "capacitance_to_ground")]


def test_solid_generator_neutral_has_no_row(study):
    assert study(inventory(kind="solid")).frame("SELECT * FROM study.generator_grounding").empty
