"""Worked examples of books and standards through the whole study."""

import numpy as np
import pytest

BASE_OHM = 13.8**2 / 100


def bus_fault(store, bus):
    rows = store.frame("SELECT * FROM study.bus_fault WHERE bus = $bus AND condition = 'max'", {"bus": bus})
    return rows.iloc[0]


@pytest.fixture
def two_machine_system(study):
    """Glover, Sarma, Overbye, Power System Analysis and Design, examples 10.1 to 10.5: data of the diagram."""
    return study(
        {
            "substation": [{"frequency": 60.0}],
            "bus": [
                {"bus": "1", "nominal_voltage": 13.8},
                {"bus": "A", "nominal_voltage": 138.0},
                {"bus": "B", "nominal_voltage": 138.0},
                {"bus": "2", "nominal_voltage": 13.8},
            ],
            "generator": [
                {"generator": "G", "bus": "1", "rated_power": 100.0, "rated_voltage": 13.8, "xd_subtransient": 0.15,
                 "x2": 0.17, "x0": 0.05, "winding": "wye"},
                {"generator": "M", "bus": "2", "rated_power": 100.0, "rated_voltage": 13.8, "xd_subtransient": 0.20,
                 "x2": 0.21, "x0": 0.10, "winding": "wye"},
            ],
            "transformer": [
                {"transformer": "T1", "hv_bus": "A", "lv_bus": "1", "rated_power": 100.0, "hv_voltage": 138.0,
                 "lv_voltage": 13.8, "vector_group": "YNd1", "impedance": 10.0, "z0": 10.0, "x_over_r": 1e9},
                {"transformer": "T2", "hv_bus": "B", "lv_bus": "2", "rated_power": 100.0, "hv_voltage": 138.0,
                 "lv_voltage": 13.8, "vector_group": "YNd1", "impedance": 10.0, "z0": 10.0, "x_over_r": 1e9},
            ],
            "line": [{"line": "L", "from_bus": "A", "to_bus": "B", "length": 1.0, "r1": 0.0, "x1": 20.0, "r0": 0.0,
                      "x0": 60.0, "c0": 0.0}],
            "neutral_device": [
                {"neutral_device": "NG", "connected_to": "G", "kind": "solid"},
                {"neutral_device": "NM", "connected_to": "M", "kind": "reactor", "reactance": 0.05 * BASE_OHM},
                {"neutral_device": "N1", "connected_to": "T1", "winding": "hv", "kind": "solid"},
                {"neutral_device": "N2", "connected_to": "T2", "winding": "hv", "kind": "solid"},
            ],
        }
    )  # fmt: skip


# Results of examples 10.3 to 10.5, recalled and recomputed from the book's data; pre-fault voltage 1.05 per unit.
@pytest.mark.parametrize(
    ("column", "expected", "digit"),
    [
        ("line_to_ground_ka", 24.65, 0.01),
        ("line_to_line_ka", 26.74, 0.01),
        ("double_line_to_ground_ka", 21.00, 0.01),
        ("three_phase_ka", 31.62, 0.01),
    ],
)
def test_two_machine_system_gives_the_currents_of_the_book(two_machine_system, column, expected, digit):
    assert bus_fault(two_machine_system, "2")[column] * 1.05 == pytest.approx(expected, abs=digit)


def test_two_machine_system_gives_the_healthy_phase_voltage_of_the_book(two_machine_system):
    # Example 10.3: 1.179 per unit of 13.8/sqrt(3) kV in the healthier phase's neighbor.
    assert bus_fault(two_machine_system, "2").healthy_phase_kv * 1.05 / (13.8 / np.sqrt(3)) == pytest.approx(
        1.179, abs=0.001
    )


def test_two_machine_system_gives_the_phase_current_of_the_book_in_a_double_line_to_ground_fault(two_machine_system):
    # Example 10.5, recalled and recomputed: 28.86 kA in the faulted phase, 21.00 kA of it and the other to ground.
    row = bus_fault(two_machine_system, "2")
    z1, z2, z0 = (complex(row[f"r{s}_ohm"], row[f"x{s}_ohm"]) for s in (1, 2, 0))
    e, a = 1.05 * 13.8 / np.sqrt(3), np.exp(2j * np.pi / 3)
    i1 = e / (z1 + z2 * z0 / (z2 + z0))
    i2, i0 = -i1 * z0 / (z2 + z0), -i1 * z2 / (z2 + z0)
    assert abs(a**2 * i1 + a * i2 + i0) == pytest.approx(28.86, abs=0.01)


