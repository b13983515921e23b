"""Headings as registers write them: which field each is of. Spellings are common practice, no source."""

import pytest

from groundcheck.ingest.mapping.headings import match_heading


@pytest.mark.parametrize(
    ("table", "heading", "field", "unit"),
    [
        ("transformer", "Rated MVA", "rated_power", "MVA"),
        ("generator", "Rated kV", "rated_voltage", "kV"),
        ("neutral_device", "Rated A", "rated_current", "A"),
        ("neutral_device", "RATED (kV)", "rated_voltage", "kV"),
        ("neutral_device", "Rating [s]", "rated_time", "s"),
        ("bus", "Nominal\nkV", "nominal_voltage", "kV"),
        ("transformer", "Tx No.", "transformer", None),
        ("transformer", "XFMR ID", "transformer", None),
        ("transformer", "L.V. Star Point Earthing", "lv_neutral", None),
        ("ground_relay", "Time Dial Setting", "time_dial", None),
        ("ground_grid", "No. of Earth Electrodes", None, None),
        ("ground_grid", "No. of Electrodes", "rods", None),
        ("arrester", "SA No.", "arrester", None),
        ("bond", "Strap Ref.", "bond", None),
        ("infeed", "SLG fault current (kA)", "fault_current_1ph", "kA"),
        ("substation", "Sub-station", "substation", None),
        ("transformer", "Vec-\ntor group", "vector_group", None),
        ("transformer", "(8) Vector group", "vector_group", None),
    ],
)
def test_heading_is_of_its_field(table, heading, field, unit):
    match = match_heading(heading, table)
    assert match.field == field
    if field is not None:
        assert (match.how, match.unit) == ("alias", unit)


@pytest.mark.parametrize(
    ("table", "heading", "field"),
    [
        ("substation", "Statoin", "substation"),
        ("transformer", "Transfomer", "transformer"),
        ("transformer", "HV busbr", "hv_bus"),
        ("neutral_device", "Resistence", "resistance"),
    ],
)
def test_a_slip_of_one_letter_is_a_close_match(table, heading, field):
    match = match_heading(heading, table)
    assert (match.field, match.how) == (field, "close match")


@pytest.mark.parametrize(
    ("table", "heading", "wrong"),
    [
        ("transformer", "kVA rated", "hv_voltage"),
        ("transformer", "TV kV", "lv_voltage"),
        ("transformer", "LV bus", "hv_bus"),
        ("transformer", "Rated kV", "rated_power"),
        ("neutral_device", "Rated ohm", "rated_current"),
    ],
)
def test_a_heading_is_never_taken_for_its_neighbor(table, heading, wrong):
    assert match_heading(heading, table).field != wrong


@pytest.mark.parametrize("tag", ["Tag No.", "Asset ID", "Equipment Tag", "Designation"])
def test_a_plain_tag_heading_is_the_tag_of_whatever_the_table_is_about(read, book, tag):
    rows = [["Station", tag, "Neutral of", "NER ohms", "Type"], ["ELM", "R1", "T1", 15.9, "NER"]]
    store = read(book({"NERs": rows}))
    assert store.sql("SELECT neutral_device, resistance FROM inventory.neutral_device").fetchall() == [("R1", 15.9)]


def test_a_counter_of_rows_is_no_tag(read, book):
    rows = [["No", "Station", "Neutral of", "NER ohms", "Type"], [1, "ELM", "T1", 15.9, "NER"]]
    store = read(book({"Buses": [["Station", "Bus", "kV"], ["ELM", "B1", 33]], "NERs": rows}))
    assert store.sql("SELECT reason FROM raw.quarantine").fetchall() == [("no_table",)]
