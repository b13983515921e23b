"""Headings in two, three and more rows are joined into one heading a column."""

import pytest

TRANSFORMER = (
    "SELECT substation, transformer, hv_bus, lv_bus, hv_voltage, lv_voltage, rated_power FROM inventory.transformer"
)
T1 = ("ELM", "T1", "B33", "B11", 33.0, 11.0, 12.0)
RECORD = ["ELM", "T1", "B33", 33, "B11", 11, 12, "Dyn11"]


def test_three_rows_of_merged_headings_with_a_row_of_units_are_one(read, book, account, remark):
    rows = [
        ["Transformers of the north district"],
        ["Station", "Transformer", "Windings", None, None, None, "Rating", "Vector group"],
        [None, None, "HV", None, "LV", None, None, None],
        [None, None, "Bus", "Voltage", "Bus", "Voltage", None, None],
        [None, None, None, "kV", None, "V", "MVA", None],
        ["ELM", "T1", "B33", 33, "B11", 11000, 12, "Dyn11"],
    ]
    merged = ["A2:A4", "B2:B4", "C2:F2", "C3:D3", "E3:F3", "G2:G4", "H2:H4"]
    store = read(book({"Tx": rows}, merge={"Tx": merged}))
    assert account(store, "Tx") == (1, 0, 4, 1, 0)
    assert remark(store, "Tx") is None
    assert store.sql(TRANSFORMER).fetchall() == [T1]


def test_group_headings_hold_for_the_blank_cells_to_their_right(read, book, account):
    rows = [
        ["Station", "Transformer", "HV side", None, "LV side", None, "MVA", "Vector group"],
        [None, None, "Bus", "kV", "Bus", "kV", None, None],
        RECORD,
    ]
    store = read(book({"Tx": rows}))
    assert account(store, "Tx") == (1, 0, 2, 0, 0)
    assert store.sql(TRANSFORMER).fetchall() == [T1]


def test_group_headings_may_stand_over_a_full_row_of_headings(read, book, account):
    rows = [
        [None, None, "Primary", None, "Secondary", None, None, None],
        ["Station", "Transformer", "Bus", "Voltage", "Bus", "Voltage", "MVA", "Vector group"],
        RECORD,
    ]
    store = read(book({"Tx": rows}))
    assert account(store, "Tx") == (1, 0, 2, 0, 0)
    assert store.sql(TRANSFORMER).fetchall() == [T1]


def test_a_title_of_two_cells_is_no_group_of_headings(read, book, account):
    rows = [["Register of busbars", None, "Sheet 3"], ["Station", "Bus", "Nominal kV"], ["ELM", "B1", 33]]
    store = read(book({"Buses": rows}))
    assert account(store, "Buses") == (1, 0, 1, 1, 0)
    assert store.sql("SELECT heading FROM raw.column_map ORDER BY column_letter").fetchall() == [
        ("Station",),
        ("Bus",),
        ("Nominal kV",),
    ]


def test_a_title_merged_over_the_whole_table_is_no_heading(read, book, account):
    rows = [["Busbars"], ["Station", "Bus", "Nominal kV"], ["ELM", "B1", 33]]
    store = read(book({"Buses": rows}, merge={"Buses": ["A1:C1"]}))
    assert account(store, "Buses") == (1, 0, 1, 1, 0)


@pytest.mark.parametrize("numbers", [["(1)", "(2)", "(3)"], [1, 2, 3], ["1", "2", "3"], ["1.", "2.", "3."]])
def test_a_row_that_numbers_the_columns_is_a_heading(read, book, account, numbers):
    rows = [["Station", "Bus", "Nominal kV"], numbers, ["ELM", "B1", 33], ["1", "2", 11]]
    store = read(book({"Buses": rows}))
    assert account(store, "Buses") == (2, 0, 2, 0, 0)
    assert store.sql("SELECT substation, bus FROM inventory.bus ORDER BY 1").fetchall() == [("1", "2"), ("ELM", "B1")]


def test_units_under_the_headings_count_and_a_dash_is_no_unit(read, book, account):
    rows = [["Station", "Bus", "Nominal voltage", "Clearing time"], ["-", "-", "V", "ms"], ["ELM", "B1", 11000, 800]]
    store = read(book({"Buses": rows}))
    assert account(store, "Buses") == (1, 0, 2, 0, 0)
    assert store.sql("SELECT nominal_voltage, ground_fault_clearing_time FROM inventory.bus").fetchall() == [(11, 0.8)]


@pytest.mark.parametrize(
    "headings",
    [
        ["STATION", "TRANS-\nFORMER", "HV\nBUS", "HV\nKV", "LV BUS", "LV KV", "RATING\n(MVA)", "VECTOR\nGROUP"],
        ["1. Station", "2. Transformer", "3. HV bus", "4. HV kV", "5. LV bus", "6. LV kV", "7. MVA", "8. Vector group"],
        ["station:", "transformer *", "h.v. bus", "HV (kV)", "l.v. bus", "LV (kV)", "Rated MVA", "Vector Grp."],
    ],
)
def test_headings_are_known_in_capitals_broken_and_numbered(read, book, account, headings):
    store = read(book({"Tx": [headings, RECORD]}))
    assert account(store, "Tx") == (1, 0, 1, 0, 0)
    assert store.sql(TRANSFORMER).fetchall() == [T1]


def test_headings_are_found_though_most_are_misspelled(read, book, account):
    rows = [
        ["Transformers at Elm"],
        ["Statoin", "Transfomer", "HV busbr", "HV voltge", "LV busbr", "LV voltge", "Ratng", "Vecor group"],
        RECORD,
    ]
    store = read(book({"Tx": rows}))
    assert account(store, "Tx") == (1, 0, 1, 1, 0)
    assert store.sql(TRANSFORMER).fetchall() == [T1]
    assert {how for (how,) in store.sql("SELECT how FROM raw.column_map").fetchall()} == {"close match"}
