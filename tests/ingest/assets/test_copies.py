"""Several records of one asset: the file that wins, rows that complete one another, and what each row is told."""

import pytest

from groundcheck import audit

NERS = ["Station", "NER", "Neutral of", "Kind", "Ohms", "Rated amps"]
TESTS = ["Station", "NER", "Measured ohms"]
WAITING = "SELECT file, cell, reason, found, expected FROM raw.quarantine ORDER BY file, cell"


def ner(tag="NER1", ohms=19.9, amps=400, neutral="T1", kind="resistor"):
    return ["Ash Lane", tag, neutral, kind, ohms, amps]


@pytest.fixture
def ranked(tmp_path):
    path = tmp_path / "map.toml"
    path.write_text('precedence = ["new*.xlsx", "old.xlsx"]\n')
    return path


def waiting(store):
    return store.sql(WAITING).fetchall()


def resistors(store):
    query = "SELECT neutral_device, resistance, rated_current FROM inventory.neutral_device ORDER BY 1"
    return store.sql(query).fetchall()


def test_the_file_that_the_map_puts_first_is_used_and_the_other_told_what_differs(read, book, ranked):
    sources = [book({"NERs": [NERS, ner(ohms=21)]}, "old.xlsx"), book({"NERs": [NERS, ner()]}, "new.xlsx")]
    store = read(sources, columns=ranked)
    assert resistors(store) == [("NER1", 19.9, 400.0)]
    assert waiting(store) == [
        (
            "old.xlsx",
            "E2",
            "superseded",
            "21",
            "the record of NER1 at new.xlsx, sheet NERs, cell E2, which the column map puts first, is used. "
            "It differs: resistance is 19.9 there and 21 here",
        )
    ]


def test_a_blank_in_the_file_that_wins_stays_blank_and_the_other_says_so(read, book, ranked):
    sources = [book({"NERs": [NERS, ner()]}, "old.xlsx"), book({"NERs": [NERS, ner(amps=None)]}, "new.xlsx")]
    store = read(sources, columns=ranked)
    assert resistors(store) == [("NER1", 19.9, None)]
    [(file, cell, reason, found, expected)] = waiting(store)
    assert (file, cell, reason, found) == ("old.xlsx", "F2", "superseded", "400")
    assert expected.endswith("It differs: rated_current is blank there, and 400 from here is not taken over")


def test_an_equal_record_in_the_other_file_is_a_duplicate(read, book, ranked):
    sources = [
        book({"NERs": [NERS, ner(), ner(tag)]}, f"{age}.xlsx") for age, tag in (("old", "NER2"), ("new", "NER3"))
    ]
    store = read(sources, columns=ranked)
    assert [entry[:3] for entry in waiting(store)] == [("old.xlsx", "B2", "duplicate")]


def test_a_file_without_a_rank_comes_last(read, book, ranked):
    names = ("new.xlsx", "old.xlsx", "stray.xlsx")
    sources = [book({"NERs": [NERS, ner(ohms=ohms)]}, name) for ohms, name in zip((1, 2, 3), names, strict=True)]
    store = read(sources, columns=ranked)
    assert [entry[:3] for entry in waiting(store)] == [(name, "E2", "superseded") for name in names[1:]]
    assert resistors(store) == [("NER1", 1.0, 400.0)]


def test_files_of_equal_rank_conflict_as_if_there_were_none(read, book, ranked):
    names = ("new_1.xlsx", "new_2.xlsx", "old.xlsx")
    rows = [[ner(ohms=ohms), ner(f"NER{ohms + 1}")] for ohms in (1, 2, 3)]
    sources = [book({"NERs": [NERS, *pair]}, name) for pair, name in zip(rows, names, strict=True)]
    store = read(sources, columns=ranked)
    assert [entry[:3] for entry in waiting(store)] == [
        ("new_1.xlsx", "E2", "conflicting"),
        ("new_2.xlsx", "E2", "conflicting"),
        ("old.xlsx", "E2", "superseded"),
    ]
    assert [tag for tag, *_ in resistors(store)] == ["NER2", "NER3", "NER4"]


