"""A sheet whose heading row the column map names: that row holds the headings, all below it is the table."""

from groundcheck.errors import ColumnMapError
from groundcheck.ingest.mapping.column_map import ColumnMap, SheetMap
from groundcheck.ingest.mapping.headings import normalize
from groundcheck.ingest.sheets import Sheet, cell_text, is_blank
from groundcheck.ingest.tables.header_row import Region


def told_regions(sheet: Sheet, column_map: ColumnMap) -> list[Region] | None:
    """
    The one table under the row that the map names; None where it names none for this sheet.

    Raises
    ------
    ColumnMapError
        The row named is blank, or the sheet has fewer rows.
    """
    for entry in column_map.for_sheet(sheet):
        if entry.heading_row is not None:
            headings = _headings(sheet, entry.heading_row - 1, entry)
            present = {normalize(heading) for heading in headings.values()}
            if all(normalize(heading) in present for heading in entry.headings):
                return [_region(sheet, entry.heading_row - 1, headings)]
    return None


def _headings(sheet: Sheet, row: int, entry: SheetMap) -> dict[int, str]:
    cells = sheet.rows[row] if row < len(sheet.rows) else []
    headings = {i: (cell_text(cell) or "").strip() for i, cell in enumerate(cells) if not is_blank(cell)}
    if not headings:
        raise ColumnMapError(
            f"{entry.where}, heading_row: row {row + 1} of {sheet.label} is blank; the sheet has {len(sheet.rows)} rows"
        )
    return headings


def _region(sheet: Sheet, row: int, headings: dict[int, str]) -> Region:
    repeats = {index for index in range(row + 1, len(sheet.rows)) if sheet.rows[index] == sheet.rows[row]}
    return Region(1, [row], headings, range(row + 1, len(sheet.rows)), repeats=repeats)
