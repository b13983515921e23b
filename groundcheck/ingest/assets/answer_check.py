"""What became of each answer: a field filled, a dispute settled, a contradiction, or no such asset."""

from typing import Any

import pandas as pd

from groundcheck.ingest.answers.reading import Answer
from groundcheck.ingest.assets.answered_asset import why_not_found
from groundcheck.ingest.assets.frame_rows import plain_list
from groundcheck.ingest.assets.plain_values import is_missing, plain_value, same_value, set_value
from groundcheck.ingest.book import Book
from groundcheck.ingest.mapping.headings import table_columns
from groundcheck.ingest.sheets import cell_text
from groundcheck.schema import INVENTORY_TABLES

_Field = tuple[str, str, str, str]  # station, kind, asset, field


class AnswerCheck:
    """The finished tables, against which answers are held; with what is disputed and what was only implied there."""

    def __init__(self, frames: dict[str, pd.DataFrame], book: Book) -> None:
        self.frames = frames
        self.book = book
        self.disputes: dict[_Field, list[dict[str, Any]]] = {}
        for told in book.contradictions:
            self.disputes.setdefault(_field(told), []).append(told)
        self.origins = {_field(told): told for told in book.origins}
        self.implied: dict[tuple[int, str], list[tuple[str, int]]] = {}
        for kind, frame in frames.items():
            named = zip(plain_list(frame["raw_row"]), plain_list(frame["inferred_from"]), strict=True)
            for place, (raw_row, source) in enumerate(named):
                if isinstance(source, str):
                    self.implied.setdefault((int(raw_row), source), []).append((kind, place))

    def settle(self, answer: Answer, place: int | None) -> None:
        """Say what became of an answer about the asset at a place of its table; of none: no such asset."""
        if place is None:
            expected = why_not_found(answer, self.frames, self.book)
            self._refuse(answer, answer.asset_column, expected)
            return
        frame = self.frames[answer.kind]
        own_row = int(frame["raw_row"].to_numpy()[place])
        recorded = plain_value(frame[answer.field].iat[place])
        only_named = not is_missing(frame["inferred_from"].iat[place])
        about = self._about(answer.kind, place, answer.field)
        if answer.filled:
            self._originate(about, answer)
            self._originate_implied(answer, own_row)
        elif is_missing(recorded):
            expected = f"a record of its own in a register: an asset that is only named is given no {answer.field}"
            self._refuse(answer, answer.column, expected)
        elif not same_value(recorded, answer.value, about[0]):
            if not self._chooses(about, answer, only_named):
                row = int(self.origins[about]["raw_row"]) if about in self.origins else own_row
                self.book.contradict(*about, (recorded, row), (answer.value, answer.raw_row))
                return
            set_value(frame, answer.field, [place], answer.value)
        if about in self.disputes:
            self._originate(about, answer)
        for told in self.disputes.get(about, ()):
            told["settled_by"] = answer.raw_row
            if answer.filled and told["raw_row_a"] == own_row:
                told["raw_row_a"] = answer.raw_row  # the record itself has no value

    def _about(self, kind: str, place: int, name: str) -> _Field:
        frame = self.frames[kind]
        station, tag = (str(frame[n].iat[place]) for n in ("substation", INVENTORY_TABLES[kind].asset_column()))
        return station, kind, tag, name

    def _refuse(self, answer: Answer, column: int, expected: str) -> None:
        self.book.quarantine(answer.raw_row, column, answer.kind, "no_such_asset", expected)

    def _chooses(self, about: _Field, answer: Answer, only_named: bool) -> bool:
        """Whether the answer says which of several recorded values holds; of an asset only named it may be another."""
        disputes = self.disputes.get(about, [])
        values = {told[name] for told in disputes for name in ("value_a", "value_b")}
        return bool(disputes) and (only_named or cell_text(answer.value) in values)

    def _originate(self, about: _Field, answer: Answer) -> None:
        """Let the cell of the answer stand for the field, in place of any that stood for it before."""
        if about in self.origins:
            self.book.origins.remove(self.origins[about])
        self.book.originate(*about, answer.raw_row, answer.column)
        self.origins[about] = self.book.origins[-1]

    def _originate_implied(self, answer: Answer, own_row: int) -> None:
        """What is only on record because of the answer, such as a device in a neutral, has its cell too."""
        for kind, place in self.implied.get((own_row, f"{answer.kind}.{answer.field}"), ()):
            for name, column in table_columns(kind).items():
                about = self._about(kind, place, name)
                if (
                    column.kind != "key"
                    and about not in self.origins
                    and not is_missing(self.frames[kind][name].iat[place])
                ):
                    self._originate(about, answer)


def _field(told: dict[str, Any]) -> _Field:
    return told["substation"], told["asset_kind"], told["asset"], told["field"]
