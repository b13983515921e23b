"""Area that a fault current needs, by material and joint."""

from functools import partial

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.engineering import (
    fusing_area_mm2,
    fusing_current_ka,
    largest_strap_share,
    material_constant,
    temperature_limit_c,
)
from groundcheck.engineering.conductors import CONSTANTS, MATERIALS
from groundcheck.ingest.values.size import awg_area_mm2
from groundcheck.schema.vocabulary import CONDUCTOR_MATERIAL, JOINT_KINDS

MM2_PER_KCMIL = 0.506707  # 1 kcmil is the area of a circle of sqrt(1000) mil = 0.0254 sqrt(1000) mm across


def constants(material):
    found = {name: float(material_constant(material, name)) for name in CONSTANTS}
    return {name: value for name, value in found.items() if name != "fusing_c"}, found["fusing_c"]


# IEEE Std 80-2013, table 2: K_f of each material at 40 degC ambient (recalled; it confirms the constants of table 1).
@pytest.mark.parametrize(
    ("material", "kcmil_per_ka"),
    [
        ("copper_annealed", 7.00),
        ("copper_hard_drawn", 7.06),
        ("copper_clad_steel_40", 10.45),
        ("copper_clad_steel_30", 12.06),
        ("copper_clad_steel_rod", 14.64),
        ("aluminum", 12.12),
        ("aluminum_6201", 12.47),
        ("aluminum_clad_steel", 17.20),
        ("steel", 15.95),
        ("steel_zinc_coated", 28.96),
        ("stainless_304", 30.05),
    ],
)
def test_a_material_fuses_at_its_tabulated_constant(material, kcmil_per_ka):
    found, fusing = constants(material)
    area = fusing_area_mm2(1.0, 1.0, limit_c=fusing, **found)
    assert area / MM2_PER_KCMIL == pytest.approx(kcmil_per_ka, rel=1.1e-3)  # constants are printed to three digits


# The same equation with the temperature of a joint. Derived; 11.78 is K_f of table 2 for 250 degC (recalled).
@pytest.mark.parametrize(
    ("joint", "kcmil_per_ka"), [("bolted", 11.783), ("compression", 11.783), ("brazed", 9.2778), ("exothermic", 7.06)]
)
def test_a_joint_asks_for_more_copper_the_less_heat_it_bears(joint, kcmil_per_ka):
    found, fusing = constants("copper_hard_drawn")
    area = fusing_area_mm2(1.0, 1.0, limit_c=temperature_limit_c(fusing, joint), **found)
    assert area / MM2_PER_KCMIL == pytest.approx(kcmil_per_ka, rel=1e-3)


def test_twenty_kiloamperes_for_half_a_second_need_ninety_nine_kcmil_of_annealed_copper():
    # IEEE Std 80-2013, 11.3.1 simplified: A = I K_f sqrt(t) = 20 x 7.00 x sqrt(0.5) = 98.995 kcmil.
    found, fusing = constants("copper_annealed")
    area = fusing_area_mm2(20.0, 0.5, limit_c=fusing, **found)
    assert area == pytest.approx(50.178, abs=0.01)  # the equation itself, derived
    assert area / MM2_PER_KCMIL == pytest.approx(98.995, rel=1.1e-3)


# ASTM B258 (recalled): areas of the American wire gauge.
@pytest.mark.parametrize(("number", "mm2"), [(2, 33.631), (0, 53.475), (-1, 67.431), (-3, 107.219)])
def test_a_gauge_bears_what_its_area_bears(number, mm2):
    found, fusing = constants("copper_annealed")
    bears = fusing_current_ka(awg_area_mm2(number), 1.0, limit_c=fusing, **found)
    assert bears == pytest.approx(mm2 / MM2_PER_KCMIL / 7.00, rel=1.1e-3)


def test_zinc_not_steel_sets_the_limit_of_galvanized_steel():
    assert constants("steel_zinc_coated")[1] == 419  # IEEE Std 80-2013, table 1 (recalled)
    # A brazed joint bears 450 degC, the zinc beside it does not.
    assert temperature_limit_c(419.0, "brazed") == 419


def test_every_word_of_the_vocabulary_is_a_material_or_a_joint_of_the_formula():
    assert set(MATERIALS) == set(CONDUCTOR_MATERIAL)
    assert not np.isnan(temperature_limit_c(1083.0, list(JOINT_KINDS))).any()


def test_what_is_not_on_record_stays_unknown():
    assert np.isnan(material_constant([None, "steel"], "k0")).tolist() == [True, False]
    assert np.isnan(temperature_limit_c([1083.0, 1083.0], [None, "bolted"])).tolist() == [True, False]
    found, fusing = constants("steel")
    assert np.isnan(fusing_area_mm2([np.nan, 1.0], [1.0, np.nan], limit_c=fusing, **found)).all()


@given(current_ka=st.floats(0.1, 80), duration_s=st.floats(0.05, 5))
def test_four_times_as_long_needs_twice_the_area(current_ka, duration_s):
    found, fusing = constants("copper_annealed")
    area = partial(fusing_area_mm2, current_ka, limit_c=fusing, **found)
    assert area(4 * duration_s) == pytest.approx(2 * area(duration_s))


@given(
    current_ka=st.floats(0.1, 80), duration_s=st.floats(0.05, 5), material=st.sampled_from(sorted(MATERIALS)),
    limit_c=st.floats(100, 400),
)  # fmt: skip
def test_the_area_that_a_current_needs_bears_that_current(current_ka, duration_s, material, limit_c):
    found, _ = constants(material)
    area = fusing_area_mm2(current_ka, duration_s, limit_c=limit_c, **found)
    assert fusing_current_ka(area, duration_s, limit_c=limit_c, **found) == pytest.approx(current_ka)


def test_the_current_of_one_strap_alone_is_all_of_it():
    # Common practice, no source: two straps of which one takes up to 20 % above its half.
    assert largest_strap_share([1, 2, 4, np.nan], 1.2) == pytest.approx([1.0, 0.6, 0.3, np.nan], nan_ok=True)
    assert largest_strap_share(2, 3.0) == 1.0


def test_contradictory_requests_are_refused():
    found, _ = constants("steel")
    with pytest.raises(ValueError, match=r"^limit_c \(30 degC\) must be above ambient_c \(40 degC\)$"):
        fusing_area_mm2(1.0, 1.0, limit_c=30.0, **found)
    with pytest.raises(ValueError, match=r"^current_ka and duration_s must not be negative$"):
        fusing_area_mm2(-1.0, 1.0, limit_c=300.0, **found)
    with pytest.raises(ValueError, match=r"^no material 'tin'; expected one of copper_annealed"):
        material_constant("tin", "k0")
    with pytest.raises(ValueError, match=r"^no joint 'glue'; expected one of bolted"):
        temperature_limit_c(1083.0, "glue")
