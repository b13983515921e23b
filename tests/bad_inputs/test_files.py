"""Files that can't be read, and files that are not quite what their name says: each is named, the others are read."""

import io
import zipfile

import openpyxl
import pytest
import xlwt
from bad_inputs.cases import listed
from msoffcrypto.format.ooxml import OOXMLFile
from openpyxl.chart import BarChart, Reference

from groundcheck.errors import NothingRead, SourceNotFound

BUSES = [["Station", "Bus", "Nominal kV"], ["ELM", "B1", 33], ["ELM", "B2", 11]]


def workbook_bytes(rows=BUSES):
    workbook = openpyxl.Workbook()
    for row in rows:
        workbook.active.append(row)
    stream = io.BytesIO()
    workbook.save(stream)
    return stream.getvalue()


def encrypted(password):
    stream = io.BytesIO()
    OOXMLFile(io.BytesIO(workbook_bytes())).encrypt(password, stream)
    return stream.getvalue()


def archive(**parts):
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w") as made:
        for name, text in parts.items():
            made.writestr(name.replace("__", "/").replace("_dot_", "."), text)
    return stream.getvalue()


def old_workbook():
    workbook = xlwt.Workbook()
    workbook.add_sheet("Sheet").write(0, 0, "Station")
    stream = io.BytesIO()
    workbook.save(stream)
    return stream.getvalue()


