"""The notes of one cell as one comment, and the tint that goes with them."""

from collections.abc import Sequence

from groundcheck.report.annotated.notes import RECORD, Note
from groundcheck.report.cell_text import clean_text
from groundcheck.report.workbook.looks import SEVERITY

LENGTH = 1_200  # characters of our notes on one cell; what a person reads in a comment without scrolling for long
AUTHOR = "groundcheck"
TINTS = SEVERITY | {RECORD: "#CFE2F3"}
_ORDER = ("high", "medium", "low", RECORD)


def tint(notes: Sequence[Note]) -> str:
    """The fill of the gravest note, as #RRGGBB."""
    grades = {note.grade for note in notes}
    return TINTS[next((grade for grade in _ORDER if grade in grades), RECORD)]


def comment_text(notes: Sequence[Note], before: str | None = None) -> str:
    """The notes joined, cut with a count of the rest, below the comment that was there before."""
    kept: list[str] = []
    room = LENGTH
    for note in notes:
        text = clean_text(note.text)
        if kept and len(text) > room:
            break
        kept.append(
            text if len(text) <= LENGTH else text[:LENGTH].rstrip() + " ... (cut here; whole in exceptions.xlsx)"
        )
        room -= len(text)
    if len(kept) < len(notes):
        more = len(notes) - len(kept)
        kept.append(f"And {more} more {'note' if more == 1 else 'notes'} on this cell; see exceptions.xlsx.")
    ours = "\n\n".join(kept)
    return f"{clean_text(before).rstrip()}\n\n{ours}" if before and before.strip() else ours


def comment_size(text: str) -> tuple[int, int]:
    """Width and height in pixels that show the text."""
    lines = sum(1 + len(line) // 55 for line in text.split("\n"))
    return 360, min(60 + 16 * lines, 600)
