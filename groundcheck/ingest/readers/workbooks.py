"""Reading .xlsx, .xlsm, .xlsb and .ods workbooks: every sheet, and why a workbook cannot be read."""

import io
import re
import zipfile
from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import partial
from typing import Any

from python_calamine import CalamineError, CalamineWorkbook, PasswordError, SheetTypeEnum, SheetVisibleEnum

from groundcheck.ingest.readers.amended import Amended, Damaged, replace_parts
from groundcheck.ingest.readers.biff12 import amend_records
from groundcheck.ingest.readers.extents import fits
from groundcheck.ingest.readers.marks import Marks, read_marks
from groundcheck.ingest.readers.sheet_amended import amend_sheet, find_grid
from groundcheck.ingest.readers.strays import remark_on_strays, set_apart
from groundcheck.ingest.readers.xlsx_parts import read_parts
from groundcheck.ingest.sheets import Sheet, SourceFile, Uncomputed, is_blank

_ODS_CELL = re.compile(rb"<table:table-cell\b[^>]*\bcalcext:value-type=\"error\"[^>]*>")
_ODS_VALUE = re.compile(rb"\soffice:(?:string-)?value=\"[^\"]*\"")


@dataclass
class Beside:
    """What was read of a workbook beside its values, by sheet."""

    marks: dict[str, Marks] = field(default_factory=dict)
    strays: dict[str, Amended] = field(default_factory=dict)


def read_workbook(content: bytes, kind: str, source: SourceFile) -> None:
    """Fill the source with the sheets of a workbook, or with the reason why it has none."""
    try:
        beside, content, strays = _look_beside(content, kind)
        source.sheets = _read_sheets(content, beside, source.file)
        if kind == "ods":
            for sheet in source.sheets:
                set_apart(sheet)
        if strays:
            _remark_on_strays(_read_sheets(strays, Beside(), source.file), source.sheets, beside)
    except PasswordError:
        source.problem = "protected by a password: save a copy without one"
    except Damaged as damage:
        source.sheets.clear()
        # Calamine tells an .ods sheet of more cells than it will hold from a damaged one only by its file's name.
        far_off = ", or delete the cells that stand far off the rest" if kind == "ods" else ""
        source.problem = f"not a whole workbook ({damage}): export it again{far_off}"


def _look_beside(content: bytes, kind: str) -> tuple[Beside, bytes, bytes]:
    """What calamine does not tell; the workbook in a form that it reads whole; and a workbook of far-off cells."""
    beside = Beside()
    amended: dict[str, Amended] = {}
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            if kind == "ods":
                text = archive.read("content.xml")
                if b'calcext:value-type="error"' in text:
                    amended["content.xml"] = Amended([_ODS_CELL.sub(lambda cell: _ODS_VALUE.sub(b"", cell[0]), text)])
            else:
                amended = _amend_sheets(archive, kind, beside)
            parts: dict[str, Iterable[bytes]] = {part: change.content for part, change in amended.items()}
            far = {part: [change.stray_sheet] for part, change in amended.items() if change.strays}
            strays = replace_parts(content, far) if far else b""
            return beside, replace_parts(content, parts) if parts else content, strays
    except Damaged:
        raise
    except Exception as error:  # zipfile, zlib and the parser of XML raise a dozen kinds on mutilated content
        raise Damaged(_first_line(error)) from error


def _amend_sheets(archive: zipfile.ZipFile, kind: str, beside: Beside) -> dict[str, Amended]:
    parts = read_parts(archive)
    amended: dict[str, Amended] = {}
    for name, part in parts.sheets.items():
        if kind == "xlsb":
            change = amend_records(archive.read(part))
        else:
            opener = partial(archive.open, part)
            with opener() as stream:
                marks = beside.marks[name] = read_marks(stream, parts.struck_styles, parts.recalculated)
            grid = None
            # Calamine takes the first and the last cell for the ends of the sheet.
            if (marks.first_row or 0) >= max(marks.last_row, 1):
                raise Damaged(f"sheet {name} ends above its first row")
            if marks.declared is None or not fits(marks.last_row, marks.declared[1], marks.cells):
                found, outside = find_grid(opener)
                grid = found if outside else None
            change = amend_sheet(opener, grid) if marks.errors or grid else None
        if change is not None:
            amended[part] = change
            if change.strays:
                beside.strays[name] = change
    return amended


def _read_sheets(content: bytes, beside: Beside, file: str) -> list[Sheet]:
    try:
        with CalamineWorkbook.from_filelike(io.BytesIO(content)) as workbook:
            return [_read_sheet(workbook, metadata, file, beside) for metadata in workbook.sheets_metadata]
    except PasswordError:
        raise
    except (CalamineError, OSError, ValueError, OverflowError, MemoryError) as error:
        raise Damaged(_first_line(error)) from error
    except BaseException as error:
        # A panic of the Rust side derives from BaseException, and its class cannot be imported.
        if type(error).__name__ != "PanicException":
            raise
        raise Damaged("its inner structure contradicts itself") from error


def _read_sheet(workbook: CalamineWorkbook, metadata: Any, file: str, beside: Beside) -> Sheet:
    sheet = Sheet(file, metadata.name, [], hidden=metadata.visible != SheetVisibleEnum.Visible)
    if metadata.typ != SheetTypeEnum.WorkSheet:
        sheet.remark = "a sheet without cells, such as a chart"
        return sheet
    content = workbook.get_sheet_by_name(metadata.name)
    sheet.rows = content.to_python(skip_empty_area=False) if content.height else []
    sheet.merged = list(content.merged_cell_ranges or [])
    marks = beside.marks.get(metadata.name)
    if marks is not None:
        _apply_marks(sheet, marks, beside.strays.get(metadata.name))
    return sheet


def _apply_marks(sheet: Sheet, marks: Marks, strays: Amended | None) -> None:
    apart = set(strays.strays) if strays else set()
    for (row, column), formula in marks.uncomputed.items():
        if (row, column) not in apart:
            sheet.rows += [[] for _ in range(row + 1 - len(sheet.rows))]
            cells = sheet.rows[row]
            cells += [""] * (column + 1 - len(cells))
            cells[column] = Uncomputed(formula)
    height, width = len(sheet.rows), max(map(len, sheet.rows), default=0)
    sheet.hidden_rows = frozenset(row for row in marks.hidden_rows if row < height)
    sheet.struck_rows = frozenset(row for row in marks.struck_rows if row < height)
    sheet.hidden_columns = frozenset(
        column for columns in marks.hidden_columns for column in range(columns.start, min(columns.stop, width))
    )


def _remark_on_strays(alone: list[Sheet], sheets: list[Sheet], beside: Beside) -> None:
    """Name the cells that were taken out of a sheet because they stand far off the rest."""
    texts = {sheet.name: [next((c for c in row if not is_blank(c)), "") for row in sheet.rows] for sheet in alone}
    for sheet in sheets:
        if sheet.name not in beside.strays:
            continue
        places = beside.strays[sheet.name].strays
        found = [*texts.get(sheet.name, []), *[None] * len(places)]
        sheet.remark = remark_on_strays(dict(zip(places, found, strict=False)))


def _first_line(error: BaseException) -> str:
    return (str(error).splitlines() or [type(error).__name__])[0].strip("'\"")
