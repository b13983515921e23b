"""What a person wrote into the sheet Exceptions of a workbook that an audit left, and the waivers it carries along."""

import io
import re
import zipfile
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from pathlib import Path
from typing import Any

from python_calamine import CalamineError, CalamineWorkbook, PasswordError

from groundcheck.errors import WaiverError
from groundcheck.nearest import nearest
from groundcheck.waivers.filled_rows import FilledRow, cell_of, find_rows, place_of
from groundcheck.waivers.marks import (
    AS_WRITTEN,
    EXCEPTIONS_SHEET,
    WAIVERS_SHEET,
    Cells,
    RowMark,
    read_waiver_mark,
    reads_alike,
)
from groundcheck.waivers.waiver import ACCEPTED, DISPOSITIONS, NAME_LIMIT, OPEN, REASON_LIMIT, Disposition, Waiver

SUFFIXES = (".xlsx", ".xlsm", ".ods")
_SAVED = re.compile(rb"<(?:dcterms:modified|dc:date)\b[^>]*>\s*(\d{4}-\d\d-\d\d)")
_PROPERTIES = ("docProps/core.xml", "meta.xml")
_FIRST_YEAR = 2000  # the program writes a fixed date before it, so that equal audits give equal files


@dataclass
class WorkbookSays:
    """What a workbook says: by a person's hand, and only carried along from what its audit was given."""

    waivers: list[Waiver] = field(default_factory=list)
    dispositions: list[Disposition] = field(default_factory=list)
    said: list[Disposition] = field(default_factory=list)
    carried_waivers: list[Waiver] = field(default_factory=list)
    carried_dispositions: list[Disposition] = field(default_factory=list)


def open_workbook(path: Path) -> CalamineWorkbook:
    """
    The workbook.

    Raises
    ------
    WaiverError
        It can't be read.
    """
    try:
        return CalamineWorkbook.from_filelike(io.BytesIO(path.read_bytes()))
    except PasswordError as error:
        raise WaiverError(f"{path}: protected by a password; save a copy without one") from error
    except OSError as error:
        raise WaiverError(f"{path}: cannot be read ({(error.strerror or 'unknown reason').lower()})") from error
    except CalamineError as error:
        raise WaiverError(f"{path}: cannot be read as a workbook ({error})") from error


def read_exceptions_workbook(path: Path) -> WorkbookSays:
    """
    The dispositions and waivers of an exception workbook.

    Raises
    ------
    WaiverError
        It is none of this program's, or a row is filled in by half, or holds what its column can't.
    """
    book = open_workbook(path)
    if EXCEPTIONS_SHEET not in book.sheet_names:
        raise WaiverError(f"{path}: has no sheet {EXCEPTIONS_SHEET}; expected an exceptions.xlsx that an audit wrote")
    rows = find_rows(book)
    if rows is None:
        raise WaiverError(
            f"{path}, sheet {EXCEPTIONS_SHEET}: the columns finding, disposition, by, until, remark and the hidden "
            f"column '{AS_WRITTEN}' are not all there; expected an exceptions.xlsx that an audit wrote, whole"
        )
    says = WorkbookSays(carried_waivers=carried_waivers(book, path))
    saved = _saved_on(path)
    carried = {waiver.finding for waiver in says.carried_waivers}
    for row, cells, mark in _rows_that_count(rows, path):
        _read_row(row, cells, mark, path, saved, carried, says)
    return says


def _rows_that_count(rows: list[FilledRow], path: Path) -> list[tuple[FilledRow, Cells, RowMark]]:
    """One row a finding: of those on several sheets, one that a person filled in."""
    seen: dict[tuple[str, str], FilledRow] = {}
    chosen: dict[str, tuple[FilledRow, Cells, RowMark]] = {}
    for row in rows:
        found = _belonging(row, path)
        if found is None:
            continue
        cells, mark = found
        if (other := seen.get((row.sheet, row.finding))) and other.values != row.values:
            raise WaiverError(
                f"{_where(path, row, 'finding')}: finding {row.finding} is there twice, also in row {other.number}; "
                "delete one of the rows"
            )
        seen[row.sheet, row.finding] = row
        earlier = chosen.get(row.finding)
        if earlier is None:
            chosen[row.finding] = (row, cells, mark)
        elif reads_alike(cells, mark.cells) or reads_alike(cells, earlier[1]):
            continue
        elif reads_alike(earlier[1], earlier[2].cells):
            chosen[row.finding] = (row, cells, mark)
        else:
            raise WaiverError(
                f"{path}: finding {row.finding} is filled in twice, {_told(earlier[1])} in "
                f"{place_of(earlier[0], 'disposition')}, and {_told(cells)} in {place_of(row, 'disposition')}; "
                "let both say the same, or clear one of them"
            )
    return list(chosen.values())


def _told(cells: Cells) -> str:
    """The four cells in words."""
    by = f" by {cells.by}" if cells.by else ""
    until = f" until {cells.until}" if cells.until else ""
    return f"'{cells.disposition}{by}{until}{f': {cells.remark}' if cells.remark else ''}'"


def _belonging(row: FilledRow, path: Path) -> tuple[Cells, RowMark] | None:
    """What stands in the row, and what the audit wrote there; None if nothing is in it. See above for errors."""
    mark = row.mark
    cells = _checked(row, path)
    if mark is None or mark.facts.get("finding") != row.finding:
        if cells == Cells():
            return None
        raise WaiverError(
            f"{_where(path, row, 'finding')}: '{row.finding}' is not the finding that the audit wrote into this row; "
            "rows were sorted in part, copied in or overwritten: fill in the workbook as the audit left it"
        )
    return cells, mark


