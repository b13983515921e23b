"""Tables that stand anywhere in a sheet, and what stands around them: found, asked about, or accounted for."""

import openpyxl
import pytest
from bad_inputs.cases import SOUND, listed, records, rows_of
from openpyxl.styles import Font

BUS = ["Station", "Bus", "Nominal kV"]
ARRESTER = ["Station", "Arrester", "Bus", "MCOV (kV)"]


def buses(store):
    return store.sql("SELECT substation, bus, nominal_voltage FROM inventory.bus ORDER BY ALL").fetchall()


def account(store, sheet="Buses"):
    counts = "rows_used, rows_quarantined, heading_rows, note_rows, blank_rows"
    return store.sql(f"SELECT {counts} FROM raw.account WHERE sheet = $s", {"s": sheet}).fetchall()[0]


def test_headings_over_two_merged_rows_under_titles_are_joined(read, book):
    rows = [
        ["North district"],
        ["Register of transformers"],
        ["Issue 3"],
        ["Station", "Transformer", "Busbar", None, "Voltage", None, "Rating", "Vector group"],
        [None, None, "HV bus", "LV bus", "HV kV", "LV kV", "MVA", None],
        ["ELM", "T1", "B33", "B11", 33, 11, 12, "Dyn11"],
        ["ELM", "T2", "B33", "B11", 33, 11, "twelve", "Dyn11"],
    ]
    merged = ["A1:H1", "A4:A5", "B4:B5", "C4:D4", "E4:F4", "H4:H5"]
    store = read(book({"Tx": rows}, merge={"Tx": merged}))
    assert [entry[:4] for entry in listed(store)] == [("quarantine", "G7", "unreadable", "twelve")]
    assert account(store, "Tx") == (1, 1, 2, 3, 0)
    assert store.sql("SELECT row FROM raw.row WHERE use = 'inventory'").fetchall() == [(6,)]
    record = records(store, "transformer")["T1"]
    assert (record["hv_voltage"], record["lv_voltage"], record["rated_power"]) == (33.0, 11.0, 12.0)


def test_pages_with_repeated_headings_totals_and_notes_hold_only_assets(read, book):
    pages = [[BUS, *(["ELM", f"B{page * 40 + row}", 33] for row in range(40))] for page in range(3)]
    rows = [row for page in pages for row in page]
    rows += [["Total", None, 120], [], ["Notes:"], ["1. Voltages are nominal."], ["Checked by M. Reed, 3 May"]]
    store = read(book({"Buses": rows}))
    assert account(store) == (120, 0, 3, 4, 1)
    assert len(buses(store)) == 120
    assert listed(store) == []


def test_two_tables_side_by_side_are_never_merged(read, book):
    rows = [
        [*BUS, None, *ARRESTER],
        ["ELM", "B1", 33, None, "ELM", "SA1", "B1", 28],
        ["ELM", "B2", "x", None, "ELM", "SA2", "B1", "y"],
        ["ELM", "B3", 11],
    ]
    store = read(book({"Buses": rows}))
    assert [entry[:4] for entry in listed(store)] == [
        ("quarantine", "C3", "unreadable", "x"),
        ("unread_cell", "H3", "mcov", "y"),
    ]
    assert buses(store) == [("ELM", "B1", 33.0), ("ELM", "B3", 11.0)]
    assert {tag: record["mcov"] for tag, record in records(store, "arrester").items()} == {"SA1": 28.0, "SA2": None}


def test_a_table_under_another_has_its_own_headings(read, book):
    rows = [BUS, ["ELM", "B1", 33], [], ARRESTER, ["ELM", "SA1", "B1", 28], ["ELM", "SA2", None, 28]]
    store = read(book({"Buses": rows}))
    assert [entry[:3] for entry in listed(store)] == [("quarantine", "C6", "required_missing")]
    assert buses(store) == [("ELM", "B1", 33.0)]
    assert list(records(store, "arrester")) == ["SA1"]


def test_a_merged_station_is_carried_down_and_marked(read, book):
    rows = [BUS, ["ELM", "B1", 33], *([None, f"B{n}", 11] for n in range(2, 9)), [None, "B9", 11], ["OAK", "B1", 33]]
    store = read(book({"Buses": rows}, merge={"Buses": ["A2:A9"]}))
    assert [entry[:3] for entry in listed(store) if entry[0] == "quarantine"] == [("quarantine", "A10", "key_missing")]
    carried = store.sql("SELECT cell, read_as FROM raw.noted_cell").fetchall()
    assert carried == [("A2:A9", "ELM")]
    assert len(buses(store)) == 9
    assert buses(store)[-1] == ("OAK", "B1", 33.0)


def test_a_blank_station_is_carried_down_only_where_the_map_says_so(read, book, tmp_path):
    (tmp_path / "map.toml").write_text('[[sheet]]\nmatch = "*"\ntable = "bus"\ncarry_down = ["substation"]\n')
    path = book({"Buses": [BUS, ["ELM", "B1", 33], [None, "B2", 11]]})
    assert [entry[:3] for entry in listed(read(path))] == [("quarantine", "A3", "key_missing")]
    told = read(path, columns=tmp_path / "map.toml")
    assert buses(told) == [("ELM", "B1", 33.0), ("ELM", "B2", 11.0)]


