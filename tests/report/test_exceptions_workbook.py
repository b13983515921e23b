"""exceptions.xlsx, read back: every sheet holds what the store holds, links lead somewhere, nothing is live."""

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.worksheet.worksheet import Worksheet

from groundcheck.own_files import WORKBOOK_SHEETS
from groundcheck.report import write_reports
from groundcheck.report.workbook import evidence_sheet, quick_sheet, table_sheet
from groundcheck.store import Store

SHEETS = list(WORKBOOK_SHEETS)
TABLES = [name for name in SHEETS if name not in ("Summary", "Method and cautions")]


@pytest.fixture
def book_of(tmp_path: Path) -> Callable[[Store], Workbook]:
    def make(store: Store) -> Workbook:
        write_reports(store, tmp_path)
        return load_workbook(tmp_path / "exceptions.xlsx")

    return make


def rows(sheet: Worksheet) -> list[dict[str, object]]:
    heads, *body = sheet.iter_rows(values_only=True)
    return [dict(zip(heads, row, strict=True)) for row in body]


def column(sheet: Worksheet, head: str) -> int:
    return [cell.value for cell in sheet[1]].index(head) + 1


def text_of(sheet: Worksheet) -> str:
    return "\n".join(str(value) for row in sheet.iter_rows(values_only=True) for value in row if value is not None)


def test_sheets_stand_in_reading_order(filled_store: Store, book_of: Callable[[Store], Workbook]) -> None:
    assert book_of(filled_store).sheetnames == SHEETS


def test_exceptions_are_the_findings_by_severity(
    filled_store: Store, book_of: Callable[[Store], Workbook], finding: dict[str, Any]
) -> None:
    found = rows(book_of(filled_store)["Exceptions"])
    assert [(row["finding"], row["severity"]) for row in found] == [("f-1", "high"), ("f-2", "medium"), ("f-3", "low")]
    first = found[0]
    assert first["what is wrong"] == finding["message"]
    assert (first["actual"], first["required"], first["unit"]) == (400, 640, "A")
    assert (first["firm or marginal"], first["provisional"]) == ("firm", "no")
    assert (first["source"], first["cell"]) == ("north.xlsx · Resistors", "C6")
    assert first["asset kind"] == "neutral device"
    assert (found[1]["source"], found[1]["cell"]) == (None, None)


def test_source_leads_to_the_cited_cell_under_its_headings(
    filled_store: Store, book_of: Callable[[Store], Workbook]
) -> None:
    book = book_of(filled_store)
    exceptions, sources = book["Exceptions"], book["Source rows"]
    link = exceptions.cell(2, column(exceptions, "cell")).hyperlink.location
    sheet, _, cell = link.rpartition("!")
    assert sheet == "'Source rows'"
    assert sources[cell].value == "400"
    assert [value.value for value in sources[sources[cell].row]][:5] == ["north.xlsx", "Resistors", 6, "ASH", "NR1"]
    assert [value.value for value in sources[2]] == ["north.xlsx", "Resistors", "heading", "Site", "NER", "Amps"]


def test_source_in_a_sheet_with_a_column_an_asset_leads_to_its_cell(
    empty_store: Store, book_of: Callable[[Store], Workbook], fill: Callable[..., None]
) -> None:
    place = {"file": "plant.xlsx", "sheet": "Plant"}
    fill(empty_store, "raw.account", place | {"turned": True})
    for column, cells in ((1, ["Tag", "Amps"]), (2, ["NR1", "many"])):
        row = {"raw_row": column, "row": column, "region": 1, "use": "quarantine", "cells": cells}
        fill(empty_store, "raw.row", place | row)
    fill(empty_store, "raw.quarantine", place | {"row": 2, "cell": "B2", "raw_row": 2, "reason": "unreadable"})
    book = book_of(empty_store)
    _, _, cell = book["Quarantine"].cell(2, 4).hyperlink.location.rpartition("!")
    assert book["Source rows"][cell].value == "many"


