"""The kind of a file by its content, whatever its name says; or what it is instead, and what to do about it."""

import io
import re
import zipfile
from dataclasses import dataclass

from groundcheck.ingest.readers.limits import refuse_size

SUFFIXES = {
    ".xlsx": "xlsx",
    ".xlsm": "xlsm",
    ".xlsb": "xlsb",
    ".xls": "xls",
    ".ods": "ods",
    ".csv": "text",
    ".tsv": "text",
    ".txt": "text",
    ".parquet": "parquet",
}
KINDS_READ = ".xlsx, .xlsm, .xlsb, .xls, .ods, .csv, .tsv, .parquet; .txt where it is named"

_OLE2 = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_PASSWORD = "protected by a password: save a copy without one"
_SAVE_AS = "open it and save it as .xlsx"
# First bytes by which other kinds say what they are.
_FOREIGN = {
    b"%PDF": "a PDF document: ask for the workbook that it was made from",
    b"{\\rtf": "a text document (RTF): copy its table to a workbook",
    b"\x89PNG": "a picture: ask for the workbook that it was made from",
    b"\xff\xd8\xff": "a picture: ask for the workbook that it was made from",
    b"GIF8": "a picture: ask for the workbook that it was made from",
    b"\x1f\x8b": "a compressed file (gzip): unpack it",
    b"7z\xbc\xaf": "a compressed archive (7z): unpack it",
    b"Rar!": "a compressed archive (rar): unpack it",
    b"PARE": "an encrypted .parquet file: write one that is not encrypted",
    b"MIME-Version:": f"a web archive: {_SAVE_AS}",
    b"SQLite format 3": "a database: export its tables as .csv",
}
# BIFF2 to BIFF5 without a container: the BOF record, [MS-XLS] 2.4.21.
_BARE_BIFF = (b"\x09\x00\x04\x00", b"\x09\x02\x06\x00", b"\x09\x04\x06\x00", b"\x09\x08\x06\x00", b"\x09\x08\x08\x00")
_JSON = re.compile(rb"(?:\xef\xbb\xbf)?\s*(?:\{\s*[\"}]|\[\s*[\[{])")
_HTML = re.compile(rb"<(!doctype\s+html|html|head|body|table|meta|style|div)\b", re.I)


@dataclass(frozen=True)
class Kind:
    """What a file is: a kind that is read, or the reason why it is none."""

    name: str = ""
    problem: str | None = None


def kind_of(content: bytes) -> Kind:
    """The kind of a file; 'text' where nothing speaks against it."""
    if not content.strip(b"\x00 \t\r\n"):
        return Kind(problem="empty file")
    if content.startswith(_OLE2):
        return _kind_of_container(content)
    if content.startswith(b"PK"):
        return _kind_of_archive(content)
    if content.startswith(_BARE_BIFF):
        return Kind("xls")
    if content.startswith(b"PAR1"):
        whole = content.endswith(b"PAR1") and len(content) > 12
        return Kind("parquet", None if whole else "cut short: the end of the .parquet file is missing; copy it again")
    for start, reason in _FOREIGN.items():
        if content.startswith(start):
            return Kind(problem=reason)
    if _JSON.match(content):
        return Kind(problem="a JSON file, not a table: export its records as .csv")
    return _kind_of_markup(content) or Kind("text")


def _kind_of_markup(content: bytes) -> Kind | None:
    # The start without null bytes is ASCII in UTF-16, too.
    start = content[:4096].replace(b"\x00", b"").lstrip(b"\xef\xbb\xbf\xff\xfe \t\r\n")
    if not start.startswith(b"<"):
        return None
    if b"urn:schemas-microsoft-com:office:spreadsheet" in start:
        return Kind(problem=f"an XML spreadsheet of 2003: {_SAVE_AS}")
    if _HTML.search(start):
        return Kind(problem=f"a web page (HTML) under a table's name: {_SAVE_AS}")
    return Kind(problem=f"an XML file, not a table: {_SAVE_AS}") if start.startswith((b"<?xml", b"<!")) else None


def _kind_of_container(content: bytes) -> Kind:
    """An OLE2 container names its streams in UTF-16."""

    def holds(name: str) -> bool:
        return name.encode("utf-16-le") in content

    if holds("EncryptedPackage"):
        return Kind(problem=_PASSWORD)
    if holds("WordDocument"):
        return Kind(problem="a text document (.doc): copy its table to a workbook")
    if holds("PowerPoint Document"):
        return Kind(problem="slides (.ppt): copy their table to a workbook")
    if holds("Workbook") or holds("Book"):
        return Kind("xls")
    return Kind(problem="a container of an old program that holds no workbook, or is cut short; copy it again")


def _kind_of_archive(content: bytes) -> Kind:
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            return _kind_of_parts(archive)
    except Exception:  # zipfile raises more than it documents on mutilated headers
        return Kind(problem="cut short or damaged: the list at the end of the zip file is missing; copy it again")


def _kind_of_parts(archive: zipfile.ZipFile) -> Kind:
    parts = {info.filename: info for info in archive.infolist()}
    too_large = refuse_size(sum(info.file_size for info in parts.values()))
    if too_large:
        return Kind(problem=too_large)
    if any(info.flag_bits & 1 for info in parts.values()) or "encrypted-package" in parts:
        return Kind(problem=_PASSWORD)
    media = archive.read("mimetype").decode("latin-1") if "mimetype" in parts else ""
    if media.startswith("application/vnd.oasis.opendocument"):
        manifest = archive.read("META-INF/manifest.xml") if "META-INF/manifest.xml" in parts else b""
        if b"encryption-data" in manifest:
            return Kind(problem=_PASSWORD)
        return Kind("ods") if ".spreadsheet" in media else Kind(problem="a document without sheets (OpenDocument)")
    if "xl/workbook.bin" in parts:
        return Kind("xlsb")
    types = archive.read("[Content_Types].xml") if "[Content_Types].xml" in parts else b""
    if "xl/workbook.xml" in parts or b"sheet.main+xml" in types:
        return Kind("xlsm" if b"macroEnabled" in types else "xlsx")
    if any(name.startswith("word/") for name in parts):
        return Kind(problem="a text document under a workbook's name: copy its table to a workbook")
    if any(name.startswith("ppt/") for name in parts):
        return Kind(problem="slides under a workbook's name: copy their table to a workbook")
    if any(name.endswith(".iwa") for name in parts):
        return Kind(problem="a Numbers document: export it as .xlsx")
    return Kind(problem="a zip archive without a workbook of its own: unpack it, and name what is in it")
