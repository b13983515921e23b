"""Grids of IEEE Std 80-2013, annex B, from their dimensions to the mesh voltage; and Schwarz's equations."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.engineering import (
    combined_bed_ohm,
    conductor_bed_ohm,
    effective_mesh_length_m,
    effective_parallel_conductors,
    effective_step_length_m,
    grid_resistance_ohm,
    grid_voltage_v,
    irregularity_factor,
    mesh_factor,
    mesh_formula_holds,
    mutual_bed_ohm,
    rod_bed_ohm,
    schwarz_coefficients,
    step_factor,
)

# Common to all four: soil 400 ohm m, depth 0.5 m, spacing 7 m, conductor 0.01 m across, 1908 A into the ground.
SOIL, DEPTH, SPACING, DIAMETER, CURRENT = 400.0, 0.5, 7.0, 0.01, 1908.0

# Dimensions of each grid and the printed results. IEEE Std 80-2013, annex B (B.1 and B.2 as quoted publicly, B.3 and
# B.4 recalled). Columns: length, width, area, perimeter, conductor, rods, rod length; n, R, GPR, K_m, K_i, L_M, E_m.
GRIDS = {
    "B.1 square": ((70, 70, 4900, 280, 1540, 0, 0.0), (11, 2.78, 5304, 0.89, 2.272, 1540, 1002.1)),
    "B.2 square with rods": ((70, 70, 4900, 280, 1540, 20, 7.5), (11, 2.75, 5247, 0.77, 2.272, 1786.4, 747.4)),
    "B.3 rectangle": ((63, 84, 5292, 294, 1659, 38, 10.0), (11.34, 2.62, 4998, 0.77, 2.324, 2292.2, 595.8)),
    "B.4 L-shaped": ((70, 105, 4900, 350, 1575, 24, 7.5), (12.16, 2.74, 5228, 0.76, 2.45, 1867.1, 761.1)),
}


@pytest.mark.parametrize("name", GRIDS)
def test_a_grid_of_the_annex_gives_the_results_of_the_annex(name):
    (length, width, area, perimeter, conductor, rods, rod), (n_b, r_b, gpr_b, km_b, ki_b, lm_b, em_b) = GRIDS[name]
    # The annex rounds K_m, K_i and R before it multiplies: 0.5 %, and 0.8 % for the L-shaped grid.
    tolerance = 0.008 if name.startswith("B.4") else 0.005
    n = effective_parallel_conductors(conductor, perimeter, area, length, width)
    k_m = mesh_factor(SPACING, DEPTH, DIAMETER, n, rods > 0)
    k_i = irregularity_factor(n)
    l_m = effective_mesh_length_m(conductor, rods * rod, rod, np.hypot(length, width), rods > 0)
    resistance = grid_resistance_ohm(SOIL, area, conductor + rods * rod, DEPTH)
    assert n == pytest.approx(n_b, abs=0.006)
    assert resistance == pytest.approx(r_b, abs=0.006)
    assert resistance * CURRENT == pytest.approx(gpr_b, rel=tolerance)
    assert k_m == pytest.approx(km_b, abs=0.006)
    assert k_i == pytest.approx(ki_b, rel=tolerance)
    assert l_m == pytest.approx(lm_b, abs=0.06)
    assert grid_voltage_v(SOIL, CURRENT, k_m, k_i, l_m) == pytest.approx(em_b, rel=tolerance)
    assert mesh_formula_holds(SPACING, DEPTH, DIAMETER, n).tolist() is True


def test_step_voltage_of_the_square_grid_with_rods_is_that_of_the_annex():
    # IEEE Std 80-2013, annex B.2: K_s 0.406, L_S 1282.5 m, E_s 548.9 V.
    k_s, l_s = step_factor(SPACING, DEPTH, 11.0), effective_step_length_m(1540.0, 150.0)
    assert k_s == pytest.approx(0.406, abs=0.001)
    assert l_s == pytest.approx(1282.5)
    assert grid_voltage_v(SOIL, CURRENT, k_s, irregularity_factor(11.0), l_s) == pytest.approx(548.9, rel=0.002)


def test_a_grid_without_rods_has_the_inner_mesh_weight_of_the_annex():
    # IEEE Std 80-2013, annex B.1: K_ii = (2 x 11)^(-2/11) = 0.57, K_h = 1.225.
    with_rods, without = (mesh_factor(SPACING, DEPTH, DIAMETER, 11.0, edge) for edge in (True, False))
    own = np.log(8 / (np.pi * 21)) / np.sqrt(1.5) / (2 * np.pi)
    assert (without - with_rods) / own == pytest.approx(0.57 - 1, abs=0.005)


def test_mesh_factor_of_a_close_grid_is_that_of_the_textbook():
    # Sheldrake, Handbook of Electrical Engineering, appendix H, case C.3: K_m 0.5325 with six nodes a side, K_ii 1.
    assert mesh_factor(2.0, 0.5, 0.01, 6.0, True) == pytest.approx(0.5325, abs=5e-5)
    # The standard's limits leave so close a spacing out.
    assert mesh_formula_holds(2.0, 0.5, 0.01, 6.0).tolist() is False


def test_schwarz_gives_the_resistances_of_the_textbook():
    # Sheldrake, appendix H, case C.3: 100 m2, 120 m of conductor 10 mm across at 0.5 m, rods of 50 m, 20 mm across;
    # k1 1.15, k2 4.75; conductors in surfacing of 5000 ohm m, rods in 1000 ohm m; six, its nodes a side, for the rods.
    conductors = conductor_bed_ohm(5000.0, 100.0, 120.0, 0.5, 0.01, 1.15, 4.75)
    rods = rod_bed_ohm(1000.0, 100.0, 6, 50.0, 0.02, 1.15)
    mutual = mutual_bed_ohm(1000.0, 100.0, 120.0, 50.0, 1.15, 4.75)
    assert conductors == pytest.approx(227.86, rel=1e-3)  # its factors are printed to four digits
    assert rods == pytest.approx(17.541, rel=1e-3)
    assert mutual == pytest.approx(30.82, rel=1e-3)
    assert combined_bed_ohm(conductors, rods, mutual) == pytest.approx(16.582, rel=1e-3)


def test_schwarz_and_sverak_agree_on_the_grid_of_the_annex():
    # Common practice, no source: the two formulas differ by a tenth at most for an ordinary grid.
    k1, k2 = schwarz_coefficients(4900.0, 1.0, DEPTH)
    conductors = conductor_bed_ohm(SOIL, 4900.0, 1540.0, DEPTH, DIAMETER, k1, k2)
    rods = rod_bed_ohm(SOIL, 4900.0, 20, 7.5, 0.016, k1)
    mutual = mutual_bed_ohm(SOIL, 4900.0, 1540.0, 7.5, k1, k2)
    assert combined_bed_ohm(conductors, rods, mutual) == pytest.approx(2.75, rel=0.10)
    assert combined_bed_ohm(conductors, rods, mutual) < conductors


# IEEE Std 80-2013, figure 25 (recalled): ends of the straight lines at ratios of 1 and 8.
@pytest.mark.parametrize(
    ("depth", "ratio", "k1", "k2"),
    [
        (0.0, 1, 1.37, 5.65),
        (0.0, 8, 1.09, 6.70),
        (10.0, 1, 1.15, 4.78),
        (10.0, 8, 0.80, 5.48),
        (100 / 6, 1, 1.08, 4.35),
    ],
)
def test_schwarz_coefficients_are_those_of_the_figure(depth, ratio, k1, k2):
    assert schwarz_coefficients(10_000.0, ratio, depth) == pytest.approx([k1, k2])


def test_schwarz_coefficients_end_where_the_figure_ends():
    assert np.isnan(schwarz_coefficients([100.0, 100.0, 100.0], [9.0, 1.0, np.nan], [0.5, 2.0, 0.5])).all()


def test_resistance_of_a_plate_is_never_above_that_of_its_grid():
    # Laurent and Niemann, quoted in IEEE Std 80-2013, 14.2: rho/4 sqrt(pi/A) is the plate on the surface.
    area = np.array([100.0, 4900.0, 1e6])
    endless = grid_resistance_ohm(1.0, area, np.inf, 0.0)
    assert endless == pytest.approx(np.sqrt(np.pi / area) / 4, rel=0.01)


@given(
    soil=st.floats(1, 1e4), area=st.floats(10, 1e5), buried=st.floats(10, 1e5), depth=st.floats(0, 5),
    more=st.floats(1, 10),
)  # fmt: skip
def test_a_larger_deeper_or_denser_grid_never_has_more_resistance(soil, area, buried, depth, more):
    small = grid_resistance_ohm(soil, area, buried, depth)
    for changed in ((area * more, buried, depth), (area, buried * more, depth), (area, buried, depth * more)):
        assert grid_resistance_ohm(soil, *changed) <= small * (1 + 1e-12)


def test_limits_that_the_record_does_not_decide_are_left_open():
    holds = mesh_formula_holds([7.0, np.nan, 7.0, np.nan], [0.5, 0.5, np.nan, 3.0], 0.01, 11.0)
    assert holds.tolist() == [True, None, None, False]


def test_a_negative_dimension_is_refused():
    with pytest.raises(ValueError, match=r"^soil_ohm_m, area_m2, buried_m and depth_m must not be negative$"):
        grid_resistance_ohm(100.0, -1.0, 100.0, 0.5)
    with pytest.raises(ValueError, match=r"^spacing_m, depth_m and diameter_m must be positive and n above"):
        mesh_factor(0.0, 0.5, 0.01, 5.0, True)
