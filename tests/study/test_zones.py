"""Which buses one ground fault lifts, and what grounds them."""

import pandas as pd
import pytest


def zones(store):
    return store.frame("SELECT * FROM study.zone").set_index("zone")


def zone_of(store, bus):
    return store.frame("SELECT zone FROM study.zone_bus WHERE bus = $bus", {"bus": bus}).zone[0]


def test_transformers_separate_zones_and_lines_join_them(study, station):
    station["bus"].append({"bus": "M2", "nominal_voltage": 20.0})
    station["line"] = [{"line": "C1", "from_bus": "M", "to_bus": "M2", "length": 1.0, "r1": 0.1, "x1": 0.1, "r0": 0.3,
                        "x0": 0.3, "c0": 250.0}]  # fmt: skip
    store = study(station)
    assert zone_of(store, "M") == zone_of(store, "M2") == "ELM:M"
    assert len(zones(store)) == 3


@pytest.mark.parametrize(("state", "joined"), [("closed", True), ("open", False)])
def test_only_a_closed_switch_joins_zones(study, station, state, joined):
    station["bus"].append({"bus": "M2", "nominal_voltage": 20.0})
    station["switch"] = [{"switch": "BC", "bus_a": "M", "bus_b": "M2", "normal_state": state}]
    store = study(station)
    assert (zone_of(store, "M") == zone_of(store, "M2")) is joined


def test_closed_switch_makes_one_electrical_point(study, station):
    station["bus"].append({"bus": "M2", "nominal_voltage": 20.0})
    station["switch"] = [{"switch": "BC", "bus_a": "M", "bus_b": "M2", "normal_state": "closed"}]
    faults = study(station).frame("SELECT * FROM study.bus_fault WHERE condition = 'max'").set_index("bus")
    assert faults.line_to_ground_ka["M2"] == faults.line_to_ground_ka["M"]


def test_switch_of_unknown_state_leaves_both_sides_undecided_and_is_asked_for(study, station):
    station["bus"].append({"bus": "M2", "nominal_voltage": 20.0})
    station["switch"] = [{"switch": "BC", "bus_a": "M", "bus_b": "M2"}]
    store = study(station)
    faults = store.frame("SELECT * FROM study.bus_fault WHERE condition = 'max'").set_index("bus")
    assert faults.line_to_ground_ka[["M", "M2"]].isna().all()
    asked = store.frame("SELECT DISTINCT blocking_asset, field FROM study.blocked WHERE asset = 'M2'")
    assert ("BC", "normal_state") in set(asked.itertuples(index=False, name=None))


def test_line_that_joins_two_voltages_is_left_out(study, station):
    station["line"] = [{"line": "X", "from_bus": "M", "to_bus": "L", "length": 1.0, "r1": 0.1, "x1": 0.1}]
    store = study(station)
    left = store.frame("SELECT * FROM study.left_out").iloc[0]
    assert (left.asset_kind, left.asset, left.field) == ("line", "X", "to_bus")
    assert left.why == "it joins bus M of 20 kV and bus L of 6.6 kV"
    assert len(zones(store)) == 3


def test_classes_follow_from_what_stands_in_the_neutrals(study, station):
    classes = zones(study(station)).grounding_class
    assert classes.to_dict() == {"ELM:H": "effective", "ELM:M": "low_resistance", "ELM:L": "low_resistance"}


@pytest.mark.parametrize(
    ("device", "expected"),
    [
        ({"kind": "resistor", "resistance": 381.0}, "high_resistance"),
        ({"kind": "reactor", "reactance": 5.0}, "reactance"),
        ({"kind": "arc_suppression_coil", "reactance": 500.0}, "resonant"),
        ({"kind": "open"}, "ungrounded"),
        ({"kind": "surge_arrester"}, "ungrounded"),
        ({"kind": "solid"}, "effective"),
        ({"kind": "resistor"}, "resistance"),
    ],
)
def test_class_of_the_low_voltage_zone(study, station, device, expected):
    station["neutral_device"][2] = {"neutral_device": "NR2", "connected_to": "T2", "winding": "lv", **device}
    assert zones(study(station)).grounding_class["ELM:L"] == expected


def test_delta_without_grounding_transformer_is_ungrounded(study, station):
    del station["grounding_transformer"]
    del station["neutral_device"][1]
    found = zones(study(station)).loc["ELM:M"]
    assert found.grounding_class == "ungrounded"
    assert found.has_ground_source == False  # noqa: E712 - a nullable boolean, which may be NA


