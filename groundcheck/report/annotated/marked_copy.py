"""A copy of a source workbook with its cells marked; the original is only read."""

import warnings
from collections.abc import Mapping, Sequence
from pathlib import Path

from openpyxl import load_workbook
from openpyxl.cell.cell import Cell, MergedCell
from openpyxl.comments import Comment
from openpyxl.styles import PatternFill
from openpyxl.worksheet.worksheet import Worksheet

from groundcheck.own_files import REPORT
from groundcheck.report.annotated.comment import AUTHOR, comment_size, comment_text, tint
from groundcheck.report.annotated.notes import Note


def write_marked_copy(source: Path, target: Path, notes: Mapping[str, Mapping[str, Sequence[Note]]]) -> list[str]:
    """
    Copy a workbook and mark its cells; tell what was lost or had no place.

    Raises
    ------
    Exception
        Of any class: what the library makes of a workbook that it can't read is not told beforehand.
    """
    with warnings.catch_warnings(record=True) as told:
        warnings.simplefilter("always")
        book = load_workbook(source, keep_vba=source.suffix.lower() == ".xlsm")
        remarks = []
        for name in notes:
            if name in book.sheetnames and isinstance(book[name], Worksheet):
                _mark_sheet(book[name], notes[name])
            else:
                remarks.append(f"sheet {name}: not there to be marked, {len(notes[name])} cells")
        book.properties.category = REPORT
        book.save(target)
        book.close()
    lost = sorted({str(warning.message).strip() for warning in told if issubclass(warning.category, UserWarning)})
    return remarks + lost


def _mark_sheet(sheet: Worksheet, notes: Mapping[str, Sequence[Note]]) -> None:
    by_cell: dict[str, list[Note]] = {}
    for place, told in notes.items():
        by_cell.setdefault(_top_left(sheet, place), []).extend(told)
    for place, told in by_cell.items():
        _mark(sheet[place], told)


def _top_left(sheet: Worksheet, place: str) -> str:
    """The cell that can bear a comment: of a range, or inside a merged one, the first."""
    first = place.partition(":")[0]
    if isinstance(sheet[first], MergedCell):
        for area in sheet.merged_cells.ranges:
            if first in area:
                return str(area.start_cell.coordinate)
    return first


def _mark(cell: Cell, notes: Sequence[Note]) -> None:
    cell.fill = PatternFill("solid", fgColor="FF" + tint(notes).removeprefix("#"))
    text = comment_text(notes, cell.comment.text if cell.comment else None)
    author = cell.comment.author if cell.comment and cell.comment.author else AUTHOR
    width, height = comment_size(text)
    cell.comment = Comment(text, author, height=height, width=width)
