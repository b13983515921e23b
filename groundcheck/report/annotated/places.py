"""From a row of the store, and a field of it, to the cell of the sheet that a person sees."""

from openpyxl.utils.cell import column_index_from_string, get_column_letter

from groundcheck.report.rows import fetch
from groundcheck.store import Store

Place = tuple[str | None, str | None, str | None]  # file, sheet, cell
NOWHERE: Place = (None, None, None)


class Places:
    """The cells of rows; a sheet that has a column an asset is turned, so that its rows are its columns."""

    def __init__(self, store: Store) -> None:
        self._turned = set(fetch(store, "SELECT file, sheet FROM raw.account WHERE turned"))

    def is_turned(self, file: str, sheet: str) -> bool:
        """Whether the sheet has a column an asset."""
        return (file, sheet) in self._turned

    def name(self, file: str, sheet: str, row: int, column: int) -> str:
        """The name of a cell of a row of the store, its column counted from 0."""
        if self.is_turned(file, sheet):
            return f"{get_column_letter(row)}{column + 1}"
        return f"{get_column_letter(column + 1)}{row}"

    def first_cell(self, file: str | None, sheet: str | None, row: int | None) -> str | None:
        """The first cell of a row; None if it is not known which."""
        return self.name(file, sheet, row, 0) if file and sheet and row else None


def mentioned_cells(store: Store, places: Places) -> dict[tuple[int, str, str], Place]:
    """
    Where each value of each contradiction stands, by row of the store, kind of asset and field.

    It is the column that feeds the field; else, where another field gave the value, the cell that holds its text;
    else the first of the row.
    """
    query = """
        WITH mention AS (
            SELECT raw_row_a AS raw_row, asset_kind, field, value_a AS value FROM inventory.contradiction
            UNION SELECT raw_row_b, asset_kind, field, value_b FROM inventory.contradiction
        )
        SELECT n.raw_row, n.asset_kind, n.field, n.value, r.file, r.sheet, r."row", r.cells, min(m.column_letter)
        FROM mention n JOIN raw.row r USING (raw_row)
        LEFT JOIN raw.column_map m ON m.file = r.file AND m.sheet = r.sheet
             AND m.region IS NOT DISTINCT FROM r.region AND m.target_table = n.asset_kind AND m.field = n.field
        GROUP BY ALL
    """
    found: dict[tuple[int, str, str], Place] = {}
    for raw_row, kind, field, value, file, sheet, row, cells, letter in fetch(store, query):
        if letter:
            column = int(letter) - 1 if letter.isdigit() else column_index_from_string(letter) - 1
        else:
            column = cells.index(value) if cells and value in cells else 0
        found[raw_row, kind, field] = (file, sheet, places.name(file, sheet, row, column))
    return found
