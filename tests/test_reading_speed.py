"""A large register is read in a small multiple of the time that its cells alone take; blank cells cost nothing."""

import os
import subprocess
import sys
import time
import zipfile

import pytest
import xlsxwriter
from python_calamine import CalamineWorkbook

from groundcheck.ingest import ingest
from groundcheck.store import Store

ROWS = 100_000
# The aim is 2.5 on an idle machine; the default leaves room for a loaded one.
LIMIT = float(os.environ.get("GROUNDCHECK_READING_LIMIT", "6.0"))
BLANK_ROWS = 1_000_000
MEGABYTES = 320  # for the process that reads them; the libraries and an empty store take 210

HEADINGS = (
    *("District", "Station", "Transformer", "HV bus", "LV bus", "Rating (MVA)", "HV kV", "LV kV", "Vector group"),
    *("Impedance (%)", "X/R", "Core form", "Status", "Remarks"),
)
REMARKS = ("", "repainted 2019", "oil sampled", "on loan", "see drawing 1204")


def register_row(number):
    """One of four transformers of a station, with cells that differ as those of a register do."""
    station, unit = divmod(number, 4)
    return (
        f"District {station % 40}",
        f"S{station:05}",
        f"T{unit + 1}",
        "B33",
        f"B11-{unit // 2}",
        (5, 7.5, 12, 24)[number % 4],
        33,
        11,
        ("Dyn11", "YNd11", "Dyn1")[number % 3],
        8 + number % 400 / 100,
        10 + number % 90 / 10,
        ("three limb", "five limb")[number % 2],
        "in service",
        REMARKS[number % 5],
    )


@pytest.fixture(scope="module")
def register(tmp_path_factory):
    path = tmp_path_factory.mktemp("register") / "register.xlsx"
    with xlsxwriter.Workbook(str(path), {"constant_memory": True}) as book:
        sheet = book.add_worksheet("Transformers")
        sheet.write_row(0, 0, HEADINGS)
        for number in range(ROWS):
            sheet.write_row(number + 1, 0, register_row(number))
    return path


def seconds(job):
    start = time.perf_counter()
    job()
    return time.perf_counter() - start


def test_a_register_of_a_hundred_thousand_rows_is_read_fast(register, capsys):
    alone = seconds(lambda: CalamineWorkbook.from_path(register).get_sheet_by_index(0).to_python())
    with Store() as store:
        whole = seconds(lambda: ingest(store, [register]))
        assert store.sql("SELECT rows_used FROM raw.account").fetchall() == [(ROWS,)]
        assert store.sql("SELECT count(*) FROM inventory.transformer").fetchall() == [(ROWS,)]
        assert store.sql("SELECT count(*) FROM inventory.substation").fetchall() == [(ROWS // 4,)]
    with capsys.disabled():
        print(f"\n{ROWS:,} rows: cells alone {alone:.2f} s, inventory {whole:.2f} s, ratio {whole / alone:.2f}")
    assert whole / alone < LIMIT


# Of the process's own memory: its ru_maxrss starts at that of the process that started it.
READ_AND_MEASURE = """
import re, sys
from groundcheck.ingest import ingest
from groundcheck.store import Store
with Store() as store:
    ingest(store, [sys.argv[1]])
    [(rows,)] = store.sql("SELECT rows_read FROM raw.account").fetchall()
print(rows, re.search(r"VmHWM:\\s*(\\d+) kB", open("/proc/self/status").read())[1])
"""


def write_blank_rows(path):
    """A sheet of one record, and a million rows of a formatted cell without a value."""
    plain = path.with_name("plain.xlsx")
    with xlsxwriter.Workbook(str(plain)) as book:
        sheet = book.add_worksheet("Buses")
        sheet.write_row(0, 0, ("Station", "Bus", "Nominal kV"))
        sheet.write_row(1, 0, ("ELM", "B1", 33))
        sheet.write_blank(2, 0, None, book.add_format({"bg_color": "#EEEEEE"}))
    rows = "".join(f'<row r="{row}"><c r="A{row}" s="1"/></row>' for row in range(4, BLANK_ROWS + 1))
    with zipfile.ZipFile(plain) as old, zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as new:
        for part in old.namelist():
            content = old.read(part).decode()
            if part == "xl/worksheets/sheet1.xml":
                content = content.replace("</sheetData>", f"{rows}</sheetData>")
                content = content.replace('<dimension ref="A1:C3"/>', f'<dimension ref="A1:C{BLANK_ROWS}"/>')
            new.writestr(part, content)


@pytest.mark.skipif(sys.platform != "linux", reason="the peak of a process's memory is read from /proc")
def test_a_million_blank_formatted_rows_take_no_memory(tmp_path):
    path = tmp_path / "blank.xlsx"
    write_blank_rows(path)
    done = subprocess.run(
        [sys.executable, "-c", READ_AND_MEASURE, str(path)], capture_output=True, text=True, check=True
    )
    rows, kilobytes = map(int, done.stdout.split())
    assert rows == 2
    assert kilobytes / 1024 < MEGABYTES