@pytest.fixture
def annex_b(study):
    """IEEE Std 80-2013, annex B: 115 kV Z1 = 4 + j10, Z0 = 10 + j40 ohm; transformer 0.034 + j1.014 at 13 kV."""
    z1, z0, z_t = 4 + 10j, 10 + 40j, 0.034 + 1.014j
    return study(
        {
            "substation": [{"frequency": 60.0}],
            "bus": [{"bus": "H", "nominal_voltage": 115.0}, {"bus": "L", "nominal_voltage": 13.0}],
            "infeed": [
                {"infeed": "Q", "bus": "H", "fault_level_3ph": 115**2 / abs(z1), "x_over_r": 2.5,
                 "fault_current_1ph": 3 * 115 / np.sqrt(3) / abs(2 * z1 + z0), "grounded": True}
            ],
            "transformer": [
                {"transformer": "T", "hv_bus": "H", "lv_bus": "L", "rated_power": 15.0, "hv_voltage": 115.0,
                 "lv_voltage": 13.0, "vector_group": "Dyn1", "impedance": abs(z_t) / (13**2 / 15) * 100,
                 "z0": abs(z_t) / (13**2 / 15) * 100, "x_over_r": z_t.imag / z_t.real}
            ],
            "neutral_device": [{"neutral_device": "N", "connected_to": "T", "winding": "lv", "kind": "solid"}],
        }
    )  # fmt: skip


@pytest.mark.parametrize(("bus", "amperes", "rounding"), [("H", 3180, 0.5), ("L", 6814, 2)])
def test_annex_b_gives_its_fault_currents(annex_b, bus, amperes, rounding):
    # The annex rounds the impedances it adds at 13 kV: unrounded they give 6815.2 A.
    assert bus_fault(annex_b, bus).line_to_ground_ka * 1e3 == pytest.approx(amperes, abs=rounding)


def test_annex_b_gives_the_x_over_r_of_the_13_kv_fault(annex_b):
    row = bus_fault(annex_b, "L")
    reactance, resistance = 2 * row.x1_ohm + row.x0_ohm, 2 * row.r1_ohm + row.r0_ohm
    assert reactance / resistance == pytest.approx(16.2, abs=0.06)


def test_iec_60909_dyn_example_with_its_corrections_entered_by_hand(study):
    # 110/20 kV, Q 1000 MVA, 150 MVA 115/21 kV 16 %: 17.245191 kA, published in the tests of pandapower
    # (test_1ph.py), with c = 1.1 and K_T = 0.95 c / (1 + 0.6 x_T) of IEC 60909-0.
    x_t = np.sqrt(0.16**2 - 0.005**2)
    k_t = 0.95 * 1.1 / (1 + 0.6 * x_t)
    store = study(
        {
            "bus": [{"bus": "H", "nominal_voltage": 110.0}, {"bus": "L", "nominal_voltage": 20.0}],
            "infeed": [
                {"infeed": "Q", "bus": "H", "fault_level_3ph": 1000 / 1.1, "x_over_r": 10.0, "grounded": False}
            ],
            "transformer": [
                {"transformer": "T", "hv_bus": "H", "lv_bus": "L", "rated_power": 150.0, "hv_voltage": 115.0,
                 "lv_voltage": 21.0, "vector_group": "Dyn5", "impedance": 16 * k_t, "z0": 15.2 * k_t,
                 "x_over_r": x_t / 0.005}
            ],
            "neutral_device": [{"neutral_device": "N", "connected_to": "T", "winding": "lv", "kind": "solid"}],
        }
    )  # fmt: skip
    # The example keeps R0 = R1, this project the X/R of the positive sequence: 0.01 % of the current.
    assert bus_fault(store, "L").line_to_ground_ka * 1.1 == pytest.approx(17.245191, rel=2e-4)


def test_resistor_grounded_bus_gives_the_currents_worked_by_hand(study):
    # 13.8 kV, Z1 = 0.05 + j0.6, winding Z0 = 0.06 + j0.5 taken at the angle of the leakage, 19.92 ohm in the neutral:
    # 398.7 A and 13.90 kV by the line-to-ground formula (derived; equal to power-grid-model on a like network).
    level = 13.8**2 / 0.001  # MVA: stiff, so that the transformer is all of Z1
    leakage, zero = 0.05 + 0.6j, abs(0.06 + 0.5j)
    base = 13.8**2 / 20
    store = study(
        {
            "bus": [{"bus": "H", "nominal_voltage": 69.0}, {"bus": "L", "nominal_voltage": 13.8}],
            "infeed": [
                {"infeed": "Q", "bus": "H", "fault_level_3ph": level * 25, "x_over_r": 10.0, "grounded": False}
            ],
            "transformer": [
                {"transformer": "T", "hv_bus": "H", "lv_bus": "L", "rated_power": 20.0, "hv_voltage": 69.0,
                 "lv_voltage": 13.8, "vector_group": "Dyn1", "impedance": abs(leakage) / base * 100,
                 "z0": zero / base * 100, "x_over_r": 12.0}
            ],
            "neutral_device": [
                {"neutral_device": "N", "connected_to": "T", "winding": "lv", "kind": "resistor", "resistance": 19.92}
            ],
        }
    )  # fmt: skip
    row = bus_fault(store, "L")
    # 0.018 ohm of 60 less, since Z0 is taken at the X/R of the leakage.
    assert row.line_to_ground_ka * 1e3 == pytest.approx(398.743, rel=4e-4)
    assert row.healthy_phase_kv == pytest.approx(13.898, rel=1e-3)
    duty = store.frame("SELECT * FROM study.neutral_duty").iloc[0]
    assert duty.current_a == pytest.approx(row.line_to_ground_ka * 1e3, rel=1e-9)
    assert duty.voltage_kv == pytest.approx(398.743 * 19.92 / 1e3, rel=4e-4)
