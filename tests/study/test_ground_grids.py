"""Mats through the inventory: the grids of IEEE Std 80-2013, annex B, and what the record leaves open."""

import numpy as np
import pytest
from annex_station import annex_station

# Dimensions and printed results: IEEE Std 80-2013, annex B (B.1 and B.2 as quoted publicly, B.3 and B.4 recalled).
# R, GPR and E_m for 1908 A; the annex takes the decrement factor as 1.
GRIDS = {
    "B.1": ({}, 2.78, 5304, 1002.1),
    "B.2": ({"rods": 20, "rod_length": 7.5}, 2.75, 5247, 747.4),
    "B.3": ({"length": 84.0, "width": 63.0, "area": 5292.0, "perimeter": 294.0, "conductor_length": 1659.0,
             "rods": 38, "rod_length": 10.0}, 2.62, 4998, 595.8),
    "B.4": ({"length": 105.0, "width": 70.0, "perimeter": 350.0, "conductor_length": 1575.0, "rods": 24,
             "rod_length": 7.5}, 2.74, 5228, 761.1),
}  # fmt: skip


def only(store, table="ground_grid_duty"):
    rows = store.frame(f"SELECT * FROM study.{table}")
    assert len(rows) == 1
    return rows.iloc[0]


def asked(store, quantity):
    query = "SELECT DISTINCT blocking_asset_kind, blocking_asset, field FROM study.blocked WHERE quantity = $q"
    rows = store.frame(query, {"q": quantity})
    return set(rows.itertuples(index=False, name=None))


@pytest.mark.parametrize("name", GRIDS)
def test_a_mat_of_the_annex_rises_and_steps_as_printed(study, name):
    changed, ohm, rise, mesh = GRIDS[name]
    found = only(study(annex_station(**changed, rod_positions="perimeter")))
    # The annex rounds K_m, K_i and R before it multiplies: 0.5 %, and 0.8 % for the L-shaped grid.
    tolerance = 0.008 if name == "B.4" else 0.005
    assert found.sverak_ohm == pytest.approx(ohm, abs=0.006)
    assert found.gpr_v / found.decrement == pytest.approx(rise, rel=tolerance)
    assert found.mesh_v / found.decrement == pytest.approx(mesh, rel=tolerance)
    # Annex B.1: 838.2 V and 2686.6 V with C_s rounded to 0.74; 0.5 % more without.
    assert found.touch_70_v == pytest.approx(838.2, rel=0.005)
    assert found.step_70_v == pytest.approx(2686.6, rel=0.005)
    assert found.within_limits
    assert not found.provisional


def test_step_voltage_of_the_mat_with_rods_is_as_printed(study):
    # IEEE Std 80-2013, annex B.2: E_s 548.9 V.
    found = only(study(annex_station(rods=20, rod_length=7.5, rod_positions="perimeter")))
    assert found.step_v / found.decrement == pytest.approx(548.9, rel=0.005)


def test_current_that_returns_through_the_transformer_on_the_mat_does_not_raise_it(study):
    store = study(annex_station())
    faults = store.frame("SELECT bus, line_to_ground_ka FROM study.bus_fault WHERE condition = 'max'").set_index("bus")
    # IEEE Std 80-2013, annex B: 3180 A at 115 kV and 6814 A at 13 kV, of which the first counts.
    assert faults.line_to_ground_ka["H"] * 1e3 == pytest.approx(3180, rel=5e-4)
    assert faults.line_to_ground_ka["L"] * 1e3 == pytest.approx(6814, rel=5e-4)
    found = only(store)
    assert (found.fault_bus, found.earth_current_a) == ("H", pytest.approx(3180, rel=5e-4))
    assert found.grid_current_a / found.decrement == pytest.approx(1908, rel=5e-4)


def test_a_neutral_draws_current_from_the_earth_for_a_fault_at_another_station(study):
    station = annex_station(fault_duration=None)
    station["substation"].append({"substation": "OAK", "frequency": 60.0})
    station["bus"].append({"substation": "OAK", "bus": "L", "nominal_voltage": 13.0})
    station["line"] = [{"line": "F", "from_bus": "L", "to_bus": "OAK:L", "length": 2.0, "r1": 0.2, "x1": 0.4, "r0": 0.5,
                        "x0": 1.2, "c0": 0.0, "shield_wire": "not fitted"}]  # fmt: skip
    station["infeed"][0] |= {"grounded": False, "fault_current_1ph": None}
    store = study(station)
    found = only(store)
    far = store.frame(
        "SELECT line_to_ground_ka FROM study.bus_fault WHERE substation = 'OAK' AND condition = 'max'"
    ).line_to_ground_ka[0]
    # Kirchhoff: the only neutral of the zone stands on this mat, so all of the far fault's current comes back to it.
    assert (found.fault_substation, found.earth_current_a) == ("OAK", pytest.approx(far * 1e3))


