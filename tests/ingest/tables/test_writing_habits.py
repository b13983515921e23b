"""The order of dates and the frequency of cycles: by evidence in the file, or asked once a file."""

HEAD = ["Station", "Device", "Connected to", "Type", "Measured ohms", "Measured on"]


def device(tag, day):
    return ["ASH", tag, f"T{tag}", "resistor", 6.3, day]


def days(store):
    return store.sql(
        "SELECT neutral_device, measured_on::DATE::VARCHAR FROM inventory.neutral_device ORDER BY 1"
    ).fetchall()


def test_dates_that_can_be_read_two_ways_are_asked_about_once_a_file(read, book):
    path = book({"Resistors": [HEAD, device("1", "03/04/2021"), device("2", "05/06/2021"), device("3", "2021-07-08")]})
    store = read(path)
    assert days(store) == [("1", None), ("2", None), ("3", "2021-07-08")]
    assert store.sql("SELECT subject, file, cell, found, candidates, cells, answer FROM raw.question").fetchall() == [
        ("date_order", "north.xlsx", "F2", "03/04/2021", "the day first; the month first", 2, "day_first = true")
    ]
    assert store.sql("SELECT cell FROM raw.unread_cell ORDER BY 1").fetchall() == [("F2",), ("F3",)]


def test_a_date_that_can_be_read_one_way_only_settles_the_others_of_its_file(read, book):
    sound = book({"Resistors": [HEAD, device("1", "03/04/2021"), device("2", "25/06/2021")]}, name="north.xlsx")
    other = book({"Resistors": [HEAD, ["ELM", "9", "T9", "resistor", 6.3, "03/04/2021"]]}, name="south.xlsx")
    store = read([sound, other])
    assert days(store) == [("1", "2021-04-03"), ("2", "2021-06-25"), ("9", None)]
    assert store.sql("SELECT subject, file FROM raw.question").fetchall() == [("date_order", "south.xlsx")]


def test_evidence_for_both_orders_in_one_file_settles_nothing(read, book):
    path = book({"Resistors": [HEAD, device("1", "25/06/2021"), device("2", "06/25/2021"), device("3", "03/04/2021")]})
    assert days(read(path)) == [("1", "2021-06-25"), ("2", "2021-06-25"), ("3", None)]


def test_the_column_map_settles_the_order_of_dates(read, book, tmp_path):
    columns = tmp_path / "columns.toml"
    columns.write_text('[[sheet]]\nmatch = "*.xlsx"\nday_first = false\n')
    store = read(book({"Resistors": [HEAD, device("1", "03/04/2021")]}), columns=columns)
    assert days(store) == [("1", "2021-03-04")]
    assert store.sql("SELECT count(*) FROM raw.question").fetchall() == [(0,)]


RELAY = ["Station", "Relay", "Function", "Breaker time"]


def test_cycles_take_the_frequency_that_all_stations_on_record_name(read, book):
    stations = [["Substation", "Frequency (Hz)"], ["ASH", 60], ["ELM", 60]]
    store = read(book({"Stations": stations, "Relays": [RELAY, ["ASH", "R1", "51G", "6 cycles"]]}))
    assert store.sql("SELECT breaker_time FROM inventory.ground_relay").fetchall() == [(0.1,)]


def test_cycles_without_a_frequency_on_record_are_asked_about(read, book):
    rows = [RELAY, ["ASH", "R1", "51G", "6 cycles"], ["ASH", "R2", "51G", "5 cycles"]]
    store = read(book({"Relays": rows}))
    assert store.sql("SELECT breaker_time FROM inventory.ground_relay").fetchall() == [(None,), (None,)]
    assert store.sql("SELECT subject, cell, cells, answer FROM raw.question").fetchall() == [
        ("frequency", "D2", 2, "frequency = 50")
    ]


def test_two_frequencies_on_record_settle_nothing(read, book):
    stations = [["Substation", "Frequency (Hz)"], ["ASH", 60], ["ELM", 50]]
    store = read(book({"Stations": stations, "Relays": [RELAY, ["ASH", "R1", "51G", "6 cycles"]]}))
    assert store.sql("SELECT breaker_time FROM inventory.ground_relay").fetchall() == [(None,)]


def test_a_cell_used_not_quite_as_written_is_noted_with_its_tolerance(read, book):
    head = ["Station", "Device", "Connected to", "Type", "Resistance (ohm)"]
    rows = [head, ["ASH", "R1", "T1", "resistor", "10 +/- 5 %"], ["ASH", "R2", "T2", "resistor", "approx. 12"]]
    store = read(book({"Resistors": rows}))
    assert store.sql("SELECT resistance FROM inventory.neutral_device ORDER BY neutral_device").fetchall() == [
        (10.0,),
        (12.0,),
    ]
    noted = store.sql("SELECT cell, field, found, read_as, tolerance FROM raw.noted_cell ORDER BY cell").fetchall()
    assert noted == [("E2", "resistance", "10 +/- 5 %", "10", 0.05), ("E3", "resistance", "approx. 12", "12", None)]
