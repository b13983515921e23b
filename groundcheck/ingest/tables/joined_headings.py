"""Headings in several rows: groups over sub-headings, merged or not, units and column numbers in rows of their own."""

import re
from typing import Any

from groundcheck.ingest.mapping.headings import known_in, normalize
from groundcheck.ingest.sheets import Sheet, is_blank
from groundcheck.ingest.tables.heading_score import is_number, score_cells
from groundcheck.ingest.values import known_unit

MOST_ROWS = 4  # of headings: a group of groups, their groups, the headings, the units
_NUMBERED = re.compile(r"[(\[]?\s*(\d{1,2})\s*[)\].]?")
_FEWEST_NUMBERED = 3
_NAMED = 0.5  # share of headings and units in a row under merged headings
_PLAINLY_NAMED = 0.8  # the same where nothing is merged
# What a group's name adds for the reader, and no heading has.
_FILLER = re.compile(r"\b(?:side|winding|windings|data|details?|nameplate|information|particulars|parameters)\b", re.I)


def heading_block(sheet: Sheet, base: int, top: int = 0) -> list[int]:
    """The rows that together make the headings, of which `base` is the one that reads most like headings."""
    rows = [base]
    while len(rows) < MOST_ROWS and rows[0] > top and _groups(sheet, rows[0] - 1, rows):
        rows.insert(0, rows[0] - 1)
    while len(rows) < MOST_ROWS and _continues(sheet, rows[-1]):
        rows.append(rows[-1] + 1)
    if _is_numbering(sheet, rows[-1] + 1):
        rows.append(rows[-1] + 1)
    return rows


def _groups(sheet: Sheet, row: int, below: list[int]) -> bool:
    """Whether a row holds names of groups of the headings under it: it is merged over them, or makes them clearer."""
    filled = _filled(sheet, row)
    if not filled or any(type(cell) is not str or is_number(cell) for cell in filled.values()):
        return False
    under = _filled(sheet, below[0])
    spans = [(left, right) for (top, left), (bottom, right) in sheet.merged if top == bottom == row and right > left]
    if any(max(under, default=0) > right or min(under, default=0) < left for left, right in spans):
        covered = any(sum(left <= column <= right for column in under) >= 2 for left, right in spans)
        return covered and len(filled) >= 2
    if any(top == row and bottom == below[0] for (top, _), (bottom, _) in sheet.merged):
        return True
    if len(filled) < 2 and min(filled) <= min(under, default=0):
        return False
    return _clearness(join_headings(sheet, [row, *below])) > _clearness(join_headings(sheet, below))


def _clearness(headings: dict[int, str]) -> int:
    """Different headings that are known."""
    return len({normalize(heading) for heading in headings.values() if known_in(heading)})


def _continues(sheet: Sheet, index: int) -> bool:
    """Whether the row below belongs to the headings: units or sub-headings under merged, filled or blank ones."""
    above, below = _filled(sheet, index), _filled(sheet, index + 1)
    if not below or any(type(cell) is not str or is_number(cell) for cell in below.values()) or len(above) < 2:
        return False
    below = {column: cell for column, cell in below.items() if not _is_placeholder(cell)} or below
    named = sum(is_unit(cell) or bool(known_in(cell)) for cell in below.values())
    spans = any(top == bottom == index and right > left for (top, left), (bottom, right) in sheet.merged)
    tall = any(top <= index < bottom for (top, _), (bottom, _) in sheet.merged)
    if spans or tall:
        return named >= _NAMED * len(below)
    if all(map(is_unit, below.values())):
        return True
    same = sum(normalize(str(above.get(column, ""))) == normalize(cell) for column, cell in below.items())
    under_blank = sum(column not in above for column in below)
    return named >= _PLAINLY_NAMED * len(below) and under_blank > 0 and not same


def _is_numbering(sheet: Sheet, row: int) -> bool:
    """Whether a row counts the columns: (1), (2), (3) ..."""
    count = 0
    for cell in _filled(sheet, row).values():
        match = _NUMBERED.fullmatch(str(cell).strip()) if isinstance(cell, str) else None
        if (int(match[1]) if match else cell) != count + 1:
            return False
        count += 1
    return count >= _FEWEST_NUMBERED


def is_unit(cell: str) -> bool:
    """Whether a text is nothing but a unit."""
    return known_unit(cell.strip(" ()[]")) is not None


def join_headings(sheet: Sheet, rows: list[int]) -> dict[int, str]:
    """The headings by column, those of several rows joined from the lowest up."""
    rows = [row for row in rows if not (row > rows[0] and _is_numbering(sheet, row))]
    lowest = joined = _spread(sheet, rows[-1])
    for row in reversed(rows[:-1]):
        above, group = _spread(sheet, row), ""
        both: dict[int, str] = {}
        for column in sorted(above.keys() | joined.keys()):
            group = above.get(column, group if column in joined else "")
            both[column] = join_pair(group, joined[column], column in above) if column in joined else group
        joined = both
    table = score_cells(joined.values()).table
    for column, heading in lowest.items():
        # The name of a group reaches too far where the heading under it is plain without it.
        if len(rows) > 1 and table in known_in(heading) and table not in known_in(joined[column]):
            joined[column] = heading
    return {column: heading for column, heading in joined.items() if heading}


def _spread(sheet: Sheet, row: int) -> dict[int, str]:
    """The texts of a row, a merged one over all its columns."""
    headings = {column: str(cell).strip() for column, cell in _filled(sheet, row).items()}
    for (top, left), (bottom, right) in sheet.merged:
        text = _filled(sheet, top).get(left) if top <= row <= bottom else None
        if text is not None:
            headings |= dict.fromkeys(range(left, right + 1), str(text).strip())
    return headings


def join_pair(above: str, under: str, own: bool = True) -> str:
    """
    One heading of two: the unit in brackets, or the words of both, or the lower alone if that is a heading.

    `own` is whether the upper one stands over this very column; a group's name holds for those to its right as well.
    """
    if not above or normalize(under).startswith(normalize(above)):
        return under
    if _is_placeholder(under):
        return above
    unit = under.strip(" ()[]") if is_unit(under) else None
    plain = " ".join(_FILLER.sub(" ", above).split())
    first = f"{above} ({unit})" if unit else f"{above} {under}"
    for words in (first, *([f"{plain} ({unit})"] if unit else [f"{plain} {under}", f"{under} {plain}"])):
        if plain and known_in(words):
            return words
    return under if known_in(under) and not (unit and own) else first


def _is_placeholder(cell: str) -> bool:
    """Whether a cell in a row of units says that there is none."""
    return cell.strip(" -–—./()").casefold() in ("", "na", "n/a", "nil", "unit", "units", "text")


def _filled(sheet: Sheet, row: int) -> dict[int, Any]:
    cells = sheet.rows[row] if 0 <= row < len(sheet.rows) else []
    return {column: cell for column, cell in enumerate(cells) if not is_blank(cell)}
