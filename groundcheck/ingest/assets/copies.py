"""Several records of one asset: which of them is used, what it takes from the others, and why the rest waits."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from fnmatch import fnmatchcase
from typing import Any

import pandas as pd

from groundcheck.ingest.assets.frame_rows import plain_list
from groundcheck.ingest.book import Book
from groundcheck.ingest.mapping.headings import table_columns
from groundcheck.ingest.sheets import cell_text
from groundcheck.ingest.tables.records import Records
from groundcheck.schema import INVENTORY_TABLES


@dataclass
class Copy:
    """
    One record of an asset: its position in the frame, its row, where it was read, its rank and its values.

    Of the fields, `values` has those that any copy in the frame fills.
    """

    position: int
    raw_row: int
    source: Records
    rank: int
    values: dict[str, Any]

    def where(self, name: str, book: Book) -> str:
        """The cell that gives a field, for a person."""
        place = book.place(self.raw_row)
        cell = book.cell(self.raw_row, self.source.column_of(name))
        return f"{place.sheet.file}, sheet {place.sheet.name}, " + (f"cell {cell}" if cell else f"row {place.row + 1}")


@dataclass
class Settled:
    """What became of copies: the positions that are not used, and the values that others take over."""

    dropped: set[int] = field(default_factory=set)
    taken: dict[str, dict[int, Any]] = field(default_factory=dict)


def file_rank(file: str, precedence: Sequence[str]) -> int:
    """The place of a file in the order of the column map; a file that fits no pattern comes last."""
    names = file, file.rsplit("/", 1)[-1]
    fitting = (i for i, pattern in enumerate(precedence) if any(fnmatchcase(name, pattern) for name in names))
    return next(fitting, len(precedence))


def plain_cells(series: pd.Series) -> list[Any]:
    """Values to compare: text without blanks around it, None where missing or an empty list."""
    filled = series.notna().tolist()
    cells = (cell.strip() if isinstance(cell, str) else cell for cell in plain_list(series))
    return [cell if full and cell != [] else None for cell, full in zip(cells, filled, strict=True)]


def settle_copies(copies: list[Copy], table: str, book: Book, settled: Settled) -> None:
    """
    Settle the records of one asset.

    Equal ones: the first stays, the others are duplicates. Of files that the column map ranks, the first wins and
    takes nothing from the others. Those that fill no field with different values are one record. Others conflict.
    """
    copies = sorted(copies, key=lambda copy: copy.rank)
    best = [copy for copy in copies if copy.rank == copies[0].rank]
    for copy in copies[len(best) :]:
        same = next((other for other in best if not _differing([copy, other], table)), None)
        if same is not None:
            _set_aside_duplicate(copy, same, table, book)
        else:
            _supersede(copy, best[0], table, book)
        settled.dropped.add(copy.position)
    distinct = [best[0]]
    for copy in best[1:]:
        same = next((other for other in distinct if not _differing([copy, other], table)), None)
        if same is None:
            distinct.append(copy)
        else:
            _set_aside_duplicate(copy, same, table, book)
            settled.dropped.add(copy.position)
    if len(distinct) > 1:
        disputed = [name for name in _differing(distinct, table) if _is_disputed(distinct, table, name)]
        if disputed:
            _leave_conflicting(distinct, table, disputed, book)
            settled.dropped |= {copy.position for copy in distinct}
        else:
            _join(distinct, table, book, settled)


def _differing(copies: list[Copy], table: str) -> list[str]:
    """The fields in which the records differ, a blank counting as a difference."""
    keys = INVENTORY_TABLES[table].key_columns()
    first = copies[0].values
    return [
        name
        for name, value in first.items()
        if name not in keys and any(copy.values[name] != value for copy in copies[1:])
    ]


def _is_disputed(copies: list[Copy], table: str, name: str) -> bool:
    """Whether two records fill the field differently; lists of places or assets add up."""
    if table_columns(table)[name].kind in ("places", "references"):
        return False
    filled = [copy.values[name] for copy in copies if copy.values[name] is not None]
    return any(value != filled[0] for value in filled)


def _join(copies: list[Copy], table: str, book: Book, settled: Settled) -> None:
    """Let the first record take what only the others say; each such field keeps its own cell."""
    first, *others = copies
    keys = INVENTORY_TABLES[table].key_columns()
    for name in _differing(copies, table):
        if table_columns(table)[name].kind in ("places", "references"):
            joined = list(dict.fromkeys(item for copy in copies for item in copy.values[name] or ()))
            settled.taken.setdefault(name, {})[first.position] = joined
        giver = next((copy for copy in others if copy.values[name] is not None), None)
        if first.values[name] is None and giver is not None:
            settled.taken.setdefault(name, {}).setdefault(first.position, giver.values[name])
            station, tag = str(first.values["substation"]), str(first.values[keys[-1]])
            book.originate(station, table, tag, name, giver.raw_row, giver.source.column_of(name))
    settled.dropped |= {copy.position for copy in others}


def _set_aside_duplicate(copy: Copy, same: Copy, table: str, book: Book) -> None:
    tag = INVENTORY_TABLES[table].asset_column()
    column, expected = copy.source.column_of(tag), f"the same as {same.where(tag, book)}"
    book.quarantine(copy.raw_row, column, table, "duplicate", expected)


def _supersede(copy: Copy, winner: Copy, table: str, book: Book) -> None:
    tag = INVENTORY_TABLES[table].asset_column()
    differing = _differing([winner, copy], table)
    name = differing[0]
    told = "; ".join(_told(field, winner, copy) for field in differing)
    expected = (
        f"the record of {winner.values[tag]} at {winner.where(name, book)}, which the column map puts first, is used. "
        f"It differs: {told}"
    )
    book.quarantine(copy.raw_row, copy.source.column_of(name), table, "superseded", expected, _shown(copy.values[name]))


def _told(name: str, winner: Copy, copy: Copy) -> str:
    ours, theirs = winner.values[name], copy.values[name]
    if ours is None:
        return f"{name} is blank there, and {_shown(theirs)} from here is not taken over"
    return f"{name} is {_shown(ours)} there and {_shown(theirs)} here"


def _leave_conflicting(copies: list[Copy], table: str, disputed: list[str], book: Book) -> None:
    tag = str(copies[0].values[INVENTORY_TABLES[table].asset_column()])
    differing = ", ".join(_differing(copies, table))
    for copy in copies:
        name, other = next(
            (
                (name, other)
                for other in copies
                if other is not copy
                for name in disputed
                if other.values[name] != copy.values[name]
            ),
            (disputed[0], next(other for other in copies if other is not copy)),
        )
        ours, theirs = _shown(copy.values[name]), _shown(other.values[name])
        expected = (
            f"one record of {tag}: {name} is {ours} here and {theirs} at {other.where(name, book)}; "
            f"differs in {differing}: correct or remove one"
        )
        book.quarantine(copy.raw_row, copy.source.column_of(name), table, "conflicting", expected, ours)


def _shown(value: Any) -> str:
    return "blank" if value is None else str(cell_text(value))
