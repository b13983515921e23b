"""Assets that are only named, or only described in words, are created and marked with where they were named."""

import pandas as pd
import pytest

TRANSFORMERS = [
    "Station",
    "Transformer",
    "HV bus",
    "LV bus",
    "MVA",
    "HV kV",
    "LV kV",
    "Vector group",
    "Method of earthing",
]


def transformer(tag, lv_bus="B11", group="Dyn11", words=None, lv=11, station="ELM"):
    return [station, tag, "B33", lv_bus, 12, 33, lv, group, words]


def devices(store):
    return store.sql(
        "SELECT neutral_device, connected_to, kind, winding, inferred_from FROM inventory.neutral_device ORDER BY 1"
    ).fetchall()


def test_buses_and_stations_that_are_only_named_are_created(read, book):
    store = read(book({"Tx": [TRANSFORMERS, transformer("T1"), transformer("T2")]}))
    assert store.sql("SELECT bus, nominal_voltage, inferred_from FROM inventory.bus ORDER BY 1").fetchall() == [
        ("B11", 11.0, "transformer.lv_bus"),
        ("B33", 33.0, "transformer.hv_bus"),
    ]
    assert store.sql("SELECT substation, inferred_from FROM inventory.substation").fetchall() == [
        ("ELM", "transformer.substation")
    ]


def test_a_bus_on_record_is_not_inferred_whatever_its_case(read, book):
    buses = [["Station", "Bus", "Nominal kV"], ["Elm", "b 11", 11]]
    store = read(book({"Buses": buses, "Tx": [TRANSFORMERS, transformer("T1")]}))
    found = store.sql("SELECT substation, bus, inferred_from IS NULL FROM inventory.bus ORDER BY 2").fetchall()
    assert found == [("Elm", "B33", False), ("Elm", "b 11", True)]
    assert store.sql("SELECT substation, lv_bus FROM inventory.transformer").fetchall() == [("Elm", "b 11")]


def test_two_voltages_for_one_bus_are_a_contradiction_and_the_first_is_kept(read, book):
    store = read(book({"Tx": [TRANSFORMERS, transformer("T1"), transformer("T2", lv=6.6)]}))
    assert store.sql("SELECT nominal_voltage FROM inventory.bus WHERE bus = 'B11'").fetchall() == [(11.0,)]
    assert store.sql("SELECT asset, field, value_a, value_b FROM inventory.contradiction").fetchall() == [
        ("B11", "nominal_voltage", "11", "6.6")
    ]


def test_a_winding_rated_a_little_above_the_nominal_voltage_is_no_contradiction(read, book):
    store = read(book({"Tx": [TRANSFORMERS, transformer("T1"), transformer("T2", lv=11.5)]}))
    assert store.sql("SELECT count(*) FROM inventory.contradiction").fetchall()[0] == (0,)


def test_a_line_carries_the_voltage_to_a_station_without_a_list_of_buses(read, book):
    lines = [["Station", "Line", "From bus", "To bus"], ["ELM", "L1", "B11", "B12"]]
    store = read(book({"Tx": [TRANSFORMERS, transformer("T1")], "Lines": lines}))
    assert store.sql("SELECT nominal_voltage, inferred_from FROM inventory.bus WHERE bus = 'B12'").fetchall() == [
        (11.0, "line.to_bus")
    ]


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ("Solid", [("T1 LV neutral", ["T1"], "solid", "lv", "transformer.lv_neutral")]),
        ("Resistor", [("T1 LV neutral", ["T1"], "resistor", "lv", "transformer.lv_neutral")]),
        ("Petersen coil", [("T1 LV neutral", ["T1"], "arc_suppression_coil", "lv", "transformer.lv_neutral")]),
        ("Earthing Transformer", []),
        (
            "Earthing Transformer + Resistor",
            [
                (
                    "T1 grounding transformer neutral",
                    ["T1 grounding transformer"],
                    "resistor",
                    None,
                    "transformer.lv_neutral",
                )
            ],
        ),
        ("-", []),
    ],
)
def test_words_about_a_neutral_become_the_device_they_describe(read, book, words, expected):
    store = read(book({"Tx": [TRANSFORMERS, transformer("T1", words=words)]}))
    assert devices(store) == expected
    made = store.sql("SELECT grounding_transformer, bus, connection FROM inventory.grounding_transformer").fetchall()
    assert made == ([("T1 grounding transformer", "B11", "zigzag")] if "Transformer" in words else [])
    unresolved = store.sql("SELECT count(*) FROM inventory.reference WHERE target IS NULL").fetchall()[0]
    assert unresolved == (0,)


def test_a_shared_device_is_one_device_for_all_that_say_so(read, book):
    rows = [transformer(tag, words="Shared Resistor") for tag in ("T1", "T2")]
    other = transformer("T1", words="Shared Resistor", station="OAK")
    store = read(book({"Tx": [TRANSFORMERS, *rows, other]}))
    assert store.sql(
        "SELECT substation, neutral_device, connected_to FROM inventory.neutral_device ORDER BY 1"
    ).fetchall() == [("ELM", "shared 11 kV resistor", ["T1", "T2"]), ("OAK", "shared 11 kV resistor", ["T1"])]


