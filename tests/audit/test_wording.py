"""The texts of a rule, filled in with the numbers of a row."""

import math

import pytest

from groundcheck.audit.fault import RuleFault
from groundcheck.audit.wording import fill, in_digits


@pytest.mark.parametrize(
    ("template", "row", "expected"),
    [
        ("{a:.0f} A of {tag}", {"a": 640.4, "tag": "NR1"}, "640 A of NR1"),
        ("rated {a:.0f} A; asked", {"a": None}, "rated not on record; asked"),
        ("rated {a:.0f} A; asked", {"a": math.nan}, "rated not on record; asked"),
        ("for {t:g} s or more", {"t": math.inf}, "for without limit or more"),
        ("{a} Ampere", {"a": None}, "not on record Ampere"),
        ("grounded: {yes}", {"yes": True}, "grounded: yes"),
        ("at {places}", {"places": ["panel", "box"]}, "at panel, box"),
        ("at {places}", {"places": []}, "at none"),
        ("{{braces}}", {}, "{braces}"),
    ],
)
def test_a_template_is_filled_in(template, row, expected):
    assert fill(template, row) == expected


@pytest.mark.parametrize(
    ("template", "problem"),
    [
        ("{colour}", "the working needs the column `colour`, which the query does not return"),
        ("{tag.__class__}", "the working has {tag.__class__}; a place holds one column name and a format"),
        ("{tag[0]}", "the working has {tag[0]}; a place holds one column name and a format"),
        ("{tag!r}", "the working has {tag}; a place holds one column name and a format"),
        ("{tag:{width}}", "the working has {tag}; a place holds one column name and a format"),
        ("{tag:.0f}", "the working shows `tag` as `.0f`, which does not fit 'NR1'"),
        ("{tag", "the working is not a valid template (expected '}' before end of string)"),
    ],
)
def test_a_template_that_does_not_fit_is_a_fault_of_the_rule(template, problem):
    with pytest.raises(RuleFault) as fault:
        fill(template, {"tag": "NR1"}, "working")
    assert str(fault.value) == problem


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (640.3817, "640.4"), (400.0, "400"), (7.967433, "7.967"), (0.0123456, "0.01235"), (12470.0, "12470"),
        (0.0, "0"), (-0.5, "-0.5"), (1.5e-7, "1.500e-07"), (math.inf, "without limit"), (math.nan, None), (None, None),
        (3, "3"), (True, "yes"), ("solid", "solid"), (["a", "b"], "a, b"), ([], "none"),
    ],
)  # fmt: skip
def test_a_value_is_shown_with_four_digits(value, text):
    assert in_digits(value) == text
