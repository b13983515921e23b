"""Facts of stations: records, lines seen from both ends, zones, what could not be assessed."""

import math
from typing import Any

from groundcheck.report.cell_text import clean_text
from groundcheck.report.facts import station_facts
from groundcheck.store import Store


def _line(fill: Any, store: Store) -> None:
    fill(store, "inventory.line", {"substation": "ASH", "line": "L1", "from_bus": "B1", "to_bus": "ELM : B7"})
    mention = {"substation": "ASH", "asset_kind": "line", "asset": "L1", "position": 1, "target_kind": "bus"}
    fill(
        store,
        "inventory.reference",
        mention | {"field": "from_bus", "written": "B1", "target_substation": "ASH", "target": "B1"},
        mention | {"field": "to_bus", "written": "ELM : B7", "target_substation": "ELM", "target": "B7"},
    )


def test_stations_come_by_name_with_what_is_on_record(filled_store: Store) -> None:
    ash, elm = station_facts(filled_store)
    assert (ash["substation"], ash["district"], elm["substation"]) == ("ASH", "North", "ELM")
    assert "owner" not in ash
    assert ash["inventory"]["neutral_device"] == [
        {"substation": "ASH", "neutral_device": "NR1", "rated_current": 400.0}
    ]
    assert elm["inventory"]["neutral_device"] == []


def test_line_between_stations_is_seen_from_both(filled_store: Store, fill: Any) -> None:
    _line(fill, filled_store)
    ash, elm = station_facts(filled_store)
    assert ash["inventory"]["line"] == [{"substation": "ASH", "line": "L1", "from_bus": "B1", "to_bus": "ELM:B7"}]
    assert elm["inventory"]["line"] == [{"substation": "ASH", "line": "L1", "from_bus": "ASH:B1", "to_bus": "B7"}]


def test_line_whose_other_end_is_not_on_record_stays_with_its_station(filled_store: Store, fill: Any) -> None:
    lines = [{"line": "L1", "from_bus": "B1"}, {"line": "L2", "from_bus": "B1", "to_bus": "NOWHERE:B"}]
    fill(filled_store, "inventory.line", *(each | {"substation": "ASH"} for each in lines))
    ash, elm = station_facts(filled_store)
    assert [line.get("to_bus") for line in ash["inventory"]["line"]] == [None, "NOWHERE:B"]
    assert elm["inventory"]["line"] == []


def test_zone_is_told_at_every_station_it_reaches(filled_store: Store, fill: Any) -> None:
    fill(filled_store, "study.zone", {"zone": "ASH:B1", "substation": "ASH", "bus": "B1", "clearing_time_s": math.inf})
    reach = [("ASH", "B1"), ("ASH", "B2"), ("ELM", "B7")]
    fill(
        filled_store,
        "study.zone_bus",
        *({"zone": "ASH:B1", "substation": station, "bus": bus} for station, bus in reach),
    )
    ash, elm = station_facts(filled_store)
    assert [zone["zone"] for zone in ash["study"]["zone"]] == ["ASH:B1"]
    assert elm["study"]["zone"] == ash["study"]["zone"]
    assert elm["study"]["zone"][0]["clearing_time_s"] == math.inf
    assert elm["study"]["zone"][0]["nominal_kv"] is None
    assert [row["bus"] for row in ash["study"]["zone_bus"]] == ["B1", "B2"]


def test_check_that_could_not_be_made_names_the_cells_it_waits_for(filled_store: Store) -> None:
    _, elm = station_facts(filled_store)
    (check,) = elm["not_assessable"]
    assert (check["rule"], check["asset"]) == ("neutral-devices/rated-current", "NR9")
    assert check["title"] == "Fault current exceeds the rating"
    assert check["fields"] == [
        {
            "substation": "ELM",
            "asset_kind": "neutral_device",
            "asset": "NR9",
            "field": "rated_current",
            "file": "north.xlsx",
            "sheet": "Resistors",
            "cell": "C9",
        }
    ]


def test_only_the_named_stations_are_read(filled_store: Store, fill: Any) -> None:
    _line(fill, filled_store)
    (elm,) = station_facts(filled_store, ["ELM"])
    assert [line["line"] for line in elm["inventory"]["line"]] == ["L1"]
    assert len(elm["not_assessable"]) == 1
    assert list(station_facts(filled_store, ["NOWHERE"])) == []


def test_assumptions_and_what_is_left_out_are_told(filled_store: Store, fill: Any) -> None:
    asset = {"substation": "ELM", "asset_kind": "line", "asset": "L1"}
    fill(filled_store, "study.assumption", asset | {"field": "r0", "value": "1 ohm/km", "why": "typical"})
    fill(filled_store, "study.left_out", asset | {"field": "to_bus", "why": "joins 33 kV and 11 kV"})
    _, elm = station_facts(filled_store)
    assert elm["assumptions"] == [
        {"asset_kind": "line", "asset": "L1", "field": "r0", "value": "1 ohm/km", "why": "typical"}
    ]
    assert [each["why"] for each in elm["left_out"]] == ["joins 33 kV and 11 kV"]


def test_hostile_text_is_cleaned_in_records(empty_store: Store, fill: Any, hostile_text: str) -> None:
    shown = clean_text(hostile_text)
    fill(empty_store, "inventory.substation", {"substation": "S", "owner": hostile_text})
    fill(
        empty_store,
        "inventory.neutral_device",
        {"substation": "S", "neutral_device": "N", "connected_to": [hostile_text]},
    )
    fill(empty_store, "inventory.bus", {"substation": "S", "bus": hostile_text, "nominal_voltage": 11.0})
    (station,) = station_facts(empty_store)
    assert station["owner"] == shown
    assert station["inventory"]["bus"][0]["bus"] == shown
    assert station["inventory"]["neutral_device"][0]["connected_to"] == [shown]
