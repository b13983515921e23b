"""One cell with a value for each of several columns."""

import datetime as dt
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.ingest.values import read_cell, read_parts, read_parts_column
from groundcheck.schema import Column
from groundcheck.schema.vocabulary import GROUNDING, NEUTRAL_DEVICE_KINDS

CURRENT = Column("rated_current", "quantity", "", unit="A", gt=0)
TIME = Column("rated_time", "quantity", "", unit="s", gt=0)
PRIMARY = Column("primary", "quantity", "", unit="V or A", gt=0)
SECONDARY = Column("secondary", "quantity", "", unit="V or A", gt=0)
HV, LV, TV = (Column(f"{side}_voltage", "quantity", "", unit="kV", gt=0, le=1200) for side in ("hv", "lv", "tv"))
RATINGS = [Column(f"rating_{number}", "quantity", "", unit="MVA", gt=0) for number in (1, 2, 3)]
HV_NEUTRAL, LV_NEUTRAL = (Column(f"{side}_neutral", "choice", "", accepted=GROUNDING) for side in ("hv", "lv"))
KIND = Column("kind", "choice", "", accepted=NEUTRAL_DEVICE_KINDS)
REMARK = Column("remark", "text", "")

BOTH = "2 values in one cell: a current in A, above 0, then a duration in s or 'continuous', above 0"
TWO_VOLTAGES = "2 values in one cell: " + ", then ".join(["a voltage in kV, above 0, at most 1200"] * 2)
TO_NEUTRAL = "written line-to-neutral, divided by root 3: the line-to-line voltage is kept"


def values(cell, *columns, units=None, **habits):
    readings = read_parts(cell, columns, units=units or [None] * len(columns), **habits)
    assert [reading.problem for reading in readings] == [None] * len(columns)
    return tuple(reading.value for reading in readings)


def problem(cell, *columns):
    problems = {reading.problem for reading in read_parts(cell, columns, units=[None] * len(columns))}
    assert len(problems) == 1
    return problems.pop()


@pytest.mark.parametrize(
    "text",
    [
        *("400A/10s", "400 A 10 s", "400A - 10 sec", "400 A for 10 s", "400A@10s", "0.4 kA/10s", "10 s, 400 A"),
        *("400/10", "400 A/10", "400/10 s", "400A,10s", "400 A, 10 s", "400 A (10 s)", "400A x 10s", "400 A; 10 s"),
        *("400 A\n10 s", "400 A / 00:00:10", "400A-10s", "400 A | 10 s", "10 s / 400", "400 amps for 10 seconds"),
    ],
)
def test_a_current_and_how_long(text):
    assert values(text, CURRENT, TIME) == (400, 10)


@pytest.mark.parametrize("text", ["400 A continuous", "400A/cont.", "continuous 400 A", "400 / continuous"])
def test_a_current_without_end(text):
    assert values(text, CURRENT, TIME) == (400, math.inf)


@pytest.mark.parametrize(
    ("text", "pair"),
    [
        *((text, (600, 5)) for text in ("600/5", "600:5 A", "600-5", "600/5A", "600 / 5 A", "600A/5A", "0.6 kA/5 A")),
        *((text, (33000, 110)) for text in ("33000/110 V", "33 kV/110 V", "33/0.11 kV", "33,000/110", "33 kV : 110 V")),
        ("1/5", (1, 5)),
        ("1200/1 A", (1200, 1)),
    ],
)
def test_the_ratio_of_an_instrument_transformer(text, pair):
    assert values(text, PRIMARY, SECONDARY) == pair


@pytest.mark.parametrize(
    "text",
    [
        *("11000/√3 : 110/√3 V", "11000/√3 / 110/√3", "11000/1.732 / 110/1.732", "(11000/√3)/(110/√3) V"),
        *(
            "11/√3 kV / 110/√3 V",
            "11000/root3 : 110/root 3 V",
            "11000/sqrt(3) : 110/sqrt(3)",
            "11000 / √ 3 : 110 / √ 3",
        ),
    ],
)
def test_a_ratio_line_to_neutral_is_kept_line_to_line_and_noted(text):
    readings = read_parts(text, [PRIMARY, SECONDARY], units=[None, None])
    assert [(reading.value, reading.note) for reading in readings] == [(11000, TO_NEUTRAL), (110, TO_NEUTRAL)]


