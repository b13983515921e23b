"""Several tables in one sheet, and what stands around them."""

import pytest

BUS = ["Station", "Bus", "Nominal kV"]
ARRESTER = ["Station", "Arrester", "Bus", "MCOV (kV)"]


def buses(store):
    return store.sql("SELECT substation, bus, nominal_voltage FROM inventory.bus ORDER BY ALL").fetchall()


def arresters(store):
    return store.sql("SELECT arrester, mcov FROM inventory.arrester ORDER BY ALL").fetchall()


def test_a_second_table_needs_no_blank_row_above_it(read, book, account):
    rows = [BUS, ["ELM", "B1", 33], ["ELM", "B2", 11], ARRESTER, ["ELM", "SA1", "B1", 28]]
    store = read(book({"Plant": rows}))
    assert account(store, "Plant") == (3, 0, 2, 0, 0)
    assert (buses(store), arresters(store)) == ([("ELM", "B1", 33.0), ("ELM", "B2", 11.0)], [("SA1", 28.0)])


def test_two_tables_side_by_side_need_no_blank_column_between_them(read, book, account):
    rows = [[*BUS, *ARRESTER], ["ELM", "B1", 33, "ELM", "SA1", "B1", 28], ["ELM", "B2", 11]]
    store = read(book({"Plant": rows}))
    assert account(store, "Plant") == (3, 0, 2, 0, 1)
    assert (buses(store), arresters(store)) == ([("ELM", "B1", 33.0), ("ELM", "B2", 11.0)], [("SA1", 28.0)])


def test_blank_columns_within_a_table_part_nothing(read, book, account):
    rows = [["Station", None, "Bus", None, None, "Nominal kV"], ["ELM", None, "B1", None, None, 33]]
    store = read(book({"Buses": rows}))
    assert account(store, "Buses") == (1, 0, 1, 0, 0)
    assert buses(store) == [("ELM", "B1", 33.0)]


def test_headings_repeat_after_each_page_with_its_title_and_footer(read, book, account, questions):
    page = [["ELM", f"B{number}", 33] for number in range(1, 41)]
    rows = [BUS, *page, ["Page 1 of 2"], [], ["Busbars, continued"], BUS, ["OAK", "B1", 11], ["Page 2 of 2"]]
    store = read(book({"Buses": rows}))
    assert account(store, "Buses") == (41, 0, 2, 3, 1)
    assert questions(store, "table") == []


@pytest.mark.parametrize(
    "row",
    [
        ["Total", None, 44],
        ["Sub-total:", None, 44],
        ["TOTALS", "2", 44],
        ["Ash Lane total", None, 44],
        ["Grand Total", None, None, 44],
        ["Note 1", "values as of May"],
        ["N.B. nominal values"],
        ["Legend", "B = busbar"],
        ["Prepared by", "M. Reed", "Approved by"],
        ["Page 3 of 9"],
        [None, None, None, "* estimated"],
    ],
)
def test_totals_notes_and_signatures_below_are_no_assets(read, book, account, row):
    store = read(book({"Buses": [[*BUS, "Remarks"], ["ELM", "B1", 33], ["ELM", "B2", 11], row]}))
    assert account(store, "Buses") == (2, 0, 1, 1, 0)
    assert len(buses(store)) == 2


@pytest.mark.parametrize(
    "row",
    [
        ["Total Works", "B1", 33, "in use"],
        ["Page Street", "B1", 33, None],
        ["Source Lane", "B1", 33, None],
        ["Endfield", "B1", 33, None],
        ["Key West", "B1", 33, None],
        ["Issacs", "Total", 33, None],
    ],
)
def test_a_station_whose_name_begins_like_a_note_is_a_station(read, book, account, row):
    store = read(book({"Buses": [[*BUS, "Remarks"], ["ELM", "B1", 33], row]}))
    assert account(store, "Buses") == (2, 0, 1, 0, 0)


