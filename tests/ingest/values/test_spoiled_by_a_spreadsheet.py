"""Ratios and sizes that a spreadsheet took for dates and times."""

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.ingest.values import read_cell
from groundcheck.schema import Column

COLUMNS = [
    Column("rated_current", "quantity", "", unit="A", gt=0),
    Column("conductor_size", "size", "", unit="mm2", gt=0),
    Column("rods", "count", "", ge=0),
    Column("transformer", "key", ""),
]


# What a spreadsheet makes of the text: 6/5 the fifth of June or the sixth of May, by its language; 11/33 November 1933.
@pytest.mark.parametrize(
    ("cell", "may_have_been"),
    [
        (dt.datetime(2025, 5, 6), "the date 2025-05-06, which may have been 6/5 or 5/6"),
        (dt.datetime(2025, 12, 10), "the date 2025-12-10, which may have been 10/12 or 12/10"),
        (dt.date(2025, 5, 5), "the date 2025-05-05, which may have been 5/5"),
        (dt.date(1933, 11, 1), "the date 1933-11-01, which may have been 1/11 or 11/1 or 11/33 or 11/1933"),
        (dt.time(1, 5), "the time 01:05:00, which may have been 1:5"),
        (dt.timedelta(hours=600, minutes=5), "a time, which may have been 600:5"),
        (dt.datetime(1900, 1, 25, 0, 5), "a time, which may have been 600:5"),
    ],
)
def test_what_it_may_have_been_is_named(cell, may_have_been):
    for column in COLUMNS:
        value, problem, *_ = read_cell(cell, column)
        assert value is None
        assert problem.reason == "unreadable"
        assert problem.expected.endswith(f"; the cell holds {may_have_been}")


@given(day=st.dates(dt.date(1930, 1, 1), dt.date(2060, 1, 1)))
def test_the_numbers_of_the_date_are_among_what_it_may_have_been(day):
    expected = read_cell(day, COLUMNS[0]).problem.expected
    assert f"{day.day}/{day.month}" in expected
    assert f"{day.month}/{day.day}" in expected
