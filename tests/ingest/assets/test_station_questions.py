"""Two names that may be one station's are asked about, with cell and the line that settles it; nothing is merged."""

BUSES = ["Station", "Bus", "Nominal kV"]
QUESTIONS = "SELECT found, candidates, file, sheet, cell, cells, answer FROM raw.question WHERE subject = 'station'"


def stations(store):
    return [name for (name,) in store.sql("SELECT substation FROM inventory.substation ORDER BY 1").fetchall()]


def test_a_name_in_another_writing_is_asked_about_and_stays_a_station(read, book):
    rows = [["Ash Lane", "B1", 33], ["Ash Lane", "B2", 33], ["ASH LANE S/S", "B1", 33], ["Elm Street", "B1", 33]]
    store = read(book({"Buses": [BUSES, *rows]}))
    assert store.sql(QUESTIONS).fetchall() == [
        ("ASH LANE S/S", "Ash Lane", "north.xlsx", "Buses", "A4", 1, '[same_station] "ASH LANE S/S" = "Ash Lane"')
    ]
    assert stations(store) == ["ASH LANE S/S", "Ash Lane", "Elm Street"]
    assert store.sql("SELECT count(*) FROM inventory.bus").fetchall() == [(4,)]


def test_case_and_blanks_are_not_asked_about(read, book):
    store = read(book({"Buses": [BUSES, ["Ash Lane", "B1", 33], ["ASH  LANE", "B2", 33], ["Ashlane", "B3", 33]]}))
    assert store.sql(QUESTIONS).fetchall() == []
    assert stations(store) == ["Ash Lane"]


def test_the_first_cell_and_all_rows_of_the_name_are_counted_over_all_sheets(read, book):
    first = [BUSES, ["Ash Lane", "B1", 33], ["Ash Lane", "B2", 33], ["Ash Lane", "B3", 33]]
    second = [["Bus", "Station", "Nominal kV"], ["B4", "Ash Lane Sub", 33], ["B5", "Ash Lane Sub", 33]]
    store = read(book({"One": first, "Two": second}))
    [(found, _, _, sheet, cell, cells, _)] = store.sql(QUESTIONS).fetchall()
    assert (found, sheet, cell, cells) == ("Ash Lane Sub", "Two", "B2", 2)


def test_a_full_name_used_in_place_of_the_code_is_asked_about(read, book):
    codes = [["Substation code", "Full name"], ["ASHL", "Ash Lane"], ["ELMS", "Elm Street"]]
    store = read(book({"Stations": codes, "Buses": [BUSES, ["Ash Lane", "B1", 33], ["ELMS", "B1", 33]]}))
    assert store.sql(QUESTIONS).fetchall() == [
        ("Ash Lane", "ASHL", "north.xlsx", "Buses", "A2", 1, '[same_station] "Ash Lane" = "ASHL"')
    ]
    assert stations(store) == ["ASHL", "Ash Lane", "ELMS"]


def test_beyond_fifty_names_the_rest_is_counted(read, book):
    rows = [[f"Mill {n}{word}", "B1", 33] for n in range(1, 54) for word in ("", " S/S")]
    store = read(book({"Buses": [BUSES, *rows]}))
    asked = store.sql(QUESTIONS).fetchall()
    assert len(asked) == 51
    found, candidates, *_, cells, answer = asked[-1]
    assert (found, cells, answer) == ("3 more names like these", 3, None)
    assert "groundcheck columns" in candidates
