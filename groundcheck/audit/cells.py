"""From a field of an asset to the file, sheet and cell that it was read from, for many at once."""

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
    store.connection.execute(
        """
        CREATE OR REPLACE TEMP TABLE field_column AS
        SELECT file, sheet, region, target_table, part, field, column_letter, column_place(column_letter) AS place
        FROM raw.column_map
        WHERE target_table IS NOT NULL AND field IS NOT NULL AND column_letter IS NOT NULL
        """
    )
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
               cell_name(coalesce(a.own_column, m.column_letter), a.row)            AS cell,
               a.cells[coalesce(column_place(a.own_column), m.place)]               AS found,
               cell_name(coalesce(a.own_column, f.column_letter), a.row)            AS first_cell
        FROM (
            SELECT w.kind, w.substation, w.asset, w.field, p.part, r.file, r.sheet, r.region, r.row, r.cells,
                   o.column_letter                                     AS own_column,
                   p.inferred_from IS NOT NULL                         AS inferred,
                   coalesce(split_part(p.inferred_from, '.', 1), w.kind)  AS from_table,
                   coalesce(split_part(p.inferred_from, '.', 2), w.field) AS from_field
            FROM (SELECT DISTINCT kind, substation, asset, field FROM {wanted}) w
            JOIN asset_place p ON p.kind = w.kind AND p.substation = w.substation AND p.asset = w.asset
            LEFT JOIN inventory.field_origin o
                   ON o.asset_kind = w.kind AND o.substation = w.substation AND o.asset = w.asset
                  AND o.field = w.field
            LEFT JOIN raw.row r ON r.raw_row = coalesce(o.raw_row, p.raw_row)
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
