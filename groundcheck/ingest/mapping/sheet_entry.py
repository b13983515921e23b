"""One [[sheet]] entry of a column map: its keys, and the ways in which one field is made of columns."""

from typing import Any

from groundcheck.errors import ColumnMapError
from groundcheck.ingest.mapping.column_map import FieldSource, SheetMap
from groundcheck.ingest.mapping.headings import normalize, table_columns
from groundcheck.ingest.mapping.map_values import (
    above_zero,
    canonical_table,
    pattern,
    readable,
    row_number,
    table_of,
    texts,
    unit,
    yes_or_no,
)
from groundcheck.nearest import nearest
from groundcheck.schema import INVENTORY_TABLES, Column

# Keys that say what the sheet feeds, so that they need a table; then those that say how to read it.
_FEED_KEYS = ("fields", "units", "words", "constants", "carry_down", "bus_station", "impedance_base")
_READ_KEYS = ("day_first", "decimal_comma", "frequency", "turned", "heading_row", "skip")
SHEET_KEYS = ("match", "headings", "table", "kinds", *_FEED_KEYS, *_READ_KEYS)

# The ways in which one field is made of columns, with the keys that each needs and may have.
SOURCE_KEYS = {
    ("heading",): frozenset({"heading", "column"}),
    ("part", "of"): frozenset({"part", "of"}),
    ("join",): frozenset({"join", "with"}),
    ("from", "pattern"): frozenset({"from", "pattern", "within"}),
    ("x",): frozenset({"r", "x"}),
}
_MOST_PARTS = 4  # of one cell; a higher number is a slip


def read_sheet_entry(entry: dict[str, Any], where: str) -> SheetMap:
    """
    Read and check one entry.

    Raises
    ------
    ColumnMapError
        It has a key, table, field, unit or pattern that does not exist, or says nothing.
    """
    for key in entry:
        if key not in SHEET_KEYS:
            raise ColumnMapError(f"{where}: no key `{key}`; nearest is `{nearest(key, SHEET_KEYS)}`")
    kinds_column, kinds = _kinds(entry.get("kinds"), f"{where}, kinds")
    skip = bool(yes_or_no(entry.get("skip"), f"{where}, skip"))
    _check_sense(entry, where, skip)
    table = canonical_table(entry["table"], where) if "table" in entry else None
    carry_down = texts(entry.get("carry_down", ()), f"{where}, carry_down")
    for key in ("fields", "words", "constants"):
        table_of(entry.get(key, {}), f"{where}, {key}")
    for key in ("fields", "words", "carry_down"):
        for name in entry.get(key, ()) if key != "carry_down" else carry_down:
            _column(table, name, f"{where}, {key}")
    return SheetMap(
        where=where,
        match=texts(entry.get("match", ()), f"{where}, match"),
        headings=texts(entry.get("headings", ()), f"{where}, headings"),
        table=table,
        fields={name: _field_source(value, f"{where}, {name}") for name, value in entry.get("fields", {}).items()},
        units={
            normalize(heading): unit(value, f"{where}, units, {heading}")
            for heading, value in table_of(entry.get("units", {}), f"{where}, units").items()
        },
        words={
            name: _words(words, f"{where}, words, {name}", _column(table, name, f"{where}, words"))
            for name, words in entry.get("words", {}).items()
        },
        constants={
            name: readable(value, _column(table, name, f"{where}, constants", "substation"), f"{where}, {name}")
            for name, value in entry.get("constants", {}).items()
        },
        carry_down=carry_down,
        bus_station=pattern(entry.get("bus_station"), f"{where}, bus_station"),
        impedance_base=above_zero(entry.get("impedance_base"), f"{where}, impedance_base", "a power in MVA"),
        kinds_column=kinds_column,
        kinds=kinds,
        day_first=yes_or_no(entry.get("day_first"), f"{where}, day_first"),
        decimal_comma=yes_or_no(entry.get("decimal_comma"), f"{where}, decimal_comma"),
        frequency=above_zero(entry.get("frequency"), f"{where}, frequency", "a frequency in Hz"),
        turned=yes_or_no(entry.get("turned"), f"{where}, turned"),
        heading_row=row_number(entry.get("heading_row"), f"{where}, heading_row"),
        skip=skip,
    )