def test_two_columns_of_one_heading_are_asked_about_and_both_kept(read, book):
    store = read(book({"Buses": [[*BUS, "Um", "Um"], ["ELM", "B1", 33, 36, 40]]}))
    [(where, cell, what, found, said)] = listed(store)
    assert (where, cell, what, found) == ("question", "D1", "same_heading", "Um")
    assert said == "D Um; E Um"
    assert store.sql("SELECT cells FROM raw.row WHERE row = 2").fetchall() == [(["ELM", "B1", "33", "36", "40"],)]
    assert records(store, "bus")["B1"]["highest_voltage"] is None


def test_a_heading_that_fits_two_fields_is_asked_about_with_both(read, book):
    headings = [*list(SOUND["transformer"])[:8], "Voltage"]
    store = read(book({"Tx": [headings, [*list(SOUND["transformer"].values())[:8], 33]]}))
    [(where, cell, what, found, said)] = listed(store)
    assert (where, cell, what, found) == ("question", "I1", "heading", "Voltage")
    assert {"hv_voltage", "lv_voltage"} <= set(said.split("; "))
    assert records(store, "transformer")["T1"]["hv_voltage"] == 33.0


def test_a_heading_nobody_knows_is_kept_and_listed(read, book):
    store = read(book({"Buses": [[*BUS, "Colour of the fence"], ["ELM", "B1", 33, "grey"]]}))
    unmapped = store.sql("SELECT column_letter, heading FROM raw.column_map WHERE how = 'unmapped'").fetchall()
    assert unmapped == [("D", "Colour of the fence")]
    assert store.sql("SELECT cells[4] FROM raw.row WHERE row = 2").fetchall() == [("grey",)]
    assert buses(store) == [("ELM", "B1", 33.0)]


@pytest.mark.parametrize(
    ("entry", "words"),
    [
        ('table = "bus"\nfields.nominal_voltage = "Nominal KW"', ("Nominal KW", "Nominal kV")),
        ('table = "bus"\nfields.nominal_volts = "Nominal kV"', ("nominal_volts", "nominal_voltage")),
        ('table = "busses"', ("busses", "bus")),
        ('tabel = "bus"', ("tabel", "table")),
        ('table = "bus"\nunits = { "Nominal kV" = "kVolt-ish" }', ("kVolt-ish",)),
        ('table = "bus"\nheading_row = 0', ("heading_row",)),
    ],
)
def test_a_column_map_with_a_slip_stops_with_the_nearest_word(command, stopped, book, tmp_path, entry, words):
    (tmp_path / "map.toml").write_text(f'[[sheet]]\nmatch = "*"\n{entry}\n')
    path = book({"Buses": [BUS, ["ELM", "B1", 33]]})
    stopped(command("audit", path, "--columns", "map.toml"), "map.toml", *words)
    assert not (tmp_path / "audit_out" / "exceptions.xlsx").exists()


def test_a_column_map_that_is_no_toml_stops(command, stopped, book, tmp_path):
    (tmp_path / "map.toml").write_text("[[sheet]\nmatch =")
    stopped(command("audit", book({"Buses": [BUS]}), "--columns", "map.toml"), "map.toml: cannot be read as TOML")


def test_hidden_rows_and_columns_and_struck_rows_are_read_and_counted(read, book):
    path = book({"Buses": [[*BUS, "Highest kV"], ["ELM", "B1", 33, 36], ["ELM", "B2", 11, 12], ["ELM", "B3", 11, 12]]})
    workbook = openpyxl.load_workbook(path)
    sheet = workbook["Buses"]
    sheet.row_dimensions[3].hidden = True
    sheet.column_dimensions["D"].hidden = True
    for cell in sheet[4]:
        cell.font = Font(strike=True)
    workbook.save(path)
    store = read(path)
    assert store.sql("SELECT hidden_rows, hidden_columns, struck_rows FROM raw.account").fetchall() == [(1, 1, 1)]
    assert records(store, "bus")["B2"]["highest_voltage"] == 12.0
    assert len(buses(store)) == 3


def test_strike_through_is_not_guessed_where_the_reader_cannot_tell(read, csv_file):
    store = read(csv_file([BUS, ["ELM", "B1", "33"]]))
    assert store.sql("SELECT hidden_rows, struck_rows FROM raw.account").fetchall() == [(None, None)]


def test_a_table_that_is_no_canonical_one_waits_row_by_row(read, book):
    rows = [["Station", "HV bus", "LV bus", "HV kV", "LV kV", "Vector group"], ["ELM", "B33", "B11", 33, 11, "Dyn11"]]
    store = read(book({"Buses": [BUS, ["ELM", "B1", 33]], "Plant": rows}))
    [(cell, what, _, said)] = [entry[1:] for entry in listed(store) if entry[0] == "quarantine"]
    assert (cell, what) == ("A2", "no_table")
    assert "no heading gives its tag" in said
    assert buses(store) == [("ELM", "B1", 33.0)]


def test_a_turned_sheet_names_its_cells_as_a_person_sees_them(read, book, tmp_path):
    columns = list(zip(*rows_of("transformer", {}, {"Z %": "lots"}, {}), strict=True))
    (tmp_path / "map.toml").write_text('[[sheet]]\nmatch = "*"\nturned = true\n')
    store = read(book({"Tx": [list(row) for row in columns]}), columns=tmp_path / "map.toml")
    assert [entry[:4] for entry in listed(store)] == [("unread_cell", "C9", "impedance", "lots")]
    assert list(records(store, "transformer")) == ["T1-1", "T1-2", "T1-3"]
