"""A file that changed replaces its own rows and no others."""

from groundcheck.ingest import ingest

BUS = ["Station", "Bus", "Nominal kV"]


def rows_of(store, file):
    return store.sql(f"SELECT raw_row, row, use, cells FROM raw.row WHERE file = '{file}' ORDER BY 1").fetchall()


def test_a_changed_file_replaces_only_its_own_rows(read, book):
    south = book({"Buses": [BUS, ["ASH", "B1", 11], ["ASH", "B2", 11]]}, name="south.xlsx")
    north = book({"Buses": [BUS, ["ELM", "B1", 33]]}, name="north.xlsx")
    west = book({"Buses": [BUS, ["OAK", "B1", 33]]}, name="west.xlsx")
    store = read([north, south, west])
    before = {name: rows_of(store, name) for name in ("north.xlsx", "south.xlsx", "west.xlsx")}
    book({"Buses": [BUS, ["ASH", "B1", 11], ["ASH", "B2", 6.6], ["ASH", "B3", 11]]}, name="south.xlsx")
    ingest(store, [north, south, west])
    assert rows_of(store, "north.xlsx") == before["north.xlsx"]
    assert rows_of(store, "west.xlsx") == before["west.xlsx"]
    assert [(row, use, cells[1:]) for _, row, use, cells in rows_of(store, "south.xlsx")] == [
        (1, "heading", ["Bus", "Nominal kV"]),
        (2, "inventory", ["B1", "11"]),
        (3, "inventory", ["B2", "6.6"]),
        (4, "inventory", ["B3", "11"]),
    ]
    [(rows, numbers)] = store.sql("SELECT count(*), count(DISTINCT raw_row) FROM raw.row").fetchall()
    assert rows == numbers == 8
    assert store.sql("SELECT count(*) FROM inventory.bus b JOIN raw.row r USING (raw_row)").fetchall() == [(5,)]
    joined = "SELECT b.bus, r.cells[2] FROM inventory.bus b JOIN raw.row r USING (raw_row) ORDER BY ALL"
    assert all(tag == cell for tag, cell in store.sql(joined).fetchall())


def test_a_row_of_an_unchanged_file_may_come_to_wait_in_quarantine(read, book):
    north = book({"Buses": [BUS, ["ELM", "B1", 33]]}, name="north.xlsx")
    south = book({"Buses": [BUS, ["ASH", "B1", 11]]}, name="south.xlsx")
    store = read([north, south])
    book({"Buses": [BUS, ["ASH", "B1", 11], ["ELM", "B1", 11]]}, name="south.xlsx")
    ingest(store, [north, south])
    assert [(use, cells[0]) for _, _, use, cells in rows_of(store, "north.xlsx")][1] == ("quarantine", "ELM")
    assert store.sql("SELECT count(*) FROM raw.quarantine WHERE reason = 'conflicting'").fetchall() == [(2,)]
    book({"Buses": [BUS, ["ASH", "B1", 11]]}, name="south.xlsx")
    ingest(store, [north, south])
    assert [(use, cells[0]) for _, _, use, cells in rows_of(store, "north.xlsx")][1] == ("inventory", "ELM")


def test_a_file_that_is_no_longer_named_takes_its_rows_along(read, book):
    north = book({"Buses": [BUS, ["ELM", "B1", 33]]}, name="north.xlsx")
    south = book({"Buses": [BUS, ["ASH", "B1", 11]]}, name="south.xlsx")
    store = read([north, south])
    ingest(store, [south])
    assert store.sql("SELECT DISTINCT file FROM raw.row").fetchall() == [("south.xlsx",)]
    assert store.sql("SELECT substation FROM inventory.bus").fetchall() == [("ASH",)]


def test_another_column_map_reads_every_row_anew(read, book, tmp_path):
    north = book({"Buses": [BUS, ["ELM", "B1", 33]]}, name="north.xlsx")
    store = read(north)
    columns = tmp_path / "columns.toml"
    columns.write_text('[[sheet]]\nmatch = "north.xlsx"\ntable = "bus"\nunits."Nominal kV" = "V"\n')
    ingest(store, north, columns=columns)
    assert store.sql("SELECT nominal_voltage FROM inventory.bus").fetchall() == [(0.033,)]
