"""One text that holds a value for each of several columns: '400 A / 10 s', '132/33 kV', 'Solid / Impedance'."""

from collections.abc import Sequence

from groundcheck.ingest.values.cell import habits_of, read_one
from groundcheck.ingest.values.cell_text import is_excel_error, points_elsewhere, says_nothing, tidy
from groundcheck.ingest.values.column_of_cells import ReadColumn, each_once, gathered
from groundcheck.ingest.values.part_order import (
    Part,
    TwoMeanings,
    assigned,
    fitting,
    is_rising_range,
    measures_voltage,
)
from groundcheck.ingest.values.reading import BLANK, Problem, Reading
from groundcheck.ingest.values.root_three import mark_root_three
from groundcheck.ingest.values.splits import on_one_line, splits
from groundcheck.ingest.values.wanted import wanted
from groundcheck.schema import Column

_LONGEST = 120


def read_parts(
    cell: object,
    columns: Sequence[Column],
    *,
    units: Sequence[str | None],
    decimal_comma: bool = False,
    frequency: float | None = None,
) -> tuple[Reading, ...]:
    """
    The values that one cell holds for several columns, one reading a column.

    Parts are taken in the order of the columns; where the units that are written fit in one other order only, in that.
    A part without a unit takes the unit after the next ('33/0.11 kV'), else that of its column. One value alone goes
    to the first column that its unit fits, and the others are blank.

    Parameters
    ----------
    cell : object
        As for read_cell.
    columns : sequence of Column
        Of any kinds, in the order in which the heading names them.
    units : sequence of str or None
        Unit of a bare number, for each column; None is the column's own.
    decimal_comma, frequency
        As for read_cell.

    Returns
    -------
    tuple of Reading
        If the text cannot be split, each has a problem that names all that was expected.

    Raises
    ------
    ValueError
        A unit given is none that is known, or there are not as many units as columns.
    """
    return _read_parts(cell, _parts(columns, units, decimal_comma, frequency))


def read_parts_column(
    cells: Sequence[object],
    columns: Sequence[Column],
    *,
    units: Sequence[str | None],
    decimal_comma: bool = False,
    frequency: float | None = None,
) -> list[ReadColumn]:
    """
    The values of many cells, a column of results for each of the columns; each distinct cell is read once.

    Parameters, errors: as read_parts, for every cell of the sequence.
    """
    parts = _parts(columns, units, decimal_comma, frequency)
    rows = each_once(cells, set(map(type, cells)), lambda cell: _read_parts(cell, parts))
    lists = [part.column.kind in ("references", "places") for part in parts]
    by_column = zip(*rows, strict=True) if rows else [()] * len(parts)
    return [gathered(list(readings), lists=each) for readings, each in zip(by_column, lists, strict=True)]


def _parts(
    columns: Sequence[Column], units: Sequence[str | None], decimal_comma: bool, frequency: float | None
) -> list[Part]:
    if len(units) != len(columns):
        raise ValueError(f"{len(columns)} columns need as many units, not {len(units)}")
    return [
        Part(column, habits_of(column, unit, decimal_comma, None, frequency))
        for column, unit in zip(columns, units, strict=True)
    ]


def _read_parts(cell: object, parts: list[Part]) -> tuple[Reading, ...]:
    if not isinstance(cell, str):
        return _single(cell, parts) or tuple(read_one(cell, *part) for part in parts)
    text = tidy(on_one_line(cell))
    if says_nothing(text):
        return (BLANK,) * len(parts)
    if is_excel_error(text):
        return _problem(parts, "unreadable", "; the cell holds an Excel error")
    if points_elsewhere(text):
        return _problem(parts, "unreadable", "; the cell names another place to look, not a value")
    if len(text) > _LONGEST:
        return _problem(parts, "unreadable")
    marked = mark_root_three(text) if any(measures_voltage(part.column) for part in parts) else text
    try:
        return _of_text(marked, parts)
    except TwoMeanings as meanings:
        return _problem(parts, "ambiguous", f"; {meanings}")


def _of_text(text: str, parts: list[Part]) -> tuple[Reading, ...]:
    plain = all(part.column.kind == "quantity" for part in parts)
    alone = _single(text, parts) if plain else None
    if alone is not None:
        return alone
    for pieces in splits(text, words=not plain):
        if len(pieces) != len(parts) and not (plain and 2 <= len(pieces) < len(parts)):
            continue
        readings = assigned(pieces, parts)
        if readings is not None:
            if plain and len(pieces) == 2 and is_rising_range(text, parts):
                raise TwoMeanings("a ratio or a range: write a ratio with '/'")
            return readings
    return (None if plain else _single(text, parts)) or _problem(parts, "unreadable")


def _single(cell: object, parts: list[Part]) -> tuple[Reading, ...] | None:
    """One value for one of the columns, the others blank; None if it fits none."""
    readings = [fitting(cell, part) for part in parts]
    fits = [index for index, reading in enumerate(readings) if reading is not None]
    if not fits:
        return None
    if len(fits) > 1 and not all(parts[index].column.kind == "quantity" for index in fits):
        if all(readings[index] == BLANK for index in fits):
            return (BLANK,) * len(parts)
        return _problem(parts, "ambiguous", "; one value that fits several columns")
    return tuple((readings[index] or BLANK) if index == fits[0] else BLANK for index in range(len(parts)))


def _problem(parts: list[Part], reason: str, why: str = "") -> tuple[Reading, ...]:
    expected = ", then ".join(wanted(part.column) for part in parts)
    problem = Problem(reason, f"{len(parts)} values in one cell: {expected}{why}")
    return (Reading(None, problem),) * len(parts)
