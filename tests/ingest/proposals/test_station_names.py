"""Stations that differ in writing alone are proposed as one, and only to a person."""

import tomllib

from groundcheck.ingest import propose_columns

HEADINGS = ["Station", "Bus", "Nominal kV"]


def proposed(book, *stations):
    text = propose_columns(book({"Buses": [HEADINGS, *([name, f"B{i}", 33] for i, name in enumerate(stations))]}))
    _, _, part = text.partition("# [same_station]\n")
    return text, [line.split("  # ")[0].removeprefix("# ") for line in part.splitlines()]


def test_the_most_frequent_writing_stands_for_the_others(book):
    text, lines = proposed(book, "Ash Lane", "Ash Lane", "ASH LANE S/S", "Ashlane", "Elm Street")
    # 'Ashlane' is 'Ash Lane' without its blank, which makes no second station.
    assert lines == ['"ASH LANE S/S" = "Ash Lane"']
    assert "alike but for writing: 1 rows and 2" in text
    assert "same_station" not in tomllib.loads(text)


def test_the_proposed_line_joins_them_once_a_person_removes_the_sign(book):
    _, lines = proposed(book, "Ash Lane", "Ash Lane", "ASH-LANE substation")
    assert tomllib.loads("[same_station]\n" + lines[0]) == {"same_station": {"ASH-LANE substation": "Ash Lane"}}


def test_names_that_differ_in_a_number_are_two_stations(book):
    assert proposed(book, "Mill 1", "Mill 2", "Mill")[1] == []
