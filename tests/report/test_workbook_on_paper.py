"""The sheets of exceptions.xlsx on A3 paper: what is printed, how large, and what a spreadsheet program makes of it."""

import re
import shutil
import subprocess
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from groundcheck.report.workbook import write_workbook
from groundcheck.store import Store

SOFFICE = shutil.which("soffice")
PDFTOTEXT = shutil.which("pdftotext")
NEEDED = [
    *("finding", "severity", "district", "substation", "asset", "what is wrong", "actual", "required", "unit"),
    *("source", "cell", "remedy", "disposition", "by", "until", "remark"),
]
TINT = {"high": "F2C4BD", "medium": "FAE3B4", "low": "E4EAD2"}


@pytest.fixture
def book(filled_store: Store, tmp_path: Path) -> Workbook:
    write_workbook(filled_store, tmp_path / "exceptions.xlsx", sheet_by_district=True)
    return load_workbook(tmp_path / "exceptions.xlsx")


def printed_columns(sheet: Worksheet) -> range:
    match = re.fullmatch(r"'.+'!\$A\$1:\$([A-Z]+)\$\d+", sheet.print_area or "")
    last = sheet[f"{match[1]}1"].column if match else sheet.max_column
    return range(1, last + 1)


def test_what_a_reviewer_needs_is_printed_and_the_rest_folds_away(book: Workbook) -> None:
    for name in ("Exceptions", "North", "South"):
        sheet = book[name]
        assert [sheet.cell(1, column).value for column in printed_columns(sheet)] == NEEDED
        aside = range(len(NEEDED) + 1, sheet.max_column)
        for column in aside:
            dimension = sheet.column_dimensions[group_start(sheet, column)]
            assert dimension.outlineLevel == 1
            assert not dimension.hidden
        assert not sheet.sheet_properties.outlinePr.summaryRight
        assert {sheet.cell(1, column).value for column in aside} >= {"working", "caution", "basis", "rule", "status"}
        assert sheet.column_dimensions[get_column_letter(sheet.max_column)].hidden


def group_start(sheet: Worksheet, column: int) -> str:
    """openpyxl keeps columns of one width under the first letter of them."""
    for letter, dimension in sheet.column_dimensions.items():
        if (dimension.min or 0) <= column <= (dimension.max or 0):
            return str(letter)
    raise AssertionError(column)


# A3 is 420 mm across (ISO 216). A unit of column width is 7 pixels of 1/96 inch, and 5 more beside the text (ECMA-376
# Part 1, 18.3.1.13, for the usual font of 11 points; recalled).
def test_every_sheet_is_readable_on_one_page_across(book: Workbook) -> None:
    for sheet in book:
        widths = [sheet.column_dimensions[group_start(sheet, column)].width for column in printed_columns(sheet)]
        across = sum(7 * width / 96 + 5 / 96 for width in widths)
        assert sheet.page_setup.orientation == "landscape"
        assert sheet.sheet_properties.pageSetUpPr.fitToPage
        assert int(sheet.page_setup.fitToHeight) == 0  # as many pages down as it takes
        assert (420 / 25.4 - sheet.page_margins.left - sheet.page_margins.right) / across >= 0.7, sheet.title
        assert 9.0 in {cell.font.sz for row in sheet.iter_rows(min_row=2) for cell in row if cell.value}
        assert sheet.oddFooter.right.text == "&P / &N"
        assert sheet.print_title_rows == "$1:$1"


def test_wide_source_rows_go_over_several_pages_with_their_place_on_each(
    filled_store: Store, tmp_path: Path, fill: Callable[..., None]
) -> None:
    fill(filled_store, "raw.row", {"raw_row": 9, "file": "wide.xlsx", "sheet": "All", "row": 2, "region": 1})
    filled_store.connection.execute("UPDATE raw.row SET cells = [x::VARCHAR for x in range(60)] WHERE raw_row = 9")
    fill(filled_store, "raw.quarantine", {"file": "wide.xlsx", "sheet": "All", "row": 2, "cell": "A2", "found": "x"})
    write_workbook(filled_store, tmp_path / "wide.xlsx")
    sheet = load_workbook(tmp_path / "wide.xlsx")["Source rows"]
    assert sheet.page_setup.scale == 70
    assert (sheet.print_title_cols, sheet.print_title_rows) == ("$A:$C", "$1:$1")


