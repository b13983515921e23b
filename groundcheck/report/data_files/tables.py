"""The tables that are given out, their names and columns; names stand for good within a major version."""

from dataclasses import dataclass
from functools import cached_property

from groundcheck.report.rows import severity_order
from groundcheck.schema import INVENTORY_TABLES, STAGES, STUDY_TABLES, Column, Table

# The major number is raised when a table, a column or a meaning goes or changes, the minor one when something is added.
# tests/report/data_files/published_names.json holds what this version has.
FORMAT_VERSION = "1.0"

FORMATS = ("parquet", "csv", "jsonl")


@dataclass(frozen=True)
class DataTable:
    """A table of the store under the name by which it is given out, which is also its file's."""

    name: str
    stage: str
    table: str
    order: str | None = None

    @property
    def model(self) -> type[Table]:
        """The model that describes it."""
        return STAGES[self.stage][self.table]

    @cached_property
    def columns(self) -> dict[str, Column]:
        """Its columns by name."""
        return self.model.columns()

    @property
    def source(self) -> str:
        """The table in SQL."""
        return f'{self.stage}."{self.table}"'

    @property
    def ordered_by(self) -> str:
        """Row order of `t` that leaves nothing to chance: the key, then all that may tell two rows apart."""
        if self.order:
            return self.order
        keys = self.model.key_columns()
        return ", ".join(f't."{name}"' for name in (*keys, *(name for name in self.columns if name not in keys)))


_AUDIT = (
    DataTable(
        "findings",
        "audit",
        "finding",
        f"t.status IS NOT DISTINCT FROM 'waived', {severity_order('t.severity')}, "
        "t.district, t.substation, t.asset, t.rule, t.finding",
    ),
    DataTable("evidence", "audit", "evidence", "t.finding, t.position, t.input, t.asset, t.cell, t.value"),
    DataTable("outcomes", "audit", "outcome"),
    DataTable("results", "audit", "result"),
    DataTable("rules", "audit", "rule"),
    DataTable("missing_fields", "audit", "missing_field"),
    DataTable("waivers", "audit", "waiver"),
    DataTable("changes", "audit", "change"),
)

DATA_TABLES: dict[str, DataTable] = {
    each.name: each
    for each in (
        *_AUDIT,
        *(DataTable(f"inventory/{table}", "inventory", table) for table in INVENTORY_TABLES),
        *(DataTable(f"study/{table}", "study", table) for table in STUDY_TABLES),
    )
}
