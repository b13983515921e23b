"""exceptions.xlsx keeps the rules of its format, which a spreadsheet program would else repair, whatever it holds."""

import re
import tracemalloc
import warnings
import zipfile
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from openpyxl import load_workbook
from openpyxl.utils.cell import range_boundaries
from xlsxwriter import Workbook

from groundcheck.report.workbook import write_workbook
from groundcheck.report.workbook.cells import Link, write_value
from groundcheck.report.workbook.looks import Looks
from groundcheck.report.workbook.quick_sheet import QuickSheet
from groundcheck.report.workbook.table_sheet import Field, TableSheet, TableWriter
from groundcheck.store import Store

MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
# CT_Worksheet, CT_Row and CT_Cell of ECMA-376 Part 1, 18.3.1 (recalled): the elements in the order of the schema.
WORKSHEET = (
    *("sheetPr", "dimension", "sheetViews", "sheetFormatPr", "cols", "sheetData", "sheetCalcPr", "sheetProtection"),
    *("protectedRanges", "scenarios", "autoFilter", "sortState", "dataConsolidate", "customSheetViews", "mergeCells"),
    *("phoneticPr", "conditionalFormatting", "dataValidations", "hyperlinks", "printOptions", "pageMargins"),
    *("pageSetup", "headerFooter", "rowBreaks", "colBreaks", "customProperties", "cellWatches", "ignoredErrors"),
    *("smartTags", "drawing", "legacyDrawing", "legacyDrawingHF", "picture", "oleObjects", "controls"),
    *("webPublishItems", "tableParts", "extLst"),
)
Parts = dict[str, ElementTree.Element]


@pytest.fixture
def hostile_path(
    filled_store: Store,
    tmp_path: Path,
    fill: Callable[..., None],
    finding: dict[str, Any],
    hostile_texts: dict[str, str],
) -> Path:
    """A workbook with hostile text in every field, also as the name of a district, and so of a sheet."""
    texts = hostile_texts | {
        "long": "long " * 8_000,
        "arabic": "محطة " * 200,
        "astral": "\U0001f50c" * 40,
        "footer": "&P&D&[File]",
        "quotes": "'Vale's'",
        "name": "Source rows",
        "history": "History",
    }
    for kind, text in texts.items():
        facts = {name: text for name, value in finding.items() if isinstance(value, str)}
        kept = {"finding": kind, "severity": "high", "status": "open", "cell": "C6", "source_file": "north.xlsx"}
        fill(filled_store, "audit.finding", finding | facts | kept | {"sheet": "Resistors"})
        evidence = dict.fromkeys(("input", "asset", "value", "unit", "source_file", "sheet", "cell", "found"), text)
        fill(filled_store, "audit.evidence", {"finding": kind, "position": 1, "role": "input"} | evidence)
        place = {"raw_row": 100 + len(kind), "file": text, "sheet": text, "row": 3, "region": 1, "use": "quarantine"}
        fill(filled_store, "raw.row", place | {"cells": [text, text]})
        fill(filled_store, "raw.quarantine", {"file": text, "sheet": text, "row": 3, "cell": "B3", "found": text})
        fill(filled_store, "study.assumption", dict.fromkeys(("substation", "asset", "field", "value", "why"), text))
    path = tmp_path / "exceptions.xlsx"
    write_workbook(filled_store, path, sheet_by_district=True)
    return path


def parts_of(path: Path) -> Parts:
    with zipfile.ZipFile(path) as archive:
        return {name: ElementTree.fromstring(archive.read(name)) for name in archive.namelist()}


def sheets_of(parts: Parts) -> Iterator[ElementTree.Element]:
    return (root for name, root in parts.items() if name.startswith("xl/worksheets/sheet"))


