"""Reading .xlsx workbooks: every sheet, its merged ranges, and why a workbook cannot be read."""

from pathlib import Path
from typing import Any

from python_calamine import CalamineError, CalamineWorkbook, PasswordError, SheetTypeEnum, SheetVisibleEnum

from groundcheck.ingest.sheets import Sheet, SourceFile

# First bytes by which a file says what it is, whatever its name says.
_OLE2 = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_ZIP = b"PK\x03\x04"
_ENCRYPTED = "EncryptedPackage".encode("utf-16-le")


def read_workbook(path: Path, source: SourceFile) -> None:
    """Fill the source with the sheets of a workbook, or with the reason why it has none."""
    content = path.read_bytes()
    source.problem = _not_a_workbook(content)
    if source.problem:
        return
    try:
        with CalamineWorkbook.from_path(path) as workbook:
            for metadata in workbook.sheets_metadata:
                source.sheets.append(_read_sheet(workbook, metadata, source.file))
    except PasswordError:
        source.problem = "protected by a password: save a copy without one"
    except (CalamineError, OSError, ValueError) as error:
        source.sheets.clear()
        source.problem = f"not a whole workbook ({str(error).splitlines()[0]}): export it again"
    source.reader = "workbook"


def _read_sheet(workbook: CalamineWorkbook, metadata: Any, file: str) -> Sheet:
    sheet = Sheet(file, metadata.name, [], hidden=metadata.visible != SheetVisibleEnum.Visible)
    if metadata.typ != SheetTypeEnum.WorkSheet:
        sheet.remark = "a sheet without cells, such as a chart"
        return sheet
    content = workbook.get_sheet_by_name(metadata.name)
    sheet.rows = content.to_python(skip_empty_area=False) if content.height else []
    sheet.merged = list(content.merged_cell_ranges or [])
    return sheet


def _not_a_workbook(content: bytes) -> str | None:
    """Why the bytes are not those of an .xlsx workbook; None if they may be."""
    if not content:
        return "empty file"
    if content.startswith(_OLE2):
        if _ENCRYPTED in content:
            return "protected by a password: save a copy without one"
        return "an old .xls workbook under another name: save it as .xlsx"
    if content.lstrip()[:1] == b"<":
        return "a web page (HTML or XML) under a workbook's name: open it and save it as .xlsx"
    if not content.startswith(_ZIP):
        return "not a workbook: its first bytes are not those of an .xlsx file"
    if b"word/document.xml" in content:
        return "a text document under a workbook's name"
    if b"PK\x05\x06" not in content[-66000:]:
        return "cut short: the end of the .xlsx file is missing; copy it again"
    return None
