"""An answer fills what is blank on record, is held against what is not, and never takes its place silently."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from groundcheck.schema.stages.raw import QUARANTINE_REASONS
from groundcheck.store import Store

Read = Callable[..., Store]
Answers = Callable[..., Path]
RATING = ["ASH", "neutral device", "NER1", "rated current"]


def rating(store: Store, station: str = "ASH") -> Any:
    (row,) = store.sql(f"SELECT rated_current FROM inventory.neutral_device WHERE substation = '{station}'").fetchall()
    return row[0]


def waiting(store: Store) -> list[tuple[Any, ...]]:
    """Answers in quarantine; the row of the register that waits there for a voltage is left out."""
    query = "SELECT file, cell, reason, found FROM raw.quarantine WHERE file <> 'north.xlsx' ORDER BY file, cell"
    return store.sql(query).fetchall()


def expected(store: Store) -> str:
    (row,) = store.sql("SELECT expected FROM raw.quarantine WHERE file = 'answers.xlsx'").fetchall()
    return str(row[0])


def test_blank_field_takes_the_answer_and_its_cell(register: Path, answers: Answers, read: Read) -> None:
    store = read([register, answers([*RATING, 630, "A"])])
    assert rating(store) == 630
    assert rating(store, "ELM") == 400
    origin = "SELECT o.substation, o.asset, o.field, r.file, r.row, o.column_letter FROM inventory.field_origin o "
    assert store.sql(origin + "JOIN raw.row r USING (raw_row)").fetchall() == [
        ("ASH", "NER1", "rated_current", "answers.xlsx", 2, "E")
    ]


@pytest.mark.parametrize(
    ("value", "unit", "amperes"),
    [("0.63 kA", "A", 630), (0.63, "kA", 630), ("630", None, 630), ("630 A", "furlongs", 630), ("630", "A ", 630)],
)
def test_unit_in_the_cell_wins_over_the_unit_beside_it(
    register: Path, answers: Answers, read: Read, value: Any, unit: str | None, amperes: float
) -> None:
    assert rating(read([register, answers([*RATING, value, unit])])) == amperes


@pytest.mark.parametrize(
    ("value", "unit", "wanted"),
    [
        ("see drawing", "A", "a current in A"),
        (-5, "A", "above 0"),
        (630, "kV", "kV cannot be converted to A"),
        (630, "furlongs", "'furlongs' is not"),
    ],
)
def test_answer_that_cannot_be_read_is_named_with_its_cell(
    register: Path, answers: Answers, read: Read, value: Any, unit: str, wanted: str
) -> None:
    store = read([register, answers([*RATING, value, unit])])
    ((file, cell, field, told),) = store.sql("SELECT file, cell, field, expected FROM raw.unread_cell "
                                             "WHERE file = 'answers.xlsx'").fetchall()  # fmt: skip
    assert (file, cell, field) == ("answers.xlsx", "E2", "rated_current")
    assert wanted in told
    assert rating(store) is None


def test_formula_without_a_stored_result_is_no_answer(register: Path, answers: Answers, read: Read) -> None:
    store = read([register, answers(["ASH", "neutral device", "NER1", "status", "=A1"])])
    (told,) = store.sql("SELECT cell, expected FROM raw.unread_cell WHERE file = 'answers.xlsx'").fetchall()
    assert told[0] == "E2"
    assert "save it in a spreadsheet program" in told[1]


def test_equal_answer_leaves_nothing_to_say(register: Path, answers: Answers, read: Read) -> None:
    store = read([register, answers(["elm", "Neutral Device", "ner 1", "Rated current (A)", "400 A"])])
    assert (rating(store, "ELM"), waiting(store)) == (400, [])
    for table in ("contradiction", "field_origin"):
        assert store.sql(f"FROM inventory.{table}").fetchall() == []


def test_record_stays_where_the_answer_differs_and_both_are_named(register: Path, answers: Answers, read: Read) -> None:
    store = read([register, answers(["ELM", "neutral device", "NER1", "rated current", 500])])
    assert rating(store, "ELM") == 400
    query = """
        SELECT field, value_a, a.file, value_b, b.file, settled_by FROM inventory.contradiction
        JOIN raw.row a ON a.raw_row = raw_row_a JOIN raw.row b ON b.raw_row = raw_row_b
    """
    assert store.sql(query).fetchall() == [("rated_current", "400", "north.xlsx", "500", "answers.xlsx", None)]


def test_answer_brings_a_record_out_of_quarantine(register: Path, answers: Answers, read: Read) -> None:
    blank = "SELECT cell, reason FROM raw.quarantine"
    assert read([register]).sql(blank).fetchall() == [("C3", "required_missing")]
    store = read([register, answers(["ASH", "bus", "B11", "nominal voltage", "11 kV"])])
    assert store.sql(blank).fetchall() == []
    query = "SELECT nominal_voltage, inferred_from FROM inventory.bus WHERE substation = 'ASH' AND bus = 'B11'"
    assert store.sql(query).fetchall() == [(11.0, None)]


def test_bus_that_an_answer_names_comes_on_record(register: Path, answers: Answers, read: Read) -> None:
    asked = ["ASH", "transformer", "T1"]
    store = read([register, answers([*asked, "tv bus", "B6"], [*asked, "tv voltage", 6.6, "kV"])])
    query = "SELECT nominal_voltage, inferred_from FROM inventory.bus WHERE bus = 'B6'"
    assert store.sql(query).fetchall() == [(6.6, "transformer.tv_bus")]
    (target,) = store.sql("SELECT target FROM inventory.reference WHERE field = 'tv_bus'").fetchall()
    assert target == ("B6",)


def test_device_that_is_only_on_record_by_an_answer_has_its_cell(register: Path, answers: Answers, read: Read) -> None:
    store = read([register, answers(["ASH", "transformer", "T1", "hv neutral", "solid"])])
    query = """
        SELECT d.kind, r.file, o.column_letter FROM inventory.neutral_device d
        JOIN inventory.field_origin o ON o.asset = d.neutral_device AND o.field = 'kind' JOIN raw.row r ON
        r.raw_row = o.raw_row WHERE d.neutral_device = 'T1 HV neutral'
    """
    assert store.sql(query).fetchall() == [("solid", "answers.xlsx", "E")]


def test_rating_of_a_device_that_is_only_named_can_be_answered(register: Path, answers: Answers, read: Read) -> None:
    told = ["ASH", "transformer", "T1", "hv neutral", "resistor"]
    store = read([register, answers(told, ["ASH", "neutral device", "T1 HV neutral", "resistance", "40 ohm"])])
    query = "SELECT resistance FROM inventory.neutral_device WHERE neutral_device = 'T1 HV neutral'"
    assert (store.sql(query).fetchall(), waiting(store)) == ([(40.0,)], [])


def test_answer_says_which_of_two_recorded_voltages_holds(book: Callable[..., Path], answers: Answers, read: Read
) -> None:  # fmt: skip
    heads = ["Station", "Transformer", "HV bus", "LV bus", "MVA", "HV kV", "LV kV", "Vector group"]
    rows = [["ASH", tag, "B33", "B11", 20, 33, kv, "Dyn11"] for tag, kv in (("T1", 11), ("T2", 6.6))]
    register = book({"Transformers": [heads, *rows]})
    disputed = "SELECT value_a, value_b, settled_by IS NULL FROM inventory.contradiction"
    assert read([register]).sql(disputed).fetchall() == [("11", "6.6", True)]
    store = read([register, answers(["ASH", "bus", "B11", "nominal voltage", 6.6])])
    assert store.sql(disputed).fetchall() == [("11", "6.6", False)]
    assert store.sql("SELECT nominal_voltage FROM inventory.bus WHERE bus = 'B11'").fetchall() == [(6.6,)]


@pytest.mark.parametrize(
    ("row", "cell", "reason", "told"),
    [
        (["ASH", "neutral device", "NER2", "resistance", 5], "C2", "no_such_asset", "at ASH, such as NER1;"),
        (["ASHE", "neutral device", "NER1", "resistance", 5], "C2", "no_such_asset", "a station on record, such as AS"),
        (["ASH", "neutral devise", "NER1", "resistance", 5], "B2", "no_such_field", "nearest are neutral device"),
        (["ASH", "neutral device", "NER1", "resistence", 5], "D2", "no_such_field", "nearest are resistance"),
        (["ASH", "neutral device", "NER1", "neutral device", "N1"], "D2", "key_field", "in the register itself"),
        (["ASH", "neutral device", None, "resistance", 5], "C2", "key_missing", "the asset that the value belongs to"),
    ],
)
def test_answer_about_nothing_on_record_waits_in_quarantine(
    register: Path, answers: Answers, read: Read, row: list[Any], cell: str, reason: str, told: str
) -> None:
    store = read([register, answers(row)])
    assert [entry[:3] for entry in waiting(store)] == [("answers.xlsx", cell, reason)]
    assert told in expected(store)
    assert reason in QUARANTINE_REASONS


def test_answer_about_a_record_in_quarantine_names_where_it_waits(
    book: Callable[..., Path], answers: Answers, read: Read
) -> None:
    register = book({"Buses": [["Station", "Bus", "Nominal voltage (kV)"], ["ASH", "B11", "?"], ["ASH", "B33", 33]]})
    store = read([register, answers(["ASH", "bus", "B11", "highest voltage", 12])])
    assert waiting(store) == [("answers.xlsx", "C2", "no_such_asset", "B11")]
    assert "waits in quarantine (north.xlsx, sheet Buses, cell C2)" in expected(store)


def test_answer_about_an_asset_out_of_service_says_so(book: Callable[..., Path], answers: Answers, read: Read) -> None:
    buses = [
        ["Station", "Bus", "Nominal voltage (kV)", "Status"],
        ["ASH", "B1", 11, "removed"],
        ["ASH", "B2", 11, None],
    ]
    store = read([book({"Buses": buses}), answers(["ASH", "bus", "B1", "highest voltage", 12])])
    assert "on record as removed" in expected(store)


def test_status_that_is_answered_takes_the_asset_out_of_service(register: Path, answers: Answers, read: Read) -> None:
    store = read([register, answers(["ELM", "bus", "B11", "status", "removed"])])
    assert store.sql("SELECT asset, status FROM inventory.out_of_service").fetchall() == [("B11", "removed")]


def test_answers_that_disagree_all_wait_and_equal_ones_do_not(register: Path, answers: Answers, read: Read) -> None:
    first = answers([*RATING, 630, "A"], ["ELM", "neutral device", "NER1", "resistance", "6.35"], name="one.xlsx")
    other = answers([*RATING, "0.4", "kA"], ["ELM", "neutral device", "NER1", "resistance", 6.35], name="two.xlsx")
    store = read([register, first, other])
    assert waiting(store) == [
        ("one.xlsx", "E2", "conflicting", "630"), ("two.xlsx", "E2", "conflicting", "0.4")
    ]  # fmt: skip
    assert rating(store) is None
    (told,) = store.sql("SELECT expected FROM raw.quarantine WHERE file = 'one.xlsx'").fetchall()
    assert "two.xlsx, sheet North, cell E2" in told[0]
    query = "SELECT resistance FROM inventory.neutral_device WHERE substation = 'ELM'"
    assert store.sql(query).fetchall() == [(6.35,)]


def test_size_that_is_answered_with_its_number_of_conductors_gives_both(
    book: Callable[..., Path], answers: Answers, read: Read
) -> None:
    register = book({"Bonds": [["Station", "Bond", "Equipment", "Conductor size"], ["ASH", "E1", "T1", None]]})
    store = read([register, answers(["ASH", "bond", "E1", "conductor size", "2 x 95 mm2", "mm2"])])
    assert store.sql("SELECT conductor_size, parallel FROM inventory.bond").fetchall() == [(95.0, 2)]