def test_root_three_on_one_side_only_is_asked_about():
    found = problem("11000/√3 : 110", PRIMARY, SECONDARY)
    assert found.reason == "ambiguous"
    assert found.expected.endswith("root 3 stands beside one voltage and not the other: write both line-to-line")


@pytest.mark.parametrize(
    ("text", "pair"),
    [
        *((text, (132, 33)) for text in ("132/33 kV", "132 / 33", "132kV/33kV", "132-33 kV", "132000/33000 V")),
        *((text, (132, 33)) for text in ("132kV/33", "kV 132/33", "132 kV - 33 kV", "132\u00a0/\u00a033\u00a0kV")),
        ("132/-", (132, None)),
        ("33 kV/415 V", (33, 0.415)),
        ("33 kV", (33, None)),
        ("12,470/415 V", (12.47, 0.415)),
    ],
)
def test_two_voltages(text, pair):
    assert values(text, HV, LV) == pair


def test_three_windings():
    assert values("132/33/11 kV", HV, LV, TV) == (132, 33, 11)
    assert values("132/33 kV", HV, LV, TV) == (132, 33, None)
    assert values("40/40/20 MVA", *RATINGS) == (40, 40, 20)
    assert values("40000/40000/20000 kVA", *RATINGS) == (40, 40, 20)


def test_the_unit_of_the_heading_holds_for_a_bare_number_and_a_written_one_goes_before():
    assert values("33000/415", HV, LV, units=["V", "V"]) == (33, 0.415)
    assert values("33/0.4", HV, LV, units=["V", "V"]) == (0.033, 0.0004)
    assert values("33/0.4 kV", HV, LV, units=["V", "V"]) == (33, 0.4)
    assert values("33 kV/110", PRIMARY, SECONDARY, units=["V", "V"]) == (33000, 110)
    assert values("400/500", CURRENT, TIME, units=["A", "ms"]) == (400, 0.5)


@pytest.mark.parametrize(
    ("text", "pair"),
    [
        *((text, ("solid", "resistance")) for text in ("Solid / Impedance", "solid - NER", "Solid/NER", "solid; ner")),
        ("Arc-suppression coil / solid", ("resonant", "solid")),
        ("Solid / -", ("solid", None)),
        ("Solid\nNER", ("solid", "resistance")),
    ],
)
def test_two_words(text, pair):
    assert values(text, HV_NEUTRAL, LV_NEUTRAL) == pair


def test_columns_of_any_kind_share_a_cell():
    assert values("NER / 400 A", KIND, CURRENT) == ("resistor", 400)
    assert values("NER 400 A", KIND, CURRENT) == ("resistor", 400)
    assert values("400 A / as bought", CURRENT, REMARK) == (400, "as bought")


def test_a_single_value_goes_to_the_first_column_that_its_unit_fits():
    assert values("10 s", CURRENT, TIME) == (None, 10)
    assert values("400", CURRENT, TIME) == (400, None)
    assert values("continuous", CURRENT, TIME) == (None, math.inf)
    assert values(400.0, CURRENT, TIME) == (400, None)
    assert values("1 min 30 s", CURRENT, TIME) == (None, 90)


@pytest.mark.parametrize("cell", ["", " - ", "TBC", None, math.nan, "n/a"])
def test_a_cell_that_says_nothing_leaves_all_blank(cell):
    assert values(cell, CURRENT, TIME) == (None, None)


@pytest.mark.parametrize(
    "text", ["400A 10s 5", "max 400 A / 10 s", "400 A / soon", "13.8 kV", "400 A 10 s continuous", "600/5/1", "x" * 500]
)
def test_what_cannot_be_split_names_all_that_was_expected(text):
    assert problem(text, CURRENT, TIME) == ("unreadable", BOTH)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("#REF!", "the cell holds an Excel error"),
        ("see note 3", "the cell names another place to look, not a value"),
    ],
)
def test_a_cell_that_holds_no_value_says_what_it_holds(text, why):
    assert problem(text, CURRENT, TIME) == ("unreadable", f"{BOTH}; {why}")


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("33-132 kV", "a ratio or a range: write a ratio with '/'"),
        ("33000V/11", "the last number is in V or in kV: write its unit"),
    ],
)
def test_two_meanings_are_asked_about(text, why):
    assert problem(text, HV, LV) == ("ambiguous", f"{TWO_VOLTAGES}; {why}")