UNREADABLE = [
    ("a truncated workbook", "bad.xlsx", workbook_bytes()[:2000], "cut short or damaged"),
    ("a workbook with a hole", "bad.xlsx", b"PK\x03\x04" + b"\x00" * 600, "cut short or damaged"),
    ("a text document renamed", "bad.xlsx", archive(word__document_dot_xml="<w/>"), "a text document"),
    ("slides renamed", "bad.xlsx", archive(ppt__presentation_dot_xml="<p/>"), "slides"),
    ("a zip archive of something", "bad.xlsx", archive(notes_dot_txt="x"), "a zip archive without a workbook"),
    ("a web page saved as .xls", "bad.xls", b"<html><table><tr><td>ELM</td></tr></table></html>", "a web page"),
    ("an XML spreadsheet", "bad.xls", b'<?xml version="1.0"?><Workbook xmlns="urn:schemas-microsoft-com:office:'
     b'spreadsheet"/>', "XML spreadsheet of 2003"),
    ("a workbook with a password", "bad.xlsx", encrypted("x"), "protected by a password: save a copy without one"),
    ("a cut off old workbook", "bad.xls", old_workbook()[:700], "cut short"),
    ("an empty file", "bad.xlsx", b"", "empty file"),
    ("a csv of blanks", "bad.csv", b" \r\n \r\n", "empty file"),
    ("a csv of bytes", "bad.csv", bytes(range(256)), "not text"),
    ("a PDF document", "bad.xlsx", b"%PDF-1.7\n...", "a PDF document"),
    ("a picture", "bad.xlsx", b"\x89PNG\r\n\x1a\n...", "a picture"),
    ("a JSON file", "bad.csv", b'[{"station": "ELM"}]', "a JSON file"),
    ("a cut off .parquet file", "bad.parquet", b"PAR1" + b"\x00" * 50, "cut short"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("name", "content", "problem"), [row[1:] for row in UNREADABLE], ids=[u[0] for u in UNREADABLE]
)
def test_an_unreadable_file_is_named_and_the_others_are_read(read, book, tmp_path, name, content, problem):
    (tmp_path / name).write_bytes(content)
    store = read([book({"Buses": BUSES}), tmp_path / name])
    [(found, copy_of)] = store.sql("SELECT problem, copy_of FROM raw.file WHERE file = $f", {"f": name}).fetchall()
    assert problem in found
    assert copy_of is None
    assert buses(store) == [("B1", 33.0), ("B2", 11.0)]
    assert listed(store) == []


def buses(store):
    return store.sql("SELECT bus, nominal_voltage FROM inventory.bus ORDER BY bus").fetchall()


def test_a_password_is_not_called_damage(read, book, tmp_path):
    (tmp_path / "secret.xlsx").write_bytes(encrypted("x"))
    store = read([book({"Buses": BUSES}), tmp_path / "secret.xlsx"])
    [(problem,)] = store.sql("SELECT problem FROM raw.file WHERE file = 'secret.xlsx'").fetchall()
    assert "password" in problem
    assert "damaged" not in problem
    assert "whole" not in problem


def test_a_path_that_does_not_exist_stops(command, stopped, tmp_path):
    stopped(command("audit", tmp_path / "nowhere.xlsx"), "nowhere.xlsx: no such file or folder", ".xlsx, .xlsm")


def test_a_folder_with_nothing_readable_in_it_stops(command, stopped, tmp_path):
    (tmp_path / "records").mkdir()
    (tmp_path / "records" / "readme.md").write_text("none")
    stopped(command("audit", tmp_path / "records"), "records: no file of a kind that is read", ".ods", "1 passed over")


def test_one_missing_path_among_sound_ones_stops(read, book, tmp_path):
    with pytest.raises(SourceNotFound, match=r"gone\.csv: no such file"):
        read([book({"Buses": BUSES}), tmp_path / "gone.csv"])


def test_nothing_but_unreadable_files_stops_with_the_reason(command, stopped, tmp_path):
    (tmp_path / "bad.xlsx").write_bytes(b"PK\x03\x04")
    stopped(command("audit", tmp_path / "bad.xlsx"), "no source gave a single record", "bad.xlsx", "damaged")


def test_no_source_at_all_stops(read):
    with pytest.raises(NothingRead, match="no source"):
        read([])


@pytest.mark.parametrize("litter", ["~$north.xlsx", ".~lock.north.ods#", ".DS_Store", "Thumbs.db", "desktop.ini"])
def test_litter_is_passed_over_and_counted(read, book, tmp_path, litter):
    book({"Buses": BUSES})
    (tmp_path / litter).write_bytes(b"\x00litter")
    store = read(tmp_path)
    assert store.sql("SELECT file FROM raw.file").fetchall() == [("north.xlsx",)]
    assert store.sql("SELECT file FROM raw.skipped").fetchall() == [(litter,)]
    assert buses(store) == [("B1", 33.0), ("B2", 11.0)]


def test_the_same_workbook_under_two_names_is_read_once(read, tmp_path):
    for name in ("a.xlsx", "b.xlsx"):
        (tmp_path / name).write_bytes(workbook_bytes())
    (tmp_path / "b.xlsx").write_bytes((tmp_path / "a.xlsx").read_bytes())
    store = read(tmp_path)
    assert store.sql("SELECT file, copy_of FROM raw.file ORDER BY 1").fetchall() == [
        ("a.xlsx", None),
        ("b.xlsx", "a.xlsx"),
    ]
    assert listed(store) == []
    assert buses(store) == [("B1", 33.0), ("B2", 11.0)]


ENCODED = [
    ("Windows-1252", "cp1252", ";", "Überlingen", "cp1252, delimiter ;"),
    ("UTF-16 with its mark", "utf-16", "\t", "Überlingen", "utf-16, delimiter tab"),
    ("UTF-8 with its mark", "utf-8-sig", ",", "Überlingen", "utf-8, delimiter ,"),
    ("pipes", "utf-8", "|", "Überlingen", "utf-8, delimiter |"),
    ("Windows-1251", "cp1251", ";", "Подстанция Восточная", "cp1251, delimiter ;"),
]


@pytest.mark.parametrize(
    ("encoding", "delimiter", "station", "said"), [e[1:] for e in ENCODED], ids=[e[0] for e in ENCODED]
)
def test_the_encoding_of_a_csv_is_found_and_said(read, csv_file, encoding, delimiter, station, said):
    rows = [BUSES[0], [station, "B1", "33"], [station, "B2", "11"]]
    store = read(csv_file(rows, encoding=encoding, delimiter=delimiter))
    assert store.sql("SELECT DISTINCT substation FROM inventory.bus").fetchall() == [(station,)]
    [(reader,)] = store.sql("SELECT reader FROM raw.file").fetchall()
    assert said in reader


def test_a_csv_row_may_be_shorter_than_the_headings_but_not_longer(read, csv_file):
    rows = [[*BUSES[0], "Highest kV"], ["ELM", "B1", "33"], ["ELM", "B2", "11", "12", "kV"], ["ELM", "B3", "11", "12"]]
    store = read(csv_file(rows))
    assert [entry[:4] for entry in listed(store)] == [("quarantine", "E3", "too_many_cells", "kV")]
    assert store.sql("SELECT bus, highest_voltage FROM inventory.bus ORDER BY bus").fetchall() == [
        ("B1", None),
        ("B3", 12.0),
    ]


def test_sheets_without_a_table_say_why(read, tmp_path):
    workbook = openpyxl.Workbook()
    for row in BUSES:
        workbook.active.append(row)
    chart = BarChart()
    chart.add_data(Reference(workbook.active, min_col=3, min_row=1, max_row=3), titles_from_data=True)
    workbook.create_chartsheet("Chart").add_chart(chart)
    workbook.create_sheet("Empty")
    notes = workbook.create_sheet("Notes")
    notes.append(["Meeting of 3 May"])
    notes.append(["Present: M. Reed, A. Moss"])
    workbook.save(tmp_path / "north.xlsx")
    store = read(tmp_path / "north.xlsx")
    remarks = dict(store.sql("SELECT sheet, remark FROM raw.account").fetchall())
    assert remarks["Chart"] == "a sheet without cells, such as a chart"
    assert remarks["Empty"] == "an empty sheet"
    assert "no row holds headings" in remarks["Notes"]
    assert remarks["Sheet"] is None
    assert buses(store) == [("B1", 33.0), ("B2", 11.0)]


def test_a_cell_at_the_end_of_the_sheet_is_named_and_the_rest_is_read(read, tmp_path):
    workbook = openpyxl.Workbook()
    for row in BUSES:
        workbook.active.append(row)
    workbook.active["XFD1048576"] = "stray"
    workbook.save(tmp_path / "north.xlsx")
    store = read(tmp_path / "north.xlsx")
    [(rows, remark)] = store.sql("SELECT rows_read, remark FROM raw.account").fetchall()
    assert rows == 3
    assert "XFD1048576 stray" in remark
    assert buses(store) == [("B1", 33.0), ("B2", 11.0)]


def test_a_formula_without_stored_result_is_named_and_says_what_to_do(read, book):
    rows = [[*BUSES[0], "Highest kV"], ["ELM", "B1", 33, 36], ["ELM", "B2", 11, "=C3*1.1"], ["ELM", "B3", "=C2", 36]]
    store = read(book({"Buses": rows}))
    (quarantine, unread) = listed(store)
    assert quarantine[:3] == ("quarantine", "C4", "unreadable")
    assert unread[:3] == ("unread_cell", "D3", "highest_voltage")
    for entry in (quarantine, unread):
        assert entry[3].startswith("=") or entry[3].startswith("C")
        assert "no stored result: open and save it in a spreadsheet program" in entry[4]
    assert store.sql("SELECT bus, highest_voltage FROM inventory.bus ORDER BY bus").fetchall() == [
        ("B1", 36.0),
        ("B2", None),
    ]