def test_every_link_leads_to_a_filled_cell_of_the_workbook(
    filled_store: Store, book_of: Callable[[Store], Workbook]
) -> None:
    book = book_of(filled_store)
    links = [cell.hyperlink for sheet in book for row in sheet.iter_rows() for cell in row if cell.hyperlink]
    assert (
        len(links) == 2 + 1 + 1 + 17
    )  # two findings and an input with a cell, one quarantined row, the list of sheets
    for link in links:
        sheet, _, cell = link.location.rpartition("!")
        assert link.target is None
        assert book[sheet.strip("'")][cell].value is not None


def test_not_assessable_names_field_unit_and_cell(filled_store: Store, book_of: Callable[[Store], Workbook]) -> None:
    book = book_of(filled_store)
    (row,) = rows(book["Not assessable"])
    assert row["missing field"] == "rated current (A)"
    assert (row["file to fill in"], row["sheet"], row["cell"]) == ("north.xlsx", "Resistors", "C9")
    assert (row["substation"], row["asset of record"], row["district"]) == ("ELM", "NR9", "South")
    (asked,) = rows(book["Fields to ask for"])
    assert (asked["missing field"], asked["checks that wait for it"], asked["records by district"]) == (
        "rated current (A)",
        1,
        "South: 1",
    )


def test_check_without_a_named_field_is_listed_too(
    filled_store: Store, book_of: Callable[[Store], Workbook], fill: Callable[..., None], finding: dict[str, Any]
) -> None:
    asked = {"rule": finding["rule"], "substation": "ASH", "asset_kind": "neutral_device", "asset": "NR1"}
    fill(filled_store, "audit.result", asked | {"outcome": "not_assessable"})
    missing = [row["missing field"] for row in rows(book_of(filled_store)["Not assessable"])]
    assert missing == ["no single field named", "rated current (A)"]


def test_ranking_puts_what_blocks_most_first(
    filled_store: Store, book_of: Callable[[Store], Workbook], fill: Callable[..., None]
) -> None:
    blocked = {"rule": "r", "substation": "ASH", "asset_kind": "bus", "blocking_substation": "ASH"}
    blocked |= {"blocking_asset_kind": "transformer", "blocking_asset": "T1", "field": "impedance"}
    for asset in ("B1", "B2", "B2"):
        fill(filled_store, "audit.missing_field", blocked | {"asset": asset})
    ranked = rows(book_of(filled_store)["Fields to ask for"])
    counts = [(row["missing field"], row["checks that wait for it"], row["records to fill in"]) for row in ranked]
    assert counts == [("impedance (%)", 2, 1), ("rated current (A)", 1, 1)]


def test_quarantine_headings_and_account_are_whole(filled_store: Store, book_of: Callable[[Store], Workbook]) -> None:
    book = book_of(filled_store)
    (waiting,) = rows(book["Quarantine"])
    assert (waiting["row"], waiting["cell"], waiting["found"]) == (8, "C8", "-5")
    assert waiting["reason"] == "the tag or the station is blank"
    assert [row["heading as written"] for row in rows(book["Headings"])] == ["Site", "NER", "Amps"]
    broken, north = rows(book["Account"])
    assert broken["remark"] == "not read: no workbook inside"
    assert (north["rows read"], north["adds up"]) == (8, "yes")


def test_questions_and_noted_cells_are_whole(
    filled_store: Store, book_of: Callable[[Store], Workbook], question: dict[str, Any], noted_cell: dict[str, Any]
) -> None:
    book = book_of(filled_store)
    (asked,) = rows(book["Questions"])
    assert (asked["about"], asked["found"], asked["can be"]) == (
        "which field a heading feeds",
        "Amps",
        question["candidates"],
    )
    assert (asked["cell"], asked["cells waiting"]) == ("C5", 3)
    assert asked["line of the column map that answers it"] == question["answer"]
    (noted,) = rows(book["Noted cells"])
    assert (noted["cell"], noted["found"], noted["read as"]) == ("C7", "300", "300")
    assert (noted["field fed"], noted["tolerance"]) == ("rated current (A)", 0.1)
    assert noted["why it is worth a look"] == noted_cell["note"]
    summary = list(book["Summary"].iter_rows(values_only=True))
    assert [row[1] for row in summary if row[0] == "open questions"] == [1]


