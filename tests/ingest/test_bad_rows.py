"""What is wrong with a row is listed with its cell; the sound rows beside it are untouched."""

import pytest

TRANSFORMERS = ["Station", "Transformer", "HV bus", "LV bus", "Rating (MVA)", "HV kV", "LV kV", "Vector group", "Z %"]
SOUND = ["ELM", "T1", "B33", "B11", 12, 33, 11, "Dyn11", 10.5]


def quarantined(store):
    return store.sql("SELECT sheet, cell, reason, found FROM raw.quarantine ORDER BY raw_row").fetchall()


def tags(store, table):
    return [tag for (tag,) in store.sql(f"SELECT {table} FROM inventory.{table} ORDER BY 1").fetchall()]


@pytest.mark.parametrize(
    ("changed", "entry"),
    [
        ({4: "see drawing"}, ("Tx", "E3", "unreadable", "see drawing")),
        ({4: None}, ("Tx", "E3", "required_missing", None)),
        ({4: -12}, ("Tx", "E3", "outside_limits", "-12")),
        ({7: "Dny"}, ("Tx", "H3", "unreadable", "Dny")),
        ({1: None}, ("Tx", "B3", "key_missing", None)),
        ({0: None}, ("Tx", "A3", "key_missing", None)),
        ({3: "b 33"}, ("Tx", "D3", "self_connected", "b 33")),
    ],
)
def test_a_row_that_lacks_what_it_must_have_waits_in_quarantine(read, book, changed, entry):
    bad = [changed.get(column, value) for column, value in enumerate(["ELM", "T2", *SOUND[2:]])]
    store = read(book({"Tx": [TRANSFORMERS, SOUND, bad]}))
    assert quarantined(store) == [entry]
    assert tags(store, "transformer") == ["T1"]


def test_an_optional_cell_that_cannot_be_read_is_blank_and_named(read, book):
    store = read(book({"Tx": [TRANSFORMERS, [*SOUND[:-1], "about right"]]}))
    assert quarantined(store) == []
    assert store.sql("SELECT impedance FROM inventory.transformer").fetchall() == [(None,)]
    assert store.sql("SELECT cell, target_table, field, found FROM raw.unread_cell").fetchall() == [
        ("I2", "transformer", "impedance", "about right")
    ]


def test_a_negative_resistance_is_named_with_the_limit(read, book):
    rows = [["Station", "NER", "Neutral of", "Kind", "Ohms"], ["ELM", "R1", "T1", "resistor", -19.9]]
    store = read(book({"Tx": [TRANSFORMERS, SOUND], "NERs": rows}))
    cell, found, expected = store.sql("SELECT cell, found, expected FROM raw.unread_cell").fetchall()[0]
    assert (cell, found) == ("E2", "-19.9")
    assert "0 or more" in expected
    assert store.sql("SELECT neutral_device, resistance FROM inventory.neutral_device").fetchall() == [("R1", None)]


def test_equal_copies_of_an_asset_are_one_asset(read, book):
    store = read(book({"Tx": [TRANSFORMERS, SOUND, ["elm", "t 1", *SOUND[2:]]]}))
    assert quarantined(store) == [("Tx", "B3", "duplicate", "t 1")]
    assert tags(store, "transformer") == ["T1"]


def test_differing_copies_of_an_asset_all_wait_and_each_names_the_other(read, book):
    sound = ["OAK", *SOUND[1:]]
    store = read(book({"Tx": [TRANSFORMERS, SOUND, sound, [*SOUND[:4], 15, *SOUND[5:]]]}))
    assert quarantined(store) == [("Tx", "E2", "conflicting", "12"), ("Tx", "E4", "conflicting", "15")]
    expected = store.sql("SELECT expected FROM raw.quarantine ORDER BY raw_row").fetchall()
    assert "12 here and 15 at north.xlsx, sheet Tx, cell E4" in expected[0][0]
    assert "15 here and 12 at north.xlsx, sheet Tx, cell E2" in expected[1][0]
    assert store.sql("SELECT substation FROM inventory.transformer").fetchall() == [("OAK",)]


