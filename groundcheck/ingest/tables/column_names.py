"""How the columns of a region are named for a person: by letter, by row number, or by a cell."""

from groundcheck.ingest.sheets import Sheet, column_letter
from groundcheck.ingest.tables.header_row import Region


def column_name(sheet: Sheet, region: Region, column: int) -> str:
    """
    The letter of a column; the number of the row where the sheet is turned.

    Where the one value of a heading has a place of its own, as a station in a title or a value on a data sheet with
    its pairs beside each other, it is the name of that cell.
    """
    if column >= sheet.width and region.titles:
        row, place, _ = region.titles[0]
        return sheet.cell_name(row, place)
    if sheet.cell_names is not None:
        return sheet.cell_name(region.body.start, column)
    return str(column + 1) if sheet.turned else column_letter(column)
