"""Sheets that have a column an asset, and data sheets of one asset, are read as if their headings stood in a row."""

import openpyxl

LABELS = ["Station", "Transformer", "HV bus", "LV bus", "HV kV", "LV kV", "MVA", "Vector group", "Z %"]
T1 = ["ELM", "T1", "B33", "B11", 33, 11, 12, "Dyn11", 10.5]
T2 = ["ELM", "T2", "B33", "B12", 33, 11, 24, "Dyn11", "see plate"]
FIELDS = (
    "SELECT substation, transformer, hv_bus, lv_voltage, rated_power, impedance FROM inventory.transformer ORDER BY 2"
)
READ = [("ELM", "T1", "B33", 11.0, 12.0, 10.5), ("ELM", "T2", "B33", 11.0, 24.0, None)]


def turned(*columns):
    return [list(row) for row in zip(*columns, strict=True)]


def test_a_column_an_asset_is_read_and_its_cells_have_their_own_names(read, book, account):
    bad = [*T1[:1], "T3", *T1[2:7], "Dny", 9]
    store = read(book({"Tx": turned(LABELS, T1, T2, bad)}))
    assert store.sql(FIELDS).fetchall() == READ
    assert account(store, "Tx") == (2, 1, 1, 0, 0)
    assert store.sql("SELECT turned FROM raw.account").fetchall() == [(True,)]
    assert store.sql("SELECT cell, row, reason, found FROM raw.quarantine").fetchall() == [
        ("D8", 4, "unreadable", "Dny")
    ]
    assert store.sql("SELECT cell, field FROM raw.unread_cell WHERE field = 'impedance'").fetchall() == [
        ("C9", "impedance")
    ]
    assert store.sql("SELECT column_letter FROM raw.column_map WHERE field = 'hv_bus'").fetchall() == [("3",)]


def test_titles_above_and_labels_in_column_b_with_units_beside_them(read, book, account):
    units = [None, "-", None, None, "V", "V", "kVA", None, "%"]
    high = [*T1[:4], 33000, 11000, 12000, *T1[7:]]
    rows = [["Transformer data"], [], *([None, *row] for row in turned(LABELS, units, high))]
    store = read(book({"Tx": rows}))
    assert store.sql(FIELDS).fetchall() == READ[:1]
    assert account(store, "Tx")[:3] == (1, 0, 2)


def test_units_to_the_right_of_the_values_count_as_well(read, book, account):
    units = [None, None, None, None, "V", "V", "kVA", None, "%"]
    high = [*T1[:4], 33000, 11000, 12000, *T1[7:]]
    store = read(book({"Tx": turned(LABELS, high, units)}))
    assert store.sql(FIELDS).fetchall() == READ[:1]
    assert account(store, "Tx") == (1, 0, 2, 0, 0)


def test_a_station_merged_over_its_columns_holds_for_each(read, book):
    rows = turned(LABELS, T1, [None, *T2[1:]])
    store = read(book({"Tx": rows}, merge={"Tx": ["B1:C1"]}))
    assert store.sql(FIELDS).fetchall() == READ
    assert store.sql("SELECT cell, note FROM raw.noted_cell WHERE field = 'substation'").fetchall() == [
        ("B1:C1", "carried down from a merged range")
    ]


def test_a_data_sheet_of_one_asset_is_one_record(read, book, account):
    rows = [["Power transformer data sheet"], [], *turned([f"{label}:" for label in LABELS], T1)]
    store = read(book({"T1": rows}))
    assert store.sql(FIELDS).fetchall() == READ[:1]
    assert account(store, "T1")[:2] == (1, 0)


def test_pairs_of_labels_and_values_may_stand_beside_each_other(read, book, account):
    rows = [
        ["Power transformer data sheet"],
        [],
        *(
            [*left, *right]
            for left, right in zip(
                turned(LABELS[:5], T1[:5]), turned([*LABELS[5:], None], [*T1[5:8], "x", None]), strict=True
            )
        ),
        ["Checked by M. Reed"],
    ]
    store = read(book({"T1": rows}))
    assert store.sql(FIELDS).fetchall() == [("ELM", "T1", "B33", 11.0, 12.0, None)]
    assert account(store, "T1") == (1, 0, 1, 2, 0)
    assert store.sql("SELECT cell, found FROM raw.unread_cell").fetchall() == [("D6", "x")]
    assert store.sql("SELECT column_letter FROM raw.column_map WHERE field = 'rated_power'").fetchall() == [("D4",)]


def test_a_table_with_a_row_an_asset_is_not_turned(read, book):
    rows = [["Bus", "Station", "Nominal kV"], ["Station", "ELM", 33], ["Bus", "ELM", 11], ["Voltage", "ELM", 11]]
    store = read(book({"Buses": rows}))
    assert store.sql("SELECT turned FROM raw.account").fetchall() == [(False,)]
    assert store.sql("SELECT count(*) FROM inventory.bus").fetchall() == [(3,)]


def test_a_list_of_headings_with_their_meaning_is_not_turned(read, book, remark):
    meanings = [
        "the station",
        "its tag",
        "at the upper side",
        "at the lower",
        "upper",
        "lower",
        "rating",
        "winding",
        "z",
    ]
    store = read(book({"Tx": [LABELS, T1], "Explanation": turned(LABELS, meanings)}))
    assert store.sql("SELECT sheet FROM raw.account WHERE turned").fetchall() == []
    assert store.sql("SELECT count(*) FROM inventory.transformer").fetchall() == [(1,)]


def test_the_column_map_may_forbid_turning(read, book, tmp_path):
    path = tmp_path / "map.toml"
    path.write_text('[[sheet]]\nmatch = "*::Old"\nturned = false\n')
    sheets = {"Tx": [LABELS, T2], "Old": turned(LABELS, T1)}
    assert read(book(sheets)).sql("SELECT count(*) FROM inventory.transformer").fetchall() == [(2,)]
    store = read(book(sheets), columns=path)
    assert store.sql("SELECT transformer FROM inventory.transformer").fetchall() == [("T2",)]


def test_hidden_rows_of_a_turned_sheet_are_named_as_a_person_sees_them(read, book, remark):
    path = book({"Tx": turned(LABELS, T1, T2)})
    workbook = openpyxl.load_workbook(path)
    workbook["Tx"].column_dimensions["C"].hidden = True
    workbook["Tx"].row_dimensions[9].hidden = True
    workbook.save(path)
    store = read(path)
    assert store.sql(FIELDS).fetchall() == READ
    assert remark(store, "Tx") == "hidden row 9 was read; hidden column C was read"
