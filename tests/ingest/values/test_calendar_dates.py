"""Dates in every usual form."""

import datetime as dt

import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.ingest.values import read_cell
from groundcheck.schema import Column

DAY = Column("measured_on", "date", "")
APRIL_3 = dt.date(2021, 4, 3)
ENGLISH = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)


@pytest.mark.parametrize(
    "cell",
    [
        *("2021-04-03", "2021/04/03", "2021-4-3", "2021-04-03 10:30", "2021-04-03T10:30:00Z", "3 Apr 2021", "3-Apr-21"),
        *("3 April 2021", "03Apr2021", "Apr 3, 2021", "April 3rd, 2021", "3.4.2021", "03.04.21", "2021-04-03 00:00:00"),
        *(dt.date(2021, 4, 3), dt.datetime(2021, 4, 3, 17, 5), pd.Timestamp(2021, 4, 3), 44289, 44289.75, "44289"),
    ],
)
def test_one_day_in_many_forms(cell):
    assert read_cell(cell, DAY) == (APRIL_3, None, None, None, None)


# Serial numbers of the 1900 date system: 1 January 2023 is 44927 (what spreadsheets show for it).
def test_a_serial_number():
    assert read_cell(44927, DAY).value == dt.date(2023, 1, 1)


@pytest.mark.parametrize("text", ["Apr 2021", "April 2021", "Apr-21", "apr. 2021", "Apr '21"])
def test_a_month_is_its_first_day(text):
    assert read_cell(text, DAY).value == dt.date(2021, 4, 1)


def test_day_and_month_that_can_change_places_are_asked_about():
    expected = "either 2021-04-03 or 2021-03-04: write year-month-day"
    assert read_cell("03/04/2021", DAY).problem == ("date_order", expected)


def test_day_and_month_that_only_fit_one_way():
    assert read_cell("25/04/2021", DAY).value == dt.date(2021, 4, 25)
    assert read_cell("04/25/2021", DAY).value == dt.date(2021, 4, 25)
    assert read_cell("04/04/2021", DAY).value == dt.date(2021, 4, 4)


def test_the_order_can_be_told():
    assert read_cell("03/04/2021", DAY, day_first=True).value == dt.date(2021, 4, 3)
    assert read_cell("03/04/2021", DAY, day_first=False).value == dt.date(2021, 3, 4)


@pytest.mark.parametrize(
    "cell",
    [
        *("31/02/2021", "2021-13-01", "600/5", "soon", 1e300, 5, "99999", "3 Mia 2021", "1 x 21", "2019/20", "Q5 2021"),
        *("33/2021", "20211301", 20211301, 2021.5, "1 of 2021", "FY21"),
    ],
)
def test_what_is_no_date(cell):
    assert read_cell(cell, DAY).problem == ("unreadable", "a date, written year-month-day")


def test_blank_dates():
    assert [read_cell(cell, DAY) for cell in ("", "-", "TBC", None, pd.NaT)] == [(None, None, None, None, None)] * 5


@given(day=st.dates(dt.date(1970, 1, 1), dt.date(2060, 12, 31)))
def test_unambiguous_forms_read_back(day):
    month = ENGLISH[day.month - 1]
    for text in (day.isoformat(), f"{day.day} {month} {day.year}", f"{day.day}-{month[:3].upper()}-{day.year}"):
        assert read_cell(text, DAY).value == day