def test_elements_stand_in_the_order_of_the_schema(hostile_path: Path) -> None:
    for root in sheets_of(parts_of(hostile_path)):
        order = [WORKSHEET.index(child.tag.removeprefix(MAIN)) for child in root]
        assert order == sorted(order)
        once = [child.tag for child in root if not child.tag.endswith("conditionalFormatting")]
        assert len(once) == len(set(once))
        numbers = [int(row.attrib["r"]) for row in root.iter(f"{MAIN}row")]
        assert numbers == sorted(set(numbers))
        for row in root.iter(f"{MAIN}row"):
            columns = [range_boundaries(cell.attrib["r"]) for cell in row]
            assert columns == sorted(set(columns))
            assert {bounds[1] for bounds in columns} <= {int(row.attrib["r"])}


def test_cells_are_text_numbers_or_blank_with_a_format_that_is_there(hostile_path: Path) -> None:
    parts = parts_of(hostile_path)
    formats = len(list(parts["xl/styles.xml"].find(f"{MAIN}cellXfs") or ()))
    for root in sheets_of(parts):
        for cell in root.iter(f"{MAIN}c"):
            assert int(cell.attrib.get("s", 0)) < formats
            assert cell.attrib.get("t", "n") in ("n", "inlineStr")
            assert [child.tag.removeprefix(MAIN) for child in cell] in ([], ["v"], ["is"])
            text = "".join(cell.itertext())
            assert len(text.encode("utf-16-le")) // 2 <= 32_767  # Microsoft, 'Excel specifications and limits'


def test_styles_are_there_once(hostile_path: Path) -> None:
    styles = parts_of(hostile_path)["xl/styles.xml"]
    for kind in ("fonts", "fills", "borders", "cellXfs", "dxfs"):
        made = [ElementTree.tostring(each) for each in styles.find(f"{MAIN}{kind}") or ()]
        assert len(made) == len(set(made)), kind


# Microsoft, 'Excel specifications and limits' (65,530 hyperlinks, formulas of 8,192 characters) and 'Rename a
# worksheet' (31 characters); lists of 255 characters in a validation: common practice, no source.
def test_conditions_validations_links_and_names_are_within_their_limits(hostile_path: Path) -> None:
    parts = parts_of(hostile_path)
    looks = len(list(parts["xl/styles.xml"].find(f"{MAIN}dxfs") or ()))
    for root in sheets_of(parts):
        rules = list(root.iter(f"{MAIN}cfRule"))
        assert len({rule.attrib["priority"] for rule in rules}) == len(rules)
        assert all(int(rule.attrib["dxfId"]) < looks for rule in rules)
        assert all(len("".join(rule.itertext())) < 8_192 for rule in rules)
        ranges = [each.attrib["sqref"] for each in root.iter(f"{MAIN}conditionalFormatting")]
        assert len(set(ranges)) == len(ranges)
        assert len(list(root.iter(f"{MAIN}hyperlink"))) <= 65_530
        for validation in root.iter(f"{MAIN}dataValidation"):
            assert all(len(text) <= 255 for text in validation.itertext())
        for text in root.find(f"{MAIN}headerFooter") or ():
            assert len(text.text or "") <= 255
    workbook = parts["xl/workbook.xml"]
    names = [sheet.attrib["name"] for sheet in workbook.iter(f"{MAIN}sheet")]
    assert len({name.casefold() for name in names}) == len(names) > 30
    for name in names:
        assert len(name.encode("utf-16-le")) // 2 <= 31
        assert not re.search(r"[\[\]:*?/\\]|^'|'$", name)
        assert name.casefold() != "history"
    defined = [(each.attrib["name"], each.attrib["localSheetId"]) for each in workbook.iter(f"{MAIN}definedName")]
    assert len(set(defined)) == len(defined)


