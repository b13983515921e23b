"""What watches each zone and each neutral device for ground faults."""

import pandas as pd
import pytest

from groundcheck.errors import PolicyError


@pytest.fixture
def watched(study, station):
    """Give a function that studies the station with one relay: the zones, the devices it watches, and its rows."""

    def run(measures, function="51N", substation="ELM", **tables):
        relay = {"ground_relay": "R1", "function": function, "measures": measures, "substation": substation}
        rows = study(station | {"ground_relay": [relay]} | tables).read("study", "ground_watch")
        return set(rows["zone"].dropna()), set(rows["neutral_device"].dropna()), rows

    return run


@pytest.mark.parametrize(("measures", "zones", "devices"), [
    ("L", {"ELM:L"}, {"NR2"}),
    ("H", {"ELM:H"}, {"LINK"}),
    ("NR2", {"ELM:L"}, {"NR2"}),
    ("T2", {"ELM:L"}, {"NR2"}),
    ("GT", {"ELM:M"}, {"NR1"}),
    ("CT1", {"ELM:L"}, {"NR2"}),
    ("C1", {"ELM:M"}, set()),
    ("CT8", set(), set()),
    ("GONE", set(), set()),
], ids=["bus", "bus of another winding", "device", "transformer", "grounding transformer", "current transformer",
        "line", "current transformer at a bus not on record", "asset not on record"])  # fmt: skip
def test_a_relay_watches_the_zone_and_the_neutral_of_what_it_measures(watched, station, measures, zones, devices):
    station["bus"].append({"bus": "M2", "nominal_voltage": 20.0})
    line = {"line": "C1", "from_bus": "M", "to_bus": "M2", "length": 1.0, "r1": 0.1, "x1": 0.1}
    transformers = [{"instrument_transformer": tag, "kind": "ct", "bus": bus} for tag, bus in (("CT1", "L"),)]
    transformers.append({"instrument_transformer": "CT8", "kind": "ct", "bus": "OAK:B9"})
    found = watched(measures, line=[line], instrument_transformer=transformers)
    assert found[:2] == (zones, devices)
    assert found[2].placed.all()


def test_a_delta_winding_tells_nothing_of_its_zone(watched):
    zones, _, _ = watched("T1")
    assert zones == {"ELM:H"}  # T1 is YNd


def test_a_relay_of_another_station_watches_what_it_measures(watched):
    zones, devices, rows = watched("ELM:NR2", substation="OAK")
    assert (zones, devices) == ({"ELM:L"}, {"NR2"})
    assert set(rows["device_substation"]) == {"ELM"}


def test_a_bus_shows_the_current_of_every_neutral_at_it(watched, station):
    station["transformer"].append(station["transformer"][1] | {"transformer": "T3"})
    station["neutral_device"].append({"neutral_device": "NR3", "connected_to": "T3", "winding": "lv", "kind": "solid"})
    assert watched("L")[:2] == ({"ELM:L"}, {"NR2", "NR3"})


def test_a_device_connected_to_nothing_on_record_is_watched_all_the_same(watched, station):
    station["neutral_device"].append(
        {"neutral_device": "NR9", "connected_to": "T9", "kind": "resistor", "resistance": 5.0}
    )
    assert watched("NR9")[:2] == (set(), {"NR9"})


@pytest.mark.parametrize("measures", [None, "CT9"])
def test_a_relay_that_may_measure_anything_may_watch_any_zone_of_its_station(watched, station, measures):
    station["bus"].append({"substation": "OAK", "bus": "B1", "nominal_voltage": 20.0})
    station["instrument_transformer"] = [{"instrument_transformer": "CT9", "kind": "ct"}]
    zones, devices, rows = watched(measures)
    assert (zones, devices) == ({"ELM:H", "ELM:M", "ELM:L"}, set())
    assert not rows.placed.any()
    assert list(rows.target.dropna().unique()) == ([measures] if measures else [])


# IEEE C37.2 device numbers with suffix N or G, recalled; words of registers, common practice.
@pytest.mark.parametrize(("function", "current", "standing"), [
    ("51N", True, False),
    ("51 g", True, False),
    ("59-N", True, True),
    ("67N", True, True),
    ("64", True, True),
    ("64R", True, False),
    ("earth fault", True, False),
    ("51", False, False),
    ("59", False, False),
    (None, None, None),
])  # fmt: skip
def test_a_function_says_what_a_relay_sees(watched, function, current, standing):
    row = watched("L", function)[2].iloc[0]
    seen = [None if pd.isna(value) else bool(value) for value in (row.sees_current, row.sees_standing)]
    assert seen == [current, standing]


def test_an_owner_may_name_other_functions(study, station):
    station["ground_relay"] = [{"ground_relay": "R1", "function": "Wischer", "measures": "L"}]
    policy = {"ground_relay": {"ground_functions": "WISCHER", "voltage_functions": "WISCHER"}}
    store = study(station, policy)
    assert store.read("study", "ground_watch").sees_current.all()
    assert list(store.read("study", "relay_reach").quantity_kind) == ["voltage"]


def test_an_expression_that_cannot_be_read_is_said(study, station):
    with pytest.raises(PolicyError, match=r"policy entry `ground_relay\.ground_functions`: '\(' is no regular"):
        study(station, {"ground_relay": {"ground_functions": "("}})


def test_a_detector_tells_of_a_standing_fault_in_the_zone_of_its_bus(study, station):
    station["ground_detector"] = [
        {"substation": "OAK", "ground_detector": "GD1", "bus": "ELM:L", "method": "broken_delta"}
    ]
    row = study(station).read("study", "ground_watch").iloc[0]
    assert (row.watcher_kind, row.watcher, row.zone, row.sees_standing) == ("ground_detector", "GD1", "ELM:L", True)


def test_a_station_is_judged_by_what_its_district_keeps_on_record(study, station):
    station["substation"] = [
        {"substation": "ELM", "district": "East"},
        {"substation": "OAK", "district": "East"},
        {"substation": "FIR", "district": "West"},
        {"substation": "ASH"},
    ]
    station["ground_relay"] = [{"substation": "OAK", "ground_relay": "R1", "function": "51N"}]
    station["bus"].append({"substation": "FIR", "bus": "B1", "nominal_voltage": 20.0})
    station["ground_detector"] = [{"substation": "FIR", "ground_detector": "D", "bus": "B1", "method": "broken_delta"}]
    kept = study(station).read("study", "protection_record").set_index("substation")
    assert kept.ground_relays.to_dict() == {"ELM": True, "OAK": True, "FIR": False, "ASH": False}
    assert kept.ground_detectors.to_dict() == {"ELM": False, "OAK": False, "FIR": True, "ASH": False}


def test_without_a_bus_on_record_a_relay_still_watches_its_device(study):
    store = study({
        "neutral_device": [{"neutral_device": "NR1", "connected_to": "T9", "kind": "resistor", "resistance": 5.0}],
        "ground_relay": [{"ground_relay": "R1", "function": "51G", "measures": "NR1"}],
    })  # fmt: skip
    assert list(store.read("study", "ground_watch").neutral_device) == ["NR1"]
