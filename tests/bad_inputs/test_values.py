"""Numbers as districts write them: each is read, or leaves its field blank with its cell named, or its row waits."""

import datetime

import pytest
from bad_inputs.cases import blank_and_named, ids, noted, prove, read_as, read_cases, rows_of, waits

TX, NER, BUS = "transformer", "neutral_device", "bus"
HV = (TX, "HV kV")
AMPS = (NER, "Rated current (A)")
OHMS = (NER, "Resistance (ohm)")
Z = (TX, "Z %")

UNITS = [
    read_as("a unit in the cell is read", *HV, "13.8 kV", "hv_voltage", 13.8),
    read_as("volts with thousands apart are read", *HV, "13,800 V", "hv_voltage", 13.8),
    read_as("volts without a blank are read", *HV, "13800V", "hv_voltage", 13.8),
    read_as("a decimal comma before one digit is read", *HV, "13,8 kV", "hv_voltage", 13.8),
    read_as("full-width digits are read", *HV, "１３.８", "hv_voltage", 13.8),
    read_as("a no-break space before the unit is read", *HV, "13.8\u00a0kV", "hv_voltage", 13.8),
    noted("a star after the number is left out", *HV, "13.8 *", "hv_voltage", 13.8, "footnote"),
    read_as("an apostrophe before the number is read", *HV, "'13.8", "hv_voltage", 13.8),
    read_as("kilo-amperes under amperes are read", *AMPS, "0.4 kA", "rated_current", 400.0),
    blank_and_named("ohms under amperes are named", *AMPS, "19.9 ohm", "rated_current", "ohm"),
    blank_and_named("a unit nobody knows is named", *AMPS, "400 blorps", "rated_current", "in A"),
]

TWO_READINGS = [
    waits(
        "a comma before three digits is not guessed in a required field",
        *(*HV, "12,470", "hv_voltage", "ambiguous", "12.47 kV or 12 470 V"),
    ),
    blank_and_named(
        "a comma before three digits is not guessed in an optional field",
        *(BUS, "Highest kV", "12,470", "highest_voltage", "12.47 kV or 12 470 V"),
    ),
    blank_and_named("two numbers in one cell are named", *OHMS, "19.9 / 20.1", "resistance", "a single number"),
    blank_and_named("a range is named", *Z, "8-12", "impedance", "a single number"),
    blank_and_named("a lower bound is named", *Z, ">= 10", "impedance", "a single number"),
    blank_and_named("an upper bound is named", *Z, "<10", "impedance", "a single number"),
    noted("'about' is read and noted", *Z, "approx. 10", "impedance", 10.0, ""),
    noted("a tilde is read and noted", *Z, "~10", "impedance", 10.0, ""),
    noted("a tolerance is read and kept", *Z, "10 +/- 5 %", "impedance", 10.0, ""),
]

NOT_ON_RECORD = [
    read_as(f"'{text}' is blank", *Z, text, "impedance", None)
    for text in ("N/A", "TBC", "not given", "-", "?", "unknown", "n.k.", "...", "to be confirmed", "   ")
]

FAILED = [
    blank_and_named(f"{error} is named", *Z, error, "impedance", "error")
    for error in ("#REF!", "#N/A", "#DIV/0!", "#VALUE!", "#NAME?")
] + [
    waits("#REF! in a required field waits", *HV, "#REF!", "hv_voltage", "unreadable", "in kV"),
    blank_and_named("NaN typed as text is named", *Z, "NaN", "impedance", "in %"),
    blank_and_named("inf typed as text is named", *Z, "inf", "impedance", "in %"),
    blank_and_named("-inf typed as text is named", *OHMS, "-inf", "resistance", "in ohm"),
    blank_and_named("a number beyond any float is named", *OHMS, "1e400", "resistance", "in ohm"),
    blank_and_named("five hundred digits are named", *OHMS, "9" * 500, "resistance", "in ohm"),
    blank_and_named("the letter O for a nought is named", *Z, "1O", "impedance", "in %"),
    blank_and_named("the letter l for a one is named", *Z, "l0", "impedance", "in %"),
    blank_and_named("a hexadecimal number is named", *Z, "0x0A", "impedance", "in %"),
    blank_and_named("true is no number", *Z, True, "impedance", "true or false", "TRUE"),
]

