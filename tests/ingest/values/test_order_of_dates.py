"""Day or month first: what a column shows, and what is noted of a date that was read by it."""

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.ingest.values import day_order, read_cell
from groundcheck.schema import Column

DAY = Column("measured_on", "date", "")


@pytest.mark.parametrize(
    ("cells", "order"),
    [
        (["03/04/2021", "25/04/2021"], True),
        (["03/04/2021", "04/25/2021"], False),
        (["25/04/2021", "04/25/2021"], None),
        (["03/04/2021", "04/04/2021"], None),
        (["25.04.2021", "2021-04-25", "25 April 2021"], None),
        (["25-04-21", None, 44289, dt.date(2021, 4, 3), "TBC"], True),
        (["04/25/2021 10:30"], False),
        (["31/02/2021", "33/33/2021"], None),
        ([], None),
    ],
)
def test_what_a_column_shows(cells, order):
    assert day_order(cells) is order


def test_a_date_read_by_the_order_of_its_file_is_noted():
    assert read_cell("03/04/2021", DAY, day_first=True)[:3] == (
        dt.date(2021, 4, 3),
        None,
        "read with the day before the month",
    )
    assert read_cell("03/04/2021", DAY, day_first=False).note == "read with the month before the day"


def test_a_date_that_can_only_be_read_one_way_is_noted_where_it_goes_against_the_order():
    assert read_cell("25/04/2021", DAY, day_first=True).note is None
    assert read_cell("04/25/2021", DAY, day_first=True)[:3] == (
        dt.date(2021, 4, 25),
        None,
        "read with the month before the day",
    )


@given(days=st.lists(st.dates(dt.date(2000, 1, 1), dt.date(2029, 12, 31)), max_size=20), first=st.booleans())
def test_the_order_is_shown_exactly_when_some_day_is_past_the_twelfth(days, first):
    texts = [day.strftime("%d/%m/%Y" if first else "%m/%d/%Y") for day in days]
    assert day_order(texts) is (first if any(day.day > 12 for day in days) else None)


@pytest.mark.parametrize(
    ("cell", "day", "note"),
    [
        ("2021", dt.date(2021, 1, 1), "no month is given: read as 1 January"),
        (2021, dt.date(2021, 1, 1), "no month is given: read as 1 January"),
        *((text, dt.date(2021, 4, 1), "a quarter is given: read as its first day") for text in ("Q2 2021", "2021 Q2")),
        *(
            (text, dt.date(2021, 4, 1), "no day is given: read as the first of the month")
            for text in ("Apr-21", "April 2021", "04/2021", "2021-04", "abril de 2021", "avr. 2021")
        ),
    ],
)
def test_a_part_of_a_date_is_its_first_day_and_noted(cell, day, note):
    assert read_cell(cell, DAY) == (day, None, note, None, None)


# Names of months: Unicode CLDR.
@pytest.mark.parametrize(
    ("text", "month"),
    [
        *(("3. März 2021", 3), ("3 Mai 2021", 5), ("3. Okt. 2021", 10), ("3 Dez 2021", 12)),
        *(("3 février 2021", 2), ("3 août 2021", 8), ("3 juil. 2021", 7), ("3-déc-2021", 12)),
        *(("3 de enero de 2021", 1), ("3 ago. 2021", 8), ("3 septiembre 2021", 9), ("3 dic 2021", 12)),
        *(("3 gennaio 2021", 1), ("3 mag 2021", 5), ("3 luglio 2021", 7), ("3 ottobre 2021", 10)),
        *(("3 de março de 2021", 3), ("3 fev 2021", 2), ("3 out. 2021", 10), ("3 maio 2021", 5)),
        *(("3 mrt 2021", 3), ("3 mei 2021", 5), ("3 augustus 2021", 8), ("3 oktober 2021", 10)),
        *(("Sat 3 Apr 2021", 4), ("3rd of April 2021", 4), ("20210403", 4), (20210403, 4), ("3oct2021", 10)),
    ],
)
def test_a_day_in_seven_languages(text, month):
    assert read_cell(text, DAY) == (dt.date(2021, month, 3), None, None, None, None)
