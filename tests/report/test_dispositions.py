"""The cells beside each finding in which a person says what is to become of it, and how waived findings are shown."""

from collections.abc import Callable
from datetime import date, datetime
from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.worksheet.worksheet import Worksheet

from groundcheck.policy import load_policy
from groundcheck.report import overview, write_reports
from groundcheck.store import Store
from groundcheck.waivers import Gathered, apply_waivers
from groundcheck.waivers.waiver import Waiver

FILLED_IN = ("disposition", "by", "until", "remark")


@pytest.fixture
def waived_store(filled_store: Store) -> Store:
    """Of three findings f-1, the gravest, is waived; so is f-2, whose waiver has expired, and f-9, which is gone."""
    last_days = {"f-1": date(2026, 3, 31), "f-2": date(2025, 12, 31), "f-9": date(2026, 3, 31)}
    waivers = {name: Waiver(name, "A. Owner", "ordered", until) for name, until in last_days.items()}
    apply_waivers(filled_store, Gathered(waivers), load_policy(), date(2026, 1, 1))
    return filled_store


def book_of(store: Store, folder: Path) -> Workbook:
    write_reports(store, folder)
    return load_workbook(folder / "exceptions.xlsx")


def column(sheet: Worksheet, head: str) -> int:
    return [cell.value for cell in sheet[1]].index(head) + 1


def rows(sheet: Worksheet) -> list[dict[str, Any]]:
    heads, *body = sheet.iter_rows(values_only=True)
    return [dict(zip(heads, row, strict=True)) for row in body]


def test_cells_to_fill_in_are_open_to_a_person(filled_store: Store, tmp_path: Path) -> None:
    sheet = book_of(filled_store, tmp_path)["Exceptions"]
    for head in FILLED_IN:
        cell = sheet.cell(2, column(sheet, head))
        assert not cell.protection.locked
        assert sheet.column_dimensions[cell.column_letter].width >= 10
    assert sheet.cell(2, column(sheet, "until")).number_format == "yyyy-mm-dd"
    assert sheet.cell(2, column(sheet, "by")).number_format == "@"
    assert sheet.cell(2, column(sheet, "finding")).protection.locked
    assert sheet.column_dimensions[sheet.cell(1, column(sheet, "as written")).column_letter].hidden


def test_words_and_dates_are_offered_for_every_row(filled_store: Store, tmp_path: Path) -> None:
    sheet = book_of(filled_store, tmp_path)["Exceptions"]
    rules = {rule.type: rule for rule in sheet.data_validations.dataValidation}
    assert rules["list"].formula1 == '"open,accepted,corrected,disputed"'
    for kind, head in (("list", "disposition"), ("date", "until")):
        letter = sheet.cell(1, column(sheet, head)).column_letter
        assert str(rules[kind].sqref) == f"{letter}2:{letter}4"


def test_waived_findings_come_last(waived_store: Store, tmp_path: Path) -> None:
    sheet = book_of(waived_store, tmp_path)["Exceptions"]
    found = rows(sheet)
    assert [(row["finding"], row["status"]) for row in found] == [("f-2", "open"), ("f-3", "open"), ("f-1", "waived")]
    assert [row["waiver"] for row in found] == [
        "waiver by A. Owner expired 2025-12-31",
        None,
        "waived by A. Owner until 2026-03-31: ordered",
    ]
    told = [tuple(row[head] for head in FILLED_IN) for row in found]
    assert told == [("open", None, None, None)] * 2 + [("accepted", "A. Owner", datetime(2026, 3, 31), "ordered")]


def test_every_waiver_is_listed_with_what_became_of_it(waived_store: Store, tmp_path: Path) -> None:
    listed = rows(book_of(waived_store, tmp_path)["Waivers"])
    assert [(row["state"], row["finding"]) for row in listed] == [
        ("expired: open again", "f-2"),
        ("in force", "f-1"),
        ("finding is gone", "f-9"),
    ]
    assert listed[1]["until"] == datetime(2026, 3, 31)
    assert (listed[1]["actual now"], listed[1]["required now"]) == (400, 640)
    assert (listed[1]["asset"], listed[1]["district"]) == ("NR1", "North")


def test_counts_are_of_open_findings_and_waived_ones_stand_apart(waived_store: Store, tmp_path: Path) -> None:
    assert overview.findings_by_severity(waived_store) == {"high": 0, "medium": 1, "low": 1}
    assert overview.waived_by_severity(waived_store) == {"high": 1, "medium": 0, "low": 0}
    assert overview.outcomes(waived_store).verdict.startswith("2 findings open, 1 waived. Checks satisfied: 4;")
    assert overview.waivers_that_do_not_hold(waived_store) == [
        "1 waiver expired, open again: sheet Waivers",
        "1 waiver of what is no finding any more: sheet Waivers",
    ]
    summary = list(book_of(waived_store, tmp_path)["Summary"].iter_rows(values_only=True))
    assert ("North", 1, "1 more waived", 0, 1, 0, 1) in summary
    assert ("all districts", 2, "1 more waived", 0, 1, 1, 2) in summary
    assert [row[0] for row in summary if str(row[0]).startswith("Waivers: ")] == [
        "Waivers: 1 in force, 1 expired: open again, 1 finding is gone; sheet Waivers."
    ]


def test_findings_csv_has_status_and_waiver(waived_store: Store, tmp_path: Path) -> None:
    write_reports(waived_store, tmp_path)
    lines = (tmp_path / "findings.csv").read_text(encoding="utf-8").splitlines()
    assert [line.split(",")[0] for line in lines] == ["finding", "f-2", "f-3", "f-1"]
    assert lines[-1].endswith(",waived by A. Owner until 2026-03-31: ordered")


def test_hostile_name_and_reason_are_shown_as_text(
    filled_store: Store, tmp_path: Path, hostile_text: str, fill: Callable[..., None]
) -> None:
    waiver = Waiver("f-1", hostile_text, hostile_text, date(2026, 3, 31))
    apply_waivers(filled_store, Gathered({"f-1": waiver}), load_policy(), date(2026, 1, 1))
    book = book_of(filled_store, tmp_path)
    assert [row["status"] for row in rows(book["Exceptions"])].count("waived") == 1
    assert "f" not in {cell.data_type for sheet in book for row in sheet.iter_rows() for cell in row}
