"""A file is read by what it is, whatever its name says; what is no table says what it is and what to do."""

import io
import shutil
import subprocess
import zipfile

import msoffcrypto
import msoffcrypto.format.ooxml
import pytest

from groundcheck.ingest.sheets import cell_text

KINDS = [".xlsx", ".xlsb", ".xls", ".ods", ".parquet", ".csv", ".tsv"]
WANTED = [["Station", "Bus", "Nominal kV"], ["ELM", "B1", "33"], ["Ash Lane", "B2", "11"]]


def texts(source):
    return [[(cell_text(cell) or "").removesuffix(".0") for cell in row] for row in source.sheets[0].rows]


def archive(**parts):
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w") as out:
        for name, content in parts.items():
            out.writestr(name.replace("__", "/").replace("_", "."), content)
    return stream.getvalue()


@pytest.mark.parametrize("kind", KINDS)
def test_the_same_table_is_read_from_every_kind_of_file(read_one, content_of, kind):
    source = read_one(content_of[kind], f"north{kind}")
    assert source.problem is None
    assert texts(source) == WANTED
    assert "under the name" not in source.reader


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", ["north.xlsx", "north.xls", "north.csv", "north.dat"])
def test_a_file_under_the_name_of_another_kind_is_read_and_says_so(read_one, content_of, kind, name):
    if (kind, name) in ((".tsv", "north.csv"), (".csv", "north.csv")) or name.endswith(kind):
        pytest.skip("its own name")
    source = read_one(content_of[kind], name)
    assert source.problem is None
    assert texts(source) == WANTED
    assert source.reader.endswith(f"under the name {name}")


def test_a_text_is_read_where_it_is_named(read_one):
    assert texts(read_one(b"Station|Bus\nELM|B1\n", "buses.txt")) == [["Station", "Bus"], ["ELM", "B1"]]


OLE2 = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600)


@pytest.mark.parametrize(
    ("content", "reason"),
    [
        (b"", "empty file"),
        (b"\r\n  \n", "empty file"),
        (bytes(512), "empty file"),
        (b"<html><table><tr><td>Station</td></tr></table></html>", "a web page (HTML)"),
        ("\ufeff<!DOCTYPE html><html>".encode("utf-16"), "a web page (HTML)"),
        (b'<?xml version="1.0"?><Workbook xmlns="urn:schemas-microsoft-com:office:spreadsheet"/>', "of 2003: open it"),
        (b'<?xml version="1.0"?><stations/>', "an XML file, not a table"),
        (b"PK\x03\x04 and no more", "cut short or damaged"),
        (archive(word__document_xml="<w:document/>"), "a text document under a workbook's name"),
        (archive(ppt__presentation_xml="<p/>"), "slides"),
        (archive(Index__Document_iwa="x"), "a Numbers document: export it as .xlsx"),
        (archive(readme_txt="x"), "a zip archive without a workbook"),
        (OLE2 + "WordDocument".encode("utf-16-le"), "a text document (.doc)"),
        (OLE2, "a container of an old program that holds no workbook"),
        (b"%PDF-1.7\n", "a PDF document"),
        (b"\x89PNG\r\n\x1a\n", "a picture"),
        (b"\x1f\x8b\x08\x00rest", "a compressed file (gzip): unpack it"),
        (b'{"stations": [1, 2]}', "a JSON file"),
        (b"PAR1 and no more", "cut short"),
        (b"A letter to the district\nwithout any table in it\n", "plain text without columns"),
        (bytes(range(1, 256)) * 4, "not text: it holds the control character 1"),
        (b"Station,Bus\nELM\x00,B1\n", "not text: it holds null bytes"),
    ],
)
@pytest.mark.parametrize("name", ["odd.xlsx", "odd.xls"])
def test_what_is_no_table_says_what_it_is(read_one, content, reason, name):
    source = read_one(content, name)
    assert reason in source.problem
    assert source.sheets == []


@pytest.mark.parametrize("kind", [".xlsx", ".xlsb", ".ods", ".xls", ".parquet"])
def test_a_file_cut_short_is_listed(read_one, content_of, kind):
    content = content_of[kind]
    source = read_one(content[: len(content) // 2], f"cut{kind}")
    assert "cut short" in source.problem or "not a whole" in source.problem
    assert source.sheets == []


def test_a_workbook_with_a_password_says_so(read_one, content_of):
    locked = io.BytesIO()
    msoffcrypto.format.ooxml.OOXMLFile(io.BytesIO(content_of[".xlsx"])).encrypt("secret", locked)
    source = read_one(locked.getvalue(), "locked.xlsx")
    assert source.problem == "protected by a password: save a copy without one"


def test_an_old_workbook_with_a_password_says_so(read_one, content_of):
    # FILEPASS, [MS-XLS] 2.4.117: type 0x2F, here of XOR obfuscation; it follows the BOF record of the globals.
    bof = b"\x09\x08\x10\x00\x00\x06\x05\x00"
    content = content_of[".xls"]
    at = content.index(bof) + 20
    filepass = b"\x2f\x00\x06\x00" + bytes(2) + b"\x34\x12\x78\x56"
    locked = content[:at] + filepass + content[at + len(filepass) :]
    assert read_one(locked, "locked.xls").problem == "protected by a password: save a copy without one"


def test_an_open_document_with_a_password_says_so(read_one, content_of):
    stream = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content_of[".ods"])) as sound, zipfile.ZipFile(stream, "w") as out:
        for name in sound.namelist():
            content = sound.read(name)
            if name == "META-INF/manifest.xml":
                # OpenDocument 1.2, part 3, section 4.4: what an encrypted entry carries.
                content = content.replace(b"</manifest:manifest>", b"<manifest:encryption-data/></manifest:manifest>")
            out.writestr(name, content)
    assert read_one(stream.getvalue(), "locked.ods").problem == "protected by a password: save a copy without one"


def test_a_workbook_that_unpacks_to_more_than_is_read_is_refused(read_one, content_of, monkeypatch):
    monkeypatch.setattr("groundcheck.ingest.readers.limits.LARGEST_FILE", 1000)
    source = read_one(content_of[".xlsx"], "bomb.xlsx")
    assert source.problem.startswith("unpacks to 0.0 GB, more than the 0.0 GB that are read: split it")


def test_a_bomb_is_refused_without_being_unpacked(read_one, content_of):
    stream = io.BytesIO(content_of[".xlsx"])
    with (
        zipfile.ZipFile(stream, "a", zipfile.ZIP_DEFLATED) as out,
        out.open("xl/big.xml", "w", force_zip64=True) as part,
    ):
        for _ in range(1100):
            part.write(bytes(1 << 20))
    assert len(stream.getvalue()) < 2_000_000
    assert "unpacks to 1.2 GB, more than the 1.1 GB that are read" in read_one(stream.getvalue(), "bomb.xlsx").problem


@pytest.mark.skipif(shutil.which("soffice") is None, reason="LibreOffice is not installed")
def test_the_binary_workbooks_of_these_tests_are_read_by_another_program(content_of, tmp_path):
    (tmp_path / "buses.xlsb").write_bytes(content_of[".xlsb"])
    profile = f"-env:UserInstallation=file://{tmp_path}/profile"
    command = ["soffice", profile, "--headless", "--convert-to", "csv", "--outdir", tmp_path, tmp_path / "buses.xlsb"]
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    assert (tmp_path / "buses.csv").read_text().splitlines() == [
        "Station,Bus,Nominal kV",
        "ELM,B1,33",
        "Ash Lane,B2,11",
    ]