def test_tags_repeat_from_station_to_station_and_leading_zeros_tell_assets_apart(read, book):
    rows = [["ELM", "T1"], ["OAK", "T1"], ["ELM", "T01"]]
    store = read(book({"Tx": [TRANSFORMERS, *([*row, *SOUND[2:]] for row in rows)]}))
    assert store.sql("SELECT count(*) FROM inventory.transformer").fetchall()[0] == (3,)


def test_a_removed_asset_does_not_conflict_with_its_replacement(read, book):
    rows = [[*TRANSFORMERS, "Status"], [*SOUND, "Removed"], [*SOUND[:4], 24, *SOUND[5:], "New"]]
    store = read(book({"Tx": rows}))
    assert quarantined(store) == []
    assert store.sql("SELECT rated_power FROM inventory.transformer").fetchall() == [(24.0,)]
    assert store.sql("SELECT asset_kind, asset, status FROM inventory.out_of_service").fetchall() == [
        ("transformer", "T1", "removed")
    ]


def test_rows_that_differ_in_their_places_are_one_asset(read, book):
    rows = [
        ["Station", "Circuit", "Kind", "Earthed at"],
        ["ELM", "C1", "ct", "relay panel"],
        ["ELM", "C1", "ct", "kiosk"],
    ]
    store = read(book({"CT circuits": rows}))
    assert quarantined(store) == []
    assert store.sql("SELECT ground_points FROM inventory.secondary_circuit").fetchall() == [
        (["relay panel", "kiosk"],)
    ]


def test_a_reference_to_an_asset_that_is_not_on_record_offers_the_nearest(read, book):
    rows = [["Station", "NER", "Neutral of", "Kind"], ["ELM", "R1", "T11", "resistor"], ["ELM", "R2", "t1", "resistor"]]
    store = read(book({"Tx": [TRANSFORMERS, SOUND], "NERs": rows}))
    mentions = store.sql(
        "SELECT asset, written, target, nearest FROM inventory.reference WHERE asset_kind = 'neutral_device' ORDER BY 1"
    ).fetchall()
    assert mentions == [("R1", "T11", None, "T1"), ("R2", "t1", "T1", None)]
    assert store.sql("SELECT connected_to FROM inventory.neutral_device ORDER BY 1").fetchall() == [
        (["T1"],),
        (["T11"],),
    ]


def test_a_bus_that_does_not_exist_is_an_unresolved_reference(read, book):
    buses = [["Station", "Bus", "Nominal kV"], ["ELM", "B33", 33]]
    arresters = [["Station", "Arrester", "Bus", "MCOV"], ["ELM", "SA1", "B34", 28]]
    store = read(book({"Buses": buses, "Arresters": arresters}))
    assert store.sql("SELECT written, target, nearest FROM inventory.reference").fetchall() == [("B34", None, "B33")]
    assert tags(store, "bus") == ["B33"]


def test_a_row_longer_than_the_headings_of_its_csv_waits(read, csv_file):
    rows = [["Station", "Bus", "Nominal kV"], ["ELM", "B1", "33"], ["ELM", "B2", "11", "kV"], ["ELM", "B3"]]
    store = read(csv_file(rows))
    assert quarantined(store) == [("north", "D3", "too_many_cells", "kV"), ("north", "C4", "required_missing", None)]
    assert tags(store, "bus") == ["B1"]


def test_the_row_of_another_stations_bus_is_written_with_its_station(read, book):
    buses = [["Station", "Bus", "Nominal kV"], ["ELM", "B33", 33], ["OAK", "B33", 33]]
    lines = [["Station", "Line", "From", "To"], ["ELM", "L1", "b33", "oak:b 33"]]
    store = read(book({"Buses": buses, "Lines": lines}))
    assert store.sql("SELECT from_bus, to_bus FROM inventory.line").fetchall() == [("B33", "OAK:B33")]
