"""What headings leave open is asked, once a heading, with the line of the column map that answers it."""

import pytest

TRANSFORMER = ["Station", "Transformer", "HV bus", "LV bus", "MVA", "HV", "LV", "Vector group"]
BUS = ["Station", "Bus", "Nominal kV", "Um", "Um"]


def questions(store):
    return store.sql("SELECT subject, cell, found, candidates, cells, answer FROM raw.question").fetchall()


@pytest.fixture
def answered(tmp_path):
    """A column map of one answer."""

    def write(table, answer):
        path = tmp_path / "map.toml"
        path.write_text(f'[[sheet]]\ntable = "{table}"\n{answer}\n')
        return path

    return write


def test_a_heading_that_fits_two_fields_is_asked_about_with_both(read, book):
    rows = [
        [*TRANSFORMER, "Voltage"],
        *(["ELM", f"T{i}", "B33", "B11", 12, 33, 11, "Dyn11", v] for i, v in ((1, 33), (2, None))),
    ]
    ((subject, cell, found, candidates, cells, answer),) = questions(read(book({"Tx": rows})))
    assert (subject, cell, found, cells) == ("heading", "I1", "Voltage", 1)
    assert {"hv_voltage", "lv_voltage"} <= set(candidates.split("; "))
    assert answer == 'fields.hv_voltage = "Voltage"'


def test_two_columns_of_one_heading_are_asked_about_together_and_both_kept(read, book):
    store = read(book({"Buses": [BUS, ["ELM", "B1", 33, 36, 40], ["ELM", "B2", 33, 36, None]]}))
    assert questions(store) == [
        ("same_heading", "D1", "Um", "D Um; E Um", 3, 'fields.highest_voltage = { heading = "Um", column = "D" }')
    ]
    assert store.sql("SELECT cells FROM raw.row WHERE row = 2").fetchall() == [(["ELM", "B1", "33", "36", "40"],)]


def test_the_answer_settles_it_and_may_name_either_column(read, book, answered):
    source = book({"Buses": [BUS, ["ELM", "B1", 33, 36, 40]]})
    for letter, voltage in (("D", 36.0), ("E", 40.0)):
        path = answered("bus", f'fields.highest_voltage = {{ heading = "Um", column = "{letter}" }}')
        store = read(source, columns=path)
        assert store.sql("SELECT highest_voltage FROM inventory.bus").fetchall() == [(voltage,)]
        assert questions(store) == []


def test_two_headings_for_one_field_are_asked_about_by_their_own_names(read, book):
    rows = [["Station", "Bus", "Nominal kV", "Um", "Max voltage"], ["ELM", "B1", 33, 36, 40]]
    ((subject, _, found, _, cells, answer),) = questions(read(book({"Buses": rows})))
    assert (subject, found, cells) == ("same_heading", "Um; Max voltage", 2)
    assert answer == 'fields.highest_voltage = "Um"'


def test_headings_that_are_certain_or_mean_nothing_are_not_asked_about(read, book):
    assert questions(read(book({"Buses": [[*BUS[:3], "Colour"], ["ELM", "B1", 33, "grey"]]}))) == []
