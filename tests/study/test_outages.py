"""Each ground source out of service in turn."""

import numpy as np
import pytest


def test_the_only_supply_leaves_a_dead_zone_and_the_only_ground_an_ungrounded_one(study, station):
    outage = study(station).frame("SELECT * FROM study.source_outage").set_index(["source", "zone"])
    assert outage.result["T2", "ELM:L"] == "dead"
    assert outage.result["GT", "ELM:M"] == "ungrounded"
    assert outage.result["NR2", "ELM:L"] == "ungrounded"
    assert outage.cog["GT", "ELM:M"] == pytest.approx(1.0)


def test_healthy_phases_of_a_zone_left_ungrounded_rise_to_line_to_line_voltage(study, station):
    station["neutral_device"][1] = {"neutral_device": "LINK2", "connected_to": "GT", "kind": "solid"}
    bus = study(station).frame("FROM study.outage_bus").set_index(["source", "bus"])
    assert bus.healthy_phase_kv["GT", "M"] == pytest.approx(20.0)
    assert bus.healthy_phase_kv_high["GT", "M"] > 20.0


def test_a_second_source_keeps_the_zone_grounded_with_the_current_of_the_other_alone(study, station):
    alone = study(station).frame("SELECT * FROM study.bus_fault WHERE bus = 'L'").set_index("condition")
    station["transformer"].append(station["transformer"][1] | {"transformer": "T3"})
    station["neutral_device"].append(station["neutral_device"][2] | {"neutral_device": "NR3", "connected_to": "T3"})
    outage = study(station).frame("SELECT * FROM study.source_outage").set_index("source")
    assert (outage.result["T3"], outage.sources_left["T3"]) == ("kept", 1)
    assert outage.line_to_ground_ka["T3"] == pytest.approx(alone.line_to_ground_ka["min"], rel=1e-9)


def test_a_relay_at_the_bus_sees_only_charging_current_of_a_zone_left_ungrounded(study, station):
    station["ground_relay"] = [{"ground_relay": "R", "function": "51N", "measures": "M", "pickup": 50.0}]
    station["line"] = [
        {"line": "F", "from_bus": "M", "length": 10.0, "construction": "cable", "charging_current": 12.0}
    ]
    left = study(station).frame("FROM study.outage_relay").set_index("source").smallest_fault_a
    assert left["GT"] == pytest.approx(12.0, rel=2e-3)  # derived: 2 X1 is 3.2 ohm beside 2887 ohm of capacitance
    assert np.isfinite(left).all()


def test_a_zone_fed_through_the_transformer_alone_is_dead_though_something_else_grounds_it(study, station):
    outage = study(station).frame("FROM study.source_outage").set_index(["source", "zone"])
    assert outage.result["T1", "ELM:M"] == "dead"  # the zigzag is still there
    assert outage.result["T1", "ELM:L"] == "dead"
    assert outage.result["T1", "ELM:H"] == "kept"
    assert np.isnan(outage.cog["T1", "ELM:M"])


def test_the_zone_that_loses_its_solid_link_for_a_resistor_loses_effectiveness(study, station):
    station["transformer"].append(station["transformer"][1] | {"transformer": "T3"})
    station["neutral_device"].append({"neutral_device": "LINK3", "connected_to": "T3", "kind": "solid"})
    outage = study(station).frame("FROM study.source_outage").set_index(["source", "zone"])
    row = outage.loc[("T3", "ELM:L")]
    assert (row.result, row.grounding_class, row.sources_left) == ("lost_effectiveness", "low_resistance", 1)
    assert row.cog_before < 0.8 < row.cog


def test_a_shared_resistor_that_opens_takes_the_ground_of_all_that_share_it(study, station):
    station["transformer"].append(station["transformer"][1] | {"transformer": "T3"})
    station["neutral_device"][2]["connected_to"] = ["T2", "T3"]
    outage = study(station).frame("FROM study.source_outage").set_index(["source", "zone"])
    assert outage.result["NR2", "ELM:L"] == "ungrounded"
    assert outage.result["T2", "ELM:L"] == outage.result["T3", "ELM:L"] == "kept"


