"""Bonds of equipment to the mat: the fault that they carry, the area that it needs, and the area installed."""

import numpy as np
import pytest
from annex_station import annex_station

MM2_PER_KCMIL = 0.506707
BOND = {"bond": "B1", "equipment": "T1", "conductor_size": "4/0 AWG", "conductor_material": "copper_hard_drawn",
        "joint": "bolted", "parallel": 1}  # fmt: skip


def bonded(*bonds, **bond):
    """The station of the annex with bonds; without any, one at its transformer, changed by what is given."""
    return annex_station() | {"bond": list(bonds) or [BOND | bond]}


def duty(store, tag="B1"):
    return store.frame("SELECT * FROM study.bond_duty").set_index("bond").loc[tag]


def asked(store, quantity):
    rows = store.frame("SELECT field FROM study.blocked WHERE quantity = $q", {"q": f"bond_duty.{quantity}"})
    return set(rows.field)


def test_a_strap_needs_the_area_of_the_fusing_equation(study):
    found = duty(study(bonded()))
    # IEEE Std 80-2013, annex B: 6814 A at 13 kV, X/R 16.2, the largest fault at either winding (recalled).
    assert found.current_a == pytest.approx(6814, rel=5e-4)
    assert found.x_over_r == pytest.approx(16.2, rel=5e-3)
    # Table 10 (recalled): D_f for 0.5 s is 1.026 at X/R 10 and 1.052 at 20.
    assert 1.026 < found.decrement < 1.052
    # Table 2 (recalled): 11.78 kcmil per kA for hard-drawn copper with bolted joints.
    kcmil = 6.814 * found.decrement * 11.78 * np.sqrt(0.5)
    assert found.needed_mm2 == pytest.approx(kcmil * MM2_PER_KCMIL, rel=2e-3)
    assert found.limit_c == 250
    assert (found.fault, found.fault_bus, found.stands_at) == ("line_to_ground", "L", "bus")
    # ASTM B258 (recalled): 4/0 is 107.2 mm2.
    assert found.installed_mm2 == pytest.approx(107.219, rel=1e-4)
    assert found.bears_a == pytest.approx(found.current_a * found.installed_mm2 / found.needed_mm2)
    assert not found.provisional


@pytest.mark.parametrize(("joint", "kcmil_per_ka"), [("bolted", 11.783), ("brazed", 9.2778), ("exothermic", 7.06)])
def test_the_joint_sets_the_area(study, joint, kcmil_per_ka):
    # IEEE Std 80-2013, 11.3.1 with the limits of 11.3.3 (recalled), solved for hard-drawn copper.
    found = duty(study(bonded(joint=joint)))
    kcmil = found.current_a / 1e3 * found.decrement * kcmil_per_ka * np.sqrt(0.5)
    assert found.needed_mm2 == pytest.approx(kcmil * MM2_PER_KCMIL, rel=2e-3)


def test_equipment_carries_the_fault_at_its_own_bus(study):
    station = bonded(BOND | {"bond": "B1", "equipment": "SA1"}, BOND | {"bond": "B2", "equipment": "N1"})
    station["arrester"] = [{"arrester": "SA1", "bus": "H"}]
    store = study(station)
    # IEEE Std 80-2013, annex B: 3180 A at 115 kV, 6814 A at 13 kV, where the transformer's neutral stands.
    assert duty(store, "B1").current_a == pytest.approx(3180, rel=5e-4)
    assert duty(store, "B2").current_a == pytest.approx(6814, rel=5e-4)


def test_equipment_not_on_record_carries_the_worst_of_its_station(study):
    store = study(bonded(BOND | {"equipment": "fence"}, BOND | {"bond": "B2", "equipment": "T1"}))
    fence, tank = duty(store, "B1"), duty(store, "B2")
    assert (fence.stands_at, tank.stands_at) == ("station", "bus")
    assert fence.needed_mm2 == pytest.approx(tank.needed_mm2)
    assert fence.needed_mm2_low < tank.needed_mm2_low  # it may stand where the least fault is
    assert fence.needed_mm2_high == pytest.approx(tank.needed_mm2_high)


def test_two_straps_count_by_what_the_worse_one_takes(study):
    # Policy: a fifth above its half.
    found = duty(study(bonded(parallel=2)))
    assert found.strap_share == pytest.approx(0.6)
    assert found.installed_mm2 == pytest.approx(107.219 / 0.6, rel=1e-4)


