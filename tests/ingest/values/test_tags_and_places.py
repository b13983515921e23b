"""Text, tags, lists of tags, lists of places."""

import datetime as dt

import pytest

from groundcheck.ingest.values import read_cell
from groundcheck.schema import Column

KEY = Column("transformer", "key", "")
REFERENCE = Column("bus", "reference", "", refers_to=("transformer", "bus"))
REFERENCES = Column("connected_to", "references", "")
PLACES = Column("ground_points", "places", "")
REMARK = Column("remark", "text", "")


@pytest.mark.parametrize(
    ("cell", "tag"),
    [
        ("T1", "T1"),
        (" NER 01\u00a0", "NER 01"),
        ("ner  01", "ner 01"),
        (3.0, "3"),
        (3, "3"),
        ("03", "03"),
        ("1.10", "1.10"),
    ],
)
def test_a_tag_keeps_its_case_and_zeros(cell, tag):
    assert read_cell(cell, KEY).value == tag
    assert read_cell(cell, REFERENCE).value == tag


@pytest.mark.parametrize("cell", ["", "-", "N/A", "none", None])
def test_blank_tags(cell):
    assert read_cell(cell, KEY) == (None, None, None, None, None)
    assert read_cell(cell, REFERENCES) == (None, None, None, None, None)


def test_a_tag_that_became_a_date_is_named():
    held = "; the cell holds the date 2021-02-03, which may have been 3/2 or 2/3"
    assert read_cell(dt.datetime(2021, 2, 3), KEY).problem == ("unreadable", "a tag" + held)
    assert read_cell(dt.date(2021, 2, 3), REFERENCE).problem.expected == "the tag of one transformer or bus" + held


@pytest.mark.parametrize("text", ["T1; T2", "T1,T2", "T1/T2", "T1 + T2", "T1 & T2", "T1 and T2", "T1 AND T2", "T1\nT2"])
def test_several_tags_in_one_cell(text):
    assert read_cell(text, REFERENCES).value == ["T1", "T2"]


def test_tags_that_contain_a_separating_word():
    assert read_cell("ISLAND; ASH:T1", REFERENCES).value == ["ISLAND", "ASH:T1"]


@pytest.mark.parametrize(
    ("cell", "places"),
    [
        ("relay panel; marshalling kiosk", ["relay panel", "marshalling kiosk"]),
        ("relay panel and VT box", ["relay panel", "VT box"]),
        ("A / B", ["A", "B"]),
        ("A, B", ["A", "B"]),
        ("relay panel (rear, left)", ["relay panel (rear, left)"]),
        (["A", "B"], ["A", "B"]),
        *((text, []) for text in ("none", "Nil", "not earthed", "not grounded", "Nowhere")),
        *((text, None) for text in ("", "-", "unknown", "N/A", None)),
    ],
)
def test_no_place_is_not_the_same_as_not_said(cell, places):
    assert read_cell(cell, PLACES) == (places, None, None, None, None)


def test_a_slash_within_a_place_is_asked_about():
    expected = "one place or two: separate places with ';'"
    assert read_cell("relay panel/kiosk", PLACES).problem == ("ambiguous", expected)


def test_a_number_is_no_place():
    assert read_cell(2.0, PLACES).problem == ("unreadable", "places by name, separated by ';', or 'none'")


def test_a_remark_is_kept_as_written():
    remark = '=1+1 <script>"x"</script>\nsecond  line'
    assert read_cell(f" {remark} ", REMARK).value == remark
    assert read_cell(dt.datetime(2021, 2, 1), REMARK).value == "2021-02-01"
    assert read_cell(51.0, REMARK).value == "51"
