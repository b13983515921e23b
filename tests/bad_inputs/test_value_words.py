"""Vector groups, conductor sizes, yes and no, words of a vocabulary, and dates, as districts write them."""

from datetime import date

import pytest
from bad_inputs.cases import blank_and_named, ids, listed, noted, prove, read_as, read_cases, records, rows_of, waits

VG = ("transformer", "Vector group")
SIZE = ("bond", "Conductor size")
CONNECTED = ("bond", "Connected to mat")
DAY = ("neutral_device", "Measured on")

# Notation of IEC 60076-1, clause 7 (recalled): capital letter for HV, N for a neutral brought out, clock number last.
GROUPS = (
    [
        read_as(f"'{written}' is {group}", *VG, written, "vector_group", group)
        for written, group in [
            ("YNd11", "YNd11"),
            ("yn D 11", "YNd11"),
            ("Dyn", "Dyn"),
            ("DYN11", "Dyn11"),
            ("Y-D", "Yd"),
            ("delta-wye grounded", "Dyn"),
            ("Yzn5", "Yzn5"),
            ("star / delta", "Yd"),
            ("YN,yn0,d11", "YNyn0d11"),
        ]
        if written != "yn D 11"
    ]
    + [
        noted("a capital letter in second place is read as written", *VG, "yn D 11", "vector_group", "YNd11", "order"),
    ]
    + [
        waits(f"'{written}' is no vector group", *VG, written, "vector_group", "unreadable", "IEC 60076-1")
        for written in ("Dny", "XYZ", "Y/Z/Q", "Dyn13", "Dyn11 / Yyn0")
    ]
)

SIZES = [
    read_as("square millimetres are read", *SIZE, "95 sq mm", "conductor_size", 95.0),
    read_as("the sides of a bar are read", *SIZE, "40 x 5", "conductor_size", 200.0),
    blank_and_named("an inch size is asked about", *SIZE, '3/8"', "conductor_size", "rod or a strap"),
    blank_and_named("a gauge without unit is asked about", *SIZE, 12, "conductor_size", "12 mm2 or 12 AWG"),
    blank_and_named("a size of nought is named", *SIZE, "0 mm2", "conductor_size", "above 0"),
]

ANSWERS = [
    read_as(f"'{written}' is {'yes' if answer else 'no'}", *CONNECTED, written, "connected_to_grid", answer)
    for written, answer in [
        *(("Y", True), ("yes", True), ("J", True), ("✓", True), ("1", True), ("x", True), (True, True), (1, True)),
        *(("N", False), ("No.", False), (0, False), (False, False), ("not connected", False)),
    ]
] + [
    blank_and_named(
        f"'{written}' is neither yes nor no", *CONNECTED, written, "connected_to_grid", "yes or no", str(written)
    )
    for written in ("No (removed 2019)", "partly", 2, "y/n")
]

DAYS = [
    read_as(f"{written!r} is {day}", *DAY, written, "measured_on", date.fromisoformat(day))
    for written, day in [
        *((44927, "2023-01-01"), ("2021-04-03", "2021-04-03"), ("3 Apr 2021", "2021-04-03")),
        *(("25/04/2021", "2021-04-25"), ("03.04.2021", "2021-04-03")),
    ]
] + [
    blank_and_named("31 February is named", *DAY, "31/02/2021", "measured_on", "year-month-day"),
    blank_and_named("a day of the year 21021 is named", *DAY, "21021-04-03", "measured_on", "year-month-day"),
    noted("a year alone is read and noted", *DAY, 2021, "measured_on", date(2021, 1, 1), "1 January"),
    blank_and_named("a sentence is no date", *DAY, "before the flood", "measured_on", "year-month-day"),
]

KINDS = [
    waits(
        "a kind of device nobody knows waits", "neutral_device", "Kind", "widget", "kind", "unknown_word", "resistor"
    ),
    read_as("a kind in other words is read", "neutral_device", "Kind", "Petersen coil", "kind", "arc_suppression_coil"),
    waits("a kind left blank waits", "neutral_device", "Kind", None, "kind", "required_missing", "one of"),
]

ALL = GROUPS + SIZES + ANSWERS + DAYS + KINDS


@pytest.fixture(scope="module")
def store(tmp_path_factory):
    with read_cases(ALL, tmp_path_factory.mktemp("cases")) as store:
        yield store


@pytest.mark.parametrize("case", ALL, ids=ids(ALL))
def test_word(store, case):
    prove(store, ALL, case)


@pytest.mark.parametrize(
    ("written", "area", "parallel"),
    [("2x95", 95.0, 2), ("4/0", 107.2, None), ("4/0 AWG", 107.2, None), ("#4", 21.15, None), ("250 MCM", 126.7, None)],
)
def test_a_size_of_the_trade_is_read_as_area(read, book, written, area, parallel):
    # Printed to four digits: ASTM B258, table of AWG areas; 1 kcmil is 0.506707 mm2.
    store = read(book({"Bonds": rows_of("bond", {"Conductor size": written})}))
    [found] = store.sql("SELECT conductor_size, parallel FROM inventory.bond").fetchall()
    assert found == (pytest.approx(area, rel=5e-4), parallel)


def test_the_order_of_day_and_month_is_asked_for_once_a_file(read, book):
    days = ["2021-04-03", "03/04/2021", "05/06/2021"]
    store = read(book({"NERs": rows_of("neutral_device", *({"Measured on": day} for day in days))}))
    assert [entry[:4] for entry in listed(store) if entry[0] == "unread_cell"] == [
        ("unread_cell", "H3", "measured_on", "03/04/2021"),
        ("unread_cell", "H4", "measured_on", "05/06/2021"),
    ]
    [(cell, cells, answer)] = store.sql(
        "SELECT cell, cells, answer FROM raw.question WHERE subject = 'date_order'"
    ).fetchall()
    assert (cell, cells) == ("H3", 2)
    assert "day_first" in answer
    assert [record["measured_on"] for record in records(store, "neutral_device").values()] == [
        date(2021, 4, 3),
        None,
        None,
    ]


def test_the_answer_of_the_column_map_settles_the_order_of_day_and_month(read, book, tmp_path):
    (tmp_path / "map.toml").write_text('[[sheet]]\nmatch = "*"\nday_first = true\n')
    rows = rows_of("neutral_device", {"Measured on": "03/04/2021"})
    store = read(book({"NERs": rows}), columns=tmp_path / "map.toml")
    assert [entry[:3] for entry in listed(store)] == [("noted_cell", "H2", "measured_on")]
    assert records(store, "neutral_device")["R1-1"]["measured_on"] == date(2021, 4, 3)


@pytest.mark.parametrize(("written", "places"), [("none", []), ("n/a", None), (None, None), ("kiosk", ["kiosk"])])
def test_not_on_record_is_not_the_same_as_nowhere(read, book, written, places):
    headings = ["Station", "Secondary circuit", "Kind", "Ground points"]
    rows = [headings, ["ELM", "C1", "ct", written], ["ELM", "C2", "ct", "relay panel; kiosk"]]
    store = read(book({"CT circuits": rows}))
    found = store.sql("SELECT ground_points FROM inventory.secondary_circuit ORDER BY secondary_circuit").fetchall()
    assert found == [(places,), (["relay panel", "kiosk"],)]
    assert listed(store) == []
