"""CREATE TABLE statements, derived from the models."""

from groundcheck.schema.inventory.registry import INVENTORY_TABLES
from groundcheck.schema.stages.audit import AUDIT_TABLES
from groundcheck.schema.stages.inventory_extra import INGEST_TABLES
from groundcheck.schema.stages.raw import RAW_TABLES
from groundcheck.schema.stages.study import STUDY_TABLES
from groundcheck.schema.table import PROVENANCE, SQL_TYPES, InventoryTable, Table

STAGES: dict[str, dict[str, type[Table]]] = {
    "raw": dict(RAW_TABLES),
    "inventory": {**INVENTORY_TABLES, **INGEST_TABLES},
    "study": dict(STUDY_TABLES),
    "audit": dict(AUDIT_TABLES),
}


def sql_columns(model: type[Table]) -> dict[str, str]:
    """Column name to DuckDB type, provenance columns included."""
    columns = {name: SQL_TYPES[column.kind] for name, column in model.columns().items()}
    if columns.get("cells") == "VARCHAR":  # the cells of a row; of a question, it is their number
        columns["cells"] = "VARCHAR[]"
    if issubclass(model, InventoryTable):
        columns |= PROVENANCE
    return columns


def create_table(stage: str, name: str) -> str:
    """The statement that makes one table of one stage, if it is not there."""
    columns = ",\n    ".join(f'"{column}" {kind}' for column, kind in sql_columns(STAGES[stage][name]).items())
    return f'CREATE TABLE IF NOT EXISTS {stage}."{name}" (\n    {columns}\n)'