def test_a_revision_block_beside_the_table_feeds_nothing(read, book, account, questions):
    rows = [
        [*BUS, None, "Rev", "Date", "By"],
        ["ELM", "B1", 33, None, "A", "2021-04-03", "MR"],
        ["ELM", "B2", 11],
        [None, None, None, None, "B", "2022-01-10", "MR"],
    ]
    store = read(book({"Buses": rows}))
    assert account(store, "Buses") == (2, 0, 1, 1, 0)
    assert buses(store) == [("ELM", "B1", 33.0), ("ELM", "B2", 11.0)]
    unmapped = store.sql("SELECT heading FROM raw.column_map WHERE how = 'unmapped' ORDER BY column_letter").fetchall()
    assert unmapped == [("Rev",), ("Date",), ("By",)]


def test_a_table_that_nobody_knows_is_asked_about_and_not_merged(read, book, account, questions):
    rows = [
        BUS,
        ["ELM", "B1", 33],
        [],
        ["Spare fuses"],
        ["Bin", "Colour", "Count"],
        ["Shelf A", "grey", 12],
        ["Shelf B", "red", 3],
    ]
    store = read(book({"Plant": rows}))
    assert account(store, "Plant") == (1, 2, 2, 1, 1)
    assert buses(store) == [("ELM", "B1", 33.0)]
    assert store.sql("SELECT row, reason FROM raw.quarantine ORDER BY 1").fetchall() == [
        (6, "no_table"),
        (7, "no_table"),
    ]
    assert questions(store, "table") == [("A5", "Bin, Colour, Count", 2)]


def test_a_table_that_nobody_knows_beside_a_known_one_is_asked_about(read, book, account, questions):
    rows = [[*BUS, None, "Bin", "Colour"], ["ELM", "B1", 33, None, "Shelf A", "grey"], ["ELM", "B2", 11]]
    store = read(book({"Plant": rows}))
    assert account(store, "Plant") == (2, 0, 1, 0, 0)
    assert questions(store, "table") == [("E1", "Bin, Colour", 2)]


@pytest.mark.parametrize(
    "rows",
    [
        [[], ["ELM", "B9", "TBC"], ["ELM", "B8", 11]],
        [[], ["OAK", "B9", "unknown"], ["OAK", "B8", 11]],
        [[], ["Main", "West", "n/a"], ["Main", "East", 11]],
    ],
)
def test_a_record_after_a_blank_row_does_not_begin_a_table(read, book, account, questions, rows):
    store = read(book({"Buses": [BUS, ["ELM", "B1", 33], *rows]}))
    assert account(store, "Buses") == (2, 1, 1, 0, 1)
    assert questions(store, "table") == []


def test_a_block_of_signatures_below_is_no_table(read, book, account, questions):
    rows = [BUS, ["ELM", "B1", 33], [], ["Prepared by", "Checked by", "Approved by"], ["M. Reed", "J. Moss", "A. Fen"]]
    store = read(book({"Buses": rows}))
    assert questions(store, "table") == []
    assert buses(store) == [("ELM", "B1", 33.0)]


def test_a_table_that_ends_beside_a_longer_one_ends_alone(read, book, account, questions):
    rows = [
        [*BUS, None, *ARRESTER],
        ["ELM", "B1", 33, None, "ELM", "SA1", "B1", 28],
        ["ELM", "B2", 11, None, None, None, None, None],
        ["ELM", "B3", 11, None, "Station", "Generator", "Bus", "MVA"],
        ["ELM", "B4", 11, None, "ELM", "G1", "B1", 5],
    ]
    store = read(book({"Plant": rows}))
    assert [bus for _, bus, _ in buses(store)] == ["B1", "B2", "B3", "B4"]
    assert arresters(store) == [("SA1", 28.0)]
    assert store.sql("SELECT reason, row FROM raw.quarantine ORDER BY row").fetchall() == [
        ("no_table", 4),
        ("no_table", 5),
    ]
    assert [(cell, cells) for cell, _, cells in questions(store, "table")] == [("E4", 2)]