def test_neutral_of_which_nothing_is_on_record_leaves_the_zone_unknown(study, station):
    del station["neutral_device"][2]
    store = study(station)
    found = zones(store).loc["ELM:L"]
    assert found.isna()[["grounding_class", "has_ground_source"]].all()
    asked = store.frame("SELECT blocking_asset, field FROM study.blocked WHERE quantity = 'zone.grounding_class'")
    assert list(asked.itertuples(index=False, name=None)) == [("T2", "lv_neutral")]


@pytest.mark.parametrize(
    ("core", "expected"), [(None, None), ("five_limb", False), ("shell", False), ("three_limb", True)]
)
def test_wye_wye_without_delta_grounds_only_through_a_three_limb_core(study, station, core, expected):
    station["transformer"][1] |= {"vector_group": "Yyn0", "core_form": core}
    store = study(station)
    found = zones(store).has_ground_source["ELM:L"]
    assert (None if pd.isna(found) else bool(found)) == expected
    if core is None:
        asked = store.frame("SELECT DISTINCT field FROM study.blocked WHERE quantity = 'zone.has_ground_source'")
        assert list(asked.field) == ["core_form"]


def test_wye_wye_with_both_neutrals_grounded_passes_the_upstream_ground_on(study, station):
    station["transformer"][1] |= {"vector_group": "YNyn0"}
    station["neutral_device"].append({"neutral_device": "N3", "connected_to": "T2", "winding": "hv", "kind": "solid"})
    assert bool(zones(study(station)).has_ground_source["ELM:L"]) is True


def test_zone_that_nothing_on_record_feeds_is_not_called_ungrounded(study):
    store = study(
        {
            "transformer": [
                {"transformer": "T", "hv_bus": "H", "lv_bus": "L", "rated_power": 10.0, "hv_voltage": 33.0,
                 "lv_voltage": 11.0, "vector_group": "Dyn11", "impedance": 10.0}
            ],
            "neutral_device": [{"neutral_device": "N", "connected_to": "T", "kind": "solid"}],
        }
    )  # fmt: skip
    found = zones(store)
    assert found.has_ground_source.isna()["ELM:H"]
    assert bool(found.has_ground_source["ELM:L"]) is True
    asked = store.frame("SELECT blocking_asset, field FROM study.blocked WHERE quantity = 'bus_fault.three_phase_ka'")
    assert set(asked.itertuples(index=False, name=None)) == {("H", "infeed")}


def test_grounding_transformer_neutral_is_assumed_solid_only_where_the_policy_allows(study, station):
    del station["neutral_device"][1]
    allowed = study(station)
    assert zones(allowed).grounding_class["ELM:M"] == "reactance"
    listed = allowed.frame("SELECT value FROM study.assumption WHERE asset = 'GT' AND field = 'neutral'")
    assert list(listed.value) == ["solid link"]
    store = study(station, {"assume": {"grounding_transformer_neutral": False}})
    assert zones(store).isna().loc["ELM:M", ["grounding_class", "has_ground_source"]].all()
    asked = store.frame("SELECT blocking_asset, field FROM study.blocked WHERE quantity = 'zone.has_ground_source'")
    assert list(asked.itertuples(index=False, name=None)) == [("GT", "neutral_device")]


def test_two_voltages_for_one_bus_leave_its_results_open_and_name_the_field(study, station):
    del station["bus"]
    station["transformer"][1]["hv_voltage"] = 33.0
    store = study(station)
    row = store.frame("SELECT * FROM study.bus_fault WHERE bus = 'M' AND condition = 'max'").iloc[0]
    assert row[["three_phase_ka", "line_to_ground_ka", "healthy_phase_kv"]].isna().all()
    asked = store.frame("SELECT field FROM study.blocked WHERE asset = 'M' AND quantity = 'bus_fault.three_phase_ka'")
    assert "nominal_voltage" in set(asked.field)


@pytest.mark.parametrize(("amperes", "expected"), [(5000.0, "effective"), (500.0, "grounded_by_infeed")])
def test_a_fault_level_does_not_tell_what_stands_in_the_neutrals_behind_an_infeed(study, station, amperes, expected):
    # 1000 MVA at 110 kV is 5.25 kA: as much to ground is solid; a tenth of it may be a resistor or a far solid neutral.
    station["neutral_device"][0]["kind"] = "open"
    station["infeed"][0]["fault_current_1ph"] = amperes / 1e3
    zones = study(station).frame("FROM study.zone").set_index("zone")
    assert zones.grounding_class["ELM:H"] == expected


def test_a_solid_link_beside_an_infeed_makes_the_zone_solid(study, station):
    station["infeed"][0]["fault_current_1ph"] = 0.05
    station["transformer"][0]["z0"] = 90.0
    assert study(station).frame("FROM study.zone").set_index("zone").grounding_class["ELM:H"] == "solid_not_effective"
