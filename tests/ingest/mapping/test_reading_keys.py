"""What the column map says of how a sheet is to be read: its decimals, its dates, its heading row, or not at all."""

import pytest

from groundcheck.errors import ColumnMapError
from groundcheck.ingest.mapping.column_map import ColumnMap
from groundcheck.ingest.mapping.map_file import read_column_map

BUS = ["Station", "Bus", "Nominal kV", "Um (kV)"]


@pytest.fixture
def mapped(tmp_path):
    """A column map of the text given."""

    def write(text):
        path = tmp_path / "map.toml"
        path.write_text(text)
        return path

    return write


def test_the_map_says_that_commas_are_decimal(read, csv_file, mapped):
    source = csv_file([BUS, ["ELM", "B1", "33", "36,5"]])
    store = read(source, columns=mapped('[[sheet]]\nmatch = "north.csv"\ndecimal_comma = true\n'))
    assert store.sql("SELECT highest_voltage FROM inventory.bus").fetchall() == [(36.5,)]


def test_the_map_overrides_what_the_reader_took_for_the_decimal_mark(read, csv_file, mapped):
    rows = [BUS, ["ELM", "B1", "33,0", "36,500"]]
    store = read(csv_file(rows, delimiter=";"), columns=mapped("[[sheet]]\ndecimal_comma = true\n"))
    assert store.sql("SELECT highest_voltage FROM inventory.bus").fetchall() == [(36.5,)]


@pytest.mark.parametrize(("day_first", "date"), [("true", "2021-04-03"), ("false", "2021-03-04")])
def test_the_map_says_whether_the_day_stands_first(read, book, mapped, day_first, date):
    rows = [["Station", "NER", "Neutral of", "Kind", "Test date"], ["ELM", "R1", "T1", "resistor", "03/04/2021"]]
    store = read(book({"NERs": rows}), columns=mapped(f"[[sheet]]\nday_first = {day_first}\n"))
    assert [str(day) for (day,) in store.sql("SELECT measured_on FROM inventory.neutral_device").fetchall()] == [date]


def test_the_map_says_at_what_frequency_cycles_are_counted(read, book, mapped):
    rows = [["Station", "Bus", "Nominal kV", "Clearing time"], ["ELM", "B1", 33, "30 cycles"]]
    store = read(book({"Buses": rows}), columns=mapped("[[sheet]]\nfrequency = 60\n"))
    assert store.sql("SELECT ground_fault_clearing_time FROM inventory.bus").fetchall() == [(0.5,)]


def test_habits_hold_for_a_sheet_whose_fields_another_entry_names(read, csv_file, mapped):
    text = '[[sheet]]\ndecimal_comma = true\n[[sheet]]\ntable = "bus"\nfields.highest_voltage = "Top"\n'
    store = read(csv_file([[*BUS[:3], "Top"], ["ELM", "B1", "33", "36,5"]]), columns=mapped(text))
    assert store.sql("SELECT highest_voltage FROM inventory.bus").fetchall() == [(36.5,)]


def test_a_sheet_that_the_map_skips_is_kept_as_notes_with_a_remark(read, book, mapped):
    source = book({"Buses": [BUS, ["ELM", "B1", 33, 36]], "Old buses": [BUS, ["ELM", "B2", 11, 12]]})
    store = read(source, columns=mapped('[[sheet]]\nmatch = "*::Old*"\nskip = true\n'))
    assert store.sql("SELECT bus FROM inventory.bus").fetchall() == [("B1",)]
    assert store.sql("SELECT note_rows, remark FROM raw.account WHERE sheet = 'Old buses'").fetchall() == [
        (2, "left out at the word of the column map, so its rows are kept as notes")
    ]


def test_the_map_says_which_row_holds_the_headings(read, book, mapped):
    rows = [["Station", "Bus", "Voltage", "as of May"], ["Site", "Busbar", "Nominal kV"], ["ELM", "B1", 33]]
    store = read(book({"Buses": rows}), columns=mapped('[[sheet]]\nmatch = "*::Buses"\nheading_row = 2\n'))
    assert store.sql("SELECT row, use FROM raw.row ORDER BY row").fetchall() == [
        *((1, "note"), (2, "heading"), (3, "inventory"))
    ]
    assert store.sql("SELECT substation, bus FROM inventory.bus").fetchall() == [("ELM", "B1")]


def test_a_heading_row_that_is_blank_is_named(read, book, mapped):
    path = mapped('[[sheet]]\nmatch = "*::Buses"\nheading_row = 9\n')
    message = "map.toml, sheet entry 1, heading_row: row 9 of north.xlsx::Buses is blank; the sheet has 2 rows"
    with pytest.raises(ColumnMapError, match=f"^{message}$"):
        read(book({"Buses": [BUS, ["ELM", "B1", 33, 36]]}), columns=path)


def test_a_mixed_register_names_the_column_of_kinds_and_their_tables(mapped):
    text = '[[sheet]]\nkinds = { column = "Asset type", words = { "Power Tx" = "transformer", Fence = "" } }\n'
    (entry,) = read_column_map(mapped(text)).sheets
    assert (entry.kinds_column, entry.kinds) == ("Asset type", {"power tx": "transformer", "fence": ""})
    assert entry.named_headings() == {"asset type"}


def test_what_concerns_all_files_stands_at_the_top(mapped):
    text = (
        'precedence = ["north_2025*", "north_2023*"]\n'
        '[same_station]\n"ASH LANE S/S" = "Ash Lane"\n'
        '[same_tag]\n"Ash Lane:NER01" = "NER1"\n'
    )
    column_map = read_column_map(mapped(text))
    assert column_map.precedence == ("north_2025*", "north_2023*")
    assert column_map.same_station == {"ashlanes/s": "Ash Lane"}
    assert column_map.same_tag == {"ashlane:ner01": "NER1"}


def test_without_a_file_the_map_is_empty():
    assert read_column_map(None) == ColumnMap()
