"""Which names may be one station's. The words and habits of naming: common practice, no source."""

import time
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundcheck.ingest.assets.station_proposals import propose_same_stations


def pairs(*names, **options):
    return [(pair.found, pair.meant) for pair in propose_same_stations(dict.fromkeys(names, 1), **options)]


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("Ash Lane", "ASH LANE S/S"),
        ("Ash Lane", "Ash-Lane"),
        ("Ash Lane", "Ash_Lane"),
        ("Ash Lane", "Ash Lane SS"),
        ("Ash Lane", "Ash Lane S.S."),
        ("Ash Lane", "SS Ash Lane"),
        ("Ash Lane", "Ash Lane Sub"),
        ("Ash Lane", "Ash Lane Sub Stn"),
        ("Ash Lane", "Ash Lane Sub-Station"),
        ("Ash Lane", "Ash Lane Substaton"),
        ("Ash Lane", "Ash Lane Primary"),
        ("Ash Lane", "Ash Lane BSP"),
        ("Ash Lane Grid", "Ash Lane Bulk Supply Point"),
        ("Ash Lane", "The Ash Lane"),
        ("Ash Lane", "Ash Lane 33/11 kV"),
        ("Ash Lane", "Ash Lane 33kV"),
        ("Ash Lane", "Ash Ln."),
        ("Ashlane", "Ash Lane S/S"),
        ("Elm & Oak", "Elm and Oak"),
        ("St. Mary's Rd", "Saint Marys Road"),
        ("Elm St", "Elm Street"),
        ("Elmstreet SS", "Elm Street"),
        ("Mill No. 2", "Mill 02"),
        ("Mill II", "Mill 2"),
        ("Mill (N)", "Mill North"),
        ("NORTH 1", "NORTH01"),
        ("ASH7", "ASH07"),
        ("Müllerfeld", "Mullerfeld"),
        ("Quarry Bank", "Quary Bank"),
        ("Quarry Bank", "Quarry Bnak"),
        ("Quarry Bank", "Quarry Banck"),
        ("Quarry Bank", "Quarry Bamk"),
    ],
)
def test_names_that_differ_in_writing_may_be_one_stations(one, other):
    assert pairs(one, other) == [(other, one)]
    assert pairs(other, one) == [(one, other)]


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("Ash Lane", "ASH  LANE"),  # one name already: case and blanks do not count
        ("Ash Lane 1", "Ash Lane 2"),
        ("Ash Lane", "Ash Lane 2"),
        ("Ash Lane North", "Ash Lane South"),
        ("Ash Lane", "Ash Lane East"),
        ("New Mill", "Old Mill"),
        ("Upper Mill", "Lower Mill"),
        ("Mill I", "Mill II"),
        ("Mill A", "Mill B"),
        ("Ash Lane Grid", "Ash Lane Primary"),
        ("Ash Lane 132/33 kV", "Ash Lane 33/11 kV"),
        ("ASH1", "ASH11"),
        ("ELM", "ELK"),
        ("Hillfield Park", "Millfield Park"),
        ("Ash Lane", "Oak Lane"),
        ("Quarry Bank", "Quarry Lane"),
        ("Station Road", "Road"),
        ("S1", "S2"),
    ],
)
def test_numbers_directions_and_other_words_make_two_stations(one, other):
    assert pairs(one, other) == []


def test_the_name_in_most_rows_is_the_one_that_is_meant():
    assert [p.meant for p in propose_same_stations({"ASH LANE S/S": 2, "Ash Lane": 1})] == ["ASH LANE S/S"]
    assert [p.meant for p in propose_same_stations({"ASH LANE S/S": 2, "Ash Lane": 3})] == ["Ash Lane"]


def test_a_name_with_a_record_of_its_own_is_meant_however_few_its_rows():
    found = propose_same_stations({"ASH LANE S/S": 9, "Ash Lane": 1}, recorded=["Ash Lane"])
    assert [(p.found, p.meant) for p in found] == [("ASH LANE S/S", "Ash Lane")]


def test_two_recorded_stations_a_letter_apart_are_two():
    assert pairs("Quarry Bank", "Quarry Bunk", recorded=["Quarry Bank", "Quarry Bunk"]) == []
    assert pairs("Quarry Bank", "Quarry Bunk", recorded=["Quarry Bank"]) == [("Quarry Bunk", "Quarry Bank")]


def test_the_full_name_of_one_station_may_be_that_station():
    assert pairs("ASHL", "Ash Lane S/S", titles={"ASHL": "Ash Lane"}) == [("Ash Lane S/S", "ASHL")]


def test_the_full_name_of_two_stations_is_neither():
    assert pairs("ASHL1", "ASHL2", "Ash Lane", titles={"ASHL1": "Ash Lane", "ASHL2": "Ash Lane"}) == []


@given(st.lists(st.text(alphabet="ab 1&-'", min_size=1).filter(str.strip), unique=True, max_size=12))
def test_no_name_is_proposed_twice_or_to_be_itself(names):
    found = pairs(*names)
    assert len({one for one, _ in found}) == len(found)
    assert all("".join(one.casefold().split()) != "".join(other.casefold().split()) for one, other in found)
    assert {name for pair in found for name in pair} <= set(names)


def test_ten_thousand_stations_are_compared_in_less_than_two_seconds():
    first = ["Ash", "Birch", "Cedar", "Elm", "Meadow", "Oak", "Quarry", "River", "Stone", "Willow"]
    last = ["bank", "bridge", "by", "field", "ford", "ham", "stead", "thorpe", "ton", "wick"]
    places = [a + b for a, b in product(first, last)]
    names = {f"{one} {other}": 3 for one, other in product(places, places)} | {"Ashbank Elmtn S/S": 1}
    begin = time.process_time()
    found = propose_same_stations(names)
    assert time.process_time() - begin < 2
    assert [(pair.found, pair.meant) for pair in found] == [("Ashbank Elmtn S/S", "Ashbank Elmton")]