def test_an_unknown_neutral_leaves_it_open_what_its_loss_would_change_and_is_asked_for(study, station):
    station["transformer"].append(station["transformer"][1] | {"transformer": "T3"})
    store = study(station)
    outage = store.frame("FROM study.source_outage").set_index(["source", "zone"])
    assert outage.result["T3", "ELM:L"] == "unknown"
    assert outage.result["T2", "ELM:L"] == "unknown"  # T3 may ground the zone, or not
    blocked = store.frame("FROM study.blocked WHERE quantity = 'source_outage.result'")
    assert set(zip(blocked.asset, blocked.blocking_asset, blocked.field, strict=True)) >= {
        ("T3", "T3", "lv_neutral"), ("T2", "T3", "lv_neutral"), ("NR2", "T3", "lv_neutral"),
    }  # fmt: skip


def test_a_relay_in_the_other_neutral_must_see_the_whole_zone_with_the_source_beside_it_out(study, station):
    alone = [{"ground_relay": "R", "function": "51G", "measures": "NR2", "pickup": 50.0}]
    station["ground_relay"] = alone
    must_see = study(station).frame("FROM study.relay_reach").smallest_fault_a[0]
    station["transformer"].append(station["transformer"][1] | {"transformer": "T3"})
    station["neutral_device"].append(station["neutral_device"][2] | {"neutral_device": "NR3", "connected_to": "T3"})
    left = study(station).frame("FROM study.outage_relay").set_index("source")
    assert left.smallest_fault_a["T3"] == pytest.approx(must_see, rel=1e-9)
    assert left.smallest_fault_a_low["T3"] <= must_see <= left.smallest_fault_a_high["T3"]
    assert "T2" not in left.index  # its own neutral is out with it
    assert "NR2" not in left.index


@pytest.mark.parametrize(
    ("table", "row", "field"),
    [("transformer", 1, "impedance"), ("transformer", 1, "z0"), ("neutral_device", 2, "resistance"),
     ("infeed", 0, "fault_level_3ph"), ("infeed", 0, "fault_current_1ph"), ("grounding_transformer", 0, "z0")],
)  # fmt: skip
def test_a_blank_widens_the_bounds_of_an_outage_and_turns_no_result(study, station, table, row, field):
    station["transformer"].append(station["transformer"][1] | {"transformer": "T3"})
    station["neutral_device"].append(station["neutral_device"][2] | {"neutral_device": "NR3", "connected_to": "T3"})
    station["ground_relay"] = [
        {"ground_relay": f"R{tag}", "function": "51G", "measures": tag, "pickup": 50.0} for tag in ("NR2", "L", "H")
    ]
    keys = {"source_outage": ["source", "zone"], "outage_relay": ["source", "ground_relay"]}
    nothing = {"assume.any": False}
    whole_store = study(station, nothing)
    whole = {name: whole_store.frame(f"FROM study.{name}").set_index(key) for name, key in keys.items()}
    del station[table][row][field]
    thin_store = study(station, nothing)
    thin = {name: thin_store.frame(f"FROM study.{name}").set_index(key) for name, key in keys.items()}
    for name, frame in whole.items():
        wider = thin[name].reindex(frame.index)
        for quantity in [column.removesuffix("_low") for column in frame if column.endswith("_low")]:
            asked = frame[f"{quantity}_low"].notna()
            slack = 1e-6 * frame[f"{quantity}_low"].abs()  # an update rounds where an inverse does not
            assert (wider[f"{quantity}_low"] <= frame[f"{quantity}_low"] + slack)[asked].all(), quantity
            assert (wider[f"{quantity}_high"] >= frame[f"{quantity}_high"] - slack)[asked].all(), quantity
    before, after = whole["source_outage"].result, thin["source_outage"].result.reindex(whole["source_outage"].index)
    assert ((before == after) | (after == "unknown")).all()


