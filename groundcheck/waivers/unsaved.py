"""What an exception workbook that is about to be overwritten holds of a person's word, and nothing else keeps."""

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from groundcheck.waivers.filled_rows import FilledRow, find_rows, place_of
from groundcheck.waivers.gather import Gathered
from groundcheck.waivers.marks import FILLED_IN, Cells, reads_alike
from groundcheck.waivers.waiver import ACCEPTED, OPEN
from groundcheck.waivers.workbook import carried_waivers, open_workbook


@dataclass(frozen=True)
class ByHand:
    """
    What a person said of a finding, and where it stands.

    `cells` are the four cells of a row filled in since the audit; None where an audit was told, and carries it along.
    """

    finding: str
    place: str
    cells: tuple[str, ...] | None


def filled_in_by_hand(path: Path) -> list[ByHand]:
    """
    What persons wrote into a workbook since the audit, or into an earlier one; nothing if it is of another kind.

    Raises
    ------
    WaiverError
        The file is there and can't be read.
    """
    if not path.is_file() or path.stat().st_size == 0:
        return []
    book = open_workbook(path)
    rows = find_rows(book)
    if rows is None:
        return []
    found = [each for row in rows if (each := _by_hand(row)) is not None]
    carried = [waiver for waiver in carried_waivers(book, path) if waiver.by_hand]
    return found + [ByHand(waiver.finding, waiver.place, None) for waiver in carried]


def _by_hand(row: FilledRow) -> ByHand | None:
    """A row that is not as the program wrote it, or of which it wrote what a person had said."""
    texts: dict[str, Any] = {head: row.text(head) for head in FILLED_IN}
    written = row.mark.cells if row.mark else Cells()
    until = written.until.isoformat() if written.until else None
    found = Cells((texts["disposition"] or OPEN).casefold(), texts["by"], None, texts["remark"])
    alike = reads_alike(found, Cells(written.disposition, written.by, None, written.remark))
    place = place_of(row, "disposition")
    if not alike or texts["until"] != until:
        return ByHand(row.finding, place, tuple(texts[head] or "" for head in FILLED_IN))
    told_before = written.disposition != ACCEPTED and written != Cells()
    return ByHand(row.finding, place, None) if told_before else None


def unsaved_by(rows: list[ByHand], gathered: Gathered) -> list[ByHand]:
    """
    Of these, what nothing that was gathered says; what was carried along must only be known of its finding.

    What two sheets say alike is one.
    """
    said = [*gathered.said, *gathered.dispositions.values()]
    known = {each.finding for each in said} | gathered.waivers.keys()
    same = {(each.finding, *_texts(each.disposition, each.by, each.until, each.remark)) for each in said}
    same |= {(w.finding, *_texts(ACCEPTED, w.by, w.until, w.reason)) for w in gathered.waivers.values()}
    each = {(row.finding, row.cells): row for row in reversed(rows)}
    return [
        row
        for row in rows
        if each[row.finding, row.cells] is row
        and (row.finding not in known if row.cells is None else (row.finding, *_texts(*row.cells)) not in same)
    ]


def _texts(disposition: Any, *others: Any) -> tuple[str, ...]:
    return ((disposition or OPEN).casefold(), *("".join(str(value or "").split()) for value in others))
