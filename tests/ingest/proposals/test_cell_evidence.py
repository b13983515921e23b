"""A column whose heading nobody knows is known by its cells, or left alone."""

import pytest

from groundcheck.ingest import propose_columns

HEADINGS = ["Station", "Transformer", "HV bus", "LV bus", "MVA"]


def rows(**columns):
    """Six transformers; each column by its heading, '_' for a blank, with its cells from top to bottom."""
    names = [name.replace("_", " ") for name in columns]
    plant = [["ELM", f"T{i}", f"B33{i}", f"B11{i}", 12 + i] for i in range(6)]
    return [
        [*HEADINGS, *names],
        *([*row, *cells] for row, cells in zip(plant, zip(*columns.values(), strict=True), strict=True)),
    ]


def lines_about(text, heading):
    return [line for line in text.splitlines() if f'"{heading}"' in line]


def test_a_column_of_vector_groups_is_proposed_as_the_vector_group(book):
    groups = ["Dyn11", "Dyn1", "YNd11", "YNyn0", "Dyn11", "Dzn0"]
    text = propose_columns(book({"Tx": rows(HV=[33] * 6, LV=[11] * 6, Pattern=groups)}))
    assert lines_about(text, "Pattern") == [
        'fields.vector_group = "Pattern"  # 1.00: all 6 cells are vector groups',
    ]


@pytest.mark.parametrize("cells", [["Dyn11", "north", "south", "east", "west", "none"], [1, 2, 3, 4, 5, 6]])
def test_a_column_of_other_things_is_left_alone(book, cells):
    text = propose_columns(book({"Tx": rows(HV=[33] * 6, LV=[11] * 6, Pattern=cells)}))
    assert lines_about(text, "Pattern") == []


def test_words_that_two_vocabularies_share_are_left_to_a_person(book):
    words = ["solid", "resistor", "solid", "resistor", "reactor", "solid"]
    text = propose_columns(book({"Tx": rows(HV=[33] * 6, LV=[11] * 6, Manner=words)}))
    found = lines_about(text, "Manner")
    assert len(found) == 3
    assert all(line.startswith("# fields.") for line in found)
    assert "all 6 cells are words for hv_neutral; or lv_neutral or tv_neutral" in found[0]


def test_of_two_columns_of_voltages_the_higher_is_hv(book):
    text = propose_columns(book({"Tx": rows(Side_two=["11 kV"] * 6, Side_one=["33 kV"] * 6)}))
    (line,) = lines_about(text, "Side one")
    why = "all 6 cells are voltages of networks, the higher of the two in every row"
    assert line == f'fields.hv_voltage = "Side one"  # 1.00: {why}'
    assert lines_about(text, "Side two")[0].startswith('fields.lv_voltage = "Side two"  # 1.00')


def test_bare_numbers_that_may_be_voltages_are_left_to_a_person(book):
    text = propose_columns(book({"Tx": rows(HV=[33] * 6, Plate=[11, 10, 20, 11, 11, 10])}))
    assert lines_about(text, "Plate") == ['# fields.lv_voltage = "Plate"  # 1.00: all 6 cells are voltages of networks']


def test_tags_that_are_buses_elsewhere_are_proposed_as_the_bus(book):
    buses = [["Station", "Bus", "Nominal kV"], *(["ELM", f"B33{i}", 33] for i in range(6))]
    arresters = [["Station", "Arrester", "MCOV", "Hung on"], *(["ELM", f"SA{i}", 28, f"B33{i}"] for i in range(6))]
    text = propose_columns(book({"Buses": buses, "Arresters": arresters}))
    assert lines_about(text, "Hung on") == [
        'fields.bus = "Hung on"  # 1.00: all 6 cells are tags that another column gives a bus'
    ]


def test_the_same_tags_in_another_station_prove_nothing(book):
    buses = [["Station", "Bus", "Nominal kV"], *(["OAK", f"B33{i}", 33] for i in range(6))]
    arresters = [["Station", "Arrester", "MCOV", "Hung on"], *(["ELM", f"SA{i}", 28, f"B33{i}"] for i in range(6))]
    assert lines_about(propose_columns(book({"Buses": buses, "Arresters": arresters})), "Hung on") == []
