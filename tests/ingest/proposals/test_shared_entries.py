"""Sheets of several files with the same headings share one entry, and it fits no other sheet."""

from groundcheck.ingest import propose_columns
from groundcheck.ingest.mapping.column_map import SheetMap
from groundcheck.ingest.proposals.sheet_groups import patterns_for
from groundcheck.ingest.sheets import Sheet

HEADINGS = ["Station", "Bus", "Nominal voltge"]


def entries(text):
    return [line for line in text.splitlines() if line.startswith("match = ")]


def test_two_files_with_the_same_headings_are_listed_in_one_entry(book, tmp_path):
    for name in ("elm.xlsx", "oak.xlsx"):
        book({"Buses": [HEADINGS, [name, "B1", 33]]}, name=name)
    text = propose_columns(tmp_path)
    assert entries(text) == ['match = ["elm.xlsx", "oak.xlsx"]']
    assert text.count("fields.nominal_voltage") == 1


def test_many_files_share_a_pattern_that_the_map_takes(read, book, tmp_path):
    folder = tmp_path / "registers"
    folder.mkdir()
    for i in range(5):
        book({"Buses": [HEADINGS, [f"S{i}", "B1", 33]]}, name=f"registers/buses_{i}.xlsx")
    book({"Other": [["Station", "Arrester", "Bus", "MCOV"], ["S1", "SA1", "B1", 28]]}, name="registers/plant.xlsx")
    path = tmp_path / "map.toml"
    path.write_text(propose_columns(folder))
    assert entries(path.read_text()) == ['match = "buses_*.xlsx"']
    store = read(folder, columns=path)
    assert store.sql("SELECT count(DISTINCT file) FROM raw.column_map WHERE how = 'map'").fetchall()[0] == (5,)


def test_files_with_other_headings_keep_entries_of_their_own(book, tmp_path):
    book({"Buses": [HEADINGS, ["ELM", "B1", 33]]}, name="elm.xlsx")
    book({"Buses": [[*HEADINGS, "Notes"], ["OAK", "B1", 33, "x"]]}, name="oak.xlsx")
    assert entries(propose_columns(tmp_path)) == ['match = "elm.xlsx"', 'match = "oak.xlsx"']


def test_a_pattern_that_would_catch_another_sheet_is_not_used():
    labels = [f"bus_{i}.csv" for i in range(4)]
    assert patterns_for(labels, []) == ["bus_*.csv"]
    assert patterns_for(labels, [Sheet("bus_old.csv", "bus_old", [])]) == labels


def test_a_name_with_signs_of_a_pattern_fits_itself_alone():
    (pattern,) = patterns_for(["bus [new]*.csv"], [])
    entry = SheetMap("", (pattern,))
    assert entry.fits_name(Sheet("bus [new]*.csv", "x", []))
    assert not entry.fits_name(Sheet("bus n.csv", "x", []))
