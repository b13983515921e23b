"""data_requests.xlsx, read back: each district is asked for the cells that its checks wait for, and nothing is cut."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.worksheet.worksheet import Worksheet

from groundcheck.report.data_requests import form, write_data_requests
from groundcheck.schema import INVENTORY_TABLES
from groundcheck.schema.stages.raw import QUESTION_SUBJECTS
from groundcheck.store import Store

Fill = Callable[..., None]
HEADS = (
    "station,kind of asset,asset,field,value,unit,source of the value,checks waiting,what to write,where it is missing"
)
WAITING = {"rule": "r", "substation": "ASH", "asset_kind": "bus", "asset": "B1", "blocking_substation": "ASH"}


@pytest.fixture
def asked_store(empty_store: Store, fill: Fill) -> Store:
    """Two districts and a station without one; checks that wait for cells and for a record."""
    fill(
        empty_store,
        "inventory.substation",
        {"substation": "ASH", "district": "North"},
        {"substation": "ELM", "district": "South"},
        {"substation": "OAK", "district": None},
    )
    fill(empty_store, "inventory.transformer", {"substation": "ASH", "transformer": "T1"})
    fill(empty_store, "inventory.neutral_device", {"substation": "ELM", "neutral_device": "NR1"})
    fill(empty_store, "inventory.generator", {"substation": "OAK", "generator": "=G1"})
    fill(empty_store, "inventory.bond", {"substation": "ASH", "bond": "BC1"})
    ask(empty_store, fill, 1, "ASH", "bond", "BC1", "connected_to_grid", file="north.xlsx", sheet="Bonds")
    ask(empty_store, fill, 3, "ASH", "transformer", "T1", "impedance", file="north.xlsx", sheet="Tx", cell="H14")
    ask(empty_store, fill, 1, "ASH", "transformer", "T1", "lv_neutral")
    ask(empty_store, fill, 2, "ELM", "neutral_device", "NR1", "kind")
    ask(empty_store, fill, 1, "OAK", "generator", "=G1", "x0")
    ask(empty_store, fill, 1, "OAK", "generator", "=G1", "neutral_device")
    return empty_store


def ask(store: Store, fill: Fill, checks: int, station: str, kind: str, asset: str, field: str, **place: str) -> None:
    """Let so many checks wait for a field."""
    place = {"source_file" if name == "file" else name: text for name, text in place.items()}
    blocking = {"blocking_substation": station, "blocking_asset_kind": kind, "blocking_asset": asset, "field": field}
    for number in range(checks):
        fill(store, "audit.missing_field", WAITING | blocking | place | {"rule": f"{kind}/{field}/{number}"})


@pytest.fixture
def book_of(tmp_path: Path) -> Callable[[Store], Workbook]:
    def make(store: Store) -> Workbook:
        write_data_requests(store, tmp_path / "data_requests.xlsx")
        return load_workbook(tmp_path / "data_requests.xlsx")

    return make


def rows(sheet: Worksheet) -> list[dict[str, Any]]:
    heads, *body = sheet.iter_rows(values_only=True)
    return [dict(zip(heads, row, strict=True)) for row in body]


def offered(book: Workbook, sheet: Worksheet) -> dict[str, list[str]]:
    """The words of each drop-down by the cell that it hangs on."""
    found = {}
    for rule in sheet.data_validations.dataValidation:
        source = rule.formula1
        if source.startswith("Words!"):
            words = [row[0].value for row in book["Words"][source.removeprefix("Words!").replace("$", "")]]
        else:
            words = source.strip('"').split(",")
        found.update({area.coord: words for area in rule.sqref.ranges})
    return found


def test_each_district_has_its_sheet_and_a_station_without_one_is_asked_too(
    asked_store: Store, book_of: Callable[[Store], Workbook]
) -> None:
    book = book_of(asked_store)
    assert book.sheetnames == ["What to do", "North", "South", "No district", "Questions", "Records to add", "Words"]
    assert book["Words"].sheet_state == "hidden"


def test_columns_are_those_that_are_read_back(asked_store: Store, book_of: Callable[[Store], Workbook]) -> None:
    book = book_of(asked_store)
    for name in ("North", "South", "No district"):
        assert [cell.value for cell in book[name][1]] == HEADS.split(",")


def test_what_most_checks_wait_for_comes_first(asked_store: Store, book_of: Callable[[Store], Workbook]) -> None:
    asked = [(row["asset"], row["field"], row["checks waiting"]) for row in rows(book_of(asked_store)["North"])]
    assert asked == [("T1", "impedance", 3), ("BC1", "connected to grid", 1), ("T1", "lv neutral", 1)]


def test_kind_and_field_are_canonical_names_in_words(asked_store: Store, book_of: Callable[[Store], Workbook]) -> None:
    book = book_of(asked_store)
    for name in ("North", "South", "No district"):
        for row in rows(book[name]):
            model = INVENTORY_TABLES[row["kind of asset"].replace(" ", "_")]
            assert row["field"].replace(" ", "_") in model.columns()
    assert rows(book["South"])[0]["kind of asset"] == "neutral device"


def test_row_tells_unit_what_to_write_and_where_it_is_missing(
    asked_store: Store, book_of: Callable[[Store], Workbook]
) -> None:
    impedance, bonded, neutral = rows(book_of(asked_store)["North"])
    assert impedance["unit"] == "%"
    for words in ("HV-LV impedance on own rating.", "A number in %", "Limits: above 0, at most 60.", "Example: 10"):
        assert words in impedance["what to write"]
    assert "One of: solid, resistor," in neutral["what to write"]
    places = [row["where it is missing"] for row in (impedance, bonded, neutral)]
    assert places == ["north.xlsx · Tx · H14", "north.xlsx · Bonds: no column for it", "in no sheet yet"]


def test_text_that_could_not_be_read_is_shown_with_its_cell(
    asked_store: Store, book_of: Callable[[Store], Workbook], fill: Fill
) -> None:
    fill(asked_store, "raw.unread_cell", {"file": "north.xlsx", "sheet": "Tx", "cell": "H14", "found": "1O"})
    assert rows(book_of(asked_store)["North"])[0]["where it is missing"] == "north.xlsx · Tx · H14: found '1O'"


def test_only_the_answers_are_blank_shaded_and_open(asked_store: Store, book_of: Callable[[Store], Workbook]) -> None:
    sheet = book_of(asked_store)["North"]
    assert sheet.protection.sheet
    heads = HEADS.split(",")
    for row in sheet.iter_rows(min_row=2):
        for head, cell in zip(heads, row, strict=True):
            is_answer = head in ("value", "source of the value")
            assert cell.protection.locked is not is_answer
            assert is_answer or head == "unit" or cell.value is not None
            assert not is_answer or cell.value is None
            assert (cell.fill.fill_type == "solid") is is_answer


def test_what_a_person_types_stays_text(asked_store: Store, book_of: Callable[[Store], Workbook]) -> None:
    # '@' is the text format of OOXML: without it a spreadsheet program makes a date of 4/0 or 600/5.
    assert {cell.number_format for (cell,) in book_of(asked_store)["North"]["E2:E4"]} == {"@"}


def test_drop_down_stands_at_choices_and_yes_no_alone(asked_store: Store, book_of: Callable[[Store], Workbook]) -> None:
    book = book_of(asked_store)
    lists = offered(book, book["North"])
    assert lists["E3"] == ["yes", "no"]
    assert lists["E4"] == list(INVENTORY_TABLES["transformer"].columns()["lv_neutral"].accepted or ())
    assert set(lists) == {"E3", "E4"}
    assert offered(book, book["South"])["E2"][:2] == ["solid", "resistor"]


def test_cells_that_take_the_same_words_share_one_drop_down(
    asked_store: Store, book_of: Callable[[Store], Workbook], fill: Fill
) -> None:
    fill(asked_store, "inventory.transformer", {"substation": "ASH", "transformer": "T2"})
    ask(asked_store, fill, 1, "ASH", "transformer", "T2", "lv_neutral")
    book = book_of(asked_store)
    lists = offered(book, book["North"])
    assert set(lists) == {"E3", "E4", "E5"}
    assert lists["E4"] == lists["E5"]
    assert len(book["North"].data_validations.dataValidation) == 2


def test_record_that_is_not_there_is_no_cell_to_fill_in(
    asked_store: Store, book_of: Callable[[Store], Workbook]
) -> None:
    book = book_of(asked_store)
    assert [row["field"] for row in rows(book["No district"])] == ["x0"]
    (missing,) = rows(book["Records to add"])
    assert (missing["asset"], missing["what is not on record"]) == ("=G1", "no neutral device on record for it")


@pytest.mark.parametrize(
    ("kind", "asset", "field", "told"),
    [
        ("infeed", "", "grounded", "no infeed on record for this station; its grounded is needed"),
        ("bus", "B9", "nominal_voltage", "named, but without a record of its own; its nominal voltage (kV) is needed"),
        ("transformer", "T1", "bus_fault.cog", "cog could not be computed, and no single field says why"),
    ],
)
def test_nothing_that_a_check_waits_for_is_left_out(
    asked_store: Store, book_of: Callable[[Store], Workbook], fill: Fill, kind: str, asset: str, field: str, told: str
) -> None:
    ask(asked_store, fill, 1, "ASH", kind, asset, field)
    assert told in [row["what is not on record"] for row in rows(book_of(asked_store)["Records to add"])]


def test_rows_beyond_a_sheet_go_on_to_the_next(
    asked_store: Store, book_of: Callable[[Store], Workbook], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(form, "ROWS_PER_SHEET", 2)
    book = book_of(asked_store)
    assert book.sheetnames[1:4] == ["North", "North (2)", "South"]
    assert [row["field"] for name in ("North", "North (2)") for row in rows(book[name])] == [
        *("impedance", "connected to grid", "lv neutral")
    ]
    assert list(offered(book, book["North (2)"])) == ["E2"]


def test_district_named_as_one_of_our_sheets_keeps_its_own(
    asked_store: Store, book_of: Callable[[Store], Workbook], fill: Fill
) -> None:
    fill(asked_store, "inventory.substation", {"substation": "FIR", "district": "Questions"})
    fill(asked_store, "inventory.bond", {"substation": "FIR", "bond": "BC1"})
    ask(asked_store, fill, 1, "FIR", "bond", "BC1", "joint")
    book = book_of(asked_store)
    assert rows(book["Questions (2)"])[0]["station"] == "FIR"
    assert "answer" in [cell.value for cell in book["Questions"][1]]


def test_question_goes_to_the_district_whose_stations_the_file_holds(
    filled_store: Store, book_of: Callable[[Store], Workbook], fill: Fill, question: dict[str, Any]
) -> None:
    fill(filled_store, "raw.question", question | {"question": 2, "file": None, "subject": "station"})
    first, second = rows(book_of(filled_store)["Questions"])
    assert (first["district"], first["about"], first["what was found"]) == (
        "North",
        "which field a heading feeds",
        "Amps",
    )
    assert (first["answer"], first["cells waiting"], first["cell"]) == (None, 3, "C5")
    assert (second["district"], second["about"]) == ("No district", QUESTION_SUBJECTS["station"])
    sheet = book_of(filled_store)["Questions"]
    open_cells = [cell.column_letter for cell in sheet[2] if not cell.protection.locked]
    assert [sheet[f"{letter}1"].value for letter in open_cells] == ["answer"]


def test_front_sheet_says_in_five_sentences_what_to_do(
    asked_store: Store, book_of: Callable[[Store], Workbook]
) -> None:
    sheet = book_of(asked_store)["What to do"]
    told = [str(row[0].value) for row in sheet.iter_rows() if row[0].value]
    assert [line[:2] for line in told[2:7]] == ["1.", "2.", "3.", "4.", "5."]
    assert "do not open, enter or approach live equipment" in told[4]
    assert "send it back" in told[6]
    counts = {row[0].value: row[1].value for row in sheet.iter_rows(min_row=8) if isinstance(row[1].value, int)}
    assert counts == {"North": 3, "South": 1, "No district": 1, "Questions": 0, "Records to add": 1}
    links = [row[0].hyperlink.location for row in sheet.iter_rows() if row[0].hyperlink]
    assert "'No district'!A1" in links


@pytest.mark.parametrize("name", ["What to do", "North", "Questions", "Records to add"])
def test_sheet_prints_on_a4_across(asked_store: Store, book_of: Callable[[Store], Workbook], name: str) -> None:
    sheet = book_of(asked_store)[name]
    assert (sheet.page_setup.orientation, int(sheet.page_setup.paperSize)) == ("landscape", 9)  # 9 is A4 in OOXML
    if name != "What to do":
        assert (sheet.print_title_rows, sheet.freeze_panes) == ("$1:$1", "A2")
    if name == "North":
        assert sheet.auto_filter.ref == "A1:J4"


def test_nothing_to_ask_is_said(empty_store: Store, book_of: Callable[[Store], Workbook]) -> None:
    book = book_of(empty_store)
    assert book.sheetnames == ["What to do", "Questions", "Records to add", "Words"]
    assert book["Questions"]["A2"].value == "No question is open."
    assert book["Records to add"]["A2"].value == "No check waits for a record that is not there."


def test_hostile_text_is_shown_as_text(
    asked_store: Store, book_of: Callable[[Store], Workbook], fill: Fill, hostile_text: str, question: dict[str, Any]
) -> None:
    fill(asked_store, "inventory.substation", {"substation": hostile_text, "district": hostile_text})
    fill(asked_store, "inventory.bond", {"substation": hostile_text, "bond": hostile_text})
    ask(asked_store, fill, 1, hostile_text, "bond", hostile_text, "joint", file=hostile_text, sheet=hostile_text)
    fill(asked_store, "raw.question", question | {"found": hostile_text, "answer": hostile_text})
    book = book_of(asked_store)
    assert "f" not in {cell.data_type for sheet in book for row in sheet.iter_rows() for cell in row}
    assert "joint" in [row["field"] for sheet in book if sheet["D1"].value == "field" for row in rows(sheet)]