def test_a_record_of_the_first_file_that_cannot_be_used_leaves_the_other_in_use(read, book, ranked):
    new = book({"NERs": [NERS, ner(kind=None)]}, "new.xlsx")
    store = read([book({"NERs": [NERS, ner()]}, "old.xlsx"), new], columns=ranked)
    assert [entry[:3] for entry in waiting(store)] == [("new.xlsx", "D2", "required_missing")]
    assert resistors(store) == [("NER1", 19.9, 400.0)]


def test_rows_that_conflict_name_both_cells_and_all_that_differs(read, book):
    store = read(book({"NERs": [NERS, ner(), ner(ohms=21, amps=300), ner("NER2")]}))
    assert waiting(store)[0][1:] == (
        "E2",
        "conflicting",
        "19.9",
        "one record of NER1: resistance is 19.9 here and 21 at north.xlsx, sheet NERs, cell E3; "
        "differs in resistance, rated_current: correct or remove one",
    )


def test_a_dispute_in_one_field_keeps_the_rest_from_being_joined(read, book):
    store = read(book({"NERs": [NERS, ner(amps=None), ner(ohms=21), ner("NER2")]}))
    assert [entry[1:3] for entry in waiting(store)] == [("E2", "conflicting"), ("E3", "conflicting")]
    assert store.sql("SELECT count(*) FROM inventory.field_origin").fetchall() == [(0,)]


def test_rows_that_fill_different_fields_are_one_record(read, book):
    store = read(book({"NERs": [NERS, ner(amps=None), ner(ohms=None)], "More": [NERS, ner("NER2")]}))
    assert waiting(store) == []
    assert resistors(store) == [("NER1", 19.9, 400.0), ("NER2", 19.9, 400.0)]
    uses = store.sql("SELECT DISTINCT \"use\" FROM raw.row WHERE sheet = 'NERs' AND row > 1").fetchall()
    assert uses == [("inventory",)]


@pytest.mark.parametrize("tests_first", [False, True])
def test_a_sheet_of_tests_completes_the_sheet_of_ratings_with_its_own_cells(read, book, tests_first):
    sheets = {"NERs": [NERS, ner(), ner("NER2", neutral="T2")], "NER tests": [TESTS, ["Ash Lane", "NER1", 19.2]]}
    store = read(book(dict(reversed(sheets.items())) if tests_first else sheets))
    assert waiting(store) == []
    query = "SELECT resistance, measured_resistance, connected_to FROM inventory.neutral_device ORDER BY neutral_device"
    assert store.sql(query).fetchall() == [(19.9, 19.2, ["T1"]), (19.9, None, ["T2"])]
    origin = """
        SELECT field, sheet, column_letter || row
        FROM inventory.field_origin JOIN raw.row USING (raw_row) WHERE asset = 'NER1' ORDER BY field
    """
    from_tests = [("measured_resistance", "NER tests", "C2")]
    from_ratings = [
        ("connected_to", "NERs", "C2"),
        ("kind", "NERs", "D2"),
        ("rated_current", "NERs", "F2"),
        ("resistance", "NERs", "E2"),
    ]
    assert store.sql(origin).fetchall() == (from_ratings if tests_first else from_tests)


def test_a_test_of_a_device_without_a_record_of_its_own_waits(read, book):
    sheets = {"NERs": [NERS, ner()], "NER tests": [TESTS, ["Ash Lane", "NER1", 19.2], ["Ash Lane", "NER9", 20]]}
    store = read(book(sheets))
    assert [entry[:3] for entry in waiting(store)] == [("north.xlsx", None, "required_missing")]
    assert [tag for tag, *_ in resistors(store)] == ["NER1"]


def test_a_finding_cites_the_cell_of_the_row_that_gave_the_value(book):
    sheets = {
        "Tests": [["Station", "Bus", "Highest kV"], ["Ash Lane", "B1", 31]],
        "Buses": [["Station", "Bus", "Nominal kV"], ["Ash Lane", "B1", 33]],
    }
    made = audit([book(sheets)])
    rule = "record/highest-below-nominal"
    found = made.store.sql(
        "SELECT finding, sheet, cell FROM audit.finding WHERE rule = $rule", {"rule": rule}
    ).fetchall()
    assert [entry[1:] for entry in found] == [("Tests", "C2")]
    evidence = made.store.sql(
        "SELECT sheet, cell FROM audit.evidence WHERE finding = $one AND input = 'bus.nominal_voltage'",
        {"one": found[0][0]},
    ).fetchall()
    made.store.close()
    assert evidence == [("Buses", "C2")]
