"""From a field of an asset to the file, sheet and cell that it was read from, for many at once."""

import pandas as pd
from openpyxl.utils.cell import column_index_from_string

from groundcheck.schema import INVENTORY_TABLES
from groundcheck.store import Store


def place_assets(store: Store) -> None:
    """
    Make the temporary tables that `cells_of` reads.

    asset_place holds the row of each asset, field_column the number of the column that fed each field, first_column
    the first column, that of the station apart, that fed each table.
    """
    parts = [
        f'''SELECT '{name}' AS kind, substation, "{name}" AS asset, raw_row, part, inferred_from
            FROM inventory."{name}"'''
        for name in INVENTORY_TABLES
    ]
    store.connection.execute(f"CREATE OR REPLACE TEMP TABLE asset_place AS {' UNION ALL '.join(parts)}")
    letters = store.frame("SELECT DISTINCT column_letter FROM raw.column_map WHERE column_letter IS NOT NULL")
    names = [letter for letter in letters["column_letter"].astype(str) if letter.isascii() and letter.isalpha()]
    numbers = pd.DataFrame({"column_letter": names, "place": [column_index_from_string(name) for name in names]})
    numbers = numbers.astype({"column_letter": "str", "place": "int64"})
    store.connection.register("letter_places", numbers)
    try:
        store.connection.execute(
            """
            CREATE OR REPLACE TEMP TABLE field_column AS
            SELECT m.file, m.sheet, m.region, m.target_table, m.part, m.field, m.column_letter, p.place
            FROM raw.column_map m JOIN letter_places p USING (column_letter)
            WHERE m.target_table IS NOT NULL AND m.field IS NOT NULL
            """
        )
    finally:
        store.connection.unregister("letter_places")
    store.connection.execute(
        """
        CREATE OR REPLACE TEMP TABLE first_column AS
        SELECT file, sheet, region, target_table, part, min_by(column_letter, place) AS column_letter
        FROM field_column WHERE field <> 'substation' GROUP BY ALL
        """
    )


def cells_of(wanted: str) -> str:
    """
    The query that finds the cell of each field wanted.

    `wanted` is a table or subquery with the columns kind, substation, asset and field. The answer has these and
    source_file, sheet, cell and found; cell and found are NULL where the sheet has no column for the field. An asset
    that is only ever named has the cell that named it; `inferred` says so. `first_cell` is the first that fed the
    asset.
    """
    return f"""
        SELECT a.kind, a.substation, a.asset, a.field, a.inferred, a.file AS source_file, a.sheet,
               m.column_letter || a.row AS cell, a.cells[m.place] AS found, f.column_letter || a.row AS first_cell
        FROM (
            SELECT w.kind, w.substation, w.asset, w.field, p.part, r.file, r.sheet, r.region, r.row, r.cells,
                   p.inferred_from IS NOT NULL                         AS inferred,
                   coalesce(split_part(p.inferred_from, '.', 1), w.kind)  AS from_table,
                   coalesce(split_part(p.inferred_from, '.', 2), w.field) AS from_field
            FROM (SELECT DISTINCT kind, substation, asset, field FROM {wanted}) w
            JOIN asset_place p ON p.kind = w.kind AND p.substation = w.substation AND p.asset = w.asset
            LEFT JOIN raw.row r ON r.raw_row = p.raw_row
        ) a
        LEFT JOIN field_column m
               ON m.file = a.file AND m.sheet = a.sheet AND m.region IS NOT DISTINCT FROM a.region
              AND m.target_table = a.from_table AND m.field = a.from_field
              AND (m.part = a.part OR a.inferred OR a.from_field = 'substation')
        LEFT JOIN first_column f
               ON f.file = a.file AND f.sheet = a.sheet AND f.region IS NOT DISTINCT FROM a.region
              AND f.target_table = a.from_table AND f.part = a.part
        QUALIFY row_number() OVER (
            PARTITION BY a.kind, a.substation, a.asset, a.field
            ORDER BY m.part IS DISTINCT FROM a.part, m.part, m.place) = 1
    """
