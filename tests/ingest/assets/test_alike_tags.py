"""Tags of one station that may be one asset's are asked about; the column map joins them. Naming: common practice."""

import pytest

from groundcheck.errors import ColumnMapError
from groundcheck.ingest.assets.tag_likeness import alike_forms

NERS = ["Station", "NER", "Neutral of", "Kind"]
TX = ["Station", "Transformer", "HV bus", "LV bus", "MVA", "HV kV", "LV kV", "Vector group"]
QUESTIONS = (
    "SELECT found, candidates, sheet, cell, cells, answer FROM raw.question WHERE subject = 'tag' ORDER BY question"
)


def transformer(tag, station="Ash Lane", bus="B11"):
    return [station, tag, "B33", bus, 12, 33, 11, "Dyn11"]


def ner(tag, neutral="T1", station="Ash Lane"):
    return [station, tag, neutral, "resistor"]


def devices(store):
    query = "SELECT neutral_device, connected_to FROM inventory.neutral_device ORDER BY 1"
    return store.sql(query).fetchall()


@pytest.fixture
def column_map(tmp_path):
    def write(text):
        path = tmp_path / "map.toml"
        path.write_text(text, encoding="utf-8")
        return path

    return write


@pytest.mark.parametrize(
    ("table", "tags"),
    [
        ("neutral_device", ["NER1", "NER01", "NER-1", "ner_001", "NER.1", "NERO1", "NER No. 1", "NER#1"]),
        ("neutral_device", ["NER10", "NER1O", "NER 10"]),
        ("bus", ["B-11", "B11"]),
        ("bus", ["1/1", "1-1", "01-01"]),
        ("transformer", ["T1", "T-1", "TX1", "Transformer 1", "No.1 Tx", "Tfmr 01", "1"]),
    ],
)
def test_hyphens_zeros_and_the_letter_o_leave_a_tag_alike(table, tags):
    assert len(set(alike_forms(tags, table))) == 1


@pytest.mark.parametrize(
    ("table", "tags"),
    [
        ("neutral_device", ["NER1", "NER10", "NER2", "NGR1", "NER1A", "NER", "NER1-1", "NER11"]),
        ("transformer", ["T1", "T2", "T1A", "T1B", "GT1", "T1-1", "T11", "T10"]),
        ("bus", ["B1", "TX1", "T1", "1", "11", "1-1"]),
    ],
)
def test_other_numbers_and_letters_make_other_tags(table, tags):
    assert len(set(alike_forms(tags, table))) == len(tags)


def test_alike_tags_of_one_station_are_asked_about_and_stay_two_assets(read, book):
    rows = [ner("NER1"), ner("NER01", "T2"), ner("NER2", "T3"), ner("NER01", station="Elm Street")]
    store = read(book({"NERs": [NERS, *rows]}))
    assert store.sql(QUESTIONS).fetchall() == [
        ("NER01", "NER1", "NERs", "B3", 1, '[same_tag] "Ash Lane:NER01" = "NER1"')
    ]
    assert [tag for tag, _ in devices(store)] == ["NER01", "NER01", "NER1", "NER2"]


def test_alike_tags_of_two_kinds_of_asset_are_no_question(read, book):
    store = read(book({"Tx": [TX, transformer("T1")], "NERs": [NERS, ner("T-1")]}))
    assert store.sql(QUESTIONS).fetchall() == []


def test_a_bus_named_nearly_as_one_on_record_is_asked_about_where_it_is_named(read, book):
    buses = [["Station", "Bus", "Nominal kV"], ["Ash Lane", "B11", 11], ["Ash Lane", "B33", 33]]
    store = read(book({"Buses": buses, "Tx": [TX, transformer("T1", bus="B-11")]}))
    assert store.sql(QUESTIONS).fetchall() == [("B-11", "B11", "Tx", "D2", 1, '[same_tag] "Ash Lane:B-11" = "B11"')]


