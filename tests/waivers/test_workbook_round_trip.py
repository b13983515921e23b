"""What a person fills in in exceptions.xlsx is read back, carried into the next workbook, and never lost unsaid."""

import shutil
import subprocess
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from waivers_world import FIRST, RATED, SECOND, put_findings

from groundcheck.errors import OutputFolderError, WaiverError
from groundcheck.report import write_reports
from groundcheck.store import Store
from groundcheck.waivers import gather_waivers, merge_account, waivers_text

Judge = Callable[..., dict[str, tuple[str, str | None]]]
Fill = Callable[..., Path]
ACCEPTED: dict[str, Any] = {
    "disposition": "accepted",
    "by": "A. Owner",
    "until": date(2099, 3, 31),
    "remark": "replacement ordered",
}
SOFFICE = shutil.which("soffice")


def test_accepted_row_is_a_waiver_with_its_numbers(report: Callable[[], Path], fill_in: Fill) -> None:
    path = fill_in(report(), FIRST, **ACCEPTED)
    (waiver,) = gather_waivers([path]).waivers.values()
    assert (waiver.by, waiver.reason, waiver.until) == ("A. Owner", "replacement ordered", date(2099, 3, 31))
    assert (waiver.actual, waiver.required, waiver.unit, waiver.severity) == (400.0, 640.0, "A", "high")
    assert (waiver.rule, waiver.substation, waiver.asset) == (RATED["rule"], "ASH", "NR1")


def test_waiver_goes_round_workbook_audit_workbook_and_file(
    report: Callable[[], Path], fill_in: Fill, waive: Judge, tmp_path: Path
) -> None:
    path = fill_in(report(), FIRST, **ACCEPTED)
    first = waivers_text(gather_waivers([path]).waivers.values())
    for _ in range(3):
        assert waive(path)[FIRST] == ("waived", "waived by A. Owner until 2099-03-31: replacement ordered")
        assert waive(path)[SECOND] == ("open", None)
        path = report()
    assert waivers_text(gather_waivers([path]).waivers.values()) == first
    (tmp_path / "waivers.toml").write_text(first)
    assert waive(tmp_path / "waivers.toml")[FIRST][0] == "waived"


@pytest.mark.skipif(SOFFICE is None, reason="LibreOffice is not installed")
def test_workbook_saved_by_another_program_says_the_same(
    report: Callable[[], Path], fill_in: Fill, tmp_path: Path
) -> None:
    path = fill_in(report(sheet_by_district=True), FIRST, **ACCEPTED)
    path = fill_in(path, SECOND, sheet="North", disposition="disputed", by="B. Planner")
    profile = f"-env:UserInstallation={(tmp_path / 'profile').as_uri()}"
    for kind in ("xlsx", "ods"):
        command = [SOFFICE, profile, "--headless", "--convert-to", kind, "--outdir", tmp_path / kind, path]
        subprocess.run(command, check=True, capture_output=True, timeout=120)
        again = gather_waivers([tmp_path / kind / f"exceptions.{kind}"])
        (waiver,), (known,) = again.waivers.values(), gather_waivers([path]).waivers.values()
        assert waiver.says_the_same_as(known)
        assert (waiver.actual, waiver.required) == (known.actual, known.required)
        assert [(said.finding, said.disposition) for said in again.said] == [(FIRST, "accepted"), (SECOND, "disputed")]


@pytest.mark.parametrize("text", ["=1+1", "@SUM(A1)", "_x0041_", "<r>a</r>", "two\nlines", "محطة\u202e", "'quoted"])
def test_hostile_text_goes_round_and_is_not_taken_for_a_change(
    store: Store, report: Callable[[], Path], fill_in: Fill, waive: Judge, toml: Callable[..., Path], text: str
) -> None:
    put_findings(store, RATED | {"asset": text + "\x07", "actual": text, "actual_value": None})
    ((finding,),) = store.sql("SELECT finding FROM audit.finding").fetchall()
    path = toml({"finding": finding, "by": "x", "reason": "y", "until": date(2099, 1, 1)})
    path.write_text(path.read_text().replace('"x"', f'"""{text}"""').replace('"y"', f'"""{text}"""'))
    assert waive(path)[finding][0] == "waived"
    workbook = report()
    again = gather_waivers([workbook])
    assert again.said == []
    (waiver,) = again.waivers.values()
    assert (waiver.by, waiver.reason) == (text, text)
    assert waive(workbook)[finding] == ("waived", f"waived by {text} until 2099-01-01: {text}")


