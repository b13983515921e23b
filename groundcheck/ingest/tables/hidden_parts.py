"""What is hidden in a sheet, in words: it is read all the same, and said so."""

from collections.abc import Callable, Iterable
from itertools import groupby

from groundcheck.ingest.sheets import Sheet, column_letter

_MOST = 8  # runs of rows or columns that are named


def hidden_remark(sheet: Sheet) -> str | None:
    """Which rows and columns are hidden or struck through; None if none are, or the reader cannot tell."""
    rows, columns = sheet.hidden_rows, sheet.hidden_columns
    if sheet.turned:
        rows, columns = columns, rows
    parts = ["the sheet is hidden and was read"] if sheet.hidden else []
    if rows:
        parts.append(f"hidden {_runs('row', rows, lambda row: str(row + 1))} read")
    if columns:
        parts.append(f"hidden {_runs('column', columns, column_letter)} read")
    if sheet.struck_rows:
        parts.append(f"{_runs('row', sheet.struck_rows, lambda row: str(row + 1))} read although struck through")
    return "; ".join(parts) or None


def _runs(noun: str, numbers: Iterable[int], name: Callable[[int], str]) -> str:
    """Rows 4, 7-9 were; column C was."""
    ordered = sorted(numbers)
    runs = [[n for _, n in run] for _, run in groupby(enumerate(ordered), key=lambda pair: pair[1] - pair[0])]
    named = [name(run[0]) if len(run) == 1 else f"{name(run[0])}-{name(run[-1])}" for run in runs]
    shown = ", ".join(named[:_MOST]) + (f" and {len(named) - _MOST} more" if len(named) > _MOST else "")
    return f"{noun} {shown} was" if len(ordered) == 1 else f"{noun}s {shown} were"