def test_account_tells_what_is_hidden_struck_or_turned(
    filled_store: Store, book_of: Callable[[Store], Workbook], fill: Callable[..., None]
) -> None:
    told = {"hidden_rows": 2, "hidden_columns": 1, "struck_rows": 3, "turned": True}
    fill(filled_store, "raw.account", {"file": "a.xlsx", "sheet": "Plant", "rows_read": 0} | told)
    by_sheet = {row["sheet"]: row for row in rows(book_of(filled_store)["Account"])}
    heads = ("hidden rows", "hidden columns", "struck rows", "turned")
    assert [by_sheet["Plant"][head] for head in heads] == [2, 1, 3, "yes"]
    assert by_sheet["Resistors"]["hidden rows"] is None


def test_rules_tell_what_ran_and_what_was_refused(filled_store: Store, book_of: Callable[[Store], Workbook]) -> None:
    ran, refused = rows(book_of(filled_store)["Rules"])
    assert (ran["ran or refused"], ran["exceptions"], ran["satisfied"], ran["not assessable"]) == ("ran", 3, 4, 1)
    assert refused["ran or refused"] == "refused: the query returns no column `ok`"


def test_summary_tells_counts_and_cautions(filled_store: Store, book_of: Callable[[Store], Workbook]) -> None:
    text = text_of(book_of(filled_store)["Summary"])
    assert "3 findings. Checks satisfied: 4; not assessable: 1." in text
    assert "made at 2025-01-02T03:04:05" in text
    assert "broken.xlsx: no workbook inside" in text
    assert "Never open the secondary of a current transformer in service" in text
    table = list(book_of(filled_store)["Summary"].iter_rows(values_only=True))
    assert ("North", 1, None, 1, 1, 0, 2) in table
    assert ("all districts", 2, None, 1, 1, 1, 3) in table


def test_made_at_stands_in_the_summary_only(filled_store: Store, book_of: Callable[[Store], Workbook]) -> None:
    book = book_of(filled_store)
    assert [sheet.title for sheet in book if "2025-01-02" in text_of(sheet)] == ["Summary"]


@pytest.mark.parametrize("name", TABLES)
def test_sheet_is_made_for_reading_and_printing(
    filled_store: Store, book_of: Callable[[Store], Workbook], name: str
) -> None:
    sheet = book_of(filled_store)[name]
    assert (sheet.page_setup.orientation, int(sheet.page_setup.paperSize)) == ("landscape", 8)  # 8 is A3 in OOXML
    assert re.fullmatch(r"[A-Z]2", sheet.freeze_panes)
    assert sheet.print_title_rows == "$1:$1"
    assert all(cell.value and cell.font.bold for cell in sheet[1])
    if sheet.max_row > 2:
        assert sheet.auto_filter.ref.endswith(str(sheet.max_row))


@pytest.mark.parametrize("name", TABLES)
def test_empty_sheet_says_why(empty_store: Store, book_of: Callable[[Store], Workbook], name: str) -> None:
    sheet = book_of(empty_store)[name]
    assert sheet.max_row == 2
    assert len(sheet["A2"].value) > 15
    assert sheet["A2"].value.endswith(".")


@pytest.mark.parametrize(
    ("counts", "sentence"),
    [
        ((5, 2), "No findings: every check that could be made is satisfied."),
        ((0, 2), "No findings, because nothing could be assessed"),
        ((0, 0), "No findings, because no rule applies to anything on record."),
    ],
)
def test_nothing_found_is_told_from_nothing_checked(
    empty_store: Store,
    book_of: Callable[[Store], Workbook],
    counts: tuple[int, int],
    sentence: str,
    fill: Callable[..., None],
) -> None:
    outcome = {"rule": "r", "substation": "ASH", "exceptions": 0, "not_applicable": 0}
    fill(empty_store, "audit.outcome", outcome | {"satisfied": counts[0], "not_assessable": counts[1]})
    book = book_of(empty_store)
    assert sentence in text_of(book["Summary"])
    assert sentence in book["Exceptions"]["A2"].value