def test_a_number_of_straps_not_on_record_counts_as_one_and_is_listed(study):
    store = study(bonded(parallel=None))
    found = duty(store)
    assert found.installed_mm2 == found.installed_mm2_low == pytest.approx(107.219, rel=1e-4)
    assert np.isinf(found.installed_mm2_high)
    assert found.provisional
    listed = store.frame("SELECT asset, value FROM study.assumption WHERE field = 'parallel'")
    assert list(listed.itertuples(index=False, name=None)) == [("B1", "1")]
    without = study(bonded(parallel=None), {"assume": {"bond_parallel": False}})
    assert np.isnan(duty(without).installed_mm2)
    assert asked(without, "installed_mm2") == {"parallel"}


def test_a_zone_that_runs_on_is_sized_for_a_second_fault(study):
    station = bonded(equipment="SA1")
    station["arrester"] = [{"arrester": "SA1", "bus": "L"}]
    station["bus"][1] = {"bus": "L", "nominal_voltage": 13.0, "continuity_required": True}
    store = study(station)
    three = store.frame("SELECT three_phase_ka FROM study.bus_fault WHERE bus = 'L' AND condition = 'max'").iloc[0, 0]
    found = duty(store)
    assert found.fault == "second_ground_fault"
    # Kasikci, Short Circuits in Power Systems, chapter 7: 0.85 of the three-phase current; sqrt(3)/2 derived.
    assert found.current_a == pytest.approx(0.85e3 * three, rel=0.02)
    assert found.duration_s == 1.0


def test_what_is_not_on_record_widens_and_is_asked_for(study):
    whole = duty(study(bonded()))
    for field in ("conductor_material", "joint"):
        store = study(bonded(**{field: None}))
        thin = duty(store)
        assert np.isnan(thin.needed_mm2)
        assert thin.needed_mm2_low <= whole.needed_mm2_low
        assert thin.needed_mm2_high >= whole.needed_mm2_high
        assert np.isfinite(thin.needed_mm2_high)
        assert asked(store, "needed_mm2") == {field}
    store = study(bonded(conductor_size=None))
    assert (duty(store).installed_mm2_low, duty(store).installed_mm2_high) == (0, np.inf)
    assert asked(store, "installed_mm2") == {"conductor_size"}


def test_a_clearing_time_not_on_record_is_asked_for(study):
    station = bonded()
    for bus in station["bus"]:
        del bus["ground_fault_clearing_time"]
    store = study(station, {"assume": {"any": False}})
    assert np.isnan(duty(store).needed_mm2)
    assert asked(store, "needed_mm2") == {"ground_fault_clearing_time"}
    assumed = duty(study(station))
    assert assumed.duration_s == 3.0  # the policy's
    assert assumed.provisional
    assert duty(store).needed_mm2_low <= assumed.needed_mm2 <= duty(store).needed_mm2_high


def test_a_supply_not_on_record_leaves_the_area_open_above(study):
    station = bonded()
    del station["infeed"]
    store = study(station)
    found = duty(store)
    assert np.isnan(found.needed_mm2)
    assert found.needed_mm2_low >= 0
    assert found.needed_mm2_high >= duty(study(bonded())).needed_mm2_high
    assert "infeed" in asked(store, "needed_mm2")


def test_the_conductor_of_the_mat_carries_its_share(study):
    store = study(bonded(joint="brazed", conductor_material="copper"))
    strap, mat = duty(store), store.frame("SELECT * FROM study.grid_conductor_duty").iloc[0]
    # Policy: 0.6 of the current in one conductor, joints as for brazing; so 0.6 of what a brazed strap needs.
    assert mat.needed_mm2 == pytest.approx(0.6 * strap.needed_mm2)
    assert mat.installed_mm2 == pytest.approx(78.54)
    assert mat.fault_bus == "L"


def test_a_station_without_bonds_or_mats_has_none(study):
    store = study({table: rows for table, rows in annex_station().items() if table != "ground_grid"})
    for table in ("bond_duty", "grid_conductor_duty", "ground_grid_duty", "secondary_loop"):
        assert store.frame(f"SELECT * FROM study.{table}").empty
