"""Reports of this program that lie among the records are passed over, or refused where they are named themselves."""

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from openpyxl import Workbook, load_workbook

from groundcheck.errors import NothingRead
from groundcheck.pipeline import audit
from groundcheck.schema.template import write_template
from groundcheck.store import Store

Read = Callable[..., Store]
BUSES = [["Station", "Bus", "Nominal voltage (kV)"], ["ASH", "B11", 11], ["ASH", "B33", "see drawing"]]
REPORTS = ("annotated/north.xlsx", "annotated/south.csv.xlsx", "exceptions.xlsx", "findings.csv", "outcomes.csv")
OURS = dict.fromkeys([f"out/{name}" for name in REPORTS], "a report of this program")


@pytest.fixture(scope="module")
def records_and_reports(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder of records in which the reports of an audit of them lie."""
    folder = tmp_path_factory.mktemp("audited")
    workbook = Workbook()
    workbook.active.title = "Buses"
    for row in BUSES:
        workbook.active.append(row)
    workbook.save(folder / "north.xlsx")
    (folder / "south.csv").write_text("Station,Bus,Nominal voltage (kV)\nELM,B6,6.6\nELM,B7,?x\n", encoding="utf-8")
    made = audit([folder])
    made.write(folder / "out", annotate=True)
    made.store.close()
    return folder


@pytest.fixture
def audited(records_and_reports: Path, tmp_path: Path) -> Path:
    """A copy of that folder."""
    return Path(shutil.copytree(records_and_reports, tmp_path, dirs_exist_ok=True))


def skipped(store: Store) -> dict[str, str]:
    return dict(store.sql("SELECT file, reason FROM raw.skipped WHERE file NOT LIKE '%.txt'").fetchall())


def test_reports_beside_the_records_are_passed_over_with_a_reason(audited: Path, read: Read) -> None:
    store = read([audited])
    assert skipped(store) == OURS | dict.fromkeys(
        ("out/inspection_findings.pdf", "out/report.html", "out/rulebook.html"), "of no kind that is read"
    )
    read_files = {file for (file,) in store.sql("SELECT file FROM raw.file").fetchall()}
    assert read_files == {"north.xlsx", "south.csv", "out/data_requests.xlsx"}
    assert store.sql("SELECT count(*) FROM inventory.bus").fetchall() == [(2,)]


@pytest.mark.parametrize("name", OURS)
def test_report_that_is_named_itself_is_refused(audited: Path, read: Read, name: str) -> None:
    store = read([audited / "north.xlsx", audited / name])
    (problem,) = store.sql("SELECT problem FROM raw.file WHERE problem IS NOT NULL").fetchall()
    assert problem[0].startswith("a report of this program, not a register: name the records that it was made from")


def test_report_alone_gives_nothing(audited: Path, read: Read) -> None:
    with pytest.raises(NothingRead, match=r"exceptions\.xlsx: a report of this program"):
        read([audited / "out" / "exceptions.xlsx"])


def test_report_is_known_after_it_was_saved_again_under_another_name(audited: Path, read: Read) -> None:
    workbook = load_workbook(audited / "out" / "exceptions.xlsx")
    workbook.save(audited / "for the meeting.xlsx")
    assert "for the meeting.xlsx" in skipped(read([audited]))


def test_marked_copy_whose_mark_was_taken_off_is_read(audited: Path, read: Read) -> None:
    workbook = load_workbook(audited / "out" / "annotated" / "north.xlsx")
    workbook.properties.category = None
    workbook.save(audited / "corrected.xlsx")
    assert "corrected.xlsx" not in skipped(read([audited]))


def test_list_with_other_headings_is_no_report(audited: Path, read: Read) -> None:
    text = (audited / "out" / "findings.csv").read_text(encoding="utf-8")
    (audited / "list.csv").write_text(text.replace("finding,rule", "finding,our rule", 1), encoding="utf-8")
    assert "list.csv" not in skipped(read([audited]))


def test_template_is_passed_over_until_it_is_filled_in(book: Callable[..., Path], read: Read, tmp_path: Path) -> None:
    register = book({"Buses": BUSES[:2]})
    write_template(tmp_path / "inventory.xlsx")
    assert skipped(read([tmp_path])) == {"inventory.xlsx": "a template of this program that is not filled in"}
    named = read([register, tmp_path / "inventory.xlsx"])
    (problem,) = named.sql("SELECT problem FROM raw.file WHERE problem IS NOT NULL").fetchall()
    assert problem[0].endswith("enter records under its headings")
    workbook = load_workbook(tmp_path / "inventory.xlsx")
    workbook["bus"].append([None, "ELM", "B6", 6.6])
    workbook.save(tmp_path / "inventory.xlsx")
    store = read([tmp_path])
    assert skipped(store) == {}
    assert store.sql("SELECT count(*) FROM inventory.bus").fetchall() == [(2,)]


def test_mutilated_workbook_is_left_to_the_reader_to_refuse(audited: Path, read: Read) -> None:
    whole = (audited / "out" / "exceptions.xlsx").read_bytes()
    (audited / "cut.xlsx").write_bytes(whole[: len(whole) // 2])
    shutil.rmtree(audited / "out")
    store = read([audited])
    assert skipped(store) == {}
    assert store.sql("SELECT file FROM raw.file WHERE problem IS NOT NULL").fetchall() == [("cut.xlsx",)]
