"""A JSON Schema (draft 2020-12) for the rows of each table, made from the table models."""

from typing import Any

from groundcheck.report.data_files.tables import FORMAT_VERSION, DataTable
from groundcheck.schema import Column

INFINITE = ("Infinity", "-Infinity")
_UNIT_OF_ROW = "as its unit"
_NEVER_NULL = {"audit": ("finding", "rule")}  # of their key columns; the others may be blank

_ABOUT_INFINITY = (
    'JSON has no infinite number: "Infinity" stands for one, such as a duty without time limit or an interval that has '
    "no upper end. null: not on record, or not computed for want of a record."
)


def json_schema(table: DataTable) -> dict[str, Any]:
    """
    What each row of the table's JSON Lines file holds; CSV and Parquet have the same columns in the same order.

    A reader must bear columns that it does not know: a minor version may add some.
    """
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": f"urn:groundcheck:data:{FORMAT_VERSION}:{table.name.replace('/', ':')}",
        "title": table.name,
        "description": table.model.summary(),
        "$comment": _ABOUT_INFINITY,
        "type": "object",
        "properties": {name: _property(table, column) for name, column in table.columns.items()},
        "required": list(table.columns),
    }


def may_be_null(table: DataTable, name: str) -> bool:
    """Whether a row may lack the value; the key of a record and the names of rule and finding always stand."""
    keys = table.model.key_columns()
    if table.stage == "inventory":
        return name not in keys
    if table.name == "waivers":
        return True
    return name not in keys or name not in _NEVER_NULL.get(table.stage, ())


def _property(table: DataTable, column: Column) -> dict[str, Any]:
    facts: dict[str, Any] = {"description": column.description}
    if column.unit == _UNIT_OF_ROW:
        facts["x-unit"] = {"column": "unit"}
    elif column.unit:
        facts["x-unit"] = column.unit
    if column.refers_to:
        facts["x-refers-to"] = list(column.refers_to)
    kind = _KINDS.get(column.kind, {"type": "string"})
    null = may_be_null(table, column.name)
    if column.kind in ("quantity", "size"):
        ways: list[dict[str, Any]] = [{"type": "number", **_limits(table, column)}, {"enum": list(INFINITE)}]
        return facts | {"anyOf": [*ways, {"type": "null"}] if null else ways}
    facts |= kind | ({"type": [kind["type"], "null"]} if null else {})
    if column.kind == "count":
        facts |= _limits(table, column)
    if column.accepted:
        facts["enum"] = [*column.accepted, *([None] if null else [])]
    return facts


_KINDS: dict[str, dict[str, Any]] = {
    "count": {"type": "integer"},
    "yes_no": {"type": "boolean"},
    "date": {"type": "string", "format": "date"},
    "references": {"type": "array", "items": {"type": "string"}},
    "places": {"type": "array", "items": {"type": "string"}},
}


def _limits(table: DataTable, column: Column) -> dict[str, float]:
    """The physical limits; records outside them are in quarantine, so that they hold for the inventory."""
    if table.stage != "inventory":
        return {}
    limits = {"minimum": column.ge, "exclusiveMinimum": column.gt, "maximum": column.le}
    return {name: value for name, value in limits.items() if value is not None}