@pytest.mark.parametrize(
    ("cells", "said"),
    [
        ({"by": None}, "cell N2: blank, but finding {} is accepted; expected the name of the person who accepts it"),
        ({"until": None}, "cell O2: blank, but finding {} is accepted; expected the last day of the acceptance, such "
         "as 2027-03-31"),
        ({"remark": " "}, "cell P2: blank, but finding {} is accepted; expected the reason why it is accepted"),
        ({"until": "31.03.2027"}, "cell O2: '31.03.2027' is no date; expected one such as 2027-03-31, year first"),
        ({"until": "2027-02-30"}, "cell O2: '2027-02-30' is no date; expected one such as 2027-03-31, year first"),
        ({"disposition": "acepted"}, "cell M2: 'acepted' is no disposition; nearest is accepted, expected open, "
         "accepted, corrected, disputed"),
        ({"disposition": "open"}, "cell O2: finding {} is open until 2099-03-31, which says nothing; choose accepted "
         "in M2, or clear the date"),
        ({"remark": "x" * 4_001}, "cell P2: 4,001 characters; expected at most 4,000"),
    ],
)  # fmt: skip
def test_row_filled_in_by_half_is_named_with_its_cell(
    report: Callable[[], Path], fill_in: Fill, cells: dict[str, Any], said: str
) -> None:
    path = fill_in(report(), FIRST, **(ACCEPTED | cells))
    with pytest.raises(WaiverError) as refusal:
        gather_waivers([path])
    assert str(refusal.value) == f"{path}, sheet Exceptions, {said.format(FIRST)}"


@pytest.mark.parametrize("other", ["F0", SECOND])
def test_row_that_belongs_to_another_finding_is_refused(report: Callable[[], Path], fill_in: Fill, other: str) -> None:
    path = fill_in(report(), FIRST, **ACCEPTED)
    book = openpyxl.load_workbook(path)
    book["Exceptions"]["A2"] = other  # as if the first columns alone had been sorted
    book.save(path)
    with pytest.raises(WaiverError) as refusal:
        gather_waivers([path])
    assert str(refusal.value) == (
        f"{path}, sheet Exceptions, cell A2: '{other}' is not the finding that the audit wrote into this row; rows "
        "were sorted in part, copied in or overwritten: fill in the workbook as the audit left it"
    )


def test_iso_text_and_other_case_are_read(report: Callable[[], Path], fill_in: Fill) -> None:
    path = fill_in(report(), FIRST, **(ACCEPTED | {"until": "2099-03-31", "disposition": " Accepted"}))
    assert gather_waivers([path]).waivers[FIRST].until == date(2099, 3, 31)


