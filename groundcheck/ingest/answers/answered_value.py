"""What one row of a data request is about, and its value in the type and unit of the column."""

import re
from dataclasses import dataclass
from typing import Any

from groundcheck.ingest.mapping.column_map import ReadingHabits
from groundcheck.ingest.mapping.headings import normalize, table_columns
from groundcheck.ingest.sheets import Uncomputed
from groundcheck.ingest.values import Reading, known_unit, read_cell
from groundcheck.ingest.values.reading import unreadable
from groundcheck.nearest import nearest_few
from groundcheck.schema import INVENTORY_TABLES, Column

_UNIT_BESIDE = re.compile(r"\s*\([^()]*\)\Z")
_WITH_UNIT = ("quantity", "size")


@dataclass(frozen=True)
class Refused:
    """Why a row waits in quarantine: reason, heading of the cell that decides it, and what was expected."""

    reason: str
    heading: str
    expected: str


def column_asked(kind: str, name: str) -> tuple[str, Column] | Refused:
    """The table and the column that a row names in words, 'neutral device' and 'rated current'."""
    table = normalize(kind).replace(" ", "_")
    if table not in INVENTORY_TABLES:
        return Refused("no_such_field", "kind of asset", f"a kind of asset{_near(kind, INVENTORY_TABLES)}")
    columns = table_columns(table)
    field = normalize(_UNIT_BESIDE.sub("", name)).replace(" ", "_")
    if field not in columns:
        return Refused("no_such_field", "field", f"a field of a {kind.strip()}{_near(name, columns)}")
    if columns[field].kind == "key":
        expected = "a field other than the tag: change tags and stations in the register itself"
        return Refused("key_field", "field", expected)
    return table, columns[field]


def _near(name: str, known: Any) -> str:
    near = nearest_few(name, [each.replace("_", " ") for each in known])
    return f"; nearest are {', '.join(near)}" if name and near else ""


def read_value(cell: Any, unit: str, column: Column, habits: ReadingHabits) -> Reading:
    """The value of an answer; a bare number takes the unit beside it, else that of the column."""
    if isinstance(cell, Uncomputed):
        return unreadable("a value, not a formula without a stored result: open and save it in a spreadsheet program")
    beside = unit if unit and unit != column.unit and column.kind in _WITH_UNIT else None
    if beside and known_unit(beside) is None:
        if not isinstance(cell, str) or not any(map(str.isalpha, cell)):
            known = f"such as {column.unit}" if column.unit else "or none"
            return unreadable(f"a unit beside it that is known, {known}; '{beside}' is not")
        beside = None  # a unit in the cell itself would win anyway
    return read_cell(
        cell,
        column,
        unit=beside,
        decimal_comma=bool(habits.decimal_comma),
        day_first=habits.day_first,
        frequency=habits.frequency,
    )
