"""The labels of a turned sheet: titles and names of groups among them, and units beside the values."""

from groundcheck.ingest.mapping.headings import match_heading
from groundcheck.ingest.sheets import Sheet, is_blank
from groundcheck.ingest.tables.heading_score import score_cells
from groundcheck.ingest.tables.joined_headings import is_unit, join_pair

_FEWEST = 2  # units


def part_titles(sheet: Sheet, headings: dict[int, str], body: range) -> tuple[dict[int, str], dict[int, str]]:
    """The labels, and apart from them those that have no value anywhere and only name what stands below."""
    valued = {column for column in headings if sheet.filled[body.start : body.stop, column].any()}
    table = score_cells(headings.values()).table
    if not valued or not table:
        return headings, {}
    taken = {match_heading(headings[column], table).field for column in valued} | {None}
    titles = {
        column: heading
        for column, heading in headings.items()
        if column not in valued and (column < min(valued) or match_heading(heading, table).field in taken)
    }
    return {column: heading for column, heading in headings.items() if column not in titles}, titles


def units_beside(sheet: Sheet, headings: dict[int, str], body: range) -> tuple[dict[int, str], set[int]]:
    """The labels with their units, and the rows of the body that hold nothing but units."""
    rows: set[int] = set()
    for row in body:
        cells = {c: cell for c, cell in enumerate(sheet.rows[row]) if not is_blank(cell) and c in headings}
        units = {c: cell for c, cell in cells.items() if isinstance(cell, str) and is_unit(cell)}
        if len(units) >= _FEWEST and all(
            c in units or str(cell).strip(" -").casefold() in ("", "unit", "units") for c, cell in cells.items()
        ):
            headings = headings | {c: join_pair(headings[c], unit) for c, unit in units.items()}
            rows.add(row)
    return headings, rows
