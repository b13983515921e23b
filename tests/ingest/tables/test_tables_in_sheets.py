"""Tables are found wherever they stand in a sheet, and what is not a table is accounted for."""

import openpyxl
import pytest

BUS = ["Station", "Bus", "Nominal kV"]
ARRESTER = ["Station", "Arrester", "Bus", "MCOV (kV)", "Remarks"]


def account(store, sheet):
    return store.sql(
        "SELECT rows_used, rows_quarantined, heading_rows, note_rows, blank_rows FROM raw.account WHERE sheet = $s",
        {"s": sheet},
    ).fetchall()[0]


def test_headings_under_title_rows_keep_the_row_numbers_of_the_sheet(read, book):
    rows = [["North district"], ["Register of busbars"], [], BUS, ["ELM", "B1", 33], ["ELM", "B2", "x"]]
    store = read(book({"Buses": rows}))
    assert account(store, "Buses") == (1, 1, 1, 2, 1)
    assert store.sql("SELECT row, use FROM raw.row ORDER BY row").fetchall() == [
        *((1, "note"), (2, "note"), (3, "blank"), (4, "heading"), (5, "inventory"), (6, "quarantine"))
    ]
    assert store.sql("SELECT cell FROM raw.quarantine").fetchall() == [("C6",)]


def test_headings_in_two_merged_rows_are_joined(read, book):
    rows = [
        ["Station", "Transformer", "Buses", None, "Voltage", None, "Rating", "Vector group"],
        [None, None, "HV bus", "LV bus", "HV (kV)", "LV (V)", "MVA", None],
        ["ELM", "T1", "B33", "B11", 33, 11000, 12, "Dyn11"],
    ]
    merged = ["A1:A2", "B1:B2", "C1:D1", "E1:F1", "H1:H2"]
    store = read(book({"Tx": rows}, merge={"Tx": merged}))
    assert account(store, "Tx") == (1, 0, 2, 0, 0)
    assert store.sql(
        "SELECT hv_bus, lv_bus, hv_voltage, lv_voltage, rated_power FROM inventory.transformer"
    ).fetchall() == [("B33", "B11", 33.0, 11.0, 12.0)]


def test_units_in_a_row_of_their_own_count(read, csv_file):
    rows = [["Station", "Bus", "Nominal"], ["", "", "V"], ["ELM", "B1", "11000"]]
    assert read(csv_file(rows)).sql("SELECT nominal_voltage FROM inventory.bus").fetchall() == [(11.0,)]


def test_repeated_headings_totals_and_notes_are_no_assets(read, book):
    rows = [
        [*BUS, "Remarks"],
        ["ELM", "B1", 33],
        [*BUS, "Remarks"],
        ["OAK", "B1", 33],
        ["Total", None, 2],
        [],
        ["Note: nominal values"],
        ["Checked by", "M. Reed"],
    ]
    store = read(book({"Buses": rows}))
    assert account(store, "Buses") == (2, 0, 2, 3, 1)


def test_two_tables_one_under_the_other_are_both_read(read, book):
    rows = [BUS, ["ELM", "B1", 33], [], ["Surge arresters"], ARRESTER, ["ELM", "SA1", "B1", 28, None]]
    store = read(book({"Plant": rows}))
    assert account(store, "Plant") == (2, 0, 2, 1, 1)
    assert store.sql("SELECT arrester, mcov FROM inventory.arrester").fetchall() == [("SA1", 28.0)]
    assert store.sql(
        "SELECT DISTINCT region, target_table FROM raw.column_map WHERE field = 'bus' ORDER BY 1"
    ).fetchall() == [
        (1, "bus"),
        (2, "arrester"),
    ]


def test_two_tables_side_by_side_are_both_read_and_never_merged(read, book):
    rows = [
        [*BUS, None, *ARRESTER],
        ["ELM", "B1", 33, None, "ELM", "SA1", "B1", 28, None],
        ["ELM", "B2", "eleven", None, "ELM", "SA2", "B1", 29, "spare"],
        ["ELM", "B3", 11],
    ]
    store = read(book({"Plant": rows}))
    assert store.sql("SELECT bus FROM inventory.bus ORDER BY 1").fetchall() == [("B1",), ("B3",)]
    assert store.sql("SELECT arrester, mcov FROM inventory.arrester ORDER BY 1").fetchall() == [
        ("SA1", 28.0),
        ("SA2", 29.0),
    ]
    assert store.sql("SELECT cell, found FROM raw.quarantine").fetchall() == [("C3", "eleven")]
    assert account(store, "Plant") == (4, 1, 2, 0, 1)
    cells = "SELECT cells FROM raw.row WHERE row = 3 ORDER BY region"
    left, right = (row[0] for row in store.sql(cells).fetchall())
    assert left == ["ELM", "B2", "eleven"]
    assert right[4:] == ["ELM", "SA2", "B1", "29", "spare"]


