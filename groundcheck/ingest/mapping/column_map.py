"""The column map: a person's word on which column feeds which field, in one small TOML file."""

import re
import tomllib
from dataclasses import dataclass, field
from fnmatch import fnmatchcase
from hashlib import sha256
from pathlib import Path
from typing import Any

from groundcheck.errors import ColumnMapError
from groundcheck.ingest.mapping.headings import normalize, table_columns
from groundcheck.ingest.sheets import Sheet
from groundcheck.ingest.values import known_unit
from groundcheck.nearest import nearest
from groundcheck.schema import INVENTORY_TABLES

_KEYS = (
    "match",
    "headings",
    "table",
    "fields",
    "units",
    "words",
    "constants",
    "carry_down",
    "bus_station",
    "impedance_base",
)
# The ways in which one field is made of columns, with the keys that each needs and may have.
_SOURCES = {
    ("heading",): frozenset({"heading"}),
    ("join",): frozenset({"join", "with"}),
    ("from", "pattern"): frozenset({"from", "pattern", "within"}),
    ("x",): frozenset({"r", "x"}),
}


@dataclass(frozen=True)
class FieldSource:
    """The headings that make one field, and how: heading, join, pattern, or r and x."""

    kind: str
    headings: tuple[str, ...]
    detail: str = ""


@dataclass
class SheetMap:
    """One [[sheet]] entry."""

    where: str
    match: tuple[str, ...] = ()
    headings: tuple[str, ...] = ()
    table: str | None = None
    fields: dict[str, FieldSource] = field(default_factory=dict)
    units: dict[str, str] = field(default_factory=dict)
    words: dict[str, dict[str, str]] = field(default_factory=dict)
    constants: dict[str, Any] = field(default_factory=dict)
    carry_down: tuple[str, ...] = ()
    bus_station: str | None = None
    impedance_base: float | None = None
    used: bool = False

    def fits_name(self, sheet: Sheet) -> bool:
        """Whether the entry may be for this sheet by its name."""
        name = sheet.file.rsplit("/", 1)[-1]
        targets = (sheet.file, name, sheet.label, f"{name}::{sheet.name}")
        return not self.match or any(fnmatchcase(target, pattern) for target in targets for pattern in self.match)

    def named_headings(self) -> frozenset[str]:
        """Every heading that the entry names, normalized."""
        named = [heading for source in self.fields.values() for heading in source.headings]
        return frozenset({normalize(heading) for heading in (*named, *self.headings)} | self.units.keys())


@dataclass
class ColumnMap:
    """All entries, in the order of the file, with the file's name and hash."""

    name: str = ""
    sha256: str = ""
    size: int = 0
    sheets: list[SheetMap] = field(default_factory=list)

    def for_sheet(self, sheet: Sheet) -> list[SheetMap]:
        """The entries that may be for this sheet by its name."""
        return [entry for entry in self.sheets if entry.fits_name(sheet)]


