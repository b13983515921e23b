"""Tolerances and approximations are values; limits and ranges are none."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.ingest.values import read_cell
from groundcheck.schema import Column

RESISTANCE = Column("resistance", "quantity", "", unit="ohm", ge=0)
REACTANCE = Column("reactance", "quantity", "", unit="ohm", ge=0)
IMPEDANCE = Column("impedance", "quantity", "", unit="%", gt=0, le=60)
VOLTAGE = Column("nominal_voltage", "quantity", "", unit="kV", gt=0, le=1200)
TIME = Column("rated_time", "quantity", "", unit="s", gt=0)
SIZE = Column("conductor_size", "size", "", unit="mm2", gt=0)
RODS = Column("rods", "count", "", ge=0)

OHMS = "a single number: a resistance in ohm, 0 or more"


@pytest.mark.parametrize(
    ("text", "tolerance"),
    [
        *((text, 0.05) for text in ("10 +/- 5 %", "10 ±5%", "10 ohm ± 0.5 ohm", "10 ± 0.5", "10 ohm, 5% tol")),
        *((text, 0.1) for text in ("10 (±10%)", "10 ohm +/-10%", "10 ohm (tol. 10 %)", "10 ohm tolerance 10%")),
        ("10000 ± 500 mohm", 0.05),
        ("10 ohm ± 500 mohm", 0.05),
    ],
)
def test_a_tolerance_is_kept_as_a_share_of_the_value(text, tolerance):
    reading = read_cell(text, RESISTANCE)
    assert (reading.value, reading.problem) == (10, None)
    assert reading.tolerance == pytest.approx(tolerance, rel=1e-12)
    assert "tolerance of" in reading.note


def test_a_tolerance_as_large_as_the_value_is_none():
    for text in ("10 ± 500 mohm", "10 ± 10", "10 ± 100 %"):
        assert read_cell(text, RESISTANCE).problem == ("unreadable", OHMS + "; the tolerance is as large as the value")


def test_of_unequal_tolerances_the_larger_is_kept():
    reading = read_cell("10 +5/-10 %", RESISTANCE)
    assert (reading.value, reading.tolerance) == (10, 0.1)
    assert reading.note.startswith("tolerances of +5 % and -10 %: the larger is kept")


def test_per_cent_of_per_cent_can_be_two_things():
    note = "the tolerance is left out: it can be a share of the value, or points of per cent"
    assert read_cell("10 % ± 5 %", IMPEDANCE) == (10, None, note, None, None)
    assert read_cell("10 ± 1", IMPEDANCE).tolerance == pytest.approx(0.1)


@pytest.mark.parametrize(
    "text",
    [
        *("~10", "approx. 10", "c. 10", "10 approx", "10 (est.)", "abt 10", "approximately 10 ohm", "10 ohm (approx.)"),
        *("about 10", "ca 10 ohm", "circa 10", "≈10 Ω", "est. 10", "10 ohm est", "10approx."),
    ],
)
def test_an_approximate_value_is_read_and_noted(text):
    assert read_cell(text, RESISTANCE) == (10, None, "approximate", None, None)


def test_other_columns_are_approximate_too():
    assert read_cell("~70 mm2", SIZE) == (70, None, "approximate", None, None)
    assert read_cell("approx 12", RODS) == (12, None, "approximate", None, None)
    assert read_cell("~10 s", TIME) == (10, None, "approximate", None, None)


@pytest.mark.parametrize("mark", ["*", " *", "**", "†", " ‡", "§"])
def test_a_footnote_mark_is_left_out_and_noted(mark):
    assert read_cell(f"13.8 kV{mark}", VOLTAGE) == (13.8, None, "a footnote mark is left out", None, None)


@pytest.mark.parametrize(
    "text",
    [
        *(">= 10", "> 10", "min 10", "10 min.", "10 min", "max 10", "<10", "≤ 10 ohm", "10 max", "10 ohm max.", "10+"),
        *("at least 10", "not less than 10 ohm", "10 or more", "up to 10", "min. 10 ohm", "10 ohm (max)", "maximum 10"),
    ],
)
def test_a_limit_is_no_value(text):
    expected = OHMS + "; the cell holds a limit, not a value"
    assert read_cell(text, RESISTANCE).problem == ("unreadable", expected)


@pytest.mark.parametrize(
    "text", ["8-12", "8 to 12", "8–12 ohm", "8 ohm - 12 ohm", "8 ... 12", "between 8 and 12", "8.5-9"]
)
def test_a_range_is_no_value(text):
    expected = OHMS + "; the cell holds a range, not a value"
    assert read_cell(text, RESISTANCE).problem == ("unreadable", expected)


def test_falling_numbers_are_no_range():
    assert read_cell("600-5", RESISTANCE).problem == ("unreadable", OHMS)


def test_limits_and_ranges_of_sizes_and_counts():
    assert read_cell("min 70 mm2", SIZE).problem.expected.endswith("; the cell holds a limit, not one size")
    assert read_cell("70-95", SIZE).problem.expected.endswith("; the cell holds a range, not one size")
    assert read_cell("max 12", RODS).problem.expected.endswith("; the cell holds a limit, not a value")


def test_a_minute_is_no_minimum_under_a_duration():
    assert read_cell("10 min.", TIME).value == 600
    assert read_cell("10min", TIME).value == 600
    assert read_cell("10 s min", TIME).problem.expected.endswith("the cell holds a limit, not a value")
    assert read_cell("min 10", TIME).problem.expected.endswith("the cell holds a limit, not a value")


@pytest.mark.parametrize(
    "text", ["R = 10 ohm", "R=10", "Rn: 10 Ω", "resistance = 10", "ohm 10", "'10'", '"10 ohm"', "10Ω/ph"]
)
def test_a_number_with_its_own_name_or_its_unit_first(text):
    assert read_cell(text, RESISTANCE) == (10, None, None, None, None)


@pytest.mark.parametrize(
    ("text", "column"), [("X = 10 ohm", RESISTANCE), ("R = 10 ohm", REACTANCE), ("T1: 10", VOLTAGE)]
)
def test_a_number_with_another_name_is_unreadable(text, column):
    assert read_cell(text, column).problem.reason == "unreadable"


def test_the_unit_first_in_other_columns():
    assert read_cell("kV 33", VOLTAGE).value == 33
    assert read_cell("V 11000", VOLTAGE).value == 11
    assert read_cell("Un = 33 kV", VOLTAGE).value == 33


@pytest.mark.parametrize(
    ("text", "mended"), [("1O kV", "10 kV"), ("1l kV", "11 kV"), ("13.O", "13.0"), ("l1 kV", "11 kV")]
)
def test_a_letter_typed_for_a_digit_is_named_and_not_mended(text, mended):
    expected = "a single number: a voltage in kV, above 0, at most 1200"
    assert read_cell(text, VOLTAGE).problem == (
        "unreadable",
        f"{expected}; perhaps {mended}, with a letter typed for a digit",
    )


@pytest.mark.parametrize(
    "text", ["see note 3", "refer dwg", "refer to drawing 1234", "Note 3", "as above", "see SLD", "ditto"]
)
def test_a_pointer_elsewhere_is_named(text):
    held = "; the cell names another place to look, not a value"
    for column in (RESISTANCE, SIZE, RODS, TIME, Column("bus", "reference", "", refers_to=("bus",))):
        assert read_cell(text, column).problem.expected.endswith(held)
    assert read_cell(text, Column("remark", "text", "")).value == text


def test_a_comma_that_the_limits_settle_is_noted():
    decimal = "the comma is read as a decimal mark, for the larger number is outside the limits"
    assert read_cell("12,470 kV", VOLTAGE).note == decimal
    assert read_cell("13,800 V", VOLTAGE).note is None


@given(
    value=st.integers(1, 10**6),
    share=st.integers(1, 50),
    form=st.sampled_from(["{} ohm ± {} %", "{} +/- {}%", "{} (±{}%)", "{} ohm +-{} %"]),
)
def test_value_and_tolerance_read_back(value, share, form):
    reading = read_cell(form.format(value, share), RESISTANCE)
    assert reading.value == value
    assert reading.tolerance == pytest.approx(share / 100)


@given(low=st.integers(0, 1000), step=st.integers(1, 1000), mark=st.sampled_from(["-", " - ", "–", " to ", "..", "—"]))
def test_no_range_is_ever_a_value(low, step, mark):
    reading = read_cell(f"{low}{mark}{low + step}", RESISTANCE)
    assert reading.value is None
    assert reading.problem.expected.endswith("the cell holds a range, not a value")
