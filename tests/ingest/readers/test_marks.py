"""What a workbook says beside its values: hidden, struck through, not computed, failed."""

import io
import re
import zipfile

import openpyxl
import pytest
import xlsxwriter
from openpyxl.styles import Font

from groundcheck.ingest.sheets import Uncomputed

ERRORS = ["#NULL!", "#DIV/0!", "#VALUE!", "#REF!", "#NAME?", "#NUM!", "#N/A"]


def written(fill):
    workbook = openpyxl.Workbook()
    sheet = workbook.active
    for row in range(1, 6):
        sheet.append([f"T{row}", row, f"x{row}"])
    fill(sheet)
    stream = io.BytesIO()
    workbook.save(stream)
    return stream.getvalue()


def changed(content, change):
    """The workbook with the XML of its first sheet changed."""
    stream = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(stream, "w") as new:
        for name in old.namelist():
            part = old.read(name)
            new.writestr(name, change(part) if name.endswith("sheet1.xml") else part)
    return stream.getvalue()


def hide(sheet):
    sheet.row_dimensions[3].hidden = True
    sheet.row_dimensions[900].hidden = True
    sheet.column_dimensions["B"].hidden = True
    sheet.column_dimensions["Z"].hidden = True


def strike(sheet):
    for column in "ABC":
        sheet[f"{column}2"].font = Font(strike=True)
    sheet["A4"].font = Font(strike=True)
    sheet["A5"].font = Font(bold=True)


def test_a_sheet_without_marks_has_none(read_one):
    [sheet] = read_one(written(lambda sheet: None), "a.xlsx").sheets
    assert (sheet.hidden_rows, sheet.hidden_columns, sheet.struck_rows) == (frozenset(),) * 3


@pytest.mark.parametrize("kind", [".xls", ".xlsb", ".ods", ".csv", ".parquet"])
def test_a_kind_that_cannot_tell_says_so(read_one, content_of, kind):
    [sheet] = read_one(content_of[kind], f"a{kind}").sheets
    assert (sheet.hidden_rows, sheet.hidden_columns, sheet.struck_rows) == (None,) * 3


def test_hidden_rows_and_columns_within_the_table_are_told(read_one):
    [sheet] = read_one(written(hide), "a.xlsx").sheets
    assert (sheet.hidden_rows, sheet.hidden_columns) == ({2}, {1})
    assert sheet.rows[2] == ["T3", 3.0, "x3"]


def test_a_row_is_struck_if_all_that_is_written_in_it_is(read_one):
    [sheet] = read_one(written(strike), "a.xlsx").sheets
    assert sheet.struck_rows == {1}


def test_marks_are_told_where_another_program_writes_tags_with_a_prefix_and_single_quotes(read_one):
    def prefixed(part):
        part = re.sub(rb"<(/?)(?=[a-z])", rb"<\1x:", part).replace(b"xmlns=", b"xmlns:x=")
        return part.replace(b'"', b"'")

    content = changed(written(lambda sheet: (hide(sheet), strike(sheet), sheet.append(["=A1&B1"]))), prefixed)
    [sheet] = read_one(content, "a.xlsx").sheets
    assert (sheet.hidden_rows, sheet.hidden_columns, sheet.struck_rows) == ({2}, {1}, {1})
    assert sheet.rows[5][0] == Uncomputed("=A1&B1")


def test_a_formula_without_a_stored_result_is_kept_as_such(read_one):
    [sheet] = read_one(written(lambda sheet: sheet.append([None, '=IF(B1<2,"a & b",B2)'])), "a.xlsx").sheets
    assert sheet.rows[5][1] == Uncomputed('=IF(B1<2,"a & b",B2)')
    assert sheet.rows[4] == ["T5", 5.0, "x5"]


