"""Which piece of a text belongs to which column: in the order of the columns, or as the units that are written say."""

from itertools import combinations, permutations
from typing import NamedTuple

from groundcheck.ingest.values.cell import read_one
from groundcheck.ingest.values.number_text import split_number
from groundcheck.ingest.values.qualified import RANGE, qualify
from groundcheck.ingest.values.reading import BLANK, Habits, Reading, joined
from groundcheck.ingest.values.root_three import MARK, NOTE, ONE_SIDE
from groundcheck.ingest.values.units import factor, known_unit
from groundcheck.schema import Column

_MISFITS = frozenset({"unreadable", "unknown_word"})


class Part(NamedTuple):
    """A column with what is known of how its part is written."""

    column: Column
    habits: Habits


class TwoMeanings(Exception):
    """A text that is split in one way only, and yet has two meanings."""


def assigned(pieces: list[str], parts: list[Part]) -> tuple[Reading, ...] | None:
    """The readings of all columns in the order of the columns, or in the one other order that the units leave."""
    width = len(pieces)
    for chosen in combinations(range(len(parts)), width):
        readings = _in_order(pieces, chosen, parts)
        if readings is not None:
            return readings
    others = [_in_order(pieces, chosen, parts) for chosen in permutations(range(len(parts)), width)]
    found = [readings for readings in others if readings is not None]
    if len(found) > 1:
        raise TwoMeanings("the parts fit in more than one order: write them in the order of the heading")
    return found[0] if found else None


def _in_order(pieces: list[str], chosen: tuple[int, ...], parts: list[Part]) -> tuple[Reading, ...] | None:
    readings: list[Reading] = [BLANK] * len(parts)
    voltages = []
    for place, index in enumerate(chosen):
        part = _with_neighbors_unit(pieces, place, parts[index])
        reading = fitting(pieces[place], part)
        if reading is None:
            return None
        if measures_voltage(part.column) and reading.value is not None:
            voltages.append(MARK in pieces[place])
        readings[index] = reading
    if len(set(voltages)) > 1:
        raise TwoMeanings(ONE_SIDE)
    _no_unit_after_another(pieces, chosen, parts)
    return tuple(readings)


def fitting(cell: object, part: Part) -> Reading | None:
    """The reading of one piece; None if it does not belong to the column."""
    marked = isinstance(cell, str) and MARK in cell
    reading = read_one(cell.replace(MARK, "") if isinstance(cell, str) else cell, *part)
    if reading.problem is not None and reading.problem.reason in _MISFITS:
        return None
    return reading._replace(note=joined(reading.note, NOTE)) if marked and reading.value is not None else reading


def _with_neighbors_unit(pieces: list[str], place: int, part: Part) -> Part:
    """The part with the unit of the next piece that has one, if its own has none and that can be the column's."""
    if part.column.kind != "quantity" or _unit_of(pieces[place]) is not None:
        return part
    after = next(filter(None, map(_unit_of, pieces[place + 1 :])), None)
    if after is None or factor(after, part.column.unit, part.habits.frequency) is None:
        return part
    return Part(part.column, Habits(after, part.habits.decimal_comma, None, part.habits.frequency))


def _no_unit_after_another(pieces: list[str], chosen: tuple[int, ...], parts: list[Part]) -> None:
    """A last number without a unit, after one with a unit that is not the column's own, has two meanings."""
    unit = _unit_of(pieces[-2])
    column, habits = parts[chosen[-1]]
    split = split_number(pieces[-1])
    if unit is None or habits.unit is not None or split is None or split[1] or column.unit is None:
        return
    by = factor(unit, column.unit, habits.frequency)
    if by not in (None, 1):
        raise TwoMeanings(f"the last number is in {unit} or in {column.unit}: write its unit")


def _unit_of(piece: str) -> str | None:
    split = split_number(qualify(piece.replace(MARK, "")).text)
    return known_unit(split[1]) if split and split[1] else None


def is_rising_range(text: str, parts: list[Part]) -> bool:
    """Whether both numbers are for one kind of quantity, with a dash between and the second larger."""
    return len({part.column.unit for part in parts}) == 1 and qualify(text).no_value == RANGE


def measures_voltage(column: Column) -> bool:
    """Whether a column holds voltages, among others."""
    return column.kind == "quantity" and any(unit in ("V", "kV") for unit in (column.unit or "").split(" or "))
