"""A folder that can't be written stops early; an earlier report is never half overwritten."""

from pathlib import Path

import pytest

from groundcheck.errors import OutputFolderError, TemplateError
from groundcheck.report import Wishes, check_output_folder, write_reports
from groundcheck.report.beside import Beside
from groundcheck.report.folder import place_files
from groundcheck.store import Store

NAMES = (
    *("exceptions.xlsx", "report.html", "inspection_findings.pdf", "data_requests.xlsx", "findings.csv"),
    *("outcomes.csv", "rulebook.html", "ingest_log.txt"),
)


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
    paths = write_reports(filled_store, tmp_path, Wishes(annotate=True))
    assert tmp_path / "annotated" in paths
    assert [path.name for path in (tmp_path / "annotated").rglob("*")] == []


def test_file_in_place_of_a_folder_to_be_stops_before_anything_is_moved(filled_store: Store, tmp_path: Path) -> None:
    (tmp_path / "annotated").write_text("a file of the user's")
    with pytest.raises(OutputFolderError, match="annotated cannot be written"):
        write_reports(filled_store, tmp_path, Wishes(annotate=True))
    assert [path.name for path in tmp_path.iterdir()] == ["annotated"]


def test_equal_audits_give_equal_files(filled_store: Store, tmp_path: Path) -> None:
    first = [path.read_bytes() for path in write_reports(filled_store, tmp_path / "a")]
    second = [path.read_bytes() for path in write_reports(filled_store, tmp_path / "b")]
    assert first == second


def test_reports_that_go_with_a_large_fleet_or_a_wish_vanish_with_an_earlier_audit(
    filled_store: Store, tmp_path: Path
) -> None:
    write_reports(filled_store, tmp_path, Wishes(data=("csv",)))
    assert (tmp_path / "data" / "manifest.json").is_file()
    (tmp_path / "report_stations").mkdir()
    (tmp_path / "report_stations" / "ash.js").write_text("earlier")
    paths = write_reports(filled_store, tmp_path)
    assert sorted(tmp_path.iterdir()) == sorted(paths)
    assert paths == [tmp_path / name for name in NAMES]


@pytest.mark.parametrize("place", ["report_stations/notes.txt", "data/notes.txt"])
def test_what_no_audit_wrote_is_not_taken_away(filled_store: Store, tmp_path: Path, place: str) -> None:
    write_reports(filled_store, tmp_path, Wishes(data=("csv",)))
    (tmp_path / place).parent.mkdir(exist_ok=True)
    (tmp_path / place).write_text("mine")
    with pytest.raises(OutputFolderError) as refusal:
        write_reports(filled_store, tmp_path)
    assert str(refusal.value) == (
        f"output folder {tmp_path}: {place} was written by no audit, and would be taken away with the folder "
        f"{place.split('/')[0]} of an earlier one; move it, or name another folder"
    )
    assert (tmp_path / place).read_text() == "mine"


def test_stations_of_the_page_come_with_it(tmp_path: Path) -> None:
    def page(path: Path) -> None:
        path.write_text("page")
        (path.parent / "report_stations").mkdir()
        (path.parent / "report_stations" / "ash.js").write_text("new")

    (tmp_path / "report_stations").mkdir()
    (tmp_path / "report_stations" / "gone.js").write_text("earlier")
    placed = place_files(tmp_path, {"report.html": page})
    assert placed == [tmp_path / "report.html", tmp_path / "report_stations"]
    assert [path.name for path in (tmp_path / "report_stations").iterdir()] == ["ash.js"]


def test_report_with_a_place_of_its_own_is_moved_there_whole(filled_store: Store, tmp_path: Path) -> None:
    junit = tmp_path / "elsewhere" / "junit.xml"
    assert write_reports(filled_store, tmp_path / "out", Wishes(junit=junit))[-1] == junit
    assert [path.name for path in junit.parent.iterdir()] == ["junit.xml"]
    for taken in ("findings.csv", "data"):
        with pytest.raises(OutputFolderError, match="is a source or another report"):
            write_reports(filled_store, tmp_path / "out", Wishes(junit=tmp_path / "out" / taken))


def test_report_that_fails_is_named(tmp_path: Path) -> None:
    def fail(path: Path) -> None:
        raise OSError(28, "No space left on device")

    def fault(path: Path) -> None:
        raise ZeroDivisionError

    with pytest.raises(OutputFolderError, match=r": outcomes\.csv cannot be written \(No space left on device\)"):
        place_files(tmp_path, {"outcomes.csv": fail})
    with pytest.raises(ZeroDivisionError) as raised:
        place_files(tmp_path, {"outcomes.csv": fault})
    assert raised.value.__notes__ == ["while writing outcomes.csv"]
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("kept", [True, False])
def test_another_process_writes_the_same_workbook(filled_store: Store, tmp_path: Path, kept: bool) -> None:
    store = filled_store
    if kept:
        filled_store.copy_to(tmp_path / "kept.duckdb")
        store = Store(tmp_path / "kept.duckdb")
    beside = write_reports(store, tmp_path / "two", Wishes(sheet_by_district=True), beside=True)
    alone = write_reports(filled_store, tmp_path / "one", Wishes(sheet_by_district=True), beside=False)
    assert [path.name for path in beside] == [path.name for path in alone]
    assert (tmp_path / "two" / "exceptions.xlsx").read_bytes() == (tmp_path / "one" / "exceptions.xlsx").read_bytes()
    if kept:
        store.close()


def test_error_of_the_other_process_comes_back_in_its_words(filled_store: Store, tmp_path: Path) -> None:
    with Beside(filled_store) as beside:
        (tmp_path / "making").mkdir()
        (tmp_path / "making" / "exceptions.xlsx").mkdir()
        with pytest.raises(OutputFolderError, match=r": exceptions\.xlsx cannot be written \(.*[Dd]irectory"):
            place_files(
                tmp_path,
                {"exceptions.xlsx": lambda _: beside.start_workbook(tmp_path / "making" / "exceptions.xlsx", False)},
            )


def test_other_process_is_stopped_when_nobody_waits_for_it(filled_store: Store, tmp_path: Path) -> None:
    (tmp_path / "making").mkdir()
    with Beside(filled_store) as beside:
        beside.start_workbook(tmp_path / "making" / "exceptions.xlsx", False)
        process = beside.process
    assert process is not None
    assert process.poll() is not None


def test_unknown_wishes_are_refused(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match=r"^no format xml; known are parquet, csv, jsonl$"):
        Wishes(data=("xml",))
    with pytest.raises(TemplateError, match=r"own\.typ: no such file"):
        Wishes(memo_template=tmp_path / "own.typ")
    with pytest.raises(OutputFolderError, match="is a folder; name a file"):
        Wishes(junit=tmp_path)
