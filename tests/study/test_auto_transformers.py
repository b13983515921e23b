"""Auto-transformers: one neutral for two voltages."""

import numpy as np
import pytest

N = 2.5  # turns ratio
STAR = (3j, 2j, 9j)  # branches H, L, T in ohm referred to H
Z0_L, Z1_L = 6j, 4j  # of the infeed at L, in ohm there


@pytest.fixture
def auto(study):
    """132/52.8 kV auto-transformer with a delta tertiary; the infeed stands at 52.8 kV."""

    def run(device):
        z_h, z_l, z_t = STAR
        base = 132**2 / 100
        percent = [abs(z) / base * 100 for z in (z_h + z_l, z_h + z_t, z_l + z_t)]
        kv, rows = 132 / N, {}
        rows["bus"] = [{"bus": "H", "nominal_voltage": 132.0}, {"bus": "L", "nominal_voltage": kv}]
        rows["infeed"] = [
            {"infeed": "Q", "bus": "L", "fault_level_3ph": kv**2 / abs(Z1_L), "x_over_r": 1e9, "grounded": True,
             "fault_current_1ph": np.sqrt(3) * kv / abs(2 * Z1_L + Z0_L)}
        ]  # fmt: skip
        rows["transformer"] = [
            {"transformer": "T", "hv_bus": "H", "lv_bus": "L", "rated_power": 100.0, "hv_voltage": 132.0,
             "lv_voltage": kv, "tv_voltage": 11.0, "vector_group": "YNa0d1", "impedance": percent[0],
             "hv_tv_impedance": percent[1], "lv_tv_impedance": percent[2], "z0": percent[0], "x_over_r": 1e9}
        ]  # fmt: skip
        rows["neutral_device"] = [{"neutral_device": "N", "connected_to": "T", **device}]
        return study(rows)

    return run


@pytest.mark.parametrize(
    ("device", "z_n"),
    [
        ({"kind": "solid"}, 0),
        ({"kind": "reactor", "reactance": 4.0}, 4j),
        ({"kind": "resistor", "resistance": 4.0}, 4),
    ],
)
def test_impedance_in_the_neutral_adds_to_each_branch_of_the_star(auto, device, z_n):
    # Neutral impedance in the star of an auto-transformer, in ohm of H: -3 Zn (n-1) to H, +3 Zn n (n-1) to L,
    # +3 Zn n to T. Textbook, recalled; derived from the direct circuit.
    z_h, z_l, z_t = STAR[0] - 3 * z_n * (N - 1), STAR[1] + 3 * z_n * N * (N - 1), STAR[2] + 3 * z_n * N
    through_l = z_l + N**2 * Z0_L
    expected = z_h + z_t * through_l / (z_t + through_l)
    row = auto(device).frame("SELECT * FROM study.bus_fault WHERE bus = 'H' AND condition = 'max'").iloc[0]
    assert complex(row.r0_ohm, row.x0_ohm) == pytest.approx(expected, rel=1e-6)


def test_neutral_carries_the_currents_of_both_terminals(auto):
    store = auto({"kind": "reactor", "reactance": 4.0})
    # Fault at H. Branch currents of the star in amperes of H; the neutral carries 3 (I_H0 + n I_L0), I_L0 towards it.
    z_n = 4j
    z_l, z_t = STAR[1] + 3 * z_n * N * (N - 1) + N**2 * Z0_L, STAR[2] + 3 * z_n * N
    fault = store.frame("SELECT line_to_ground_ka FROM study.bus_fault WHERE bus = 'H' AND condition = 'max'").iloc[
        0, 0
    ]
    i_h = fault * 1e3 / 3
    i_l = -i_h * z_t / (z_l + z_t)
    at_h = abs(3 * (i_h + N * i_l))
    duty = store.frame("SELECT current_a, fault_bus FROM study.neutral_duty").iloc[0]
    assert duty.fault_bus == "H"
    assert duty.current_a == pytest.approx(at_h, rel=1e-6)


def test_open_neutral_with_a_delta_still_passes_current_between_the_terminals(auto):
    # Neutral impedance without limit: the star's limit is taken from a very large one. Derived.
    row = auto({"kind": "open"}).frame("SELECT * FROM study.bus_fault WHERE bus = 'H' AND condition = 'max'").iloc[0]
    near = auto({"kind": "reactor", "reactance": 1e7})
    limit = near.frame("SELECT * FROM study.bus_fault WHERE bus = 'H' AND condition = 'max'").iloc[0]
    assert row.x0_ohm == pytest.approx(limit.x0_ohm, rel=1e-4)
