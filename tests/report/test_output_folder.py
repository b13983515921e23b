"""A folder that can't be written stops early; an earlier report is never half overwritten."""

from pathlib import Path

import pytest

from groundcheck.errors import OutputFolderError
from groundcheck.report import check_output_folder, write_reports
from groundcheck.report.folder import place_files
from groundcheck.store import Store

NAMES = (*("exceptions.xlsx", "data_requests.xlsx", "findings.csv", "outcomes.csv", "rulebook.html", "ingest_log.txt"),)


def test_folder_is_made(tmp_path: Path) -> None:
    assert check_output_folder(tmp_path / "a" / "b").is_dir()
    assert list((tmp_path / "a" / "b").iterdir()) == []


def test_file_in_place_of_the_folder_is_refused(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("a file")
    with pytest.raises(OutputFolderError) as refusal:
        check_output_folder(tmp_path / "out")
    out = tmp_path / "out"
    assert str(refusal.value) == (
        f"output folder {out}: {out} cannot be written (File exists); name another folder, or close the report"
    )


def test_report_held_by_a_folder_of_its_name_is_refused(tmp_path: Path) -> None:
    (tmp_path / "exceptions.xlsx").mkdir()
    with pytest.raises(OutputFolderError, match=r"exceptions\.xlsx cannot be written"):
        check_output_folder(tmp_path)


def test_earlier_reports_are_whole_when_a_later_one_fails(tmp_path: Path) -> None:
    (tmp_path / "findings.csv").write_text("earlier")

    def fail(path: Path) -> None:
        path.write_text("half")
        raise OSError(28, "No space left on device")

    with pytest.raises(OutputFolderError, match="No space left on device"):
        place_files(tmp_path, {"findings.csv": lambda path: path.write_text("later") and None, "outcomes.csv": fail})
    assert [path.name for path in tmp_path.iterdir()] == ["findings.csv"]
    assert (tmp_path / "findings.csv").read_text() == "earlier"


def test_reports_are_named_and_nothing_else_is_left(filled_store: Store, tmp_path: Path) -> None:
    paths = write_reports(filled_store, tmp_path)
    assert paths == [tmp_path / name for name in NAMES]
    assert sorted(tmp_path.iterdir()) == sorted(paths)


def test_copies_of_an_earlier_audit_do_not_linger(filled_store: Store, tmp_path: Path) -> None:
    (tmp_path / "annotated" / "north").mkdir(parents=True)
    (tmp_path / "annotated" / "north" / "gone.xlsx").write_text("earlier")
    paths = write_reports(filled_store, tmp_path, annotate=True)
    assert tmp_path / "annotated" in paths
    assert [path.name for path in (tmp_path / "annotated").rglob("*")] == []


def test_file_in_place_of_a_folder_to_be_stops_before_anything_is_moved(filled_store: Store, tmp_path: Path) -> None:
    (tmp_path / "annotated").write_text("a file of the user's")
    with pytest.raises(OutputFolderError, match="annotated cannot be written"):
        write_reports(filled_store, tmp_path, annotate=True)
    assert [path.name for path in tmp_path.iterdir()] == ["annotated"]


def test_equal_audits_give_equal_files(filled_store: Store, tmp_path: Path) -> None:
    first = [path.read_bytes() for path in write_reports(filled_store, tmp_path / "a")]
    second = [path.read_bytes() for path in write_reports(filled_store, tmp_path / "b")]
    assert first == second