def test_a_station_is_carried_down_within_its_merged_cells_only(read, book):
    rows = [BUS, ["ELM", "B1", 33], [None, "B2", 11], [None, "B3", 11]]
    store = read(book({"Buses": rows}, merge={"Buses": ["A2:A3"]}))
    assert store.sql("SELECT substation, bus FROM inventory.bus ORDER BY 2").fetchall() == [
        ("ELM", "B1"),
        ("ELM", "B2"),
    ]
    assert store.sql("SELECT cell, reason FROM raw.quarantine").fetchall() == [("A4", "key_missing")]


def test_a_column_map_may_say_that_blank_stations_are_carried_down(read, book, tmp_path):
    path = tmp_path / "map.toml"
    path.write_text('[[sheet]]\nmatch = "*::Buses"\ntable = "bus"\ncarry_down = ["substation"]\n')
    store = read(book({"Buses": [BUS, ["ELM", "B1", 33], [None, "B2", 11]]}), columns=path)
    assert store.sql("SELECT substation FROM inventory.bus").fetchall() == [("ELM",), ("ELM",)]


@pytest.mark.parametrize(
    ("rows", "remark", "counts"),
    [
        ([], "an empty sheet", (0, 0, 0, 0, 0)),
        ([["Meeting of May"], [], ["Present", "Reed, Moss"]], "no row holds headings", (0, 0, 0, 2, 1)),
    ],
)
def test_a_sheet_without_a_table_says_why(read, book, rows, remark, counts):
    store = read(book({"Buses": [BUS, ["ELM", "B1", 33]], "Other": rows}))
    assert account(store, "Other") == counts
    assert remark in store.sql("SELECT remark FROM raw.account WHERE sheet = 'Other'").fetchall()[0][0]


def test_rows_under_headings_that_name_no_tag_wait_and_say_what_to_do(read, book):
    rows = [["Station", "HV bus", "LV bus", "HV kV", "LV kV", "Vector group"], ["ELM", "B33", "B11", 33, 11, "Dyn11"]]
    store = read(book({"Buses": [BUS, ["ELM", "B1", 33]], "Plant": rows}))
    reason, expected = store.sql("SELECT reason, expected FROM raw.quarantine").fetchall()[0]
    assert reason == "no_table"
    assert expected.startswith("most like the table transformer, but no heading gives its tag")
    assert "column map" in expected


def test_a_hidden_sheet_is_read_and_said_to_be_hidden(read, book):
    path = book({"Buses": [BUS, ["ELM", "B1", 33]], "Old": [BUS, ["ELM", "B2", 11]]})
    workbook = openpyxl.load_workbook(path)
    workbook["Old"].sheet_state = "hidden"
    workbook.save(path)
    store = read(path)
    assert store.sql("SELECT sheet FROM raw.account WHERE hidden").fetchall() == [("Old",)]
    assert store.sql("SELECT count(*) FROM inventory.bus").fetchall()[0] == (2,)


def test_headings_that_are_not_certain_are_reported(read, book):
    rows = [["Station", "Bus", "Nominal voltge", "Colour"], ["ELM", "B1", 33, "grey"]]
    store = read(book({"Buses": rows}))
    found = store.sql("SELECT heading, field, how FROM raw.column_map ORDER BY column_letter").fetchall()
    assert found == [
        ("Station", "substation", "alias"),
        ("Bus", "bus", "alias"),
        ("Nominal voltge", "nominal_voltage", "close match"),
        ("Colour", None, "unmapped"),
    ]


def test_a_heading_that_fits_two_fields_is_asked_about(read, book):
    rows = [
        ["Station", "Transformer", "HV bus", "LV bus", "MVA", "HV", "LV", "Vector group", "Voltage"],
        ["ELM", "T1", "B33", "B11", 12, 33, 11, "Dyn11", 33],
    ]
    store = read(book({"Tx": rows}))
    how, candidates = store.sql("SELECT how, candidates FROM raw.column_map WHERE heading = 'Voltage'").fetchall()[0]
    assert how == "ambiguous"
    assert {"hv_voltage", "lv_voltage"} <= set(candidates.split("; "))


def test_two_columns_of_one_heading_feed_nothing_and_are_asked_about(read, book):
    rows = [[*BUS, "Um", "Um"], ["ELM", "B1", 33, 36, 40]]
    store = read(book({"Buses": rows}))
    asked = store.sql(
        "SELECT column_letter, how, candidates FROM raw.column_map WHERE heading = 'Um' ORDER BY 1"
    ).fetchall()
    assert asked == [("D", "ambiguous", "highest_voltage"), ("E", "ambiguous", "highest_voltage")]
    assert store.sql("SELECT highest_voltage FROM inventory.bus").fetchall() == [(None,)]
