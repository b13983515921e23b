"""A title that names the station holds for the rows below it; the name of a sheet is only ever asked about."""

import pytest

HEADINGS = ["Bus", "Nominal kV", "Um"]
BUSES = "SELECT substation, bus FROM inventory.bus ORDER BY ALL"


@pytest.mark.parametrize(
    ("title", "cell"),
    [
        ([["Substation: Ash Lane"]], "A1"),
        ([["SITE - Ash Lane"], ["Register of busbars"]], "A1"),
        ([["Busbars"], [None, "Station name", "Ash Lane"], ["District", "North"]], "C2"),
        ([["Station:", "Ash Lane", "Date:", "May"], []], "B1"),
    ],
)
def test_a_title_gives_the_station_of_rows_that_have_none(read, book, account, questions, title, cell):
    store = read(book({"Buses": [*title, HEADINGS, ["B1", 33, 36], ["B2", 11, 12]]}))
    assert store.sql(BUSES).fetchall() == [("Ash Lane", "B1"), ("Ash Lane", "B2")]
    assert account(store, "Buses")[:3] == (2, 0, 1)
    assert store.sql("SELECT cell, target_table, field, read_as FROM raw.noted_cell").fetchall() == [
        (cell, "bus", "substation", "Ash Lane")
    ]
    assert store.sql("SELECT how, column_letter FROM raw.column_map WHERE field = 'substation'").fetchall() == [
        ("title", cell)
    ]
    assert questions(store, "station") == []


def test_each_title_holds_as_far_as_the_next(read, book, account):
    rows = [
        ["Substation: Ash Lane"],
        HEADINGS,
        ["B1", 33, 36],
        [],
        ["Substation: Elm Street"],
        HEADINGS,
        ["B1", 11, 12],
        ["Substation:", "Oak End"],
        ["B1", 11, 12],
    ]
    store = read(book({"Buses": rows}))
    assert store.sql(BUSES).fetchall() == [("Ash Lane", "B1"), ("Elm Street", "B1"), ("Oak End", "B1")]
    assert account(store, "Buses") == (3, 0, 2, 3, 1)
    assert store.sql("SELECT cell FROM raw.noted_cell ORDER BY 1").fetchall() == [("A1",), ("A5",), ("B8",)]


def test_a_title_changes_nothing_where_rows_have_a_station(read, book):
    rows = [["Substation: Ash Lane"], ["Station", *HEADINGS], ["ELM", "B1", 33, 36], [None, "B2", 11, 12]]
    store = read(book({"Buses": rows}))
    assert store.sql(BUSES).fetchall() == [("ELM", "B1")]
    assert store.sql("SELECT cell, reason FROM raw.quarantine").fetchall() == [("A4", "key_missing")]


def test_a_title_above_a_transformer_holds_for_the_device_in_its_neutral(read, book):
    rows = [
        ["Substation: Ash Lane"],
        ["Transformer", "HV bus", "LV bus", "HV kV", "LV kV", "MVA", "Vector group", "NER ohms", "NER amps"],
        ["T1", "B33", "B11", 33, 11, 12, "Dyn11", 15.9, 400],
    ]
    store = read(book({"Tx": rows}))
    assert store.sql("SELECT substation, connected_to FROM inventory.neutral_device").fetchall() == [
        ("Ash Lane", ["T1"])
    ]


def test_the_name_of_the_sheet_is_asked_about_and_not_used(read, book, account, questions):
    store = read(
        book({"Good": [["Station", *HEADINGS], ["ELM", "B1", 33, 36]], "Ash Lane": [HEADINGS, ["B2", 11, 12]]})
    )
    assert store.sql(BUSES).fetchall() == [("ELM", "B1")]
    assert account(store, "Ash Lane") == (0, 1, 1, 0, 0)
    assert questions(store, "station") == [
        ("A1", "no column gives the station of this table; its sheet is named Ash Lane", 1)
    ]
    assert store.sql("SELECT answer FROM raw.question WHERE subject = 'station'").fetchall() == [
        ('constants = { substation = "Ash Lane" }',)
    ]