def test_hostile_text_is_shown_as_text(
    filled_store: Store,
    book_of: Callable[[Store], Workbook],
    fill: Callable[..., None],
    finding: dict[str, Any],
    hostile_text: str,
) -> None:
    text = hostile_text
    fill(filled_store, "audit.finding", finding | {"finding": "f-0", "asset": text, "actual": text, "district": "A"})
    quarantined = {"file": text, "sheet": text, "row": 1, "cell": "A1", "reason": "no_table", "found": text}
    fill(filled_store, "raw.quarantine", quarantined)
    book = book_of(filled_store)
    sheet = book["Exceptions"]
    shown = re.sub("[\x00-\x08\x0b-\x1f]", "", text.replace("\r\n", "\n"))
    for head in ("asset", "actual"):
        cell = sheet.cell(2, column(sheet, head))
        assert cell.data_type in ("s", "inlineStr")
        assert cell.value.replace("_x005F_", "_").rstrip(" ") == shown
    kinds = {cell.data_type for sheet in book for row in sheet.iter_rows() for cell in row}
    assert "f" not in kinds


def test_long_text_is_cut_with_a_mark(
    filled_store: Store, book_of: Callable[[Store], Workbook], fill: Callable[..., None], finding: dict[str, Any]
) -> None:
    fill(filled_store, "audit.finding", finding | {"finding": "f-0", "message": "x" * 40_000, "district": "A"})
    sheet = book_of(filled_store)["Exceptions"]
    message = sheet.cell(2, column(sheet, "what is wrong")).value
    assert len(message) == 32_767
    assert message.endswith("[cut here; whole in the store]")


def test_sheet_that_is_full_says_what_it_leaves_out(
    filled_store: Store, book_of: Callable[[Store], Workbook], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(table_sheet, "ROW_LIMIT", 4)
    sheet = book_of(filled_store)["Exceptions"]
    assert [sheet.cell(row, 1).value for row in range(2, sheet.max_row + 1)] == [
        "f-1",
        "f-2",
        "1 more rows are not on this sheet; findings.csv holds them.",
    ]


def test_source_is_plain_text_beyond_the_limit_of_links(
    filled_store: Store, book_of: Callable[[Store], Workbook], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(quick_sheet, "LINK_LIMIT", 1)
    sheet = book_of(filled_store)["Exceptions"]
    first, last = (sheet.cell(row, column(sheet, "cell")) for row in (2, 4))
    assert first.hyperlink is not None
    assert last.hyperlink is None
    assert last.value == "C7"


def test_long_evidence_is_what_the_rules_read_and_says_so(
    filled_store: Store, book_of: Callable[[Store], Workbook], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(table_sheet, "ROWS_SHOWN", 2)
    monkeypatch.setattr(evidence_sheet, "INPUTS_SHOWN", 1)
    book = book_of(filled_store)
    read, note = list(book["Evidence"].iter_rows(values_only=True))[1:]
    assert (read[0], read[4], read[8]) == ("f-1", "read by the rule", "400")
    assert note[0] == (
        "1 more rows are not on this sheet; audit.evidence of the store holds them. Only what the rules read "
        "themselves is shown; 1 rows are behind the computed numbers. The whole evidence of a finding: groundcheck "
        "finding IDENTITY --store FILE; of all: groundcheck data."
    )
    assert f"Evidence: {note[0]}" in text_of(book["Summary"])
    lines = list(book["Source rows"].iter_rows(values_only=True))
    assert [line[2] for line in lines] == [
        "row",
        "heading",
        6,
        None,
    ]
    assert lines[3][0] == "2 more lines are not on this sheet; raw.row of the store holds them."
    sheet = book["Exceptions"]
    linked = [sheet.cell(row, column(sheet, "cell")).hyperlink is not None for row in (2, 4)]
    assert linked == [True, False]


def test_source_row_that_many_cite_is_there_once(
    filled_store: Store, book_of: Callable[[Store], Workbook], fill: Callable[..., None], finding: dict[str, Any]
) -> None:
    for number, cell in enumerate(("A6", "B6", "C6")):
        fill(filled_store, "audit.finding", finding | {"finding": f"g-{number}", "cell": cell})
    sheet = book_of(filled_store)["Source rows"]
    assert [row[2].value for row in sheet].count(6) == 1
    filled = {cell.coordinate for cell in sheet[3] if cell.fill.fill_type}
    assert filled == {"D3", "E3", "F3"}
