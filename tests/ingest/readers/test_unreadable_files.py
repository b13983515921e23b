"""Files that cannot be read are listed with the reason, and the others are read."""

import os
import shutil
import zipfile

import pytest

from groundcheck.errors import NothingRead, SourceNotFound

BUSES = [["Station", "Bus", "Nominal kV"], ["ELM", "B1", 33], ["ELM", "B2", 11]]


def problems(store):
    return dict(store.sql("SELECT file, problem FROM raw.file WHERE problem IS NOT NULL").fetchall())


def test_a_path_that_does_not_exist_is_named(read, tmp_path):
    with pytest.raises(SourceNotFound, match=r"absent\.xlsx: no such file or folder; name files, or a folder of them"):
        read(tmp_path / "absent.xlsx")


def test_a_folder_without_a_readable_kind_of_file_says_which_kinds_are_read(read, tmp_path):
    (tmp_path / "notes.txt").write_text("none")
    with pytest.raises(
        NothingRead, match=r"no file of a kind that is read \(\.xlsx, .*\.parquet; \.txt where it is named\)"
    ):
        read(tmp_path)


def test_a_truncated_workbook_is_listed_and_the_sound_one_beside_it_is_read(read, book, tmp_path):
    sound = book({"Buses": BUSES})
    (tmp_path / "cut.xlsx").write_bytes(sound.read_bytes()[:-200])
    store = read(tmp_path)
    assert problems(store) == {
        "cut.xlsx": "cut short or damaged: the list at the end of the zip file is missing; copy it again"
    }
    assert store.sql("SELECT count(*) FROM inventory.bus").fetchall()[0] == (2,)


def test_a_text_document_under_a_workbooks_name_is_recognized(read, book, tmp_path):
    book({"Buses": BUSES})
    with zipfile.ZipFile(tmp_path / "letter.xlsx", "w") as archive:
        archive.writestr("word/document.xml", "<w:document/>")
    assert problems(read(tmp_path)) == {
        "letter.xlsx": "a text document under a workbook's name: copy its table to a workbook"
    }


def test_lock_files_and_litter_are_passed_over(read, book, tmp_path):
    book({"Buses": BUSES})
    for name in ("~$north.xlsx", ".DS_Store", "Thumbs.db", ".hidden.csv", "README.md"):
        (tmp_path / name).write_bytes(b"litter")
    store = read(tmp_path)
    assert store.sql("SELECT file FROM raw.file").fetchall() == [("north.xlsx",)]
    assert dict(store.sql("SELECT file, reason FROM raw.skipped").fetchall()) == {
        "~$north.xlsx": "the lock file of an open workbook",
        ".DS_Store": "hidden, or litter of the system",
        "Thumbs.db": "hidden, or litter of the system",
        ".hidden.csv": "hidden, or litter of the system",
        "README.md": "of no kind that is read",
    }


def test_a_named_file_of_another_kind_is_listed(read, book, tmp_path):
    notes = tmp_path / "notes.md"
    notes.write_text("none")
    store = read([book({"Buses": BUSES}), notes])
    assert problems(store)["notes.md"].startswith("plain text without columns, not a table")


def test_the_same_content_under_two_names_is_read_once(read, book, tmp_path):
    shutil.copy(book({"Buses": BUSES}), tmp_path / "zz copy.xlsx")
    store = read(tmp_path)
    assert store.sql("SELECT file FROM raw.file WHERE copy_of = 'north.xlsx'").fetchall() == [("zz copy.xlsx",)]
    assert store.sql("SELECT count(*) FROM raw.row").fetchall()[0] == (3,)
    assert store.sql("SELECT count(*) FROM raw.quarantine").fetchall()[0] == (0,)


def test_nothing_at_all_that_can_be_read_stops_with_the_reason(read, tmp_path):
    (tmp_path / "cut.xlsx").write_bytes(b"PK\x03\x04 and no more")
    with pytest.raises(NothingRead, match=r"no source gave a single record \(cut\.xlsx: cut short"):
        read(tmp_path)


def test_two_files_of_one_name_go_by_their_folders(read, csv_file, tmp_path):
    for folder, bus in (("a", "B1"), ("b", "B2")):
        (tmp_path / folder).mkdir()
        os.replace(csv_file([BUSES[0], ["ELM", bus, 33]]), tmp_path / folder / "register.csv")
    store = read([tmp_path / "a" / "register.csv", tmp_path / "b" / "register.csv"])
    assert store.sql("SELECT file FROM raw.file ORDER BY 1").fetchall() == [("a/register.csv",), ("b/register.csv",)]


@pytest.mark.parametrize("encoding", ["utf-8-sig", "utf-16", "cp1252"])
def test_the_encoding_of_a_csv_is_found(read, csv_file, encoding):
    store = read(csv_file([BUSES[0], ["Älmhult", "B1", "33"]], encoding=encoding))
    assert store.sql("SELECT substation, nominal_voltage FROM inventory.bus").fetchall() == [("Älmhult", 33.0)]
    assert encoding.removesuffix("-sig") in store.sql("SELECT reader FROM raw.file").fetchall()[0][0]


def test_decimal_commas_are_read_where_the_file_uses_them(read, csv_file):
    rows = [BUSES[0], ["ELM", "B1", "13,8"], ["ELM", "B2", "6,6 kV"]]
    store = read(csv_file(rows, delimiter=";"))
    assert store.sql("SELECT nominal_voltage FROM inventory.bus ORDER BY bus").fetchall() == [(13.8,), (6.6,)]
    assert store.sql("SELECT reader FROM raw.file").fetchall()[0] == ("csv, utf-8, delimiter ;, decimal comma",)
