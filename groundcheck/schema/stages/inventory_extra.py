"""What ingest keeps beside the canonical tables."""

import pandas as pd

from groundcheck.schema.columns import count, key, text
from groundcheck.schema.table import Table


class Reference(Table):
    """One mention of an asset by another, and what it was resolved to."""

    substation: str = key("Station of the asset that refers.")
    asset_kind: str = key("Kind of the asset that refers.")
    asset: str = key("Its tag.")
    field: str = key("Field that holds the reference.")
    position: pd.Int64Dtype = count("Which of several, from 1.")
    written: str = text("The reference as written.")
    target_kind: str = text("Kind of the asset found; blank if none was.")
    target_substation: str = text("Station of the asset found.")
    target: str = text("Tag of the asset found.")
    nearest: str = text("Nearest tags on record, where none was found.")


class OutOfService(Table):
    """An asset on record that is not in service: kept and counted, not studied."""

    asset_kind: str = key("Canonical table.")
    substation: str = key("Station.")
    asset: str = key("Tag.")
    status: str = text("Its status.")
    raw_row: pd.Int64Dtype = count("Row in the store.")


class Contradiction(Table):
    """Two mentions of one fact that disagree, such as two voltages for one bus."""

    substation: str = key("Station.")
    asset_kind: str = key("Kind of asset.")
    asset: str = key("Tag.")
    field: str = key("Field that is mentioned with two values.")
    unit: str = text("Unit of both values.")
    value_a: str = text("First value.")
    raw_row_a: pd.Int64Dtype = count("Row of the first value.")
    value_b: str = text("Other value.")
    raw_row_b: pd.Int64Dtype = count("Row of the other value.")
    settled_by: pd.Int64Dtype = count("Row of the answer to a data request that says which holds; blank while open.")


class FieldOrigin(Table):
    """A field whose value stands in another row or column than its asset's own: a second sheet, or an answer."""

    substation: str = key("Station.")
    asset_kind: str = key("Canonical table.")
    asset: str = key("Tag.")
    field: str = key("Field.")
    raw_row: pd.Int64Dtype = count("Row in the store that gave the value.")
    column_letter: str = text("Column of the sheet that gave it.")


INGEST_TABLES = {
    "reference": Reference,
    "out_of_service": OutOfService,
    "contradiction": Contradiction,
    "field_origin": FieldOrigin,
}