def test_two_ways_home_share_the_current(study):
    station = annex_station()
    station["transformer"].append(
        {"transformer": "T2", "hv_bus": "H", "lv_bus": "L2", "rated_power": 40.0, "hv_voltage": 115.0,
         "lv_voltage": 13.0, "vector_group": "YNd1", "impedance": 10.0, "z0": 10.0, "x_over_r": 20.0}
    )  # fmt: skip
    station["bus"].append({"bus": "L2", "nominal_voltage": 13.0})
    station["neutral_device"].append({"neutral_device": "N2", "connected_to": "T2", "winding": "hv", "kind": "solid"})
    store = study(station)
    found = only(store)
    own = store.frame("SELECT current_a FROM study.neutral_duty WHERE neutral_device = 'N2'").current_a[0]
    fault = store.frame("SELECT line_to_ground_ka * 1e3 FROM study.bus_fault WHERE bus = 'H' AND condition = 'max'")
    total = fault.iloc[0, 0]
    # Kirchhoff with phasors: no side of the triangle is longer than the other two together.
    assert found.earth_current_a < total
    assert total <= found.earth_current_a + own
    assert found.earth_current_a + own == pytest.approx(total, rel=0.05)


# EN 50522, annex I (recalled): 0.97 beside a steel wire, 0.75 beside one with aluminum.
@pytest.mark.parametrize(("wire", "share"), [("7/3.25 mm steel", 0.97), ("ACSR 95/55", 0.75), ("OPGW", 0.75)])
def test_a_shield_wire_relieves_the_mat_by_a_typical_share_that_is_listed(study, wire, share):
    store = study(fed_over_line(wire, True))
    found = only(store)
    assert found.split_factor == share
    assert (found.split_factor_low, found.split_factor_high) == (0, 1)
    assert found.provisional
    listed = store.frame("SELECT asset, value FROM study.assumption WHERE field = 'split_factor'")
    assert list(listed.itertuples(index=False, name=None)) == [("M", f"{share:g}")]
    without = only(study(fed_over_line(wire, True), {"assume": {"split_factor": False}}))
    assert np.isnan(without.gpr_v)
    assert without.gpr_v_high == pytest.approx(found.gpr_v_high)


@pytest.mark.parametrize(("wire", "bonded"), [("not fitted", None), ("7/3.25 mm steel", False)])
def test_without_a_wire_bonded_to_it_a_mat_takes_all(study, wire, bonded):
    store = study(fed_over_line(wire, bonded))
    found = only(store)
    assert (found.split_factor, found.split_factor_low, found.split_factor_high) == (1, 1, 1)
    assert not found.provisional


def test_a_wire_not_on_record_is_asked_for(study):
    store = study(fed_over_line(None, None))
    found = only(store)
    assert np.isnan(found.split_factor)
    assert ("ground_grid", "M", "split_factor") in asked(store, "ground_grid_duty.gpr_v")
    assert ("line", "F", "shield_wire") in asked(store, "shield_wire.reduction")
    ends = store.frame('SELECT * FROM study.shield_wire ORDER BY "end"')
    assert list(ends["end"]) == ["from", "to"]
    assert ends.reduction.isna().all()


def fed_over_line(wire, bonded):
    """The station of the annex fed over a line from a grounded supply at another station; split factor blank."""
    station = annex_station(split_factor=None)
    station["substation"].append({"substation": "OAK", "frequency": 60.0})
    station["bus"].append({"substation": "OAK", "bus": "H", "nominal_voltage": 115.0})
    station["infeed"][0] |= {"substation": "OAK"}
    station["line"] = [
        {"line": "F", "from_bus": "H", "to_bus": "OAK:H", "length": 1.0, "r1": 0.1, "x1": 0.4, "r0": 0.3, "x0": 1.2,
         "c0": 0.0, "shield_wire": wire, "shield_wire_bonded_from": bonded}
    ]  # fmt: skip
    return station


def test_a_measured_resistance_replaces_the_formula_and_is_compared_with_it(study):
    found = only(study(annex_station(measured_resistance=5.0)))
    assert (found.resistance_ohm, found.resistance_basis) == (5.0, "measured")
    assert found.gpr_v == pytest.approx(5.0 * found.grid_current_a)
    assert found.measured_over_computed == pytest.approx(5.0 / 2.7757, rel=1e-4)  # annex B.1, to more digits; derived