def test_another_reader_finds_every_feature_and_warns_of_nothing(hostile_path: Path) -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        book = load_workbook(hostile_path)
    for sheet in book:
        for row in sheet.iter_rows():
            for cell in row:
                assert cell.data_type != "f"
                if cell.hyperlink:
                    name, _, place = cell.hyperlink.location.rpartition("!")
                    assert cell.hyperlink.target is None
                    assert book[name[1:-1].replace("''", "'")][place].value is not None
        if sheet.title not in ("Summary", "Method and cautions"):
            assert sheet.print_title_rows == "$1:$1"
            assert re.fullmatch(r"[A-Z]2", sheet.freeze_panes)
        if sheet.auto_filter.ref:
            left, top, right, _ = range_boundaries(sheet.auto_filter.ref)
            assert (left, top, right) == (1, 1, sheet.max_column)


def test_text_of_a_district_is_whole_on_its_own_sheet(hostile_path: Path, hostile_texts: dict[str, str]) -> None:
    book = load_workbook(hostile_path)
    whole = {row[0]: row for row in book["Exceptions"].iter_rows(min_row=2, values_only=True)}
    for sheet in book.worksheets[2 : book.sheetnames.index("Waivers")]:
        for row in sheet.iter_rows(min_row=2, values_only=True):
            assert row == whole.pop(row[0])
    assert not whole  # each finding is on the sheet of one district


ROWS = (
    (None, None, None, None, None, None),
    ("plain", "12.5", 3, 0.25, date(2027, 3, 31), True),
    ("<r><t>x</t></r>", "-1e400", float("inf"), 0.5, None, False),
    (" both ends ", "0012", -7.25, 1e-9, date(1999, 12, 31), "_x0041_ & <b> \"q\" 'a'"),
    ("two\r\nlines\x07", "=1+1", 10**9, 1.0, date(2000, 1, 1), Link("A & B", "'Source rows'!C5")),
)


def test_rows_are_what_the_writer_itself_would_write(tmp_path: Path) -> None:
    kinds = ("text", "value", "count", "percent", "answer_date", "wrap")
    fields = tuple(Field(kind, 1_000, kind) for kind in kinds)
    with Workbook(str(tmp_path / "both.xlsx"), {"constant_memory": True}) as book:
        looks = Looks(book)
        quick, plain = book.add_worksheet("Quick", QuickSheet), book.add_worksheet("Plain", QuickSheet)
        writer = TableWriter(quick, looks, TableSheet("Quick", "", fields, ROWS, ""))
        for number, row in enumerate(ROWS, 1):
            if "\n" in str(row[0]):
                plain.set_row(number, 25.5)
            writer.put(row)
            for column, value in enumerate(row):
                write_value(plain, looks, number, column, value, kinds[column])
        writer.close()
    parts = parts_of(tmp_path / "both.xlsx")
    made, known = (
        [ElementTree.tostring(row) for row in parts[f"xl/worksheets/sheet{n}.xml"].iter(f"{MAIN}row")] for n in (1, 2)
    )
    assert len(known) == len(ROWS)
    assert made[1:] == known
    links = [[link.attrib for link in parts[f"xl/worksheets/sheet{n}.xml"].iter(f"{MAIN}hyperlink")] for n in (1, 2)]
    assert links[0] == links[1] == [{"ref": "F6", "location": "'Source rows'!C5"}]


def test_memory_does_not_grow_with_the_rows(tmp_path: Path) -> None:
    fields = tuple(Field(f"head {number}", 20, "wrap") for number in range(12))

    def peak(count: int) -> int:
        with Workbook(str(tmp_path / f"{count}.xlsx"), {"constant_memory": True}) as book:
            looks, sheet = Looks(book), book.add_worksheet("Rows", QuickSheet)
            rows = ((f"row {number}", *["text that is wrapped " * 4] * 11) for number in range(count))
            writer = TableWriter(sheet, looks, TableSheet("Rows", "", fields, rows, "", count=count))
            tracemalloc.start()
            for row in rows:
                writer.put(row)
            writer.close()
            grown = tracemalloc.get_traced_memory()[1]
            tracemalloc.stop()
        return grown

    assert peak(4_000) < peak(400) + 50_000  # bytes; 3,600 more rows are 3.5 million characters
