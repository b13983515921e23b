"""Assets on record twice, under several names, or nowhere; buses of two voltages; circuits that cannot be."""

import pytest
from bad_inputs.cases import SOUND, listed, records, rows_of

from groundcheck import audit

TX = "transformer"
BUS = ["Station", "Bus", "Nominal kV"]


@pytest.fixture
def audited(book):
    """Audit a workbook."""
    made = []

    def run(sheets, **options):
        made.append(audit([book(sheets)], **options))
        return made[-1]

    yield run
    for one in made:
        one.store.close()


def findings(made, rule):
    query = "SELECT substation, asset, sheet, cell, message FROM audit.finding WHERE rule = $rule ORDER BY ALL"
    return made.store.sql(query, {"rule": rule}).fetchall()


def test_one_tag_in_two_hundred_stations_is_two_hundred_assets(read, book):
    rows = rows_of(TX, *({"Station": f"S{n}", "Transformer": "T1"} for n in range(200)))
    store = read(book({"Tx": rows}))
    assert store.sql("SELECT count(*), count(DISTINCT substation) FROM inventory.transformer").fetchall() == [
        (200, 200)
    ]
    assert listed(store) == []


def test_equal_rows_are_one_asset_and_the_second_a_duplicate(read, book):
    store = read(book({"Tx": rows_of(TX, {"Transformer": "T1"}, {"Transformer": "T1"}, {"Transformer": "T2"})}))
    [(where, cell, what, found, said)] = listed(store)
    assert (where, cell, what, found) == ("quarantine", "B3", "duplicate", "T1")
    assert "north.xlsx, sheet Tx, cell B2" in said
    assert list(records(store, TX)) == ["T1", "T2"]


def test_differing_rows_of_one_asset_wait_and_name_both_cells(read, book):
    rows = rows_of(TX, {"Transformer": "T1"}, {"Transformer": "T1", "Z %": 9}, {"Transformer": "T2"})
    entries = listed(read(book({"Tx": rows})))
    assert [entry[:4] for entry in entries] == [
        ("quarantine", "I2", "conflicting", "10.5"),
        ("quarantine", "I3", "conflicting", "9"),
    ]
    assert "north.xlsx, sheet Tx, cell I3" in entries[0][4]
    assert "north.xlsx, sheet Tx, cell I2" in entries[1][4]


def test_the_file_that_the_map_puts_first_supersedes_the_other(read, book, tmp_path):
    (tmp_path / "map.toml").write_text('precedence = ["new.xlsx", "old.xlsx"]\n')
    old = book({"Tx": rows_of(TX, {"Transformer": "T1", "Z %": 9}, {"Transformer": "T2"})}, "old.xlsx")
    new = book({"Tx": rows_of(TX, {"Transformer": "T1"})}, "new.xlsx")
    store = read([old, new], columns=tmp_path / "map.toml")
    [(where, cell, what, *_)] = listed(store)
    assert (where, cell[1:], what) == ("quarantine", "2", "superseded")
    assert {tag: record["impedance"] for tag, record in records(store, TX).items()} == {"T1": 10.5, "T2": 10.5}


def test_a_bus_that_is_only_named_is_inferred_and_marked_so(read, book):
    store = read(book({"Tx": rows_of(TX, {})}))
    assert store.sql("SELECT bus, nominal_voltage, inferred_from FROM inventory.bus ORDER BY 1").fetchall() == [
        ("B11", 11.0, "transformer.lv_bus"),
        ("B33", 33.0, "transformer.hv_bus"),
    ]
    assert listed(store) == []


def test_a_device_on_a_transformer_that_is_not_on_record_is_a_finding_with_the_nearest(audited):
    rows = rows_of("neutral_device", {"Neutral of": "T1-1"}, {"Neutral of": "T1-7"})
    made = audited({"Tx": rows_of(TX, {}), "NERs": rows})
    [(station, asset, sheet, cell, message)] = findings(made, "record/unresolved-reference")
    assert (station, asset, sheet, cell) == ("ELM", "R1-2", "NERs", "C3")
    assert "T1-7" in message
    assert "T1-1" in message
    assert list(records(made.store, "neutral_device")) == ["R1-1", "R1-2"]


@pytest.mark.parametrize("other", ["ASH LANE S/S", "Ashlane", "Ash  Lane Substation"])
def test_a_station_under_two_names_is_proposed_as_one_and_not_merged(read, book, other):
    store = read(book({"Tx": rows_of(TX, {"Station": "Ash Lane"}, {"Station": other}, {"Station": "Elm Street"})}))
    stations = {name for (name,) in store.sql("SELECT substation FROM inventory.substation").fetchall()}
    if other == "Ashlane":  # blanks alone do not make two stations
        assert stations == {"Ash Lane", "Elm Street"}
        return
    assert len(stations) == 3
    [(where, _, what, found, said)] = listed(store)
    assert (where, what) == ("question", "station")
    assert "Ash Lane" in f"{found} {said}"


