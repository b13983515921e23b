"""Answers to data requests: they fill what is blank on record, and are held against what is not."""

from collections.abc import Hashable, Iterable

import numpy as np
import pandas as pd

from groundcheck.ingest.answers.reading import Answer
from groundcheck.ingest.assets.answer_check import AnswerCheck
from groundcheck.ingest.assets.identity import tag_key, tag_keys
from groundcheck.ingest.assets.plain_values import is_missing, same_value, set_value
from groundcheck.ingest.book import Book
from groundcheck.ingest.mapping.headings import table_columns
from groundcheck.ingest.sheets import cell_text
from groundcheck.schema import INVENTORY_TABLES

_IN_SERVICE = "in service"


class Answers:
    """The answers of one run that do not contradict one another; which of them have filled a field."""

    def __init__(self, given: Iterable[Answer], book: Book) -> None:
        self.book = book
        self.answers = _without_conflicts(list(given), book)

    def fill_required(self, frame: pd.DataFrame, table: str, *, own: bool = True) -> None:
        """
        Fill required fields of records that are not yet admitted, in place, so that no row waits for them.

        Of several records of one asset none is filled unless all lack the field: an answer never makes two differ.
        `own` says whether the records are the asset's own, not what a sheet about something else says of it.
        """
        columns = table_columns(table)
        for answer, places in _found(frame, table, [a for a in self._about(table) if not a.record_rows]):
            answer.record_rows |= {int(row) for row in frame["raw_row"].to_numpy()[places]}
            early = columns[answer.field].required or (own and answer.field == "status")
            if early and all(is_missing(frame[answer.field].iat[place]) for place in places):
                _fill(frame, answer, places)

    def fill(self, frames: dict[str, pd.DataFrame]) -> None:
        """Fill what is blank of assets on record, in place; a status comes too late here, unless it changes nothing."""
        for table, frame in frames.items():
            wanted = [a for a in self.answers if a.kind == table and not a.filled]
            for answer, (place, *_) in _found(frame, table, wanted):
                late = answer.field == "status" and answer.value != _IN_SERVICE
                if is_missing(frame[answer.field].iat[place]) and not late:
                    _fill(frame, answer, [place])

    def settle(self, frames: dict[str, pd.DataFrame]) -> None:
        """Say of every answer what became of it, once all assets are known."""
        if not self.answers:
            return
        check = AnswerCheck(frames, self.book)
        found = {id(a): places[0] for t, f in frames.items() for a, places in _found(f, t, self._about(t))}
        for answer in self.answers:
            check.settle(answer, found.get(id(answer)))

    def _about(self, table: str) -> list[Answer]:
        return [answer for answer in self.answers if answer.kind == table]


def _found(frame: pd.DataFrame, table: str, answers: list[Answer]) -> list[tuple[Answer, list[int]]]:
    """The answers whose asset has rows in the frame, with the positions of these."""
    if not answers or frame.empty:
        return []
    places: dict[Hashable, list[int]] = {_key(answer): [] for answer in answers}
    names = "substation", INVENTORY_TABLES[table].asset_column()
    keys = pd.MultiIndex.from_arrays([tag_keys(frame[name]) for name in names])
    for place in np.flatnonzero(keys.isin([_key(answer) for answer in answers])).tolist():
        places[keys[place]].append(place)
    return [(answer, places[_key(answer)]) for answer in answers if places[_key(answer)]]


def _key(answer: Answer) -> tuple[str, str]:
    """Station and tag; of a station its tag alone counts."""
    return tag_key(answer.asset if answer.kind == "substation" else answer.station), tag_key(answer.asset)


def _fill(frame: pd.DataFrame, answer: Answer, places: list[int]) -> None:
    set_value(frame, answer.field, places, answer.value)
    answer.filled = True


def _without_conflicts(answers: list[Answer], book: Book) -> list[Answer]:
    """The answers without those that disagree on one field; all of these wait in quarantine."""
    by_field: dict[tuple[str, ...], list[Answer]] = {}
    for answer in answers:
        by_field.setdefault((answer.kind, answer.field, *_key(answer)), []).append(answer)
    refused: set[int] = set()
    for group in by_field.values():
        for answer in group:
            other = next((a for a in group if not same_value(a.value, answer.value)), None)
            if other is not None:
                at = book.place(other.raw_row)
                expected = (
                    f"one answer: it is {cell_text(answer.value)} here and {cell_text(other.value)} at "
                    f"{at.sheet.file}, sheet {at.sheet.name}, cell {book.cell(other.raw_row, other.column)}: "
                    "correct or remove one"
                )
                book.quarantine(answer.raw_row, answer.column, answer.kind, "conflicting", expected)
                refused.add(answer.raw_row)
    return [answer for answer in answers if answer.raw_row not in refused]