def test_one_word_for_two_columns_is_asked_about():
    assert problem("Solid", HV_NEUTRAL, LV_NEUTRAL).reason == "ambiguous"


def test_a_part_outside_its_limits_leaves_the_other_be():
    current, time = read_parts("0 A / 10 s", [CURRENT, TIME], units=[None, None])
    assert current.problem == ("outside_limits", "a current in A, above 0; a zero here is suspect")
    assert time.value == 10


def test_a_ratio_that_became_a_date_is_named():
    primary, secondary = read_parts(dt.datetime(2025, 6, 5), [PRIMARY, SECONDARY], units=[None, None])
    assert primary == secondary
    assert primary.problem.expected.endswith("the cell holds the date 2025-06-05, which may have been 5/6 or 6/5")


def test_cycles_take_the_frequency_and_commas_the_mark_of_the_file():
    assert values("400 A / 30 cycles", CURRENT, TIME, frequency=60) == (400, 0.5)
    assert values("33/0,415 kV", HV, LV, decimal_comma=True) == (33, 0.415)
    assert values("1.200/5", PRIMARY, SECONDARY, decimal_comma=True) == (1200, 5)


def test_as_many_units_as_columns():
    with pytest.raises(ValueError, match=r"\A2 columns need as many units, not 1\Z"):
        read_parts("400 A / 10 s", [CURRENT, TIME], units=[None])
    with pytest.raises(ValueError, match=r"\A'furlong' is not a unit that is known\Z"):
        read_parts_column(["400 A / 10 s"], [CURRENT, TIME], units=["furlong", None])


def test_a_column_reads_as_its_cells_do():
    cells = ["400A/10s", "~400 A / 10 s", "x", None, "400A/10s", 5, "400 A ± 5 % / 10 s", True]
    currents, times = read_parts_column(cells, [CURRENT, TIME], units=[None, None])
    rows = [read_parts(cell, [CURRENT, TIME], units=[None, None]) for cell in cells]
    assert list(zip(currents.values, times.values, strict=True)) == [(a.value, b.value) for a, b in rows]
    assert set(currents.problems) == set(times.problems) == {2, 7}
    assert set(currents.notes) == {1, 6}
    assert currents.tolerance == {6: 0.05}
    assert [part.values for part in read_parts_column([], [CURRENT, TIME], units=[None, None])] == [[], []]


@given(
    current=st.integers(1, 5000),
    seconds=st.integers(1, 600),
    mark=st.sampled_from(["/", " / ", " - ", "@", " for ", ", ", " ", "; ", "\n"]),
    swapped=st.booleans(),
)
def test_the_mark_between_and_the_order_change_nothing(current, seconds, mark, swapped):
    pieces = [f"{current} A", f"{seconds} s"]
    text = mark.join(pieces[::-1] if swapped else pieces)
    assert values(text, CURRENT, TIME) == (current, seconds)


@given(text=st.text(max_size=40) | st.text(alphabet="0123456789/:-., AkVs√3", max_size=25))
def test_any_text_is_read_or_blank_or_a_problem(text):
    for columns in ([CURRENT, TIME], [PRIMARY, SECONDARY], [HV, LV, TV], [KIND, CURRENT], [CURRENT, REMARK]):
        for reading in read_parts(text, columns, units=[None] * len(columns)):
            assert reading.value is None or reading.problem is None


@given(first=st.integers(1, 400), second=st.integers(1, 400), unit=st.sampled_from(["kV", "V", ""]))
def test_parts_of_a_ratio_are_the_cells_that_each_would_have_been(first, second, unit):
    expected = tuple(read_cell(f"{number} {unit}", HV).value for number in (first, second))
    assert values(f"{first}/{second} {unit}", HV, LV) == expected
