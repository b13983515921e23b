"""annotated/, read back: every offending cell is marked in a copy, and everything else stays what it was."""

import hashlib
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import openpyxl
import pytest
import xlsxwriter
from openpyxl.comments import Comment

from groundcheck.report import Wishes, write_reports
from groundcheck.report.annotated import comment
from groundcheck.store import Store

Fill = Callable[..., None]
TINT = {"high": "FFF2C4BD", "medium": "FFFAE3B4", "record": "FFCFE2F3"}


@pytest.fixture
def north(tmp_path: Path) -> Path:
    """The workbook that the filled store was read from."""
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Resistors"
    for row in ([], [], [], ["Register of North"], ["Site", "NER", "Amps"], ["ASH", "NR1", 400], ["ELM", "NR2", 300]):
        sheet.append(row or [None])
    sheet["B8"], sheet["C8"], sheet["D6"] = None, -5, "=C6*2"
    sheet["E6"].value = "=1+1"
    sheet["E6"].data_type = "s"  # a text that looks like a formula
    sheet["C6"].number_format = "0.0"
    sheet["C6"].comment = Comment("Read off the drawing.", "A. Reed")
    sheet.merge_cells("A9:A11")
    book.create_sheet("Notes")["A1"] = "kept"
    path = tmp_path / "north.xlsx"
    book.save(path)
    return path


@pytest.fixture
def store(filled_store: Store, north: Path) -> Store:
    """The filled store, which knows where its file lies."""
    name_file(filled_store, "north.xlsx", north)
    return filled_store


def name_file(store: Store, file: str, path: Path) -> None:
    """Say where a file of the store lies and what it held."""
    digest = hashlib.sha256(path.read_bytes()).hexdigest()
    store.connection.execute("UPDATE raw.file SET path = ?, sha256 = ? WHERE file = ?", [str(path), digest, file])


def copies(store: Store, folder: Path) -> Path:
    """Write the reports with the copies; the folder of these."""
    write_reports(store, folder, Wishes(annotate=True))
    return folder / "annotated"


def log(folder: Path) -> str:
    """What the log says of the copies, on one line."""
    text = (folder / "ingest_log.txt").read_text(encoding="utf-8")
    return " ".join(text.split("Marked copies of the sources")[1].split())


def test_offending_cells_are_filled_by_severity_and_commented(store: Store, tmp_path: Path) -> None:
    sheet = openpyxl.load_workbook(copies(store, tmp_path / "out") / "north.xlsx")["Resistors"]
    marked = {cell.coordinate: cell for row in sheet.iter_rows() for cell in row if cell.comment}
    assert set(marked) == {"C5", "C6", "C7", "C8"}
    tints = {name: cell.fill.fgColor.rgb for name, cell in marked.items()}
    # f-1 is a high finding at C6; f-3 a low one at C7; C8 decides a quarantined row; C5 is asked about.
    assert tints == {"C6": TINT["high"], "C7": "FFE4EAD2", "C8": TINT["record"], "C5": TINT["record"]}
    assert "Finding f-1, high: NR1 is rated 400 A; its duty is 640 A. Rule neutral-devices/rated-current." in (
        marked["C6"].comment.text
    )
    assert "the tag or the station is blank. Found: '-5'. Expected: a tag." in marked["C8"].comment.text
    assert "Question 1: which field a heading feeds. Found: 'Amps'." in marked["C5"].comment.text
    assert "3 cells wait for the answer." in marked["C5"].comment.text


def test_comment_that_was_there_stays_above_ours(store: Store, tmp_path: Path) -> None:
    sheet = openpyxl.load_workbook(copies(store, tmp_path / "out") / "north.xlsx")["Resistors"]
    assert sheet["C6"].comment.text.startswith("Read off the drawing.\n\nFinding f-1")


def test_everything_else_stays_what_it_was(store: Store, north: Path, tmp_path: Path) -> None:
    before = north.read_bytes()
    made = openpyxl.load_workbook(copies(store, tmp_path / "out") / "north.xlsx")
    assert north.read_bytes() == before
    original = openpyxl.load_workbook(north)
    assert made.sheetnames == original.sheetnames
    for sheet in original:
        for row in sheet.iter_rows():
            for cell in row:
                other = made[sheet.title][cell.coordinate]
                assert (other.value, other.data_type, other.number_format) == (
                    *(cell.value, cell.data_type, cell.number_format),
                )
    assert made["Resistors"]["D6"].data_type == "f"
    assert made["Resistors"]["E6"].data_type == "s"