LIMITS = [
    waits("a voltage of 0 waits", *HV, 0, "hv_voltage", "outside_limits", "above 0"),
    waits("a negative rating waits", TX, "Rating (MVA)", -12, "rated_power", "outside_limits", "above 0"),
    waits("a voltage in volts under kV waits", *HV, 33000, "hv_voltage", "outside_limits", "at most 1200"),
    blank_and_named("an impossible zero is named", *Z, 0, "impedance", "above 0"),
    blank_and_named("an impedance of 500 % is named", *Z, 500, "impedance", "at most 60"),
    blank_and_named("X/R of -5 is named", TX, "X/R", -5, "x_over_r", "above 0"),
    blank_and_named("a negative resistance is named", *OHMS, -19.9, "resistance", "0 or more"),
    blank_and_named(
        "a negative fault level is named", "infeed", "Fault level (MVA)", -750, "fault_level_3ph", "above 0"
    ),
    read_as("a resistance of 0 is possible", *OHMS, 0, "resistance", 0.0),
    read_as("a current for ever is continuous", NER, "Rated time (s)", "continuous", "rated_time", float("inf")),
]

TURNED_INTO_DATES = [
    blank_and_named(
        "a ratio that became a date is named as one",
        *(*AMPS, datetime.datetime(2025, 5, 6), "rated_current", "may have been"),
        "2025-05-06",
    ),
    blank_and_named(
        "a ratio that became a time is named as one",
        *(*AMPS, datetime.time(10, 5), "rated_current", "may have been"),
        "10:05:00",
    ),
    blank_and_named("a ratio under one number is named", *AMPS, "600/5", "rated_current", "a ratio"),
]

COMPOUND = [
    blank_and_named(
        f"'{written}' under a heading of one is named",
        *(*AMPS, written, "rated_current", "give current and time in a column each"),
    )
    for written in ("400A/10s", "400 A 10 s", "400A - 10 sec")
]

ALL = COMPOUND + UNITS + TWO_READINGS + NOT_ON_RECORD + FAILED + LIMITS + TURNED_INTO_DATES


@pytest.fixture(scope="module")
def store(tmp_path_factory):
    with read_cases(ALL, tmp_path_factory.mktemp("cases")) as store:
        yield store


@pytest.mark.parametrize("case", ALL, ids=ids(ALL))
def test_number(store, case):
    prove(store, ALL, case)


@pytest.mark.parametrize("written", ["400A/10s", "400 A 10 s", "400A - 10 sec", "400 A for 10 s", "0.4 kA / 10 secs"])
def test_current_and_time_in_one_rating_cell_are_both_read(read, book, written):
    rows = [
        ["Station", "NER", "Neutral of", "Kind", "Rating"],
        ["ELM", "R1", "T1", "resistor", "300 A / 5 s"],
        ["ELM", "R2", "T1", "resistor", written],
    ]
    store = read(book({"NERs": rows}))
    found = store.sql("SELECT rated_current, rated_time FROM inventory.neutral_device ORDER BY neutral_device")
    assert found.fetchall() == [(300.0, 5.0), (400.0, 10.0)]
    assert store.sql("FROM raw.unread_cell").fetchall() == []


@pytest.mark.parametrize(("written", "tolerance"), [("10 +/- 5 %", 0.05), ("10 ±7.5%", 0.075)])
def test_a_tolerance_written_beside_a_value_is_kept_with_it(read, book, written, tolerance):
    rows = [["Station", "NER", "Neutral of", "Kind", "Ohms"], ["ELM", "R1", "T1", "resistor", written]]
    store = read(book({"NERs": rows}))
    assert store.sql("SELECT resistance FROM inventory.neutral_device").fetchall() == [(10.0,)]
    [(cell, kept)] = store.sql("SELECT cell, tolerance FROM raw.noted_cell").fetchall()
    assert (cell, kept) == ("E2", pytest.approx(tolerance))


def test_per_cent_of_a_per_cent_may_be_a_share_or_points_and_is_noted_without_a_tolerance(read, book):
    store = read(book({"Tx": rows_of("transformer", {"Z %": "10 +/- 5 %"})}))
    assert store.sql("SELECT impedance FROM inventory.transformer").fetchall() == [(10.0,)]
    assert store.sql("SELECT cell, tolerance FROM raw.noted_cell").fetchall() == [("I2", None)]


def test_commas_are_read_by_the_decimal_mark_of_their_file(read, tmp_path):
    path = tmp_path / "north.csv"
    path.write_text("Station;Bus;Nominal kV\nELM;B1;33,5\nELM;B2;13,8 kV\nELM;B3;12,470\nELM;B4;1.234,5 V\n")
    found = read(path).sql("SELECT nominal_voltage FROM inventory.bus ORDER BY bus").fetchall()
    assert found == [(33.5,), (13.8,), (12.47,), (1.2345,)]
