"""Every table and column of the project, each fact once; imports pandera and nothing of the project."""

from groundcheck.schema.columns import Column
from groundcheck.schema.ddl import STAGES, create_table, sql_columns
from groundcheck.schema.inventory.registry import INVENTORY_TABLES
from groundcheck.schema.stages.study import STUDY_TABLES
from groundcheck.schema.table import InventoryTable, Table
from groundcheck.schema.vector_group import VectorGroup, parse_vector_group

__all__ = [
    "INVENTORY_TABLES",
    "STAGES",
    "STUDY_TABLES",
    "Column",
    "InventoryTable",
    "Table",
    "VectorGroup",
    "create_table",
    "parse_vector_group",
    "sql_columns",
]