def test_two_voltages_for_one_bus_are_a_finding_and_its_study_is_not_assessable(audited):
    rows = rows_of(TX, {"LV bus": "B11"}, {"LV bus": "B11", "LV kV": 6.6}, {"HV bus": "B34", "LV bus": "B12"})
    made = audited({"Tx": rows})
    contradictions = made.store.sql("SELECT asset, field, value_a, value_b FROM inventory.contradiction").fetchall()
    assert contradictions == [("B11", "nominal_voltage", "11", "6.6")]
    [(station, asset, sheet, cell, message)] = findings(made, "record/contradicting-mentions")
    assert (station, asset, sheet) == ("ELM", "B11", "Tx")
    assert cell in ("D2", "G2", "D3", "G3")  # the bus, or its voltage, in either row
    assert "11" in message
    assert "6.6" in message
    faults = made.store.sql("SELECT count(*) FROM study.bus_fault WHERE bus = 'B11' AND three_phase_ka IS NOT NULL")
    assert faults.fetchall() == [(0,)]
    assert len(records(made.store, TX)) == 3


@pytest.mark.parametrize("kind", ["line", "switch"])
def test_a_branch_between_two_voltages_is_a_finding_and_left_out(audited, kind):
    buses = [BUS, ["ELM", "B33", 33], ["ELM", "B11", 11], ["ELM", "B34", 33]]
    headings = {
        "line": ["Station", "Line", "From", "To"],
        "switch": ["Station", "Switch", "Bus A", "Bus B", "Normal state"],
    }
    rows = [headings[kind], ["ELM", "X1", "B33", "B11", "closed"], ["ELM", "X2", "B33", "B34", "closed"]]
    made = audited({"Buses": buses, "Branches": [row[: len(rows[0])] for row in rows]})
    [(station, asset, sheet, cell, message)] = findings(made, "record/left-out")
    assert (station, asset, sheet) == ("ELM", "X1", "Branches")
    assert cell in ("C2", "D2")
    assert "33 kV" in message
    assert "11 kV" in message
    zones = made.store.sql("SELECT list(bus ORDER BY bus) FROM study.zone_bus GROUP BY zone ORDER BY 1").fetchall()
    assert zones == [(["B11"],), (["B33", "B34"],)]


@pytest.mark.parametrize(
    ("headings", "bad", "sound", "table", "cell"),
    [
        (list(SOUND[TX]), ["ELM", "T9", "B33", "b 33", 12, 33, 11, "Dyn11", 10, 9], list(SOUND[TX].values()), TX, "D2"),
        (["Station", "Line", "From", "To"], ["ELM", "L9", "B1", "B1"], ["ELM", "L1", "B1", "B2"], "line", "D2"),
        (["Station", "Switch", "Bus A", "Bus B"], ["ELM", "Q9", "B1", "B1"], ["ELM", "Q1", "B1", "B2"], "switch", "D2"),
    ],
)
def test_both_ends_on_one_bus_keep_the_row_in_quarantine(read, book, headings, bad, sound, table, cell):
    store = read(book({"Plant": [headings, bad, sound]}))
    [(where, found_cell, what, _, said)] = listed(store)
    assert (where, found_cell, what) == ("quarantine", cell, "self_connected")
    assert said == "two different buses"
    assert list(records(store, table)) == [sound[1]]


@pytest.mark.parametrize(("one", "other"), [("NER1", "ner 1 "), ("NER1", "NER1\u00a0"), ("ner 1", "NER\u20091")])
def test_blanks_and_case_do_not_make_two_assets(read, book, one, other):
    store = read(book({"NERs": rows_of("neutral_device", {"NER": one}, {"NER": other}, {"NER": "NER2"})}))
    assert [entry[:3] for entry in listed(store)] == [("quarantine", "B3", "duplicate")]
    assert list(records(store, "neutral_device")) == [one, "NER2"]


def test_leading_zeros_make_two_assets_with_a_proposal(read, book):
    store = read(book({"NERs": rows_of("neutral_device", {"NER": "NER01"}, {"NER": "NER1"}, {"NER": "NER2"})}))
    assert sorted(records(store, "neutral_device")) == ["NER01", "NER1", "NER2"]
    [(where, _, what, found, said)] = listed(store)
    assert (where, what) == ("question", "tag")
    assert "NER01" in f"{found} {said}"
    assert "NER1" in f"{found} {said}".replace("NER01", "")


def test_a_highest_voltage_below_the_nominal_is_a_finding_and_both_are_kept(audited):
    made = audited({"Buses": rows_of("bus", {"Nominal kV": 132, "Highest kV": 13.2}, {})})
    [(station, asset, sheet, cell, _)] = findings(made, "record/highest-below-nominal")
    assert (station, asset, sheet, cell) == ("ELM", "B1-1", "Buses", "D2")
    assert records(made.store, "bus")["B1-1"]["nominal_voltage"] == 132.0
    assert records(made.store, "bus")["B1-1"]["highest_voltage"] == 13.2


def test_ohms_amperes_and_volts_that_disagree_are_a_finding_and_all_are_kept(audited):
    headings = [*SOUND["neutral_device"], "Rated voltage (kV)"]
    rows = [[*row, 6.35] for row in rows_of("neutral_device", {"Resistance (ohm)": 15.9}, {"Resistance (ohm)": 3})[1:]]
    made = audited({"NERs": [headings, *rows]})
    [(station, asset, sheet, cell, _)] = findings(made, "neutral-devices/nameplate-agreement")
    assert (station, asset, sheet) == ("ELM", "R1-2", "NERs")
    assert cell[1:] == "3"
    kept = records(made.store, "neutral_device")["R1-2"]
    assert (kept["resistance"], kept["rated_current"], kept["rated_voltage"]) == (3.0, 400.0, 6.35)
