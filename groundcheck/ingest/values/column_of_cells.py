"""A column of cells at once: numbers as one array, and of everything else each distinct cell once."""

import re
from collections.abc import Callable, Hashable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import compress
from operator import itemgetter
from types import MappingProxyType
from typing import Any

import numpy as np

from groundcheck.ingest.values.cell import habits_of, read_one
from groundcheck.ingest.values.cell_text import says_none, says_nothing
from groundcheck.ingest.values.reading import Habits, Problem, Reading, Value
from groundcheck.ingest.values.units import factor, known_unit
from groundcheck.schema import Column

_NUMBER_TYPES = frozenset({float, int, type(None)})
_AS_WRITTEN = frozenset({"text", "key"})
_PLAIN_TAG = re.compile(r"[A-Za-z0-9]+(?:[-_./ ][A-Za-z0-9]+)*", re.ASCII)
_LISTS = frozenset({"references", "places"})
_EXACT_INTEGERS = 2.0**53
_PLAIN = re.compile(r"\d{1,15}(?:\.\d{1,15})?", re.ASCII)
NOTHING_YET: Mapping[Any, Any] = MappingProxyType({})


@dataclass
class ReadColumn:
    """A column of values, with what is to be said of single cells by their position."""

    values: list[Value]
    problems: dict[int, Problem] = field(default_factory=dict)
    notes: dict[int, str] = field(default_factory=dict)
    parallel: dict[int, int] = field(default_factory=dict)
    tolerance: dict[int, float] = field(default_factory=dict)


def read_column(
    cells: Sequence[object],
    column: Column,
    *,
    unit: str | None = None,
    decimal_comma: bool = False,
    day_first: bool | None = None,
    frequency: float | None = None,
) -> ReadColumn:
    """
    The values of many cells for one column; each distinct cell is read once.

    Parameters, errors: as read_cell, for every cell of the sequence.
    """
    habits = habits_of(column, unit, decimal_comma, day_first, frequency)
    types = set(map(type, cells))
    if column.kind == "quantity" and types and types <= _NUMBER_TYPES:
        quick = _all_numbers(cells, column, habits)
        if quick is not None:
            return quick
    known: Mapping[str, Reading] = {}
    if types == {str} and column.kind == "quantity":
        known = _plain_texts(cells, column, habits)
    elif types <= {str, type(None)} and column.kind in _AS_WRITTEN:
        known = _plain_tags(cells)
    readings = each_once(cells, types, lambda cell: read_one(cell, column, habits), known)
    return gathered(readings, lists=column.kind in _LISTS)


class _Once(dict[Any, Any]):
    """Results by cell, each worked out when it is first asked for."""

    def __init__(self, work_out: Callable[[Any], Any], known: Mapping[Any, Any]) -> None:
        super().__init__(known)
        self.work_out = work_out

    def __missing__(self, key: Any) -> Any:
        result = self[key] = self.work_out(key)
        return result


def each_once(
    cells: Sequence[object], types: set[type], work_out: Callable[[Any], Any], known: Mapping[Any, Any] = NOTHING_YET
) -> list[Any]:
    """What comes of each cell, worked out once for each distinct one that is not known; 1, 1.0 and True are three."""
    if types <= {str} or known:
        return list(map(_Once(work_out, known).__getitem__, cells))
    if tuple in types or not all(issubclass(kind, Hashable) for kind in types):
        return [work_out(cell) for cell in cells]
    once = _Once(lambda typed: work_out(typed[1]), {})
    return list(map(once.__getitem__, zip(map(type, cells), cells, strict=True)))


def gathered(readings: list[Reading], *, lists: bool = False) -> ReadColumn:
    """Readings as a column; lists are copied, so that no two rows share one."""
    values: list[Value] = list(map(itemgetter(0), readings))
    if lists:
        values = [list(value) if isinstance(value, list) else value for value in values]
    problems, notes, parallel, tolerance = (_said(readings, place) for place in range(1, 5))
    return ReadColumn(values, problems, notes, parallel, tolerance)


def _said(readings: list[Reading], place: int) -> dict[int, Any]:
    """One part of the readings by position, where it is not None."""
    said = list(map(itemgetter(place), readings))
    if said.count(None) == len(said):
        return {}
    return {index: part for index, part in enumerate(said) if part is not None}


def _all_numbers(cells: Sequence[object], column: Column, habits: Habits) -> ReadColumn | None:
    """A column of numbers and blanks as one array; None where a conversion would not be exact."""
    unit = known_unit(habits.unit) if habits.unit else None
    try:
        numbers = np.array(cells, dtype=float)
    except OverflowError:
        return None
    if unit is not None and column.unit is not None:
        by = factor(unit, column.unit, habits.frequency)
        if by is None:
            return None
        if by != 1:
            given = numbers[~np.isnan(numbers)]
            above, below = by.as_integer_ratio()
            if (above != 1 and below != 1) or not (_are_whole(given) and _are_whole(given * above)):
                return None
            numbers = numbers * above / below
    blank = np.isnan(numbers)
    sound = _sound(numbers, column)
    read = ReadColumn(numbers.tolist())
    for index in np.flatnonzero(blank).tolist():
        read.values[index] = None
    for index in np.flatnonzero(~sound & ~blank).tolist():
        reading = read_one(cells[index], column, habits)
        read.values[index] = reading.value
        if reading.problem is not None:
            read.problems[index] = reading.problem
    return read


def _plain_texts(cells: Sequence[Any], column: Column, habits: Habits) -> dict[str, Reading]:
    """The readings of all texts that are a number in the column's unit and within its limits, at once."""
    if habits.decimal_comma or (habits.unit and known_unit(habits.unit) != column.unit):
        return {}
    texts = list(filter(_PLAIN.fullmatch, set(cells)))
    numbers = np.array(list(map(float, texts)))
    sound = _sound(numbers, column).tolist()
    return dict(zip(compress(texts, sound), map(Reading, compress(numbers.tolist(), sound)), strict=True))


def _plain_tags(cells: Sequence[Any]) -> dict[str, Reading]:
    """The readings of all texts that are a tag just as they are written."""
    plain = [cell for cell in set(cells) if cell is not None and _PLAIN_TAG.fullmatch(cell)]
    return {tag: Reading(tag) for tag in plain if not (says_nothing(tag) or says_none(tag))}


def _sound(numbers: np.ndarray, column: Column) -> np.ndarray:
    """Which numbers are finite and within the column's limits."""
    sound: np.ndarray = np.isfinite(numbers)
    for limit, holds in ((column.gt, np.greater), (column.ge, np.greater_equal), (column.le, np.less_equal)):
        if limit is not None:
            sound &= holds(numbers, limit)
    return sound


def _are_whole(numbers: np.ndarray) -> bool:
    """Whether all are whole numbers that a float holds exactly, so that one division rounds once."""
    return bool((numbers == np.floor(numbers)).all() and (abs(numbers) < _EXACT_INTEGERS).all())
