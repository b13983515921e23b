"""Secondary circuits that are grounded at two points."""

import numpy as np
import pytest
from annex_station import annex_station

CIRCUIT = {"secondary_circuit": "S1", "kind": "ct", "ground_points": "relay panel; marshalling kiosk",
           "conductor_area": 2.5, "length": 80.0}  # fmt: skip


def loops(store):
    return store.frame("SELECT * FROM study.secondary_loop")


def station(**circuit):
    return annex_station() | {"secondary_circuit": [CIRCUIT | circuit]}


def test_the_mat_drives_a_current_through_the_wire(study):
    store = study(station())
    found = loops(store).iloc[0]
    rise = store.frame("SELECT gpr_v, gpr_v_high FROM study.ground_grid_duty").iloc[0]
    # IEC 60028 (recalled): 17.241 mohm for 1 m of 1 mm2; policy: a twentieth of the rise, and 0.02 ohm of mat.
    assert found.wire_ohm == pytest.approx(0.017241 * 80 / 2.5)
    assert found.mat_voltage_v == pytest.approx(rise.gpr_v / 20)
    assert found.wire_current_a == pytest.approx(rise.gpr_v / 20 / (0.55171 + 0.02), rel=1e-4)
    # One of the points may stand off the mat, and the mat between them may be without resistance.
    assert found.wire_current_a_high == pytest.approx(rise.gpr_v_high / 0.55171, rel=1e-4)
    assert found.wire_current_a_low == 0
    assert found.bypassed_share == pytest.approx(0.55171 / 0.57171, rel=1e-4)
    assert found.provisional


def test_a_wire_bears_what_its_insulation_bears(study):
    # IEC 60724 and IEC 60949 (recalled): PVC-insulated copper from 70 to 160 degC bears 115 A s^0.5 a mm2; from
    # 40 degC, as here, more by the root of the rise that is left: 2.5 mm2 x 115 x sqrt(120/90)/sqrt(0.5), within 3 %.
    found = loops(study(station())).iloc[0]
    assert found.duration_s == 0.5
    assert found.bears_a == pytest.approx(2.5 * 115 * np.sqrt(120 / 90) / np.sqrt(0.5), rel=0.03)


def test_a_circuit_grounded_once_or_nowhere_has_no_loop(study):
    for places in ("relay panel", "none", None, "relay panel; relay panel"):
        assert loops(study(station(ground_points=places))).empty


def test_typical_values_are_listed_and_can_be_switched_off(study):
    store = study(station())
    listed = store.frame("SELECT field, value FROM study.assumption WHERE asset_kind = 'secondary_circuit'")
    assert set(listed.itertuples(index=False, name=None)) == {("mat_voltage_share", "0.05"), ("mat_path", "0.02 ohm")}
    bare = loops(study(station(), {"assume": {"any": False}})).iloc[0]
    assert np.isnan(bare.wire_current_a)
    assert bare.wire_current_a_high == pytest.approx(loops(store).iloc[0].wire_current_a_high)
    assert not bare.provisional


@pytest.mark.parametrize("field", ["conductor_area", "length"])
def test_wiring_not_on_record_is_asked_for(study, field):
    store = study(station(**{field: None}))
    found, whole = loops(store).iloc[0], loops(study(station())).iloc[0]
    assert np.isnan(found.wire_current_a)
    for name in ("wire_ohm", "wire_current_a", "bypassed_share", "bears_a"):
        assert found[f"{name}_low"] <= whole[f"{name}_low"]
        assert found[f"{name}_high"] >= whole[f"{name}_high"]
    query = "SELECT field FROM study.blocked WHERE quantity = 'secondary_loop.wire_current_a'"
    assert set(store.frame(query).field) == {field}


def test_without_a_mat_on_record_the_mat_is_asked_for(study):
    rows = station()
    del rows["ground_grid"]
    store = study(rows)
    found = loops(store).iloc[0]
    assert np.isnan(found.mat_voltage_v)
    assert np.isinf(found.mat_voltage_v_high)
    query = "SELECT blocking_asset_kind, blocking_asset, field FROM study.blocked WHERE quantity = $q"
    blocked = store.frame(query, {"q": "secondary_loop.mat_voltage_v"})
    assert list(blocked.itertuples(index=False, name=None)) == [("substation", "ELM", "ground_grid")]