def _check_sense(entry: dict[str, Any], where: str, skip: bool) -> None:
    """Refuse keys that say nothing together."""
    feeding = [key for key in ("table", "kinds", *_FEED_KEYS) if key in entry]
    if skip and (other := feeding + [key for key in _READ_KEYS if key in entry and key != "skip"]):
        raise ColumnMapError(f"{where}: skips the sheet and says `{other[0]}` of it; leave one of the two out")
    if "table" in entry and "kinds" in entry:
        raise ColumnMapError(f"{where}: names both `table` and `kinds`; the words of `kinds` name the tables")
    if feeding and "table" not in entry and "kinds" not in entry:
        raise ColumnMapError(
            f"{where}: names {feeding[0]} but no `table`; add the canonical table that the sheet feeds"
        )
    if not feeding and not any(key in entry for key in _READ_KEYS):
        raise ColumnMapError(f"{where}: says nothing of the sheet; add `table`, or delete the entry")


def _column(table: str | None, name: str, where: str, beside: str | None = None) -> Column:
    """The column that the entry names: of its table, or of the one beside it, or of any in a mixed register."""
    tables = [name for name in (table, beside) if name] if table else list(INVENTORY_TABLES)
    known = {column: facts for table in reversed(tables) for column, facts in table_columns(table).items()}
    if name not in known:
        owner = f"table `{table}` has no" if table else "no table has a"
        raise ColumnMapError(f"{where}: {owner} field `{name}`; nearest is `{nearest(name, known)}`")
    return known[name]


def _words(value: Any, where: str, column: Column) -> dict[str, str]:
    """Words as written with what each means for the column; '' means that nothing is on record."""
    return {
        found.strip().casefold(): "" if meant == "" else str(readable(meant, column, f'{where}, "{found}"'))
        for found, meant in table_of(value, where).items()
    }


def _kinds(value: Any, where: str) -> tuple[str | None, dict[str, str]]:
    """The column that says what each row is, and its words with the table of each; '' is not inventory."""
    if value is None:
        return None, {}
    tree = table_of(value, where)
    for key in tree:
        if key not in ("column", "words"):
            raise ColumnMapError(f"{where}: no key `{key}`; nearest is `{nearest(key, ('column', 'words'))}`")
    if not isinstance(tree.get("column"), str):
        raise ColumnMapError(f"{where}: needs `column`, the heading of the column that says what each row is")
    words = {
        found.strip().casefold(): meant if meant == "" else canonical_table(meant, f"{where}, {found}")
        for found, meant in table_of(tree.get("words", {}), f"{where}, words").items()
    }
    return tree["column"], words


def _field_source(value: Any, where: str) -> FieldSource:
    if isinstance(value, str):
        return FieldSource("heading", (value,))
    if isinstance(value, dict):
        for needed, allowed in SOURCE_KEYS.items():
            if all(key in value for key in needed) and set(value) <= allowed:
                return _table_source(value, where)
    raise ColumnMapError(
        f"{where}: {value!r} is not a source of a field; write a heading, {{ heading = ..., column = 'E' }}, "
        "{ part = 1, of = ... }, { join = [...], with = ... }, { from = ..., pattern = ... } or { r = ..., x = ... }"
    )


def _table_source(value: dict[str, Any], where: str) -> FieldSource:
    if "part" in value:
        return FieldSource("part", texts(value["of"], where), str(_part(value["part"], where)))
    if "join" in value:
        return FieldSource("join", texts(value["join"], where), str(value.get("with", " ")))
    if "from" in value:
        headings = texts([value[key] for key in ("from", "within") if key in value], where)
        return FieldSource("pattern", headings, pattern(value["pattern"], where) or "")
    if "x" in value:
        return FieldSource("rx", texts([value[key] for key in ("x", "r") if key in value], where))
    return FieldSource("heading", texts(value["heading"], where), str(value.get("column", "")).upper())


def _part(value: Any, where: str) -> int:
    """Which part of a cell, from 1."""
    if not isinstance(value, int) or isinstance(value, bool) or not 1 <= value <= _MOST_PARTS:
        raise ColumnMapError(f"{where}: expected the number of the part, 1 to {_MOST_PARTS}, found {value!r}")
    return value
