"""One heading may feed several fields from the parts of its cells, by the column map or by itself."""

import pytest

from groundcheck.ingest.mapping.compounds import find_compounds, named, part_units
from groundcheck.schema import INVENTORY_TABLES
from groundcheck.schema.compounds import COMPOUNDS

TRANSFORMER = ["Station", "Transformer", "HV bus", "LV bus", "MVA", "Vector group"]
DEVICE = ["Station", "NER", "Neutral of", "Kind"]


def column_map(store, heading):
    return store.sql(
        "SELECT field, how, candidates FROM raw.column_map WHERE heading = $h ORDER BY field", {"h": heading}
    ).fetchall()


def voltages(store):
    return store.sql("SELECT hv_voltage, lv_voltage FROM inventory.transformer ORDER BY transformer").fetchall()


@pytest.mark.parametrize("compound", COMPOUNDS, ids=lambda c: f"{c.table}: {named(c)}")
def test_parts_are_fields_of_the_table_and_headings_are_lower_case(compound):
    columns = INVENTORY_TABLES[compound.table].columns()
    assert {name for name in compound.fields if name} <= set(columns)
    assert [heading for heading in compound.headings if heading != heading.casefold().strip()] == []
    assert len(set(compound.headings)) == len(compound.headings)


@pytest.mark.parametrize(
    ("heading", "table", "fields"),
    [
        ("Voltage ratio", "transformer", ["hv_voltage + lv_voltage"]),
        ("HV/LV (kV)", "transformer", ["hv_voltage + lv_voltage"]),
        ("HV / LV kV", "transformer", ["hv_voltage + lv_voltage"]),
        ("HV/LV", "transformer", []),
        ("HV/LV/TV (MVA)", "transformer", ["rated_power + tv_power"]),
        ("HV/LV neutral", "transformer", ["hv_neutral + lv_neutral"]),
        ("Ratio (%)", "transformer", []),
        ("CT Ratio (A)", "ground_relay", ["ct_primary + ct_secondary"]),
        ("Ratio", "ground_relay", ["ct_primary + ct_secondary", "vt_primary + vt_secondary"]),
        ("Ratio", "instrument_transformer", ["primary + secondary"]),
    ],
)
def test_a_heading_that_names_several_quantities_is_known_for_them(heading, table, fields):
    assert [named(compound) for compound in find_compounds(heading, table)] == fields


def test_units_of_the_heading_go_to_the_parts_that_they_fit():
    (rating,) = find_compounds("Rating (A/s)", "neutral_device")
    assert part_units("Rating (A/s)", rating) == ("A", "s")
    assert part_units("Rating (A)", rating) == ("A", None)


def test_a_voltage_ratio_feeds_both_sides_without_a_map(read, csv_file):
    store = read(csv_file([[*TRANSFORMER, "HV/LV (kV)"], ["ELM", "T1", "B33", "B11", 12, "Dyn11", "33/11"]]))
    assert voltages(store) == [(33.0, 11.0)]
    assert column_map(store, "HV/LV (kV)") == [
        ("hv_voltage", "alias", "part 1 of 2"),
        ("lv_voltage", "alias", "part 2 of 2"),
    ]


def test_the_map_says_which_part_of_a_heading_feeds_which_field(read, csv_file, tmp_path):
    path = tmp_path / "map.toml"
    path.write_text(
        '[[sheet]]\ntable = "transformer"\n'
        'fields.lv_voltage = { part = 1, of = "Low over high" }\n'
        'fields.hv_voltage = { part = 2, of = "Low over high" }\n'
        'units = { "Low over high" = "V" }\n'
    )
    rows = [[*TRANSFORMER, "Low over high"], ["ELM", "T1", "B33", "B11", 12, "Dyn11", "11000/33000"]]
    store = read(csv_file(rows), columns=path)
    assert voltages(store) == [(33.0, 11.0)]
    assert column_map(store, "Low over high") == [
        ("hv_voltage", "map", "part 2 of 2"),
        ("lv_voltage", "map", "part 1 of 2"),
    ]


def ratings(read, book, *cells, heading="Rating", headings=DEVICE):
    rows = [[*headings, heading], *(["ELM", f"R{i}", "T1", "resistor", cell] for i, cell in enumerate(cells))]
    return read(book({"NERs": rows}))


def currents_and_times(store):
    return store.sql(
        "SELECT rated_current, rated_time FROM inventory.neutral_device ORDER BY neutral_device"
    ).fetchall()


def test_a_rating_that_gives_a_time_as_well_feeds_both_fields(read, book):
    store = ratings(read, book, "400 A", "400A/10s", 300)
    assert currents_and_times(store) == [(400.0, None), (400.0, 10.0), (300.0, None)]
    assert [row[0] for row in column_map(store, "Rating")] == ["rated_current", "rated_time"]


def test_a_rating_that_gives_currents_alone_feeds_the_current_alone(read, book):
    store = ratings(read, book, "400 A", 300)
    assert column_map(store, "Rating") == [("rated_current", "alias", None)]


def test_a_duty_that_gives_current_and_time_feeds_both(read, book):
    store = ratings(read, book, "400A/10s", "300A/30s", heading="Duty")
    assert currents_and_times(store) == [(400.0, 10.0), (300.0, 30.0)]


def test_where_parts_would_change_other_cells_the_heading_is_asked_about(read, book):
    rows = [
        ["Station", "Earthing transformer", "Bus", "Type", "Rating"],
        ["ELM", "ET1", "B11", "zigzag", "500 kVA"],
        ["ELM", "ET2", "B11", "zigzag", "400A/10s"],
    ]
    store = read(book({"ETs": rows}))
    assert store.sql("SELECT subject, found, candidates, cells FROM raw.question").fetchall() == [
        ("heading", "Rating", "rated_power; rated_neutral_current + rated_time", 2)
    ]
    assert store.sql("SELECT DISTINCT rated_power FROM inventory.grounding_transformer").fetchall() == [(None,)]


def test_a_part_whose_field_has_a_column_of_its_own_is_not_taken_twice(read, csv_file):
    rows = [[*TRANSFORMER, "HV kV", "Voltage ratio"], ["ELM", "T1", "B33", "B11", 12, "Dyn11", 33, "33/11"]]
    store = read(csv_file(rows))
    assert voltages(store) == [(33.0, 11.0)]
    assert column_map(store, "Voltage ratio") == [("lv_voltage", "alias", "part 2 of 2")]


def test_a_rating_of_the_resistor_in_the_row_of_its_transformer_gives_both(read, csv_file):
    rows = [
        [*TRANSFORMER, "HV kV", "LV kV", "NER ohms", "NER rating"],
        ["ELM", "T1", "B33", "B11", 12, "Dyn11", 33, 11, 16, "400A/10s"],
    ]
    assert currents_and_times(read(csv_file(rows))) == [(400.0, 10.0)]