def test_a_relay_in_a_neutral_that_the_outage_opens_or_that_is_open_has_no_row(study, station):
    station["ground_relay"] = [
        {"ground_relay": "R", "function": "51G", "measures": "T2", "pickup": 50.0},
        {"ground_relay": "RO", "function": "51G", "measures": "NO", "pickup": 50.0},
    ]
    station["transformer"] += [station["transformer"][1] | {"transformer": tag} for tag in ("T3", "T4")]
    station["neutral_device"] += [
        station["neutral_device"][2] | {"neutral_device": "NR3", "connected_to": "T3"},
        {"neutral_device": "NO", "connected_to": "T4", "winding": "lv", "kind": "open"},
    ]
    left = study(station).frame("FROM study.outage_relay")
    assert set(left[left.ground_relay == "R"].source) >= {"T3", "NR3"}
    assert not {"T2", "NR2"} & set(left[left.ground_relay == "R"].source)
    assert "RO" not in set(left.ground_relay)


def test_two_voltages_for_one_bus_are_asked_for_by_each_outage_table(study, station):
    del station["bus"]
    station["transformer"][1]["hv_voltage"] = 33.0
    station["ground_relay"] = [{"ground_relay": "R", "function": "51N", "measures": "M", "pickup": 50.0}]
    station["grounding_transformer"].append(station["grounding_transformer"][0] | {"grounding_transformer": "GT2"})
    station["neutral_device"].append(station["neutral_device"][1] | {"neutral_device": "NR3", "connected_to": "GT2"})
    blocked = study(station).frame("FROM study.blocked WHERE field = 'nominal_voltage' AND blocking_asset = 'M'")
    assert set(blocked.quantity) >= {
        "source_outage.result", "source_outage.cog", "source_outage.line_to_ground_ka",
        "outage_bus.healthy_phase_kv", "outage_relay.smallest_fault_a",
    }  # fmt: skip


def test_a_current_by_capacitance_elsewhere_in_the_network_that_is_not_on_record_is_not_nought(study, station):
    # A wye-wye without delta passes zero-sequence current on: the cable of L shifts the neutral of N as well.
    station["bus"] += [{"bus": name, "nominal_voltage": kv} for name, kv in (("L2", 6.6), ("N", 3.3), ("N2", 3.3))]
    station["line"] = [
        {"line": "F1", "from_bus": "L", "to_bus": "L2", "length": 5.0, "construction": "cable", "r1": 0.1, "x1": 0.12,
         "r0": 0.4, "x0": 0.5},
        {"line": "F2", "from_bus": "N", "to_bus": "N2", "length": 1.0, "construction": "cable", "r1": 0.1, "x1": 0.12,
         "r0": 0.4, "x0": 0.5, "c0": 300.0},
    ]  # fmt: skip
    station["transformer"].append(
        {"transformer": "T3", "hv_bus": "L", "lv_bus": "N", "rated_power": 2.0, "hv_voltage": 6.6, "lv_voltage": 3.3,
         "vector_group": "YNyn0", "impedance": 6.0, "x_over_r": 10.0, "z0": 6.0, "core_form": "single_phase_bank"}
    )  # fmt: skip
    station["neutral_device"] += [
        {"neutral_device": f"K{side}", "connected_to": "T3", "winding": side, "kind": "solid"} for side in ("hv", "lv")
    ]
    store = study(station, {"assume": {"any": False}})
    outage = store.frame("FROM study.source_outage").set_index(["source", "zone"]).loc["NR2", "ELM:N"]
    assert outage.result == "ungrounded"
    assert np.isnan(outage.line_to_ground_ka)
    assert (outage.line_to_ground_ka_low, outage.line_to_ground_ka_high) == (0, np.inf)
    asked = store.frame("FROM study.blocked WHERE quantity = 'source_outage.line_to_ground_ka' AND asset = 'NR2'")
    assert ("F1", "c0") in set(zip(asked.blocking_asset, asked.field, strict=True))
