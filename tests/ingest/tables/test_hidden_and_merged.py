"""What is hidden is read and said so; merged cells carry their value down, and that is said too."""

import openpyxl

from groundcheck.ingest.sheets import Sheet
from groundcheck.ingest.tables.hidden_parts import hidden_remark

BUS = ["Station", "Bus", "Nominal kV"]


def test_hidden_rows_and_columns_are_read_and_named(read, book, remark):
    path = book({"Buses": [BUS, *(["ELM", f"B{number}", 33] for number in range(1, 9))]})
    workbook = openpyxl.load_workbook(path)
    for row in (4, 7, 8, 9):
        workbook["Buses"].row_dimensions[row].hidden = True
    workbook["Buses"].column_dimensions["C"].hidden = True
    workbook.save(path)
    store = read(path)
    assert store.sql("SELECT count(*) FROM inventory.bus").fetchall() == [(8,)]
    assert remark(store, "Buses") == "hidden rows 4, 7-9 were read; hidden column C was read"


def test_a_sheet_with_nothing_hidden_has_no_remark(read, book, remark):
    assert remark(read(book({"Buses": [BUS, ["ELM", "B1", 33]]})), "Buses") is None


def test_a_long_list_of_hidden_rows_is_cut():
    sheet = Sheet("north.xlsx", "Buses", [], hidden_rows=frozenset(range(0, 40, 2)))
    assert hidden_remark(sheet) == "hidden rows 1, 3, 5, 7, 9, 11, 13, 15 and 12 more were read"


def test_rows_struck_through_are_named():
    sheet = Sheet("north.xlsx", "Buses", [], struck_rows=frozenset({4, 5}), hidden=True)
    assert hidden_remark(sheet) == "the sheet is hidden and was read; rows 5-6 were read although struck through"


def test_a_value_carried_down_is_noted_once_a_range(read, book):
    rows = [BUS, ["ELM", "B1", 33], [None, "B2", 11], [None, "B3", 11], ["OAK", "B1", 33], [None, "B2", None]]
    store = read(book({"Buses": rows}, merge={"Buses": ["A2:A4", "A5:A6", "C4:C4"]}))
    assert store.sql("SELECT substation, bus FROM inventory.bus ORDER BY ALL").fetchall() == [
        *(("ELM", "B1"), ("ELM", "B2"), ("ELM", "B3"), ("OAK", "B1"))
    ]
    noted = store.sql("SELECT cell, row, field, found, read_as, note FROM raw.noted_cell ORDER BY row").fetchall()
    assert noted == [
        ("A2:A4", 2, "substation", "ELM", "ELM", "carried down from a merged range"),
        ("A5:A6", 5, "substation", "OAK", "OAK", "carried down from a merged range"),
    ]
    assert store.sql("SELECT cell, reason FROM raw.quarantine").fetchall() == [("C6", "required_missing")]


def test_a_range_merged_across_columns_fills_none_but_its_own(read, book):
    rows = [[*BUS, "Um"], ["ELM", "B1", 33, None], ["ELM", "B2", None, None]]
    store = read(book({"Buses": rows}, merge={"Buses": ["C2:D3"]}))
    found = store.sql("SELECT bus, nominal_voltage, highest_voltage FROM inventory.bus ORDER BY 1").fetchall()
    assert found == [("B1", 33.0, None), ("B2", 33.0, None)]
