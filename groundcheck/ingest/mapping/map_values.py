"""Checks of single values of a column map, each refusal with its place and what was expected."""

import re
from collections.abc import Callable
from typing import Any

from groundcheck.errors import ColumnMapError
from groundcheck.ingest.values import known_unit, read_cell
from groundcheck.nearest import nearest
from groundcheck.schema import INVENTORY_TABLES, Column


def texts(value: Any, where: str) -> tuple[str, ...]:
    """A text, or a list of them."""
    values = [value] if isinstance(value, str) else value
    if not isinstance(values, list | tuple) or any(not isinstance(item, str) for item in values):
        raise ColumnMapError(f"{where}: expected a text or a list of texts, found {value!r}")
    return tuple(values)


def table_of(value: Any, where: str) -> dict[str, Any]:
    """A table of TOML: keys with values."""
    if not isinstance(value, dict):
        raise ColumnMapError(f"{where}: expected {{ key = value }}, found {value!r}")
    return value


def pattern(value: Any, where: str) -> str | None:
    """A regular expression with one group."""
    if value is None:
        return None
    try:
        groups = re.compile(value).groups
    except (re.error, TypeError) as error:
        raise ColumnMapError(f"{where}: {value!r} is not a regular expression ({error})") from error
    if groups != 1:
        raise ColumnMapError(f"{where}: {value!r} needs one group in parentheses, such as '^(.{{4}})'")
    return str(value)


def above_zero(value: Any, where: str, what: str) -> float | None:
    """A number above 0."""
    if value is None:
        return None
    if not isinstance(value, int | float) or isinstance(value, bool) or value <= 0:
        raise ColumnMapError(f"{where}: expected {what} above 0, found {value!r}")
    return float(value)


def row_number(value: Any, where: str) -> int | None:
    """The number of a row of the sheet, from 1."""
    if value is None:
        return None
    if not isinstance(value, int) or isinstance(value, bool) or value < 1:
        raise ColumnMapError(f"{where}: expected the number of a row of the sheet, from 1, found {value!r}")
    return value


def yes_or_no(value: Any, where: str) -> bool | None:
    """True or false."""
    if value is not None and not isinstance(value, bool):
        raise ColumnMapError(f"{where}: expected true or false, found {value!r}")
    return value


def unit(value: Any, where: str) -> str:
    """A unit that is known."""
    if not isinstance(value, str) or known_unit(value) is None:
        raise ColumnMapError(f"{where}: {value!r} is not a unit that is known; write one such as 'kV', 'A' or 'ohm'")
    return value


def canonical_table(value: Any, where: str) -> str:
    """The name of a canonical table."""
    if value not in INVENTORY_TABLES:
        raise ColumnMapError(f"{where}: no table `{value}`; nearest is `{nearest(str(value), INVENTORY_TABLES)}`")
    return str(value)


def readable(value: Any, column: Column, where: str) -> Any:
    """A value that a cell of the column may hold, true and false as words; of a vocabulary, one of its own words."""
    if isinstance(value, bool):
        value = "yes" if value else "no"
    if column.accepted and value not in column.accepted:
        near = nearest(str(value), column.accepted)
        raise ColumnMapError(f'{where}: no word "{value}" for {column.name}; nearest is "{near}"')
    problem = read_cell(value, column).problem
    if problem is not None:
        raise ColumnMapError(f"{where}: {value!r} cannot be read; expected {problem.expected}")
    return value


def same_names(value: Any, where: str, plain: Callable[[str], str], with_station: bool = False) -> dict[str, str]:
    """Names in use, plain, with the name that each stands for."""
    found: dict[str, str] = {}
    for name, meant in table_of(value, where).items():
        if not isinstance(meant, str) or not meant.strip():
            raise ColumnMapError(f'{where}: "{name}" needs the name that it stands for, in quotes, found {meant!r}')
        if with_station and not all(part.strip() for part in name.partition(":")[::2]):
            raise ColumnMapError(f'{where}: "{name}" names no station; write "STATION:TAG"')
        other = found.setdefault(plain(name), meant)
        if other != meant:
            raise ColumnMapError(f'{where}: "{name}" stands for both "{other}" and "{meant}"; keep one')
    return found
