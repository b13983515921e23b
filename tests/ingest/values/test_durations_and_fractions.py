"""Durations by the clock, in fractions, in two units; and times that a spreadsheet made."""

import datetime as dt
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.ingest.values import read_cell
from groundcheck.schema import Column

TIME = Column("rated_time", "quantity", "", unit="s", gt=0)
LENGTH = Column("rod_length", "quantity", "", unit="m", gt=0)
CURRENT = Column("rated_current", "quantity", "", unit="A", gt=0)


@pytest.mark.parametrize(
    ("text", "seconds"),
    [
        *((text, 0.5) for text in ("1/2 s", "½", "½ s", "500 ms", "1/2 sec.")),
        *((text, 1.5) for text in ("1 1/2", "1½ s", "1 ½ s", "1-1/2 s", "1 1/2 s")),
        *((text, 10) for text in ("10 s", "10 sec.", "00:00:10", "0:00:10", "10secs")),
        *((text, 90) for text in ("1 min 30 s", "1m 30s", "1½ min", "00:01:30", "1 minute and 30 seconds")),
        *((text, 5400) for text in ("1 h 30 min", "1½ hours", "01:30:00", "1hr 30mins")),
        *((text, 1800) for text in ("0.5 h", "1/2 hour", "½ h")),
        *((text, math.inf) for text in ("continuous", "Continuously rated", "(cont.)", "permanent")),
        ("3/4 h", 2700),
        ("100 ms", 0.1),
        ("2 hrs", 7200),
    ],
)
def test_a_duration_in_many_forms(text, seconds):
    assert read_cell(text, TIME) == (seconds, None, None, None, None)


def test_a_fraction_of_figures_needs_more_than_its_slash():
    assert read_cell("1/2", TIME).problem.reason == "unreadable"
    assert read_cell("1/2 m", LENGTH).value == 0.5
    assert read_cell("1/5 A", CURRENT).problem.reason == "unreadable"
    assert read_cell("5/2 s", TIME).problem.reason == "unreadable"
    assert read_cell("½ A", CURRENT).value == 0.5


def test_hours_and_minutes_or_minutes_and_seconds_is_asked_about():
    either = "either 10 s (minutes and seconds) or 600 s (hours and minutes): write the unit"
    assert read_cell("0:10", TIME).problem == ("ambiguous", either)
    assert read_cell(dt.time(0, 10), TIME).problem == ("ambiguous", either)
    assert read_cell(dt.time(10, 0), TIME).problem.reason == "ambiguous"


def test_a_length_of_time_is_a_duration():
    assert read_cell(dt.timedelta(seconds=10), TIME) == (10, None, None, None, None)
    assert read_cell(dt.timedelta(hours=2), TIME).value == 7200


def test_a_time_of_day_with_seconds_is_read_and_noted():
    note = "a time of day is read as a duration"
    assert read_cell(dt.time(0, 0, 10), TIME) == (10, None, note, None, None)
    assert read_cell(dt.time(0, 1, 30), TIME) == (90, None, note, None, None)


def test_no_time_at_all_is_suspect():
    suspect = "a duration in s or 'continuous', above 0; a zero here is suspect"
    for cell in (dt.time(0), dt.timedelta(0), "00:00:00", "0 s", 0):
        assert read_cell(cell, TIME).problem == ("outside_limits", suspect)


def test_cycles_take_the_frequency():
    assert read_cell("30 cycles", TIME, frequency=60).value == 0.5
    assert read_cell("30 cycles", TIME, frequency=50).value == 0.6


@given(hours=st.integers(0, 23), minutes=st.integers(0, 59), seconds=st.integers(1, 59))
def test_clock_words_and_cells_agree(hours, minutes, seconds):
    length = dt.timedelta(hours=hours, minutes=minutes, seconds=seconds)
    texts = (f"{hours:02}:{minutes:02}:{seconds:02}", f"{hours} h {minutes} min {seconds} s")
    assert {read_cell(cell, TIME).value for cell in (length, *texts)} == {length.total_seconds()}
