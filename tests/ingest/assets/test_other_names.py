"""Stations under several names become one where a record or the column map says so, and every such cell is named."""

import pytest

from groundcheck.errors import ColumnMapError

BUSES = ["Station", "Bus", "Nominal kV"]
STATIONS = ["Station", "District", "Also known as"]
TRANSFORMERS = ["Station", "Transformer", "HV bus", "LV bus", "MVA", "HV kV", "LV kV", "Vector group"]
NOTES = "SELECT sheet, cell, found, read_as, note FROM raw.noted_cell ORDER BY ALL"


@pytest.fixture
def column_map(tmp_path):
    def write(text):
        path = tmp_path / "map.toml"
        path.write_text(text, encoding="utf-8")
        return path

    return write


def buses(store):
    return store.sql("SELECT substation, bus FROM inventory.bus ORDER BY ALL").fetchall()


def asked(store):
    return store.sql("SELECT found, candidates, cell, answer FROM raw.question WHERE subject = 'station'").fetchall()


def test_another_name_on_record_is_the_station_and_its_first_cell_in_each_sheet_is_noted(read, book):
    sheets = {
        "Stations": [STATIONS, ["Ash Lane", "North", "ASHL; Ash Lane Grid"]],
        "One": [BUSES, ["Ash Lane", "B1", 33], ["ASHL", "B2", 33], ["ASHL", "B3", 33]],
        "Two": [BUSES, ["ashl", "B4", 33], ["Ash Lane Grid", "B5", 33]],
    }
    store = read(book(sheets))
    assert buses(store) == [("Ash Lane", f"B{n}") for n in range(1, 6)]
    assert store.sql("SELECT substation FROM inventory.substation").fetchall() == [("Ash Lane",)]
    says = "another name of the station: north.xlsx, sheet Stations, cell C2 says that it is also known as this"
    assert store.sql(NOTES).fetchall() == [
        ("One", "A3", "ASHL", "Ash Lane", says),
        ("Two", "A2", "ashl", "Ash Lane", says),
        ("Two", "A3", "Ash Lane Grid", "Ash Lane", says),
    ]
    assert asked(store) == []


def test_a_name_that_two_stations_claim_is_asked_about_and_joins_nothing(read, book):
    stations = [STATIONS, ["Ash Lane", "North", "The Mill"], ["Elm Street", "North", "The Mill"]]
    store = read(book({"Stations": stations, "Buses": [BUSES, ["The Mill", "B1", 33], ["Ash Lane", "B1", 33]]}))
    assert buses(store) == [("Ash Lane", "B1"), ("The Mill", "B1")]
    assert asked(store) == [("The Mill", "Ash Lane; Elm Street", "C2", '[same_station] "The Mill" = "Ash Lane"')]


def test_the_column_map_settles_whose_name_it_is(read, book, column_map):
    stations = [STATIONS, ["Ash Lane", "North", "The Mill"], ["Elm Street", "North", "The Mill"]]
    settled = column_map('[same_station]\n"The Mill" = "Elm Street"\n')
    store = read(book({"Stations": stations, "Buses": [BUSES, ["The Mill", "B1", 33]]}), columns=settled)
    assert buses(store) == [("Elm Street", "B1")]
    assert asked(store) == []
    assert store.sql(NOTES).fetchall() == [
        ("Buses", "A2", "The Mill", "Elm Street", "another name of the station: the column map says so")
    ]


def test_the_answer_that_a_question_offers_joins_the_stations(read, book, column_map):
    source = book({"Buses": [BUSES, ["Ash Lane", "B1", 33], ["Ash Lane", "B2", 33], ["ASH LANE S/S", "B3", 33]]})
    [(_, _, _, answer)] = asked(read(source))
    store = read(source, columns=column_map(answer.replace("] ", "]\n")))
    assert buses(store) == [("Ash Lane", "B1"), ("Ash Lane", "B2"), ("Ash Lane", "B3")]
    assert asked(store) == []