def test_a_recorded_device_stands_instead_of_the_words(read, book):
    sheet = [["Station", "NER", "Neutral of", "Kind", "Ohms"], ["ELM", "R7", "T1", "resistor", 6.35]]
    store = read(book({"Tx": [TRANSFORMERS, transformer("T1", words="Resistor")], "NERs": sheet}))
    assert devices(store) == [("R7", ["T1"], "resistor", None, None)]


def test_a_transformer_sheet_describes_the_resistor_in_its_neutral(read, book):
    headings = [*TRANSFORMERS[:8], "NER ohms", "NER amps", "NER time"]
    rows = [
        [*transformer("T1")[:8], 6.35, 1000, "10 s"],
        [*transformer("T2", group="YNd1")[:8], 19.1, "1 kA", "continuous"],
        [*transformer("T3")[:8], None, None, None],
        [*transformer("T4")[:8], "see file", 400, 10],
    ]
    store = read(book({"Tx": [headings, *rows]}))
    found = store.sql(
        "SELECT neutral_device, connected_to, winding, kind, resistance, rated_current, rated_time "
        "FROM inventory.neutral_device ORDER BY 1"
    ).fetchall()
    assert found == [
        ("T1 LV neutral", ["T1"], "lv", "resistor", 6.35, 1000.0, 10.0),
        ("T2 HV neutral", ["T2"], "hv", "resistor", 19.1, 1000.0, float("inf")),
        ("T4 LV neutral", ["T4"], "lv", "resistor", None, 400.0, 10.0),
    ]
    assert store.sql("SELECT cell, target_table, field FROM raw.unread_cell").fetchall() == [
        ("I5", "neutral_device", "resistance")
    ]
    assert store.sql("SELECT count(*) FROM raw.quarantine").fetchall()[0] == (0,)
    assert store.sql("SELECT column_letter, unit FROM raw.column_map WHERE field = 'resistance'").fetchall() == [
        ("I", "ohm")
    ]


def test_headings_that_name_the_winding_describe_two_devices_of_one_row(read, book):
    headings = [*TRANSFORMERS[:8], "HV NER ohms", "LV NER ohms"]
    store = read(book({"Tx": [headings, [*transformer("T1", group="YNyn0")[:8], 40, 6.35]]}))
    assert store.sql(
        "SELECT neutral_device, winding, resistance, part FROM inventory.neutral_device ORDER BY 1"
    ).fetchall() == [
        ("T1 HV neutral", "hv", 40.0, 1),
        ("T1 LV neutral", "lv", 6.35, 2),
    ]


def test_a_wide_sheet_fills_the_record_of_the_device_in_the_same_neutral(read, book):
    headings = [*TRANSFORMERS[:8], "NER ohms", "NER amps"]
    sheet = [["Station", "NER", "Neutral of", "Kind", "Winding", "Ohms"], ["ELM", "R7", "T1", "resistor", "LV", 6.0]]
    store = read(book({"Tx": [headings, [*transformer("T1")[:8], 6.35, 1000]], "NERs": sheet}))
    assert store.sql("SELECT neutral_device, resistance, rated_current FROM inventory.neutral_device").fetchall() == [
        ("R7", 6.0, 1000.0)
    ]
    assert store.sql("SELECT asset, field, value_a, value_b FROM inventory.contradiction").fetchall() == [
        ("R7", "resistance", "6", "6.35")
    ]


def test_district_and_name_of_the_station_are_read_from_any_sheet(read, book):
    headings = ["District", "Substation code", "Substation name", *TRANSFORMERS[1:]]
    rows = [["North", "ELM", "Elm Lane", *transformer("T1")[1:]], ["North", "ELM", "Elm Road", *transformer("T2")[1:]]]
    store = read(book({"Tx": [headings, *rows]}))
    assert store.sql("SELECT substation, name, district FROM inventory.substation").fetchall() == [
        ("ELM", "Elm Lane", "North")
    ]
    assert store.sql("SELECT field, value_a, value_b FROM inventory.contradiction").fetchall() == [
        ("name", "Elm Lane", "Elm Road")
    ]


@pytest.mark.parametrize(("tertiary_kv", "buses"), [(11.0, ["B11", "B12"]), (6.6, ["B11"])])
def test_words_hold_for_both_secondary_windings_of_one_voltage(read, tertiary_kv, buses):
    row = {"substation": "ELM", "transformer": "T1", "hv_bus": "B132", "lv_bus": "B11", "tv_bus": "B12",
           "rated_power": 60.0, "hv_voltage": 132.0, "lv_voltage": 11.0, "tv_voltage": tertiary_kv,
           "vector_group": "YNd1d1", "lv_neutral": "grounding_transformer"}  # fmt: skip
    store = read({"transformer": pd.DataFrame([row])})
    made = store.sql("SELECT bus FROM inventory.grounding_transformer ORDER BY bus").fetchall()
    assert [bus for (bus,) in made] == buses