def convert(path: Path, kind: str, folder: Path) -> Path:
    profile = f"-env:UserInstallation={(folder / 'profile').as_uri()}"
    command = [SOFFICE, profile, "--headless", "--convert-to", kind, "--outdir", folder, path]
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    return folder / f"{path.stem}.{kind}"


@pytest.mark.skipif(SOFFICE is None, reason="LibreOffice is not installed")
def test_tints_follow_the_rows_when_they_are_sorted(book: Workbook, tmp_path: Path) -> None:
    sheet = book["Exceptions"]
    heads = {cell.value: cell.column for cell in sheet[1]}
    rows = [[cell.value for cell in row] for row in sheet.iter_rows(min_row=2)]
    said: dict[str, dict[str, Any]] = {
        "f-1": {"disposition": "accepted", "by": "A. Owner", "until": date(2001, 1, 1), "remark": "ordered"},
        "f-2": {"disposition": "disputed", "until": date(2999, 1, 1)},
        "f-3": {"status": "waived"},
    }
    for row in rows:
        for head, value in said[row[0]].items():
            row[heads[head] - 1] = value
    for number, row in enumerate(reversed(rows), 2):  # as if the lowest severity had been sorted to the top
        for column, value in enumerate(row, 1):
            sheet.cell(number, column).value = value
    for name in book.sheetnames:
        if name not in ("Exceptions", "Source rows"):
            del book[name]
    book.save(tmp_path / "sorted.xlsx")
    page = convert(tmp_path / "sorted.xlsx", "html", tmp_path).read_text(encoding="utf-8")
    table = next(part for part in page.split("</table>") if ">as written<" in part or ">disposition<" in part)
    shown = {}
    for text in re.findall(r"<tr>.*?</tr>", table, re.S):
        cells = re.findall(r"<td.*?</td>", text, re.S)
        shown[re.sub("<.*?>", "", cells[0]).strip()] = dict(zip(heads, cells, strict=False))

    def fill(finding: str, head: str) -> str | None:
        match = re.search(r'bgcolor="#(\w+)"', shown[finding][head])
        return match[1] if match else None

    def ink(finding: str, head: str) -> str | None:
        match = re.search(r'<font[^>]* color="#(\w+)"', shown[finding][head])
        return match[1] if match else None

    assert [fill(name, "severity") for name in ("f-1", "f-2", "f-3")] == [TINT["high"], TINT["medium"], None]
    assert ink("f-3", "what is wrong") == "76828F" != ink("f-1", "what is wrong")
    assert fill("f-1", "remark") == fill("f-2", "disposition") == fill("f-2", "until") == "D6E8D4"
    assert fill("f-1", "until") == TINT["high"]  # the last day is over
    assert fill("f-3", "disposition") == "FFF3C4"


@pytest.mark.skipif(SOFFICE is None or PDFTOTEXT is None, reason="LibreOffice or poppler is not installed")
def test_exceptions_are_printed_whole_in_a_size_that_can_be_read(book: Workbook, tmp_path: Path) -> None:
    for name in book.sheetnames:
        if name not in ("Exceptions", "Source rows"):
            del book[name]
    book.save(tmp_path / "printed.xlsx")
    pdf = convert(tmp_path / "printed.xlsx", "pdf", tmp_path)
    text = subprocess.run([PDFTOTEXT, "-bbox", "-l", "1", pdf, "-"], check=True, capture_output=True, text=True).stdout
    words = re.findall(r'yMin="([\d.]+)" xMax="[\d.]+" yMax="([\d.]+)">([^<]+)<', text)
    height = {word: float(low) - float(high) for high, low, word in words}
    assert {"finding", "severity", "remedy", "disposition", "remark", "f-1", "f-2", "f-3"} <= height.keys()
    assert "working" not in height
    # The name of the sheet in the page head is 10 points whatever the scale, the table 9 points times the scale.
    assert height["disposition"] / height["Exceptions"] * 10 / 9 >= 0.7
