"""Finding the tables in a sheet: heading rows under titles, joined headings, several tables in one sheet."""

from dataclasses import dataclass, field
from functools import cache
from typing import Any

from groundcheck.ingest.mapping.headings import aliases, known_in, normalize
from groundcheck.ingest.sheets import Sheet, is_blank
from groundcheck.ingest.values import known_unit
from groundcheck.schema import INVENTORY_TABLES

_TITLE_ROWS = 3
_LOOK_AHEAD = 5
_PLAIN = 0.6  # share of headings among the cells of a row that leaves no doubt
_SEARCHED = 200  # rows looked at in full for the first heading row
_LONGEST = 80  # letters of a heading


@dataclass
class Region:
    """One table in a sheet: its headings by column and the rows below them, all counted from 0."""

    number: int
    heading_rows: list[int]
    headings: dict[int, str]
    body: range
    title: str = ""
    repeats: set[int] = field(default_factory=set)

    @property
    def columns(self) -> range:
        """The columns from the first heading to the last."""
        return range(min(self.headings), max(self.headings) + 1)


def find_regions(sheet: Sheet, extra: frozenset[str] = frozenset()) -> list[Region]:
    """
    The tables of a sheet, from top to bottom and from left to right.

    `extra` holds headings, normalized, that a column map names for this sheet.
    """
    if sheet.table is not None:
        headings = {i: str(cell) for i, cell in enumerate(sheet.rows[0])} if sheet.rows else {}
        return [Region(1, [0], headings, range(1, len(sheet.rows)))] if headings else []
    starts = _heading_rows(sheet, extra)
    regions: list[Region] = []
    for position, (rows, repeats) in enumerate(starts):
        end = starts[position + 1][0][0] if position + 1 < len(starts) else len(sheet.rows)
        headings = _join_headings(sheet, rows)
        title = _title_above(sheet, rows[0])
        body = range(rows[-1] + 1, end)
        for columns in _bands(sheet, headings, body):
            band = {column: headings[column] for column in columns}
            regions.append(Region(len(regions) + 1, rows, band, body, title, repeats))
    return regions


def _heading_rows(sheet: Sheet, extra: frozenset[str]) -> list[tuple[list[int], set[int]]]:
    """Each table's heading rows, one or two, and the rows that repeat them further down."""
    found: list[tuple[list[int], set[int]]] = []
    index, count = 0, len(sheet.rows)
    plain = _plain_aliases() | extra
    while index < count:
        if (found or index >= _SEARCHED) and not any(
            type(cell) is str and cell.lower() in plain for cell in sheet.rows[index]
        ):
            index += 1
            continue
        hits, share = _score(sheet.rows[index], extra)
        if not hits:
            index += 1
            continue
        if found and _same_row(sheet.rows[index], sheet.rows[found[-1][0][0]]):
            size = len(found[-1][0])
            found[-1][1].update(range(index, index + size))
            index += size
            continue
        if not found and hits >= 2 and share >= 0.25:
            if share < _PLAIN and not _is_second_heading(sheet, index):
                index = _best_of_next(sheet, index, extra)
            if index and _is_second_heading(sheet, index - 1):
                index -= 1
        elif not (found and hits >= 2 and share >= 0.5 and (hits >= 4 or _stands_apart(sheet, index))):
            index += 1
            continue
        rows = [index, index + 1] if _is_second_heading(sheet, index) else [index]
        found.append((rows, set()))
        index = rows[-1] + 1
    return found


def _best_of_next(sheet: Sheet, index: int, extra: frozenset[str]) -> int:
    """The row with most headings among this and the next few: a title above may hold a heading's word."""
    last = min(index + _LOOK_AHEAD, len(sheet.rows))
    return max(range(index, last), key=lambda row: (_score(sheet.rows[row], extra)[0], -row))


def _score(row: list[Any], extra: frozenset[str]) -> tuple[int, float]:
    """How many cells are headings of the one table that fits best, and their share of the filled cells."""
    texts = [cell for cell in row if type(cell) is str and 0 < len(cell.strip()) <= _LONGEST]
    if not texts:
        return 0, 0.0
    filled = sum(not is_blank(cell) for cell in row)
    if sum(not _is_number(text) for text in texts) < 0.9 * filled:
        return 0, 0.0
    named = {normalize(text): text for text in texts}
    counts: dict[str, int] = {}
    for table in [table for name, text in named.items() if name not in extra for table in known_in(text)]:
        counts[table] = counts.get(table, 0) + 1
    hits = len(named.keys() & extra) + max(counts.values(), default=0)
    return hits, hits / max(filled, 1)


@cache
def _plain_aliases() -> frozenset[str]:
    """All accepted headings: a cheap test of every cell under the first heading row."""
    return frozenset(alias for table in INVENTORY_TABLES for alias in aliases(table))


