"""Reports of this program that lie among the records, told by the mark that their writers leave in them."""

import io
import re
import zipfile
from pathlib import Path

from python_calamine import CalamineError, CalamineWorkbook

from groundcheck.own_files import FINDING_COLUMNS, OUTCOME_COLUMNS, REPORT, TEMPLATE
from groundcheck.schema.drop_downs import WORDS_SHEET
from groundcheck.schema.template import EXPLANATION_SHEET

OWN_REPORT = "a report of this program"
BLANK_TEMPLATE = "a template of this program that is not filled in"
_CATEGORY = re.compile(rb"<(?:\w+:)?category>\s*([^<]*?)\s*</")
_PROPERTIES = "docProps/core.xml"
_MOST = 1 << 16  # bytes: properties are far shorter
_HEADING_LINES = {",".join(columns).encode() for columns in (FINDING_COLUMNS, OUTCOME_COLUMNS)}
_BYTE_ORDER_MARK = b"\xef\xbb\xbf"


def own_report(path: Path) -> str | None:
    """Why a file is no register: it is a report of this program, or its blank template; None if it is neither."""
    suffix = path.suffix.lower()
    try:
        if suffix == ".csv":
            with path.open("rb") as stream:
                line = stream.readline(max(map(len, _HEADING_LINES)) + 8)
            return OWN_REPORT if line.removeprefix(_BYTE_ORDER_MARK).strip() in _HEADING_LINES else None
        if suffix in (".xlsx", ".xlsm"):
            category = _category(path)
            if category == REPORT:
                return OWN_REPORT
            return BLANK_TEMPLATE if category == TEMPLATE and _is_blank(path) else None
    except OSError:
        return None  # the reader of files says why it cannot be opened
    return None


def refuse_own(reason: str) -> str:
    """Why a file that was named itself is not read all the same, and what to do."""
    if reason == BLANK_TEMPLATE:
        return f"{reason}: enter records under its headings"
    return (
        f"{reason}, not a register: name the records that it was made from; if it was corrected and is to be read, "
        "blank the category among its properties"
    )


def _category(path: Path) -> str | None:
    try:
        with zipfile.ZipFile(path) as archive, archive.open(_PROPERTIES) as stream:
            found = _CATEGORY.search(stream.read(_MOST))
    except OSError:
        raise
    except Exception:  # zipfile and zlib raise a dozen kinds on mutilated content; the reader of workbooks says which
        return None
    return found[1].decode("utf-8", errors="replace") if found else None


def _is_blank(path: Path) -> bool:
    """Whether no sheet for records has a row under its headings."""
    try:
        with CalamineWorkbook.from_filelike(io.BytesIO(path.read_bytes())) as book:
            names = [name for name in book.sheet_names if name not in (EXPLANATION_SHEET, WORDS_SHEET)]
            return all(book.get_sheet_by_name(name).height <= 1 for name in names)
    except CalamineError:
        return False