def _read_row(
    row: FilledRow,
    cells: Cells,
    mark: RowMark,
    path: Path,
    saved: date | None,
    carried: set[str],
    says: WorkbookSays,
) -> None:
    written = mark.cells
    place = f"sheet {row.sheet}, {cell_of(row, 'disposition')}"
    told = Disposition(
        row.finding, cells.disposition, cells.by, cells.until, cells.remark, str(path), place, over=mark.over
    )
    if reads_alike(cells, written):
        _carry(row, path, carried, says, replace(told, withdraws=False))
        return
    says.said.append(told)
    if cells.disposition == ACCEPTED:
        whose: dict[str, Any] = {"by": cells.by, "reason": cells.remark, "until": cells.until}
        kept = {"source": str(path), "place": place, "by_hand": True, "over": mark.over}
        # Saved after its last day, it tells nothing of when it was filled in.
        whose["accepted_on"] = saved if saved and cells.until and saved <= cells.until else None
        facts: dict[str, Any] = {**mark.facts, **whose, **kept}
        says.waivers.append(Waiver(**facts))
    else:
        withdraws = cells.disposition != OPEN or written.disposition == ACCEPTED
        says.dispositions.append(replace(told, withdraws=withdraws))


def _carry(row: FilledRow, path: Path, carried: set[str], says: WorkbookSays, told: Disposition) -> None:
    """A row as the program wrote it; what it says is what the audit was given."""
    if told.disposition != ACCEPTED:
        if told.disposition != OPEN or told.by or told.remark or told.over:
            says.carried_dispositions.append(told)
    elif row.finding not in carried:
        raise WaiverError(
            f"{_where(path, row, 'disposition')}: accepted, but the sheet {WAIVERS_SHEET} does not list the finding "
            f"any more; set it to {OPEN} to withdraw the acceptance, or fill in the workbook as the audit left it"
        )


def _checked(row: FilledRow, path: Path) -> Cells:
    """The four cells as they are meant; see read_exceptions_workbook for errors."""
    disposition = (row.text("disposition") or OPEN).casefold()
    if disposition not in DISPOSITIONS:
        raise WaiverError(
            f"{_where(path, row, 'disposition')}: '{row.text('disposition')}' is no disposition; nearest is "
            f"{nearest(disposition, DISPOSITIONS)}, expected {', '.join(DISPOSITIONS)}"
        )
    by, remark = row.text("by"), row.text("remark")
    for head, text, limit in (("by", by, NAME_LIMIT), ("remark", remark, REASON_LIMIT)):
        if text and len(text) > limit:
            raise WaiverError(f"{_where(path, row, head)}: {len(text):,} characters; expected at most {limit:,}")
    until = _until(row, path)
    if disposition == ACCEPTED:
        expected = {
            "by": (by, "the name of the person who accepts it"),
            "until": (until, "the last day of the acceptance, such as 2027-03-31"),
            "remark": (remark, "the reason why it is accepted"),
        }
        for head, (value, meaning) in expected.items():
            if not value:
                raise WaiverError(
                    f"{_where(path, row, head)}: blank, but finding {row.finding} is accepted; expected {meaning}"
                )
    elif disposition == OPEN and until is not None:
        raise WaiverError(
            f"{_where(path, row, 'until')}: finding {row.finding} is open until {until}, which says nothing; choose "
            f"{ACCEPTED} in {cell_of(row, 'disposition')}, or clear the date"
        )
    return Cells(disposition, by, until, remark)


def _until(row: FilledRow, path: Path) -> date | None:
    value = row.values["until"]
    if isinstance(value, datetime):
        return value.date()
    if isinstance(value, date):
        return value
    text = row.text("until")
    if text is None:
        return None
    try:
        if re.fullmatch(r"\d{4}-\d\d-\d\d", text):
            return date.fromisoformat(text)
    except ValueError:
        pass
    raise WaiverError(f"{_where(path, row, 'until')}: '{text}' is no date; expected one such as 2027-03-31, year first")


def _where(path: Path, row: FilledRow, head: str) -> str:
    return f"{path}, {place_of(row, head)}"


def carried_waivers(book: CalamineWorkbook, path: Path) -> list[Waiver]:
    """The waivers that the audit was given, from the sheet that lists them."""
    if WAIVERS_SHEET not in book.sheet_names:
        return []
    found = []
    for number, cells in enumerate(book.get_sheet_by_name(WAIVERS_SHEET).to_python(skip_empty_area=False), 1):
        place = f"sheet {WAIVERS_SHEET}, row {number}"
        marks: list[Any] = [cell for cell in cells if isinstance(cell, str) and cell.startswith("{")]
        found += [waiver for text in marks if (waiver := read_waiver_mark(text, str(path), place)) is not None]
    return found


def _saved_on(path: Path) -> date | None:
    """The day on which a person saved the workbook; the acceptances in it are no later."""
    try:
        with zipfile.ZipFile(path) as archive:
            name = next((name for name in _PROPERTIES if name in archive.namelist()), None)
            match = _SAVED.search(archive.read(name)) if name else None
        day = date.fromisoformat(match[1].decode()) if match else None
    except (OSError, zipfile.BadZipFile, ValueError):
        return None
    return day if day is not None and day.year >= _FIRST_YEAR else None