def test_a_reference_to_nothing_that_is_nearly_a_tag_on_record_is_asked_about(read, book):
    rows = [ner("NER1", "TX-1"), ner("NER2", "TX-1"), ner("NER3", "T7")]
    store = read(book({"Tx": [TX, transformer("T1")], "NERs": [NERS, *rows]}))
    assert store.sql(QUESTIONS).fetchall() == [("TX-1", "T1", "NERs", "C2", 2, '[same_tag] "Ash Lane:TX-1" = "T1"')]
    lost = store.sql("SELECT written FROM inventory.reference WHERE target IS NULL ORDER BY 1").fetchall()
    assert lost == [("T7",), ("TX-1",), ("TX-1",)]


def test_beyond_fifty_tags_the_rest_is_counted(read, book):
    rows = [ner(tag, station=f"Mill {n}") for n in range(1, 53) for tag in ("NER1", "NER01")]
    asked = read(book({"NERs": [NERS, *rows]})).sql(QUESTIONS).fetchall()
    assert len(asked) == 51
    assert asked[-1][0] == "2 more tags like these"


def test_the_answer_that_a_question_offers_joins_records_and_references(read, book, column_map):
    sheets = {"Tx": [TX, transformer("T1")], "NERs": [NERS, ner("NER1", "TX-1"), ner("NER2", "Ash Lane:TX-1")]}
    source = book(sheets)
    [(*_, answer)] = read(source).sql(QUESTIONS).fetchall()
    store = read(source, columns=column_map(answer.replace("] ", "]\n")))
    assert devices(store) == [("NER1", ["T1"]), ("NER2", ["T1"])]
    assert store.sql(QUESTIONS).fetchall() == []
    assert store.sql("SELECT sheet, cell, found, read_as, note FROM raw.noted_cell").fetchall() == [
        ("NERs", "C2", "TX-1", "T1", "another tag of the asset: the column map says so")
    ]


def test_two_records_under_two_tags_become_one_asset(read, book, column_map):
    joined = column_map('[same_tag]\n"ash lane:ner01" = "NER1"\n')
    rows = [ner("NER1"), ner("NER01"), ner("NER01", station="Elm Street")]
    store = read(book({"NERs": [NERS, *rows]}), columns=joined)
    assert store.sql("SELECT substation, neutral_device FROM inventory.neutral_device ORDER BY 1").fetchall() == [
        ("Ash Lane", "NER1"),
        ("Elm Street", "NER01"),
    ]
    assert store.sql("SELECT cell, reason, found FROM raw.quarantine").fetchall() == [("B3", "duplicate", "NER01")]


def test_tags_are_joined_at_a_station_under_any_of_its_names(read, book, column_map):
    told = column_map('[same_station]\n"ASHL" = "Ash Lane"\n[same_tag]\n"ASHL:NER01" = "NER1"\n')
    store = read(
        book({"NERs": [NERS, ner("NER01", station="ASHL"), ner("NER2")], "Tests": [NERS, ner("NER1")]}), columns=told
    )
    assert [tag for tag, _ in devices(store)] == ["NER1", "NER2"]


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ('"Ash Lnae:NER01" = "NER1"', 'no source names a station "ashlnae"; nearest is "Ash Lane"'),
        ('"Ash Lane:NER7" = "NER1"', 'no source names "ner7" at Ash Lane; nearest is "NER1"'),
        ('"Ash Lane:NER1" = "NER8"', 'no source names "NER8" at Ash Lane; nearest is "NER1"'),
        (
            '"Ash Lane:NER1" = "NER2"\n"Ash Lane:NER2" = "NER1"',
            '"Ash Lane:NER1" stands for itself in the end; keep one of the entries',
        ),
    ],
)
def test_a_map_that_cannot_be_followed_stops_the_run(read, book, column_map, text, message):
    source = book({"NERs": [NERS, ner("NER1"), ner("NER2")]})
    with pytest.raises(ColumnMapError) as stopped:
        read(source, columns=column_map(f"[same_tag]\n{text}\n"))
    assert str(stopped.value) == f"map.toml, same_tag: {message}"
