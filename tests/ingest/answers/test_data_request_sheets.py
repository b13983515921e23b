"""A data request is known by its headings, whatever a person or a program did to the rest of it."""

import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from groundcheck.ingest.proposals.propose import propose_columns
from groundcheck.store import Store

Read = Callable[..., Store]
Answers = Callable[..., Path]
ASKED = ["ASH", "neutral device", "NER1", "rated current", 630, "A"]
OPEN = ["ASH", "neutral device", "NER1", "rated time", None, "s"]
RATING = "SELECT rated_current FROM inventory.neutral_device WHERE substation = 'ASH'"


def account(store: Store, sheet: str = "North") -> tuple[Any, ...]:
    query = f"""
        SELECT rows_read, rows_used, rows_quarantined, heading_rows, note_rows, blank_rows FROM raw.account
        WHERE sheet = '{sheet}'
    """
    (row,) = store.sql(query).fetchall()
    return row


def test_row_without_a_value_is_a_note_and_the_account_adds_up(register: Path, answers: Answers, read: Read) -> None:
    refused = ["ASH", "neutral device", "NER9", "rated time", 10, "s"]
    nothing = ["ASH", "neutral device", "NER1", "reactance", "not known", "ohm", "nameplate painted over"]
    store = read([register, answers(ASKED, [], OPEN, refused, nothing)])
    assert account(store) == (6, 1, 1, 1, 2, 1)
    (remark,) = store.sql("SELECT remark FROM raw.account WHERE sheet = 'North'").fetchall()
    assert remark == ("a data request that came back: 2 with a value, 2 without",)


def test_columns_after_the_value_may_be_gone_and_others_reordered(register: Path, answers: Answers, read: Read) -> None:
    reordered = ["Value", " FIELD ", "asset", "remark of mine", "Kind  of asset", "station"]
    store = read(
        [register, answers([630, "rated current", "NER1", "found it", "neutral device", "ASH"], heads=reordered)]
    )
    assert store.sql(RATING).fetchall() == [(630.0,)]
    (origin,) = store.sql("SELECT column_letter FROM inventory.field_origin").fetchall()
    assert origin == ("A",)


def test_lines_above_the_headings_and_headings_repeated_are_no_answers(
    register: Path, answers: Answers, read: Read
) -> None:
    heads = ["station", "kind of asset", "asset", "field", "value", "unit"]
    path = answers([], heads, OPEN, heads, ASKED, heads=["answered by the north district"])
    store = read([register, path])
    assert store.sql(RATING).fetchall() == [(630.0,)]
    assert account(store) == (6, 1, 0, 2, 2, 1)


def test_hidden_rows_are_answers_too(register: Path, answers: Answers, read: Read) -> None:
    path = answers(OPEN, ASKED)
    workbook = load_workbook(path)
    workbook["North"].auto_filter.ref = "A1:F3"
    workbook["North"].row_dimensions[3].hidden = True
    workbook.save(path)
    assert read([register, path]).sql(RATING).fetchall() == [(630.0,)]


@pytest.mark.skipif(shutil.which("soffice") is None, reason="LibreOffice is not installed")
@pytest.mark.parametrize(("suffix", "unit"), [("ods", None), ("csv", None), ("ods", "kA"), ("csv", "kA")])
def test_data_request_saved_in_another_format_is_read(
    register: Path, answers: Answers, read: Read, suffix: str, unit: str | None
) -> None:
    path = answers([*ASKED[:4], "630 A" if unit else 630, unit])
    profile = f"-env:UserInstallation=file://{path.parent}/profile"
    command = ["soffice", profile, "--headless", "--convert-to", suffix, "--outdir", path.parent, path]
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    store = read([register, path.with_suffix(f".{suffix}")])
    assert store.sql(RATING).fetchall() == [(630.0,)]


def test_decimal_comma_of_the_file_holds_for_its_answers(
    register: Path, csv_file: Callable[..., Path], read: Read
) -> None:
    heads = ["station", "kind of asset", "asset", "field", "value", "unit"]
    path = csv_file([heads, [*ASKED[:4], "412,5", "A"]], name="answers.csv", delimiter=";")
    assert read([register, path]).sql(RATING).fetchall() == [(412.5,)]


def test_column_map_may_say_how_answers_are_written(
    register: Path, answers: Answers, read: Read, tmp_path: Path
) -> None:
    columns = tmp_path / "map.toml"
    columns.write_text('[[sheet]]\nmatch = "answers.xlsx"\nday_first = true\n')
    path = answers(["ASH", "neutral device", "NER1", "measured on", "03/04/2021"])
    query = "SELECT measured_on::DATE::VARCHAR FROM inventory.neutral_device WHERE substation = 'ASH'"
    assert read([register, path], columns=columns).sql(query).fetchall() == [("2021-04-03",)]
    undecided = read([register, path])
    assert undecided.sql(query).fetchall() == [(None,)]
    assert undecided.sql("SELECT cell FROM raw.unread_cell").fetchall() == [("E2",)]


def test_sheets_beside_the_answers_are_notes_that_say_what_to_do(
    register: Path, book: Callable[..., Path], read: Read
) -> None:
    path = book(
        {
            "What to do": [["Data requests"], ["sheet", "rows", "what stands there"]],
            "Questions": [["district", "question", "about", "what was found", "answer"], ["North", 1, "a", "b", "c"]],
            "Records to add": [
                ["district", "station", "kind of asset", "asset", "what is not on record", "checks waiting"],
                ["North", "FIR", "infeed", None, "no infeed on record for this station", 2],
            ],
            "Words": [["solid"], ["open"]],
        },
        name="answers.xlsx",
    )
    store = read([register, path])
    told = dict(store.sql("SELECT sheet, remark FROM raw.account WHERE file = 'answers.xlsx'").fetchall())
    assert "put the line of each answer there" in told["Questions"]
    assert "entered in a register" in told["Records to add"]
    assert [account(store, sheet)[4] for sheet in told] == [2, 2, 2, 2]
    assert store.sql("FROM inventory.substation WHERE substation = 'FIR'").fetchall() == []
    assert store.sql("FROM raw.question WHERE file = 'answers.xlsx'").fetchall() == []


def test_no_map_is_proposed_for_a_data_request(register: Path, answers: Answers) -> None:
    assert "answers.xlsx" not in propose_columns([register, answers(ASKED)])


def test_register_with_an_asset_and_a_value_is_no_data_request(
    register: Path, book: Callable[..., Path], read: Read
) -> None:
    inspections = [
        ["Station", "Inspection", "Asset", "Date", "Value", "Unit"],
        ["ASH", "I1", "NER1", "2024-03-31", 5, "ohm"],
    ]
    store = read([register, book({"Inspections": inspections}, name="rounds.xlsx")])
    assert store.sql("SELECT inspection FROM inventory.inspection").fetchall() == [("I1",)]