def _is_number(text: str) -> bool:
    return text[:1] in "0123456789-+." and text.strip().lstrip("-+").replace(".", "", 1).replace(",", "").isdigit()


def _same_row(row: list[Any], other: list[Any]) -> bool:
    def kept(cells: list[Any]) -> dict[int, str]:
        return {i: normalize(str(cell)) for i, cell in enumerate(cells) if not is_blank(cell)}

    return kept(row) == kept(other)


def _stands_apart(sheet: Sheet, index: int) -> bool:
    """Whether the row above is blank or a title."""
    return index == 0 or sum(not is_blank(cell) for cell in sheet.rows[index - 1]) <= 1


def _is_second_heading(sheet: Sheet, index: int) -> bool:
    """Whether the row below belongs to the headings: units or sub-headings under merged or filled ones."""
    if index + 1 >= len(sheet.rows):
        return False
    above, below = sheet.rows[index], sheet.rows[index + 1]
    filled = {i: cell for i, cell in enumerate(below) if not is_blank(cell)}
    if not filled or any(type(cell) is not str or _is_number(cell) for cell in filled.values()):
        return False
    if sum(not is_blank(cell) for cell in above) < 2:
        return False
    named = sum(_is_unit(cell) or bool(known_in(cell)) for cell in filled.values())
    spans = any(top == bottom == index and right > left for (top, left), (bottom, right) in sheet.merged)
    tall = any(top == index and bottom == index + 1 for (top, _), (bottom, _) in sheet.merged)
    if spans or tall:
        return named >= 0.5 * len(filled)
    units = sum(_is_unit(cell) for cell in filled.values())
    if units == len(filled):
        return True
    under_blank = sum(i >= len(above) or is_blank(above[i]) for i in filled)
    return named >= 0.8 * len(filled) and under_blank > 0


def _is_unit(cell: str) -> bool:
    return known_unit(cell.strip(" ()[]")) is not None


def _join_headings(sheet: Sheet, rows: list[int]) -> dict[int, str]:
    top = _filled_headings(sheet, rows[0])
    if len(rows) == 1:
        return top
    below = {i: str(cell).strip() for i, cell in enumerate(sheet.rows[rows[1]]) if not is_blank(cell)}
    carried = ""
    joined: dict[int, str] = {}
    for column in sorted(top.keys() | below.keys()):
        carried = top.get(column, carried if column in below else "")
        under = below.get(column)
        joined[column] = _join(carried, under) if under else carried
    return {column: heading for column, heading in joined.items() if heading}


def _join(above: str, under: str) -> str:
    """One heading of two: the unit in brackets, or the words of both, or the lower alone if that is a heading."""
    if not above or normalize(above) == normalize(under):
        return under
    if _is_unit(under):
        return f"{above} ({under.strip(' ()[]')})"
    both = f"{above} {under}"
    return under if known_in(under) and not known_in(both) else both


def _filled_headings(sheet: Sheet, row: int) -> dict[int, str]:
    headings = {i: str(cell).strip() for i, cell in enumerate(sheet.rows[row]) if not is_blank(cell)}
    for (top, left), (_, right) in sheet.merged:
        if top == row and left in headings:
            headings |= dict.fromkeys(range(left, right + 1), headings[left])
    return headings


def _title_above(sheet: Sheet, row: int) -> str:
    words = []
    for cells in sheet.rows[max(row - _TITLE_ROWS, 0) : row]:
        filled = [cell for cell in cells if not is_blank(cell)]
        words += [str(filled[0])] if len(filled) == 1 else []
    return " ".join(words)


def _bands(sheet: Sheet, headings: dict[int, str], body: range) -> list[list[int]]:
    """The headings split where a blank column parts two tables that each have their own station or tag."""
    groups: list[list[int]] = []
    for column in sorted(headings):
        if groups and column == groups[-1][-1] + 1:
            groups[-1].append(column)
        else:
            groups.append([column])
    if len(groups) == 1:
        return groups
    bands = [groups[0]]
    for group in groups[1:]:
        gap = range(bands[-1][-1] + 1, group[0])
        blank = all(column >= len(sheet.rows[i]) or is_blank(sheet.rows[i][column]) for i in body for column in gap)
        if blank and _stands_alone(headings, bands[-1]) and _stands_alone(headings, group):
            bands.append(group)
        else:
            bands[-1] = bands[-1] + group
    return bands


def _stands_alone(headings: dict[int, str], columns: list[int]) -> bool:
    """Whether the columns hold a station and a tag of one table."""
    named = [headings[column] for column in columns]
    for table, model in INVENTORY_TABLES.items():
        known = aliases(table)
        fields = {known.get(normalize(heading)) for heading in named}
        if len(fields - {None}) >= 2 and set(model.key_columns()) <= fields:
            return True
    return False