def test_workbook_of_another_kind_is_refused(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    book.save(tmp_path / "other.xlsx")
    with pytest.raises(WaiverError, match=r"has no sheet Exceptions; expected an exceptions\.xlsx that an audit wrote"):
        gather_waivers([tmp_path / "other.xlsx"])
    book.active.title = "Exceptions"
    book.save(tmp_path / "other.xlsx")
    with pytest.raises(WaiverError, match="hidden column 'as written' are not all there"):
        gather_waivers([tmp_path / "other.xlsx"])
    (tmp_path / "broken.xlsx").write_bytes(b"PK\x03\x04 cut short")
    with pytest.raises(WaiverError, match=r"broken\.xlsx: cannot be read as a workbook"):
        gather_waivers([tmp_path / "broken.xlsx"])


def test_worse_finding_is_open_in_the_next_workbook_and_can_be_accepted_anew(
    store: Store, report: Callable[[], Path], fill_in: Fill, waive: Judge
) -> None:
    waive(fill_in(report(), FIRST, **ACCEPTED))
    path = report()
    put_findings(store, RATED | {"required_value": 700.0, "required": "700"})
    worse = ("open", "worse than when A. Owner waived it: required 640 A then, 700 A now")
    assert waive(path)[FIRST] == worse
    path = report()
    assert waive(path)[FIRST] == worse  # still told, though nobody has said anything since
    assert waive(fill_in(report(), FIRST, **ACCEPTED))[FIRST][0] == "waived"
    path = report()
    put_findings(store, RATED | {"required_value": 705.0, "required": "705"})
    assert waive(path)[FIRST][0] == "waived"  # within the share of 700 A


def test_acceptance_is_withdrawn_by_setting_the_row_to_open(
    report: Callable[[], Path], fill_in: Fill, waive: Judge
) -> None:
    waive(fill_in(report(), FIRST, **ACCEPTED))
    cleared = {"disposition": "open", "by": None, "until": None, "remark": None}
    assert waive(fill_in(report(), FIRST, **cleared))[FIRST] == ("open", None)
    assert waive(report())[FIRST] == ("open", None)


@pytest.mark.parametrize("disposition", ["corrected", "disputed", "open"])
def test_other_dispositions_are_carried_and_waive_nothing(
    store: Store, report: Callable[[], Path], fill_in: Fill, waive: Judge, disposition: str
) -> None:
    said = {"disposition": disposition, "by": "B. Planner", "remark": "measured 640 A"}
    for _ in range(2):
        assert waive(fill_in(report(), FIRST, **said))[FIRST] == ("open", None)
        (told,) = gather_waivers([report()]).dispositions.values()
        assert (told.disposition, told.by, told.remark) == (disposition, "B. Planner", "measured 640 A")


def test_waiver_file_that_is_behind_does_not_undo_what_the_workbook_says(
    report: Callable[[], Path], fill_in: Fill, waive: Judge, toml: Callable[..., Path]
) -> None:
    entry = {"finding": FIRST, "by": "A. Owner", "reason": "ordered", "until": date(2099, 1, 1)}
    path = toml(entry)
    waive(path)
    longer = "waived by A. Owner until 2099-12-31: ordered"
    assert waive(path, fill_in(report(), FIRST, until=date(2099, 12, 31)))[FIRST][1] == longer
    assert waive(path, report())[FIRST][1] == longer
    assert waive(report(), path)[FIRST][1] == longer
    path = toml(entry | {"until": date(2099, 6, 30)})  # the file says something new
    assert waive(path, report())[FIRST][1] == "waived by A. Owner until 2099-06-30: ordered"
    path = toml(entry)  # and is put back
    assert waive(path, report())[FIRST][1] == "waived by A. Owner until 2099-01-01: ordered"


def test_withdrawal_in_the_workbook_outlasts_the_waiver_file(
    report: Callable[[], Path], fill_in: Fill, waive: Judge, toml: Callable[..., Path]
) -> None:
    path = toml({"finding": FIRST, "by": "A. Owner", "reason": "ordered", "until": date(2099, 1, 1)})
    waive(path)
    cleared = {"disposition": "open", "by": None, "until": None, "remark": None}
    for workbook in (fill_in(report(), FIRST, **cleared), None, None):
        assert waive(path, workbook or report())[FIRST] == ("open", None)


def test_later_file_wins(waive: Judge, toml: Callable[..., Path]) -> None:
    entry = {"finding": FIRST, "by": "A. Owner", "reason": "ordered", "until": date(2099, 1, 1)}
    one, two = toml(entry, name="one.toml"), toml(entry | {"by": "B"}, name="two.toml")
    assert waive(one, two)[FIRST][1] == "waived by B until 2099-01-01: ordered"
    assert waive(two, one)[FIRST][1] == "waived by A. Owner until 2099-01-01: ordered"


def test_deleted_line_of_the_waivers_sheet_is_asked_about(
    report: Callable[[], Path], fill_in: Fill, waive: Judge
) -> None:
    waive(fill_in(report(), FIRST, **ACCEPTED))
    path = report()
    book = openpyxl.load_workbook(path)
    book["Waivers"].delete_rows(2)
    book.save(path)
    with pytest.raises(WaiverError, match="accepted, but the sheet Waivers does not list the finding any more; set it"):
        gather_waivers([path])


def test_merge_tells_what_it_took(toml: Callable[..., Path]) -> None:
    entry = {"by": "A", "reason": "ordered", "until": date(2099, 1, 1)}
    one = gather_waivers([toml(*({"finding": name} | entry for name in ("F1", "F2")), name="one.toml")])
    path = toml({"finding": "F2"} | entry | {"by": "B"}, {"finding": "F3"} | entry, name="two.toml")
    assert merge_account(one, gather_waivers([path])) == [
        f"changed:   F2 by B until 2099-01-01, from {path}",
        f"new:       F3 by A until 2099-01-01, from {path}",
        "withdrawn: F1 by A until 2099-01-01",
        "2 in all, 0 as they were",
    ]


@pytest.mark.parametrize("cells", [ACCEPTED, {"disposition": "disputed"}, {"remark": "a note"}])
def test_workbook_filled_in_is_not_overwritten_by_an_audit_that_was_not_told(
    store: Store, report: Callable[[], Path], fill_in: Fill, waive: Judge, cells: dict[str, Any]
) -> None:
    path = fill_in(report(), FIRST, **cells)
    before = path.read_bytes()
    with pytest.raises(OutputFolderError) as refusal:
        write_reports(store, path.parent)
    assert str(refusal.value) == (
        f"output folder {path.parent}: exceptions.xlsx there holds 1 disposition that this audit was not told, the "
        f"first in sheet Exceptions, cell M2, of finding {FIRST}, and would be overwritten; give it with "
        f"--waivers {path}, move it, or name another folder"
    )
    assert path.read_bytes() == before
    waive(path)
    write_reports(store, path.parent)
    waive()  # an audit later that is not told either: what it carries along would be lost
    with pytest.raises(OutputFolderError, match="holds 1 disposition that this audit was not told"):
        write_reports(store, path.parent)


def test_workbook_whose_waivers_are_in_the_file_given_may_be_overwritten(
    store: Store, report: Callable[[], Path], fill_in: Fill, waive: Judge, tmp_path: Path
) -> None:
    path = fill_in(report(), FIRST, **ACCEPTED)
    (tmp_path / "waivers.toml").write_text(waivers_text(gather_waivers([path]).waivers.values()))
    waive(tmp_path / "waivers.toml")
    write_reports(store, path.parent)
    waive()  # the file keeps it
    write_reports(store, path.parent)


def test_disposition_on_the_sheet_of_a_district_is_read_and_carried(
    report: Callable[..., Path], fill_in: Fill, waive: Judge
) -> None:
    path = fill_in(report(sheet_by_district=True), FIRST, sheet="North", **ACCEPTED)
    for _ in range(2):
        assert waive(path)[FIRST] == ("waived", "waived by A. Owner until 2099-03-31: replacement ordered")
        (waiver,) = gather_waivers([path]).waivers.values()
        path = report(sheet_by_district=True)
    assert waiver.place == "sheet Waivers, row 2"  # carried along
    book = openpyxl.load_workbook(path)
    for sheet in (book["Exceptions"], book["North"]):
        assert [sheet.cell(row, 13).value for row in (2, 3)] == ["open", "accepted"]
    again = fill_in(path, FIRST, sheet="North", disposition="open", by=None, until=None, remark=None)
    assert waive(again)[FIRST] == ("open", None)


def test_same_words_on_two_sheets_are_said_once(report: Callable[..., Path], fill_in: Fill) -> None:
    path = fill_in(report(sheet_by_district=True), FIRST, **ACCEPTED)
    path = fill_in(path, FIRST, sheet="North", **(ACCEPTED | {"remark": " replacement ordered "}))
    says = gather_waivers([path])
    assert [waiver.place for waiver in says.waivers.values()] == ["sheet Exceptions, M2"]
    assert len(says.said) == 1


def test_different_words_on_two_sheets_are_a_conflict_with_both_cells(
    report: Callable[..., Path], fill_in: Fill
) -> None:
    path = fill_in(report(sheet_by_district=True), SECOND, **ACCEPTED)
    path = fill_in(path, SECOND, sheet="North", disposition="disputed", remark="measured")
    with pytest.raises(WaiverError) as refusal:
        gather_waivers([path])
    assert str(refusal.value) == (
        f"{path}: finding {SECOND} is filled in twice, 'accepted by A. Owner until 2099-03-31: replacement ordered' in "
        "sheet Exceptions, cell M3, and 'disputed: measured' in sheet North, cell M3; let both say the same, or clear "
        "one of them"
    )


def test_sheet_of_a_district_filled_in_is_not_overwritten_unread(
    store: Store, report: Callable[..., Path], fill_in: Fill, waive: Judge
) -> None:
    path = fill_in(report(sheet_by_district=True), FIRST, sheet="North", **ACCEPTED)
    with pytest.raises(OutputFolderError, match=r"holds 1 disposition that .* in sheet North, cell M2, of finding"):
        write_reports(store, path.parent)
    path = fill_in(path, FIRST, **ACCEPTED)  # the same on Exceptions is one disposition still
    with pytest.raises(OutputFolderError, match=r"holds 1 disposition that .* in sheet Exceptions, cell M2, of"):
        write_reports(store, path.parent)
    waive(path)
    write_reports(store, path.parent)


def test_sheet_of_a_district_may_be_renamed(report: Callable[..., Path], fill_in: Fill) -> None:
    path = fill_in(report(sheet_by_district=True), FIRST, sheet="North", **ACCEPTED)
    book = openpyxl.load_workbook(path)
    book["North"].title = "For B. Planner"
    book.save(path)
    (waiver,) = gather_waivers([path]).waivers.values()
    assert waiver.place == "sheet For B. Planner, M2"
