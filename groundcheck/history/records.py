"""What changed in the records from one audit of a store to the next, field by field."""

from groundcheck.schema import INVENTORY_TABLES
from groundcheck.store import Store

# Columns that both sides of a comparison of records have.
FIELD = "asset_kind, substation, asset, field"


def filled_fields() -> str:
    """The query that gives every filled field of the inventory: asset_kind, substation, asset, field, value."""
    parts = []
    for kind, model in INVENTORY_TABLES.items():
        names = [name for name in model.columns() if name != "substation" or kind == "substation"]
        fields = ", ".join(f"'{name}'" for name in names)
        values = ", ".join(f'"{name}"::VARCHAR' for name in names)
        parts.append(
            f"""SELECT '{kind}' AS asset_kind, substation, "{kind}" AS asset,
                       unnest([{fields}]) AS field, unnest([{values}]) AS value FROM inventory."{kind}" """
        )
    return f"SELECT * FROM ({' UNION ALL '.join(parts)}) WHERE value IS NOT NULL"


def differences(before: str, after: str) -> str:
    """
    The query that gives the fields that differ between two queries of filled fields: FIELD, before, after.

    The tag of an asset that came is a field that was blank, that of one that went is a field that is blank now; their
    other fields are left out, since the tag says it all.
    """
    return f"""
        SELECT {FIELD}, b.value AS before, a.value AS after
        FROM ({before}) b FULL JOIN ({after}) a USING ({FIELD})
        WHERE b.value IS DISTINCT FROM a.value
        QUALIFY field = asset_kind OR NOT bool_or(field = asset_kind) OVER (PARTITION BY asset_kind, substation, asset)
    """


def write_record_changes(store: Store, run: int) -> None:
    """Write audit.record_change against the records as they were kept last, and keep those of now in their place."""
    execute = store.connection.execute
    kept = "SELECT * FROM audit.kept_record"
    if run > 1:
        execute(
            f"""
            INSERT INTO audit.record_change BY NAME
            SELECT $run AS run, * FROM ({differences(kept, filled_fields())}) ORDER BY {FIELD}
            """,
            {"run": run},
        )
    store.clear("audit", "kept_record")
    execute(f"INSERT INTO audit.kept_record BY NAME {filled_fields()}")
