"""A field of an asset is followed back to file, sheet, cell and the text found there."""

import pytest

from groundcheck.audit.cells import cells_of, place_assets

SHEET = {"file": "north.xlsx", "sheet": "Resistors", "region": 1}


@pytest.fixture
def recorded(put):
    """Two rows of one sheet: a transformer with resistors in two neutrals, columns up to AB."""
    cells = [f"text {n}" for n in range(1, 29)]
    put(
        "raw.row",
        SHEET | {"raw_row": 7, "row": 14, "use": "inventory", "cells": cells},
        SHEET | {"raw_row": 8, "row": 15, "use": "inventory", "cells": cells[:3]},
    )
    feeds = [
        ("A", "neutral_device", 1, "neutral_device"), ("C", "neutral_device", 1, "rated_current"),
        ("AA", "neutral_device", 2, "neutral_device"), ("AB", "neutral_device", 2, "rated_current"),
        ("B", "transformer", 1, "hv_bus"),
    ]  # fmt: skip
    put(
        "raw.column_map",
        *[SHEET | dict(zip(("column_letter", "target_table", "part", "field"), feed, strict=True)) for feed in feeds],
    )
    device = {"substation": "ELM", "kind": "resistor", "raw_row": 7}
    put(
        "inventory.neutral_device",
        device | {"neutral_device": "NR1", "part": 1}, device | {"neutral_device": "NR2", "part": 2},
        device | {"neutral_device": "NR3", "part": 1, "raw_row": 8},
    )  # fmt: skip
    bus = {"substation": "ELM", "bus": "B1", "raw_row": 7, "part": 1, "inferred_from": "transformer.hv_bus"}
    put("inventory.bus", bus)


@pytest.fixture
def cell(store, recorded):
    place_assets(store)

    def find(kind, asset, field):
        wanted = f"(SELECT '{kind}' AS kind, 'ELM' AS substation, '{asset}' AS asset, '{field}' AS field)"
        query = f"SELECT source_file, sheet, cell, found, inferred FROM ({cells_of(wanted)})"
        return store.connection.execute(query).fetchall()

    return find


@pytest.mark.parametrize(
    ("kind", "asset", "field", "expected"),
    [
        ("neutral_device", "NR1", "rated_current", ("north.xlsx", "Resistors", "C14", "text 3", False)),
        ("neutral_device", "NR2", "rated_current", ("north.xlsx", "Resistors", "AB14", "text 28", False)),
        ("neutral_device", "NR3", "rated_current", ("north.xlsx", "Resistors", "C15", "text 3", False)),
        ("neutral_device", "NR1", "resistance", ("north.xlsx", "Resistors", None, None, False)),
        ("bus", "B1", "nominal_voltage", ("north.xlsx", "Resistors", "B14", "text 2", True)),
    ],
)
def test_a_field_is_found_in_its_cell(cell, kind, asset, field, expected):
    assert cell(kind, asset, field) == [expected]


def test_an_asset_that_is_not_on_record_has_no_cell(cell):
    assert cell("neutral_device", "NR9", "rated_current") == []


def test_a_row_shorter_than_its_heading_has_the_cell_and_no_text(store, put, cell):
    store.connection.execute("UPDATE raw.row SET cells = ['NR3'] WHERE raw_row = 8")
    assert cell("neutral_device", "NR3", "rated_current") == [("north.xlsx", "Resistors", "C15", None, False)]


DUTY = {"substation": "ELM", "current_a": 500.0, "provisional": False}


def test_a_finding_has_the_cell_of_its_first_own_input_and_evidence_of_all(put, recorded, make_rule, run, rows, store):
    store.connection.execute("UPDATE inventory.neutral_device SET rated_current = 400")
    put("study.neutral_duty", DUTY | {"neutral_device": "NR2"})
    run(make_rule(inputs=("neutral_duty.current_a", "neutral_device.resistance", "neutral_device.rated_current")))
    assert rows("SELECT asset, source_file, sheet, cell FROM audit.finding") == [
        ("NR2", "north.xlsx", "Resistors", "AB14")
    ]
    assert rows("SELECT position, input, asset, value, unit, cell, found FROM audit.evidence ORDER BY 1") == [
        (1, "neutral_duty.current_a", "NR2", "500", "A", None, None),
        (2, "neutral_device.resistance", "NR2", "not on record", "ohm", None, None),
        (3, "neutral_device.rated_current", "NR2", "400", "A", "AB14", "text 28"),
    ]


def test_a_finding_without_own_cells_has_the_cell_of_its_tag(put, recorded, make_rule, run, rows):
    put("study.neutral_duty", DUTY | {"neutral_device": "NR2"})
    query = make_rule().query.replace("actual >= required AS ok", "u.current_a < 100 AS ok")
    run(make_rule(inputs=("neutral_device.resistance",), query=query))
    assert rows("SELECT asset, cell FROM audit.finding") == [("NR2", "AA14")]


def test_a_finding_about_a_zone_has_the_cell_of_the_bus_that_names_it(put, recorded, make_rule, run, rows):
    put("study.zone", {"zone": "ELM:B1", "substation": "ELM", "bus": "B1", "ground_sources": 0})
    query = """
        SELECT substation, 'zone' AS asset_kind, zone AS asset, ground_sources AS actual, 1 AS required, '' AS unit,
               ground_sources >= 1 AS ok
        FROM study.zone
    """
    run(make_rule(asks="zone", inputs=("zone.ground_sources",), query=query))
    assert rows("SELECT asset_kind, asset, sheet, cell FROM audit.finding") == [("zone", "ELM:B1", "Resistors", "B14")]


def test_a_missing_field_names_the_cell_to_fill_in(put, recorded, make_rule, run, rows):
    put("study.neutral_duty", *[DUTY | {"neutral_device": tag} for tag in ("NR1", "NR2", "NR3")])
    run(make_rule(inputs=("neutral_device.rated_current", "neutral_device.resistance")))
    assert rows(
        "SELECT asset, field, source_file, cell FROM audit.missing_field WHERE asset <> 'NR3' ORDER BY ALL"
    ) == [
        ("NR1", "rated_current", "north.xlsx", "C14"),
        ("NR1", "resistance", "north.xlsx", None),
        ("NR2", "rated_current", "north.xlsx", "AB14"),
        ("NR2", "resistance", "north.xlsx", None),
    ]


def test_a_finding_about_an_asset_without_tag_column_has_the_first_cell_that_fed_it(
    store, put, recorded, make_rule, run, rows
):
    store.connection.execute("DELETE FROM raw.column_map WHERE field = 'neutral_device'")
    put("study.neutral_duty", DUTY | {"neutral_device": "NR2"})
    query = make_rule().query.replace("actual >= required AS ok", "u.current_a < 100 AS ok")
    run(make_rule(inputs=("neutral_device.resistance",), query=query))
    assert rows("SELECT asset, cell FROM audit.finding") == [("NR2", "AB14")]