def test_several_notes_on_one_cell_are_joined_and_the_rest_is_counted(
    store: Store, tmp_path: Path, fill: Fill, finding: dict[str, Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(comment, "LENGTH", 250)
    for number in range(5):
        fill(store, "audit.finding", finding | {"finding": f"g-{number}", "message": "x" * 60, "severity": "medium"})
    sheet = openpyxl.load_workbook(copies(store, tmp_path / "out") / "north.xlsx")["Resistors"]
    text = sheet["C6"].comment.text
    assert text.count("Finding ") == 2
    assert text.endswith("And 4 more notes on this cell; see exceptions.xlsx.")
    assert sheet["C6"].fill.fgColor.rgb == TINT["high"]


def test_note_on_a_cell_inside_a_merged_one_stands_at_its_first(store: Store, tmp_path: Path, fill: Fill) -> None:
    unread = {"file": "north.xlsx", "sheet": "Resistors", "row": 10, "cell": "A10", "field": "substation"}
    fill(store, "raw.unread_cell", unread | {"target_table": "neutral_device", "expected": "a tag"})
    sheet = openpyxl.load_workbook(copies(store, tmp_path / "out") / "north.xlsx")["Resistors"]
    assert "Not read, and blank in the study (neutral device, substation)." in sheet["A9"].comment.text


def test_both_values_of_a_contradiction_are_marked_and_name_each_other(
    store: Store, tmp_path: Path, fill: Fill
) -> None:
    store.connection.execute("UPDATE raw.column_map SET field = 'rated_current' WHERE column_letter = 'C'")
    both = {"substation": "ASH", "asset_kind": "neutral_device", "asset": "NR1", "field": "rated_current"}
    values = {"value_a": "400", "raw_row_a": 6, "value_b": "300", "raw_row_b": 7}
    fill(store, "inventory.contradiction", both | values)
    sheet = openpyxl.load_workbook(copies(store, tmp_path / "out") / "north.xlsx")["Resistors"]
    told = "rated current (A) of neutral device NR1, ASH is"
    assert f"{told} 400 here and 300 in north.xlsx · Resistors · C7." in sheet["C6"].comment.text
    assert f"{told} 300 here and 400 in north.xlsx · Resistors · C6." in sheet["C7"].comment.text


def test_macros_are_copied(store: Store, tmp_path: Path, fill: Fill) -> None:
    (tmp_path / "project.bin").write_bytes(b"macros of the district")
    path = tmp_path / "south.xlsm"
    with xlsxwriter.Workbook(path) as book:
        book.add_vba_project(str(tmp_path / "project.bin"))
        book.add_worksheet("Plant").write("A1", "Tag")
    fill(store, "raw.file", {"file": "south.xlsm", "size": 1, "reader": "workbook"})
    name_file(store, "south.xlsm", path)
    fill(
        store, "raw.question", {"question": 2, "subject": "table", "file": "south.xlsm", "sheet": "Plant", "cell": "A1"}
    )
    made = copies(store, tmp_path / "out") / "south.xlsm"
    with zipfile.ZipFile(made) as archive:
        assert archive.read("xl/vbaProject.bin") == b"macros of the district"
    assert openpyxl.load_workbook(made)["Plant"]["A1"].comment is not None


def test_file_that_has_changed_since_is_left_out_and_said(store: Store, north: Path, tmp_path: Path) -> None:
    north.write_bytes(north.read_bytes() + b" ")
    assert list(copies(store, tmp_path / "out").iterdir()) == []
    assert f"not marked: {north} has changed since it was read: audit it again" in log(tmp_path / "out")


def test_file_that_is_gone_is_left_out_and_said(store: Store, north: Path, tmp_path: Path) -> None:
    north.unlink()
    assert list(copies(store, tmp_path / "out").iterdir()) == []
    assert f"{north} cannot be opened (No such file or directory)" in log(tmp_path / "out")


def test_log_tells_what_copying_loses_and_what_became_of_each_file(store: Store, tmp_path: Path) -> None:
    copies(store, tmp_path / "out")
    told = log(tmp_path / "out")
    assert "It may lose images, charts" in told
    assert "north.xlsx 4 cells marked" in told
    assert "broken.xlsx not read, and so not marked" in told


def test_copies_are_made_only_when_asked_for(store: Store, tmp_path: Path) -> None:
    write_reports(store, tmp_path / "out")
    assert not (tmp_path / "out" / "annotated").exists()
    assert "None were asked for; the option --annotate" in log(tmp_path / "out")


def csv_store(store: Store, fill: Fill, texts: list[str]) -> Store:
    """A store of one csv file with a heading and a row, whose second cell is in quarantine."""
    fill(store, "raw.file", {"file": "south.csv", "sha256": "s", "size": 1, "reader": "csv"})
    place = {"file": "south.csv", "sheet": "south", "region": 1}
    fill(store, "raw.row", place | {"raw_row": 1, "row": 2, "use": "heading", "cells": ["Site", "Tag"]})
    fill(store, "raw.row", place | {"raw_row": 2, "row": 4, "use": "quarantine", "cells": texts})
    found = {"file": "south.csv", "sheet": "south", "row": 4, "reason": "key_missing", "found": texts[1]}
    fill(store, "raw.quarantine", found | {"cell": "B4", "raw_row": 2, "expected": "a tag"})
    return store


def test_csv_file_becomes_a_workbook_of_the_cells_as_read(empty_store: Store, tmp_path: Path, fill: Fill) -> None:
    made = copies(csv_store(empty_store, fill, ["ASH", "007"]), tmp_path / "out") / "south.csv.xlsx"
    sheet = openpyxl.load_workbook(made)["south"]
    assert [[cell.value for cell in row] for row in sheet.iter_rows()] == [
        [None, None],
        ["Site", "Tag"],
        [None, None],
        ["ASH", "007"],
    ]
    assert "Row in quarantine, used for nothing: the tag or the station is blank." in sheet["B4"].comment.text
    assert sheet["B4"].fill.fgColor.rgb == TINT["record"]


def test_hostile_text_of_a_csv_file_is_text(empty_store: Store, tmp_path: Path, fill: Fill, hostile_text: str) -> None:
    made = copies(csv_store(empty_store, fill, ["ASH", hostile_text]), tmp_path / "out") / "south.csv.xlsx"
    sheet = openpyxl.load_workbook(made)["south"]
    assert sheet["B4"].data_type in ("s", "inlineStr")
    assert sheet["B4"].comment is not None


def test_sheet_with_a_column_an_asset_is_laid_out_as_it_stood(empty_store: Store, tmp_path: Path, fill: Fill) -> None:
    fill(empty_store, "raw.file", {"file": "plant.ods", "sha256": "s", "size": 1, "reader": "ods"})
    fill(empty_store, "raw.account", {"file": "plant.ods", "sheet": "Plant", "turned": True})
    for column, cells in ((1, ["Tag", "Amps"]), (2, ["NR1", "many"])):
        row = {"raw_row": column, "file": "plant.ods", "sheet": "Plant", "row": column, "region": 1}
        fill(empty_store, "raw.row", row | {"use": "inventory", "cells": cells})
    place = {"file": "plant.ods", "sheet": "Plant", "row": 2, "raw_row": 2}
    fill(empty_store, "raw.quarantine", place | {"cell": None, "reason": "duplicate", "expected": "one row"})
    sheet = openpyxl.load_workbook(copies(empty_store, tmp_path / "out") / "plant.ods.xlsx")["Plant"]
    assert [[cell.value for cell in row] for row in sheet.iter_rows()] == [["Tag", "NR1"], ["Amps", "many"]]
    assert sheet["B1"].comment is not None


def test_workbook_that_cannot_be_copied_is_made_from_its_rows(store: Store, north: Path, tmp_path: Path) -> None:
    north.write_bytes(b"PK\x03\x04 no workbook")
    name_file(store, "north.xlsx", north)
    folder = copies(store, tmp_path / "out")
    assert [path.name for path in folder.iterdir()] == ["north.xlsx.xlsx"]
    assert openpyxl.load_workbook(folder / "north.xlsx.xlsx")["Resistors"]["C6"].comment is not None
    assert "can't be copied (BadZipFile), so it was made from the rows as read" in log(tmp_path / "out")


def test_files_of_one_name_in_two_folders_keep_their_folders(empty_store: Store, tmp_path: Path, fill: Fill) -> None:
    for file in ("a/south.csv", "b/south.csv", "../south.csv"):
        fill(empty_store, "raw.file", {"file": file, "sha256": file, "size": 1, "reader": "csv"})
        fill(empty_store, "raw.quarantine", {"file": file, "sheet": "south", "row": 1, "reason": "no_table"})
    folder = copies(empty_store, tmp_path / "out")
    made = sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*.xlsx"))
    assert made == ["a/south.csv.xlsx", "b/south.csv.xlsx", "south.csv.xlsx"]


def test_finding_without_a_cell_is_counted_in_the_log(
    store: Store, tmp_path: Path, fill: Fill, finding: dict[str, Any]
) -> None:
    fill(store, "audit.finding", finding | {"finding": "f-9", "cell": None})
    copies(store, tmp_path / "out")
    assert "north.xlsx 4 cells marked; 1 note has no cell to stand at" in log(tmp_path / "out")
