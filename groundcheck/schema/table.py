"""What every table model has in common."""

from functools import cache

import pandera.pandas as pa

from groundcheck.schema.columns import Column, choice
from groundcheck.schema.vocabulary import STATUS

SQL_TYPES = {
    "text": "VARCHAR",
    "key": "VARCHAR",
    "reference": "VARCHAR",
    "references": "VARCHAR[]",
    "choice": "VARCHAR",
    "vector_group": "VARCHAR",
    "quantity": "DOUBLE",
    "size": "DOUBLE",
    "count": "BIGINT",
    "yes_no": "BOOLEAN",
    "date": "DATE",
    "places": "VARCHAR[]",
}


@cache
def _columns(model: "type[Table]") -> dict[str, Column]:
    schema = model.to_schema()
    return {
        name: Column(name=name, **column.metadata["column"])
        for name, column in schema.columns.items()
        if column.metadata
    }


class Table(pa.DataFrameModel):
    """A table of any stage: columns with their facts, and a key."""

    class Config:
        """Frames may carry more columns than the model names."""

        strict = False

    @classmethod
    def columns(cls) -> dict[str, Column]:
        """The columns in the order in which they are declared."""
        return _columns(cls)

    @classmethod
    def key_columns(cls) -> tuple[str, ...]:
        """The columns that together identify a row."""
        return tuple(name for name, column in cls.columns().items() if column.kind == "key")

    @classmethod
    def asset_column(cls) -> str:
        """The column that holds the tag of the row's asset: the last of the key."""
        return cls.key_columns()[-1]

    @classmethod
    def summary(cls) -> str:
        """The first line of the model's docstring."""
        return (cls.__doc__ or "").strip().splitlines()[0]


# Columns that the store adds to each canonical table: the row and the part of it that an asset came from, and for
# an asset that is only ever named, the table.field that named it.
PROVENANCE = {"raw_row": "BIGINT", "part": "INTEGER", "inferred_from": "VARCHAR"}


class InventoryTable(Table):
    """A canonical table: what the owner's records say of one kind of asset."""

    status: str = choice(
        "Whether it is in service; only what is in service is studied.", STATUS, "state", "condition status"
    )