def test_a_mat_too_close_for_the_formula_has_no_mesh_voltage(study):
    # IEEE Std 80-2013, 16.5.1 (recalled): the spacing must be above 2.5 m.
    found = only(study(annex_station(spacing=2.0)))
    assert not found.within_limits
    assert np.isnan(found.mesh_v)
    assert (found.mesh_v_low, found.mesh_v_high) == (0, np.inf)
    assert found.gpr_v > 0


def test_bare_ground_is_what_the_feet_stand_on(study):
    # IEEE Std 80-2013, 8.3 (recalled): C_s is 1 and the soil counts: (1000 + 1.5 x 400) 0.116/sqrt(0.5).
    found = only(study(annex_station(surface_depth=0.0, surface_resistivity=None)))
    assert found.touch_50_v == pytest.approx(262.48, rel=1e-4)


def test_a_rectangle_is_taken_where_only_the_sides_are_on_record(study):
    store = study(annex_station(area=None, perimeter=None))
    found, whole = only(store), only(study(annex_station()))
    assert found.mesh_v == pytest.approx(whole.mesh_v)
    assert found.provisional
    assert np.isinf(found.mesh_v_high)
    # A mat inside those sides is no larger than the rectangle: its resistance is no less.
    assert found.sverak_ohm_low <= whole.sverak_ohm_low < found.sverak_ohm_high


def test_rods_that_may_stand_anywhere_are_taken_at_the_edge_and_bounded_by_both(study):
    rods = {"rods": 20, "rod_length": 7.5}
    found = only(study(annex_station(**rods)))
    edge, inside = (only(study(annex_station(**rods, rod_positions=p))) for p in ("perimeter", "inside"))
    assert found.mesh_v == edge.mesh_v
    assert found.provisional
    assert not edge.provisional
    assert found.mesh_v_low == pytest.approx(min(edge.mesh_v_low, inside.mesh_v_low))
    assert found.mesh_v_high == pytest.approx(max(edge.mesh_v_high, inside.mesh_v_high))


FIELDS = (
    "area", "perimeter", "length", "width", "conductor_length", "spacing", "depth", "rods", "rod_length",
    "rod_positions", "soil_resistivity", "surface_resistivity", "surface_depth", "split_factor", "fault_duration",
    "conductor_size",
)  # fmt: skip
COMPUTED = (
    "sverak_ohm", "resistance_ohm", "earth_current_a", "split_factor", "grid_current_a", "gpr_v", "mesh_v", "step_v",
    "touch_50_v", "step_50_v", "touch_70_v", "step_70_v",
)  # fmt: skip


@pytest.fixture(scope="module")
def with_blanks(study):
    """A station whose mat is whole on record, and one for each field in which that is blank; studied both ways."""
    rods = {"rods": 20, "rod_length": 7.5, "rod_positions": "perimeter"}
    fleet = {}
    for name, blank in {"whole": {}, **{field: {field: None} for field in FIELDS}}.items():
        for table, rows in annex_station(**(rods | blank)).items():
            fleet.setdefault(table, []).extend({"substation": name, **row} for row in rows)
    return {assumed: study(fleet, {"assume": {"any": assumed}}) for assumed in (True, False)}


def duties(store):
    found = store.frame("SELECT * FROM study.ground_grid_duty").set_index("substation")
    assert found.index.is_unique
    return found


@pytest.mark.parametrize("assumed", [True, False])
@pytest.mark.parametrize("field", FIELDS)
def test_a_blank_never_narrows_what_is_known(with_blanks, field, assumed):
    # The whole record lies within the bounds of the record with a gap: design rule of the study, derived.
    found = duties(with_blanks[assumed])
    whole, thin = found.loc["whole"], found.loc[field]
    for name in COMPUTED:
        assert thin[f"{name}_low"] <= whole[f"{name}_low"] * (1 + 1e-9), name
        assert thin[f"{name}_high"] >= whole[f"{name}_high"] * (1 - 1e-9), name
        value = thin[name]
        assert np.isnan(value) or thin[f"{name}_low"] <= value * (1 + 1e-9) <= thin[f"{name}_high"] * (1 + 2e-9), name


@pytest.mark.parametrize("field", [f for f in FIELDS if f not in ("area", "perimeter", "rod_positions")])
def test_what_a_blank_leaves_open_asks_for_it(with_blanks, field):
    store = with_blanks[False]
    found = duties(store).loc[field]
    open_ones = [name for name in COMPUTED if np.isnan(found[name])]
    if field == "fault_duration":  # the bus's clearing time stands in
        assert open_ones == []
        return
    assert open_ones != []
    waits = store.frame(
        "SELECT DISTINCT field FROM study.blocked WHERE substation = $s AND list_contains($q, quantity)",
        {"s": field, "q": [f"ground_grid_duty.{name}" for name in open_ones]},
    )
    assert field in set(waits.field)