def test_one_asset_under_both_names_is_one_asset(read, book, column_map):
    joined = column_map('[same_station]\n"ASH LANE S/S" = "Ash Lane"\n')
    source = book({"Buses": [BUSES, ["Ash Lane", "B1", 33], ["ASH LANE S/S", "B1", 33], ["ASH LANE S/S", "B2", 33]]})
    store = read(source, columns=joined)
    assert buses(store) == [("Ash Lane", "B1"), ("Ash Lane", "B2")]
    assert store.sql("SELECT cell, reason FROM raw.quarantine").fetchall() == [("B3", "duplicate")]
    # The cell of the duplicate is not used, so the next is the one that is noted.
    assert [cell for _, cell, *_ in store.sql(NOTES).fetchall()] == ["A4"]


def test_references_by_another_name_find_their_asset(read, book):
    sheets = {
        "Stations": [STATIONS, ["Ash Lane", "North", "ASHL"]],
        "Buses": [BUSES, ["Ash Lane", "B1", 33], ["Elm Street", "B1", 33]],
        "Lines": [["Station", "Line", "From bus", "To bus"], ["Elm Street", "L1", "B1", "ASHL:B1"]],
    }
    store = read(book(sheets))
    assert store.sql("SELECT to_bus FROM inventory.line").fetchall() == [("Ash Lane:B1",)]
    assert store.sql("SELECT count(*) FROM inventory.reference WHERE target IS NULL").fetchall() == [(0,)]


def test_a_bus_that_is_only_named_stands_in_the_station_of_that_other_name(read, book):
    tx = [TRANSFORMERS, ["Elm Street", "T1", "ASHL:B33", "B11", 12, 33, 11, "Dyn11"]]
    store = read(book({"Stations": [STATIONS, ["Ash Lane", "North", "ASHL"]], "Tx": tx}))
    assert buses(store) == [("Ash Lane", "B33"), ("Elm Street", "B11")]


def test_names_follow_one_another_to_the_last(read, book, column_map):
    chain = column_map('[same_station]\n"Mill A" = "Mill B"\n"Mill B" = "Mill C"\n')
    rows = [[f"Mill {letter}", f"B{n}", 33] for n, letter in enumerate("ABC")]
    assert buses(read(book({"Buses": [BUSES, *rows]}), columns=chain)) == [("Mill C", f"B{n}") for n in range(3)]


def test_a_field_taken_from_another_row_is_traced_under_the_name_that_stands(read, book):
    rows = [["Station", "Bus", "Nominal kV", "Highest kV"], ["ASHL", "B1", 33, None], ["Ash Lane", "B1", None, 36]]
    store = read(book({"Buses": rows, "Stations": [STATIONS, ["Ash Lane", "North", "ASHL"]]}))
    assert store.sql("SELECT substation, bus, highest_voltage FROM inventory.bus").fetchall() == [
        ("Ash Lane", "B1", 36.0)
    ]
    assert store.sql("SELECT substation, asset, field FROM inventory.field_origin").fetchall() == [
        ("Ash Lane", "B1", "highest_voltage")
    ]


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ('"Ash Lnae" = "Elm Street"', 'same_station: no source names a station "ashlnae"; nearest is "Ash Lane"'),
        ('"Ash Lane" = "Elm Steet"', 'same_station: no source names a station "Elm Steet"; nearest is "Elm Street"'),
        (
            '"Ash Lane" = "Elm Street"\n"Elm Street" = "Ash Lane"',
            'same_station: "Elm Street" stands for itself in the end; keep one of the entries',
        ),
    ],
)
def test_a_map_that_cannot_be_followed_stops_the_run(read, book, column_map, text, message):
    source = book({"Buses": [BUSES, ["Ash Lane", "B1", 33], ["Elm Street", "B1", 33]]})
    with pytest.raises(ColumnMapError) as stopped:
        read(source, columns=column_map(f"[same_station]\n{text}\n"))
    assert str(stopped.value) == f"map.toml, {message}"
