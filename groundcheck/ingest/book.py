"""The record of one run: every row, what it was used for, and every cell that could not be used."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

import pandas as pd

from groundcheck.ingest.sheets import Sheet, cell_name, cell_text
from groundcheck.schema import INVENTORY_TABLES
from groundcheck.schema.stages.raw import QUESTION_SUBJECTS


@dataclass
class Place:
    """A row of the store and where it stands."""

    sheet: Sheet
    row: int
    region: int | None
    use: str
    columns: range | None = None


@dataclass
class Book:
    """Rows by number, with the quarantine and the unread cells; a row is quarantined at most once."""

    places: list[Place] = field(default_factory=list)
    quarantined: dict[int, dict[str, Any]] = field(default_factory=dict)
    unread: dict[tuple[int, int | None, str], dict[str, Any]] = field(default_factory=dict)
    noted: dict[tuple[int, int | None, str], dict[str, Any]] = field(default_factory=dict)
    questions: list[dict[str, Any]] = field(default_factory=list)
    contradictions: list[dict[str, Any]] = field(default_factory=list)
    out_of_service: list[dict[str, Any]] = field(default_factory=list)

    def add(self, sheet: Sheet, row: int, region: int | None, use: str, columns: range | None = None) -> int:
        """Enter a row and give its number in the store."""
        self.places.append(Place(sheet, row, region, use, columns))
        return len(self.places)

    def place(self, raw_row: int) -> Place:
        """Where a row of the store stands."""
        return self.places[raw_row - 1]

    def cell(self, raw_row: int, column: int | None) -> str | None:
        """The name of a cell of a row; None without a column."""
        place = self.place(raw_row)
        return None if column is None else cell_name(place.row, column, place.sheet.turned)

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
        place.use = "quarantine"
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

    def row_frame(self) -> pd.DataFrame:
        """All rows as stage raw keeps them."""
        return pd.DataFrame(
            {
                "raw_row": range(1, len(self.places) + 1),
                "file": [place.sheet.file for place in self.places],
                "sheet": [place.sheet.name for place in self.places],
                "row": [place.row + 1 for place in self.places],
                "region": pd.array([place.region for place in self.places], dtype="Int64"),
                "use": [place.use for place in self.places],
                "cells": [_cells(place) for place in self.places],
            }
        )


def _cells(place: Place) -> list[str | None]:
    cells = [cell_text(cell) for cell in place.sheet.rows[place.row]]
    if place.columns is not None:
        kept = place.columns
        cells = [cell if index in kept else None for index, cell in enumerate(cells)]
    while cells and cells[-1] is None:
        cells.pop()
    return cells