def read_column_map(path: str | Path | None) -> ColumnMap:
    """
    Read and check a column map; an empty one if no path is given.

    Raises
    ------
    ColumnMapError
        The file can't be read, or names a table, field or key that does not exist.
    """
    if path is None:
        return ColumnMap()
    try:
        content = Path(path).read_bytes()
        tree = tomllib.loads(content.decode("utf-8-sig"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        raise ColumnMapError(f"{path}: cannot be read as TOML ({error})") from error
    name = Path(path).name
    for key in tree:
        if key != "sheet":
            raise ColumnMapError(f"{name}: no entry `{key}`; a column map holds [[sheet]] entries only")
    entries = tree.get("sheet", [])
    if not isinstance(entries, list):
        raise ColumnMapError(f"{name}: `sheet` is a single table; write [[sheet]] with two brackets")
    sheets = [_read_sheet(entry, f"{name}, sheet entry {number}") for number, entry in enumerate(entries, 1)]
    return ColumnMap(name, sha256(content).hexdigest(), len(content), sheets)


def _read_sheet(entry: dict[str, Any], where: str) -> SheetMap:
    for key in entry:
        if key not in _KEYS:
            raise ColumnMapError(f"{where}: no key `{key}`; nearest is `{nearest(key, _KEYS)}`")
    table = entry.get("table")
    if table is not None and table not in INVENTORY_TABLES:
        raise ColumnMapError(f"{where}: no table `{table}`; nearest is `{nearest(str(table), INVENTORY_TABLES)}`")
    if table is None and any(key in entry for key in ("fields", "words", "constants")):
        raise ColumnMapError(f"{where}: names fields but no `table`; add the canonical table that the sheet feeds")
    for key in ("fields", "words", "constants"):
        for name in entry.get(key, {}):
            _check_field(str(table), name, f"{where}, {key}")
    return SheetMap(
        where=where,
        match=_texts(entry.get("match", ()), f"{where}, match"),
        headings=_texts(entry.get("headings", ()), f"{where}, headings"),
        table=table,
        fields={name: _field_source(value, f"{where}, {name}") for name, value in entry.get("fields", {}).items()},
        units={
            normalize(heading): _unit(unit, f"{where}, units, {heading}")
            for heading, unit in entry.get("units", {}).items()
        },
        words={
            name: {str(found).strip().casefold(): str(meant) for found, meant in words.items()}
            for name, words in entry.get("words", {}).items()
        },
        constants=dict(entry.get("constants", {})),
        carry_down=_texts(entry.get("carry_down", ()), f"{where}, carry_down"),
        bus_station=_pattern(entry.get("bus_station"), f"{where}, bus_station"),
        impedance_base=_positive(entry.get("impedance_base"), f"{where}, impedance_base"),
    )


def _check_field(table: str, name: str, where: str) -> None:
    known = [*table_columns(table), *(table_columns("substation") if where.endswith("constants") else ())]
    if name not in known:
        raise ColumnMapError(f"{where}: table `{table}` has no field `{name}`; nearest is `{nearest(name, known)}`")


def _texts(value: Any, where: str) -> tuple[str, ...]:
    values = [value] if isinstance(value, str) else value
    if not isinstance(values, list | tuple) or any(not isinstance(item, str) for item in values):
        raise ColumnMapError(f"{where}: expected a text or a list of texts, found {value!r}")
    return tuple(values)


def _pattern(value: Any, where: str) -> str | None:
    if value is None:
        return None
    try:
        groups = re.compile(value).groups
    except (re.error, TypeError) as error:
        raise ColumnMapError(f"{where}: {value!r} is not a regular expression ({error})") from error
    if groups != 1:
        raise ColumnMapError(f"{where}: {value!r} needs one group in parentheses, such as '^(.{{4}})'")
    return str(value)


def _positive(value: Any, where: str) -> float | None:
    if value is None:
        return None
    if not isinstance(value, int | float) or isinstance(value, bool) or value <= 0:
        raise ColumnMapError(f"{where}: expected a power in MVA above 0, found {value!r}")
    return float(value)


def _unit(value: Any, where: str) -> str:
    if not isinstance(value, str) or known_unit(value) is None:
        raise ColumnMapError(f"{where}: {value!r} is not a unit that is known; write one such as 'kV', 'A' or 'ohm'")
    return value


def _field_source(value: Any, where: str) -> FieldSource:
    if isinstance(value, str):
        return FieldSource("heading", (value,))
    if isinstance(value, dict):
        for needed, allowed in _SOURCES.items():
            if all(key in value for key in needed) and set(value) <= allowed:
                return _table_source(value, where)
    raise ColumnMapError(
        f"{where}: {value!r} is not a source of a field; write a heading, {{ join = [...], with = ... }}, "
        "{ from = ..., pattern = ... } or { r = ..., x = ... }"
    )


def _table_source(value: dict[str, Any], where: str) -> FieldSource:
    if "join" in value:
        return FieldSource("join", _texts(value["join"], where), str(value.get("with", " ")))
    if "from" in value:
        headings = _texts([value[key] for key in ("from", "within") if key in value], where)
        return FieldSource("pattern", headings, _pattern(value["pattern"], where) or "")
    if "x" in value:
        return FieldSource("rx", _texts([value[key] for key in ("x", "r") if key in value], where))
    return FieldSource("heading", _texts(value["heading"], where))
