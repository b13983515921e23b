"""A sheet takes the memory of what is filled, however far its last used cell stands off."""

import io
import subprocess
import sys
import zipfile

import numpy as np
import openpyxl
import pytest
import xlwt
from openpyxl.styles import Font

from groundcheck.ingest.readers.extents import Grid, choose_grid
from groundcheck.ingest.readers.marks import _beyond
from groundcheck.ingest.sheets import column_letter

MEASURE = """
import resource, sys
from pathlib import Path
from groundcheck.ingest.readers.files import read_files
before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
[source] = read_files([("a", Path(sys.argv[1]))])
[sheet] = source.sheets
sheet.filled, sheet.columns
print((resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before) // 1024, len(sheet.rows), sheet.width, sheet.remark)
"""
REMARK = "far off the other cells, and so not read with them: {}; move or delete what stands there"


def xlsx(fill):
    workbook = openpyxl.Workbook()
    for row in (["Station", "kV"], ["ELM", 33]):
        workbook.active.append(row)
    fill(workbook.active)
    stream = io.BytesIO()
    workbook.save(stream)
    return stream.getvalue()


def stray(sheet):
    sheet.cell(1048576, 16384, "stray")


def formatted(sheet):
    sheet.cell(1048576, 16384).font = Font(bold=True)


def bottom(sheet):
    sheet.cell(1048576, 2, 7)


def blank_rows():
    """Half a million rows of five formatted cells without values."""
    stream = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(xlsx(lambda sheet: None))) as old,
        zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as new,
    ):
        for name in old.namelist():
            part = old.read(name)
            if not name.endswith("sheet1.xml"):
                new.writestr(name, part)
                continue
            head, tail = part.split(b"</sheetData>")
            with new.open(name, "w") as out:
                out.write(head)
                for row in range(3, 500_001):
                    cells = b"".join(
                        b'<c r="%s%d" s="1"/>' % (letter, row) for letter in (b"A", b"B", b"C", b"D", b"E")
                    )
                    out.write(b'<row r="%d" s="1" customFormat="1">%s</row>' % (row, cells))
                out.write(b"</sheetData>" + tail)
    return stream.getvalue()


def measured(content, tmp_path, suffix=".xlsx"):
    path = tmp_path / f"a{suffix}"
    path.write_bytes(content)
    command = [sys.executable, "-c", MEASURE, str(path)]
    words = subprocess.run(command, check=True, capture_output=True, text=True, timeout=300).stdout.split(maxsplit=3)
    return int(words[0]), (int(words[1]), int(words[2])), words[3].strip()


@pytest.mark.parametrize(
    ("make", "remark"),
    [
        (lambda: xlsx(formatted), "None"),
        (lambda: xlsx(stray), REMARK.format("XFD1048576 stray")),
        (lambda: xlsx(bottom), REMARK.format("B1048576 7")),
        (blank_rows, "None"),
    ],
)
def test_a_workbook_is_read_in_the_memory_of_what_is_filled(make, remark, tmp_path):
    megabytes, size, said = measured(make(), tmp_path)
    assert size == (2, 2)
    assert said == remark
    assert megabytes < 30


def test_a_binary_workbook_is_read_in_the_memory_of_what_is_filled(xlsb_bytes, tmp_path):
    rows = [["Station", "kV"], ["ELM", 33]]
    content = xlsb_bytes({"S": rows}, {(1048575, 16383): "#REF!", (1048575, 3): 7})
    megabytes, size, said = measured(content, tmp_path, ".xlsb")
    assert (size, said) == ((2, 2), REMARK.format("D1048576 7, XFD1048576 #REF!"))
    assert megabytes < 30


def test_an_old_workbook_is_read_in_the_memory_of_what_is_filled(tmp_path):
    workbook = xlwt.Workbook()
    sheet = workbook.add_sheet("S")
    for row, column, cell in ((0, 0, "Station"), (0, 1, "kV"), (1, 0, "ELM"), (65535, 255, "stray")):
        sheet.write(row, column, cell)
    workbook.save(tmp_path / "a.xls")
    megabytes, size, said = measured((tmp_path / "a.xls").read_bytes(), tmp_path, ".xls")
    assert (size, said) == ((2, 2), REMARK.format("IV65536 stray"))
    assert megabytes < 60


def test_a_long_full_sheet_keeps_all_its_cells(read_one):
    workbook = openpyxl.Workbook(write_only=True)
    sheet = workbook.create_sheet()
    for row in range(30_000):
        sheet.append([row, *([None] * 8), "x"])
    stream = io.BytesIO()
    workbook.save(stream)
    [read] = read_one(stream.getvalue(), "a.xlsx").sheets
    assert (len(read.rows), read.width, read.remark) == (30_000, 10, None)


def test_a_sheet_that_declares_less_than_it_holds_is_not_trusted(read_one):
    stream = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(xlsx(stray))) as old, zipfile.ZipFile(stream, "w") as new:
        for name in old.namelist():
            new.writestr(name, old.read(name).replace(b'ref="A1:XFD1048576"', b'ref="A1:B2"'))
    [sheet] = read_one(stream.getvalue(), "a.xlsx").sheets
    assert (sheet.rows, sheet.remark) == ([["Station", "kV"], ["ELM", 33.0]], REMARK.format("XFD1048576 stray"))


def test_rows_in_the_wrong_order_are_a_damaged_workbook(read_one):
    stream = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(xlsx(lambda sheet: None))) as old, zipfile.ZipFile(stream, "w") as new:
        for name in old.namelist():
            new.writestr(name, old.read(name).replace(b'"A1"', b'"A900"').replace(b'"B1"', b'"B900"'))
    assert read_one(stream.getvalue(), "a.xlsx").problem.startswith("not a whole workbook (sheet Sheet ends above")


@pytest.mark.parametrize("width", [1, 14, 26, 27, 52, 702, 703, 16384])
def test_a_cell_beyond_the_declared_grid_is_seen(width):
    beyond = _beyond(999, width, b'"')
    for column in range(16384):
        name = column_letter(column).encode()
        assert (beyond.match(b' r="%s999"' % name) is not None) == (column >= width)
        assert beyond.match(b' r="%s1000"' % name)
        assert beyond.match(b' r="%s0"' % name)


@pytest.mark.parametrize(
    ("cells", "grid"),
    [
        ([(0, 0), (9, 9)], Grid(10, 10)),
        ([(0, 0), (1, 1), (1048575, 16383)], Grid(2, 2)),
        ([(0, 0), (1, 1), (1048575, 0), (0, 16383)], Grid(2, 16384)),
        ([*((row, 0) for row in range(100_000)), (5, 16383)], Grid(100_000, 1)),
        ([], Grid(0, 0)),
    ],
)
def test_the_grid_gives_up_what_stands_furthest_off_for_its_cells(cells, grid):
    places = np.array(cells, dtype=np.int64).reshape(-1, 2)
    assert choose_grid(places[:, 0], places[:, 1]) == grid
