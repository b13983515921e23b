"""Numbers with units, and what is no number."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.ingest.values import read_cell
from groundcheck.ingest.values.units import UNITS, converts, known_unit
from groundcheck.schema import INVENTORY_TABLES, Column

VOLTAGE = Column("nominal_voltage", "quantity", "", unit="kV", gt=0, le=1200)
CURRENT = Column("rated_current", "quantity", "", unit="A", gt=0)
RESISTANCE = Column("resistance", "quantity", "", unit="ohm", ge=0)
DURATION = Column("rated_time", "quantity", "", unit="s", gt=0)
IMPEDANCE = Column("impedance", "quantity", "", unit="%", gt=0, le=60)
POWER = Column("rated_power", "quantity", "", unit="MVA", gt=0, le=2000)
RATIO = Column("x_over_r", "quantity", "", gt=0)
PRIMARY = Column("primary", "quantity", "", unit="V or A", gt=0)
CUSTOMERS = Column("customers", "count", "", ge=0)

A_VOLTAGE = "a voltage in kV, above 0, at most 1200"


@pytest.mark.parametrize(
    "text",
    [
        *("13.8 kV", "13,800 V", "13800V", "13,8 kV", "13 800 V", "13\u00a0800 V", "13\u202f800 volts", "13'800 V"),
        *(
            "13.8",
            "13.8kv",
            "13.8 KV",
            "13.8 Kv",
            "１３.８ kV",
            "'13.8",
            "+13.8",
            "1.38e1",
            "13.80 kV rms",
        ),
        *("13.800,0 V", "13,800.0 V", 13.8),
    ],
)
def test_the_same_voltage_in_every_spelling(text):
    assert read_cell(text, VOLTAGE) == (13.8, None, None, None, None)


@pytest.mark.parametrize(
    ("text", "column", "value"),
    [
        ("400 A", CURRENT, 400),
        ("0.4 kA", CURRENT, 400),
        ("400 amps", CURRENT, 400),
        ("11,000", CURRENT, 11000),
        ("1,000A", CURRENT, 1000),
        ("0,500", CURRENT, 0.5),
        ("500 mA", CURRENT, 0.5),
        ("19.9 Ω", RESISTANCE, 19.9),
        ("19.9 \u2126", RESISTANCE, 19.9),
        ("19.9 ohms", RESISTANCE, 19.9),
        ("500 mΩ", RESISTANCE, 0.5),
        ("500 milliohm", RESISTANCE, 0.5),
        ("0.5 kΩ", RESISTANCE, 500),
        ("0.5 Mohm", RESISTANCE, 500_000),
        ("10R", RESISTANCE, 10),
        ("0", RESISTANCE, 0),
        ("1 234.5", RESISTANCE, 1234.5),
        ("1.234.567,5", RESISTANCE, 1234567.5),
        ("1,23,456", RESISTANCE, 123456),
        ("12500 kVA", POWER, 12.5),
        ("12.5MVA", POWER, 12.5),
        ("10 %", IMPEDANCE, 10),
        ("0.1 pu", IMPEDANCE, 10),
        ("0.1 p.u.", IMPEDANCE, 10),
        ("5", RATIO, 5),
        ("11 kV", PRIMARY, 11000),
        ("600 A", PRIMARY, 600),
        ("1,200", PRIMARY, 1200),
        ("12,000", CUSTOMERS, 12000),
        ("3 off", CUSTOMERS, 3),
        (3.0, CUSTOMERS, 3),
    ],
)
def test_a_number_in_the_unit_of_its_column(text, column, value):
    assert read_cell(text, column) == (value, None, None, None, None)


@pytest.mark.parametrize(
    ("text", "seconds"),
    [
        *((text, 10) for text in ("10 s", "10sec", "10 secs", "10-second", "10 S", 10, "10000 ms")),
        *((text, 60) for text in ("1 min", "60", "1 minute")),
        *((text, 0.5) for text in ("0.5", "500 ms", ".5 s", "0,5 s")),
        *((text, 7200) for text in ("2 h", "2 hrs", "2 hours")),
        *((text, math.inf) for text in ("continuous", "Cont.", "CONTINUOUS", "continuous duty", math.inf)),
    ],
)
def test_durations(text, seconds):
    assert read_cell(text, DURATION).value == seconds


def test_cycles_need_the_frequency():
    assert read_cell("6 cycles", DURATION, frequency=60).value == 0.1
    assert read_cell("5 cycles", DURATION).problem == (
        "unreadable",
        "a duration in s or 'continuous', above 0; cycles need the frequency",
    )


def test_only_a_duration_can_be_continuous():
    assert read_cell("continuous", CURRENT).problem.reason == "unreadable"
    assert read_cell(math.inf, CURRENT).problem.reason == "unreadable"


@pytest.mark.parametrize(
    "text",
    ["", "  ", "N/A", "n/a", "TBC", "not given", "-", "--", "—", "?", "unknown", "nil", "none", "n.k.", None, math.nan],
)
def test_a_text_that_says_nothing_is_blank(text):
    assert read_cell(text, VOLTAGE) == (None, None, None, None, None)


@pytest.mark.parametrize(
    "text",
    [
        *("1O kV", ">= 10", "8-12", "132/33 kV", "600/5", "twelve", "kV", "1 2"),
        *("1e400", "1e99999", "9" * 500, "nan", "NaN", "inf", "-inf", "10²", "12.5.3", "13.8 kW", "13,8,0"),
        *("0x10", "١٣", "1_000", "13.8 kV / 10 s", "= 13.8"),
    ],
)
def test_what_is_not_one_number_is_unreadable(text):
    reading = read_cell(text, VOLTAGE)
    assert reading.value is None
    assert reading.problem.reason == "unreadable"
    assert A_VOLTAGE in reading.problem.expected


@pytest.mark.parametrize("text", ["#REF!", "#N/A", "#DIV/0!", "#VALUE!", "#NAME?"])
def test_a_formula_that_failed_is_named(text):
    assert read_cell(text, VOLTAGE).problem == ("unreadable", A_VOLTAGE + "; the cell holds an Excel error")


def test_true_is_no_number():
    assert read_cell(True, VOLTAGE).problem == ("unreadable", A_VOLTAGE + "; the cell holds true or false")


@pytest.mark.parametrize("text", ["400A/10s", "400 A 10 s", "400A - 10 sec", "400 A for 10 s", "0.4kA/1 min"])
def test_current_and_time_in_one_cell_are_to_be_split(text):
    expected = "a single number: a current in A, above 0; give current and time in a column each"
    assert read_cell(text, CURRENT).problem == ("unreadable", expected)


def test_power_that_is_not_apparent_is_not_converted():
    expected = "a power in MVA, above 0, at most 2000; MW cannot be converted to MVA"
    assert read_cell("10 MW", POWER).problem == ("unreadable", expected)
    assert read_cell("10", POWER, unit="MW").problem == ("unreadable", expected)


@pytest.mark.parametrize(
    ("text", "column", "expected"),
    [
        ("0", VOLTAGE, A_VOLTAGE + "; a zero here is suspect"),
        (0.0, VOLTAGE, A_VOLTAGE + "; a zero here is suspect"),
        ("-3", RESISTANCE, "a resistance in ohm, 0 or more"),
        ("\u22123", RESISTANCE, "a resistance in ohm, 0 or more"),
        ("-5", RATIO, "a number, above 0"),
        ("500 %", IMPEDANCE, "an impedance in %, above 0, at most 60"),
        ("1200.1 kV", VOLTAGE, A_VOLTAGE),
        (-1.0, CUSTOMERS, "a whole number, 0 or more"),
    ],
)
def test_outside_its_limits(text, column, expected):
    assert read_cell(text, column).problem == ("outside_limits", expected)


def test_exactly_on_an_inclusive_limit():
    assert read_cell("1200 kV", VOLTAGE).value == 1200
    assert read_cell("60", IMPEDANCE).value == 60


@pytest.mark.parametrize(
    ("text", "column", "expected"),
    [
        ("12,470", VOLTAGE, "either 12.47 kV or 12 470 V: write the unit, and no comma"),
        ("1,100", VOLTAGE, "either 1.1 kV or 1 100 kV: write the unit, and no comma"),
        ("1,500 ohm", RESISTANCE, "either 1.5 ohm or 1 500 ohm: write no comma"),
        ("12,500", POWER, "either 12.5 MVA or 12 500 kVA: write the unit, and no comma"),
    ],
)
def test_a_comma_that_can_be_either_is_asked_about(text, column, expected):
    assert read_cell(text, column).problem == ("ambiguous", expected)


def test_a_comma_is_settled_by_the_decimal_mark_of_the_file_or_by_the_limits():
    assert read_cell("12,470", VOLTAGE, decimal_comma=True).value == 12.47
    assert read_cell("12,470 kV", VOLTAGE).value == 12.47
    assert read_cell("12,470", VOLTAGE, unit="V").value == 12.47
    assert read_cell("10,125", IMPEDANCE).value == 10.125
    assert read_cell("12.470 V", VOLTAGE, decimal_comma=True).value == 12.47


def test_a_bare_number_takes_the_unit_of_the_heading_and_a_cell_its_own():
    assert read_cell("13800", VOLTAGE, unit="V").value == 13.8
    assert read_cell(6600.0, VOLTAGE, unit="V").value == 6.6
    assert read_cell("13.8 kV", VOLTAGE, unit="V").value == 13.8


def test_capitals_that_may_be_milli_or_mega_are_unreadable():
    assert read_cell("400 MA", CURRENT).problem.reason == "unreadable"
    assert read_cell("5 MOHM", RESISTANCE).problem.reason == "unreadable"


def test_a_unit_that_nobody_knows_is_the_callers_mistake():
    with pytest.raises(ValueError, match=r"\A'furlong' is not a unit that is known\Z"):
        read_cell("5", VOLTAGE, unit="furlong")


# Exact by definition: international mile and foot (1959), SI prefixes, minute and hour.
FACTORS = [
    ("V", "kV", 1e-3),
    ("mi", "km", 1.609344),
    ("ft", "m", 0.3048),
    ("ohm/mi", "ohm/km", 1 / 1.609344),
    ("uF/km", "nF/km", 1e3),
    ("mohm", "ohm", 1e-3),
    ("kVA", "MVA", 1e-3),
    ("ms", "s", 1e-3),
    ("min", "s", 60),
    ("h", "s", 3600),
    ("%", "pu", 1e-2),
    ("ohm cm", "ohm m", 1e-2),
]


@given(
    number=st.floats(1e-6, 1e9).map(lambda x: float(f"{x:.12g}")),
    pair=st.sampled_from(FACTORS),
    gap=st.sampled_from(["", " ", "\u00a0"]),
    data=st.data(),
)
def test_a_number_written_with_a_unit_reads_back_in_the_columns_unit(number, pair, gap, data):
    unit, canonical, factor = pair
    spelling = data.draw(st.sampled_from([unit, *UNITS[unit].spellings]))
    column = Column("x", "quantity", "", unit=canonical, ge=0)
    reading = read_cell(f"{number!r}{gap}{spelling}", column)
    assert reading.problem is None
    assert reading.value == pytest.approx(number * factor, rel=1e-12)


@given(number=st.floats(1e-3, 1e9).map(lambda x: round(x, 3)))
def test_thousands_apart_change_nothing(number):
    column = Column("x", "quantity", "", unit="A", ge=0)
    for text in (f"{number:,.3f}", f"{number:,.3f}".replace(",", " "), f"{number:.3f}"):
        assert read_cell(text, column).value == number


@given(text=st.text(max_size=30))
def test_no_text_stops_the_reader(text):
    for column in (VOLTAGE, CURRENT, DURATION, CUSTOMERS):
        value, problem, *_ = read_cell(text, column)
        assert value is None or (problem is None and value >= 0)


def test_every_unit_of_the_schema_is_known_and_every_spelling_is_of_one_unit():
    columns = [column for table in INVENTORY_TABLES.values() for column in table.columns().values()]
    units = {unit for column in columns if column.unit for unit in column.unit.split(" or ")}
    assert units <= UNITS.keys()
    spellings = [(spelling, name) for name, unit in UNITS.items() for spelling in (name, *unit.spellings)]
    assert [(s, known_unit(s)) for s, _ in spellings] == spellings


def test_which_units_can_stand_over_a_column():
    assert converts("V", VOLTAGE)
    assert converts("pu", IMPEDANCE)
    assert converts("cycles", DURATION)
    assert not converts("MW", POWER)
    assert not converts("AWG", VOLTAGE)
    assert not converts("MVA", Column("transformer", "key", ""))