def test_a_shared_formula_without_a_result_reads_as_in_its_own_cell(read_one):
    def share(part):
        children = b'<c r="D2"><f t="shared" si="0"/></c>', b'<c r="D3"><f t="shared" si="0"/><v>4</v></c>'
        part = part.replace(b'<row r="1">', b'<row r="1">', 1)
        first = b'<c r="D1"><f t="shared" ref="D1:D3" si="0">B1+$B$1</f><v>2</v></c></row>'
        for cell in (first, *(child + b"</row>" for child in children)):
            part = part.replace(b"</row>", b"\x01", 1).replace(b"\x01", cell.replace(b"</row>", b"\x02"), 1)
        return part.replace(b"\x02", b"</row>")

    [sheet] = read_one(changed(written(lambda sheet: None), share), "a.xlsx").sheets
    assert [row[3:] for row in sheet.rows[:3]] == [[2.0], [Uncomputed("=B2+$B$1")], [4.0]]


def test_a_formula_that_gave_an_empty_text_has_a_result(read_one):
    def empty(part):
        return part.replace(b"</row>", b'<c r="D1" t="str"><f>IF(B1,"","x")</f><v></v></c></row>', 1)

    [sheet] = read_one(changed(written(lambda sheet: None), empty), "a.xlsx").sheets
    assert not any(isinstance(cell, Uncomputed) for row in sheet.rows for cell in row)


def test_a_nought_that_a_library_stores_in_place_of_a_result_is_none(read_one):
    # XlsxWriter's documentation, 'Formula Results': it does not compute, and stores 0 unless it is told a result.
    stream = io.BytesIO()
    with xlsxwriter.Workbook(stream) as workbook:
        sheet = workbook.add_worksheet()
        sheet.write_formula("A1", "=1+1")
        sheet.write_formula("A2", "=1+1", value=2)
    [read] = read_one(stream.getvalue(), "a.xlsx").sheets
    assert read.rows == [[Uncomputed("=1+1")], [2.0]]


@pytest.mark.parametrize("error", [*ERRORS, "#SPILL!", "#GETTING_DATA"])
def test_an_error_reaches_the_cell_as_text(read_one, error):
    def fail(sheet):
        sheet["B2"] = error
        sheet["B2"].data_type = "e"

    [sheet] = read_one(written(fail), "a.xlsx").sheets
    assert [row[1] for row in sheet.rows] == [1.0, error, 3.0, 4.0, 5.0]


@pytest.mark.parametrize("error", ERRORS)
def test_an_error_of_a_binary_workbook_reaches_the_cell_as_text(read_one, xlsb_bytes, error):
    [sheet] = read_one(xlsb_bytes({"S": [["a", error, 1.0]]}), "a.xlsb").sheets
    assert sheet.rows == [["a", error, 1.0]]


def test_an_error_of_an_old_workbook_reaches_the_cell_as_text(read_one, tmp_path):
    xlwt = pytest.importorskip("xlwt")
    workbook = xlwt.Workbook()
    workbook.add_sheet("S").row(0).set_cell_error(1, "#REF!")
    workbook.save(tmp_path / "b.xls")
    [sheet] = read_one((tmp_path / "b.xls").read_bytes(), "a.xls").sheets
    assert sheet.rows == [["", "#REF!"]]


def test_an_error_of_an_open_document_reaches_the_cell_as_text(read_one, content_of):
    # As LibreOffice 24.2 writes a failed formula.
    cell = (
        b'<table:table-cell table:formula="of:=1/0" office:value-type="string" office:string-value=""'
        b' calcext:value-type="error"><text:p>#DIV/0!</text:p></table:table-cell>'
    )
    stream = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content_of[".ods"])) as old, zipfile.ZipFile(stream, "w") as new:
        for name in old.namelist():
            part = old.read(name)
            if name == "content.xml":
                space = b' xmlns:calcext="urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0" '
                part = part.replace(b"</table:table-row>", cell + b"</table:table-row>", 1)
                part = part.replace(b"<office:document-content ", b"<office:document-content" + space, 1)
            new.writestr(name, part)
    [sheet] = read_one(stream.getvalue(), "a.ods").sheets
    assert sheet.rows[0] == ["Station", "Bus", "Nominal kV", "#DIV/0!"]
