"""The record of one run: every row, what it was used for, and every cell that could not be used."""

from bisect import bisect_right, insort
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any

from groundcheck.ingest.sheets import Sheet, cell_text, column_letter
from groundcheck.schema import INVENTORY_TABLES
from groundcheck.schema.stages.raw import QUESTION_SUBJECTS


@dataclass
class Place:
    """A row of the store and where it stands."""

    sheet: Sheet
    row: int


@dataclass
class Block:
    """Rows of one sheet, counted from 0, whose numbers in the store follow one another."""

    first: int
    sheet: Sheet
    rows: Sequence[int]
    region: int | None
    uses: list[str]
    columns: range | None = None


@dataclass
class Book:
    """
    Rows by number, with the quarantine and the unread cells; a row is quarantined at most once.

    `kept` holds the first number of each file whose rows are in the store already; other rows are numbered from `free`.
    """

    kept: dict[str, int] = field(default_factory=dict)
    free: int = 1
    blocks: list[Block] = field(default_factory=list)
    quarantined: dict[int, dict[str, Any]] = field(default_factory=dict)
    unread: dict[tuple[int, int | None, str], dict[str, Any]] = field(default_factory=dict)
    noted: dict[tuple[int, int | None, str], dict[str, Any]] = field(default_factory=dict)
    questions: list[dict[str, Any]] = field(default_factory=list)
    contradictions: list[dict[str, Any]] = field(default_factory=list)
    out_of_service: list[dict[str, Any]] = field(default_factory=list)
    origins: list[dict[str, Any]] = field(default_factory=list)

    def enter(
        self, sheet: Sheet, rows: Sequence[int], region: int | None, uses: list[str], columns: range | None = None
    ) -> range:
        """Enter rows of a sheet, each with its use, and give their numbers in the store."""
        first = self.kept.get(sheet.file, self.free)
        if rows:
            if sheet.file in self.kept:
                self.kept[sheet.file] += len(rows)
            else:
                self.free += len(rows)
            insort(self.blocks, Block(first, sheet, rows, region, uses, columns), key=_first)
        return range(first, first + len(rows))

    def place(self, raw_row: int) -> Place:
        """Where a row of the store stands."""
        block = self._block(raw_row)
        return Place(block.sheet, block.rows[raw_row - block.first])

    def _block(self, raw_row: int) -> Block:
        return self.blocks[bisect_right(self.blocks, raw_row, key=_first) - 1]

    def cell(self, raw_row: int, column: int | None) -> str | None:
        """The name of a cell of a row; None without a column."""
        place = self.place(raw_row)
        return None if column is None else place.sheet.cell_name(place.row, column)

    def text(self, raw_row: int, column: int | None) -> str | None:
        """The text of a cell of a row."""
        place = self.place(raw_row)
        cells = place.sheet.rows[place.row]
        return None if column is None or column >= len(cells) else cell_text(cells[column])

    def quarantine(
        self, raw_row: int, column: int | None, table: str | None, reason: str, expected: str, found: str | None = None
    ) -> None:
        """Put a row into quarantine; the first reason stays."""
        if raw_row in self.quarantined:
            return
        place = self.place(raw_row)
        block = self._block(raw_row)
        block.uses[raw_row - block.first] = "quarantine"
        self.quarantined[raw_row] = {
            "file": place.sheet.file,
            "sheet": place.sheet.name,
            "row": place.row + 1,
            "cell": self.cell(raw_row, column),
            "raw_row": raw_row,
            "target_table": table,
            "reason": reason,
            "found": found if found is not None else self.text(raw_row, column),
            "expected": expected,
        }

    def leave_unread(self, raw_row: int, column: int | None, table: str, name: str, expected: str) -> None:
        """Name a cell whose text could not be used."""
        self.unread[raw_row, column, f"{table}.{name}"] = self._entry(raw_row, column, table, name) | {
            "expected": expected
        }

    def note(
        self,
        raw_row: int,
        column: int | None,
        table: str,
        name: str,
        read_as: Any,
        note: str,
        tolerance: float | None = None,
        cell: str | None = None,
    ) -> None:
        """Say what was made of a cell that was used, but not quite as written; `cell` may name a merged range."""
        entry = self._entry(raw_row, column, table, name)
        entry |= {"read_as": cell_text(read_as), "note": note, "tolerance": tolerance}
        self.noted[raw_row, column, f"{table}.{name}"] = entry | ({"cell": cell} if cell else {})

    def _entry(self, raw_row: int, column: int | None, table: str, name: str) -> dict[str, Any]:
        place = self.place(raw_row)
        return {
            "file": place.sheet.file,
            "sheet": place.sheet.name,
            "row": place.row + 1,
            "cell": self.cell(raw_row, column),
            "raw_row": raw_row,
            "target_table": table,
            "field": name,
            "found": self.text(raw_row, column),
        }

    def ask(
        self,
        subject: str,
        found: str,
        candidates: Iterable[str],
        *,
        sheet: Sheet | None = None,
        cell: str | None = None,
        cells: int = 1,
        answer: str | None = None,
    ) -> None:
        """Ask a person; the subject is one of QUESTION_SUBJECTS, the answer a line of the column map to complete."""
        assert subject in QUESTION_SUBJECTS
        self.questions.append(
            {
                "question": len(self.questions) + 1,
                "subject": subject,
                "file": sheet.file if sheet else None,
                "sheet": sheet.name if sheet else None,
                "cell": cell,
                "found": found,
                "candidates": "; ".join(candidates),
                "cells": cells,
                "answer": answer,
            }
        )

    def originate(self, station: str, kind: str, asset: str, name: str, raw_row: int, column: int | None) -> None:
        """Say that a field of an asset was read from another row than the asset's own."""
        turned = self.place(raw_row).sheet.turned
        letter = None if column is None else str(column + 1) if turned else column_letter(column)
        self.origins.append(
            {
                "substation": station,
                "asset_kind": kind,
                "asset": asset,
                "field": name,
                "raw_row": raw_row,
                "column_letter": letter,
            }
        )

    def contradict(self, station: str, kind: str, asset: str, name: str, *mentions: tuple[Any, int]) -> None:
        """Record two mentions of one fact that disagree: each a value and its row."""
        (value_a, row_a), (value_b, row_b) = mentions
        self.contradictions.append(
            {
                "substation": station,
                "asset_kind": kind,
                "asset": asset,
                "field": name,
                "unit": INVENTORY_TABLES[kind].columns()[name].unit,
                "value_a": cell_text(value_a),
                "raw_row_a": row_a,
                "value_b": cell_text(value_b),
                "raw_row_b": row_b,
            }
        )


def _first(block: Block) -> int:
    return block.first
