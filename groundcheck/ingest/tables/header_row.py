"""Finding the tables in a sheet: heading rows under titles, joined headings, several tables in one sheet."""

from dataclasses import dataclass, field
from typing import Any

import numpy as np

from groundcheck.ingest.mapping.headings import known_in, normalize
from groundcheck.ingest.sheets import Sheet, is_blank
from groundcheck.ingest.tables.bands import split_bands
from groundcheck.ingest.tables.heading_score import Score, score_cells, written_aliases
from groundcheck.ingest.tables.joined_headings import heading_block, join_headings
from groundcheck.ingest.tables.turned_labels import part_titles, units_beside
from groundcheck.ingest.tables.unknown_tables import looks_like_headings

_TITLE_ROWS = 3
_LOOK_AHEAD = 5
_BELOW_PAIRS = 20  # rows of a cover's label-value pairs above the headings
_PLAIN = 0.6  # share of headings among the cells of a row that leaves no doubt
_SEARCHED = 200  # rows looked at in full for the first heading row
_MOST_APART = 500  # rows after a blank one that are looked at in full for another table


@dataclass
class Region:
    """
    One table in a sheet: its headings by column and the rows below them, all counted from 0.

    `aside` are headings beside it that belong to no table; `notes` are rows of the body that are no records;
    `stations` gives the station of rows that have it from a title, `titles` the cells of those titles; `ended` is
    the row at which something else begins in its columns.
    """

    number: int
    heading_rows: list[int]
    headings: dict[int, str]
    body: range
    title: str = ""
    repeats: set[int] = field(default_factory=set)
    aside: dict[int, str] = field(default_factory=dict)
    notes: set[int] = field(default_factory=set)
    stations: dict[int, str] = field(default_factory=dict)
    titles: list[tuple[int, int, str]] = field(default_factory=list)
    ended: int | None = None
    unknown: bool = False

    @property
    def columns(self) -> range:
        """The columns from the first heading to the last."""
        return range(min(self.headings), max(self.headings) + 1)


@dataclass
class _Strip:
    """The rows from one block of headings to the next; several tables may stand in it side by side."""

    rows: list[int]
    headings: dict[int, str]
    unknown: bool = False
    repeats: set[int] = field(default_factory=set)
    ends: list[tuple[int, list[int]]] = field(default_factory=list)


def find_regions(sheet: Sheet, extra: frozenset[str] = frozenset()) -> list[Region]:
    """
    The tables of a sheet, from top to bottom and from left to right.

    `extra` holds headings, normalized, that a column map names for this sheet. A table that is not recognized is
    found too where it stands apart under another; its region is `unknown`.
    """
    if sheet.table is not None:
        headings = {i: str(cell) for i, cell in enumerate(sheet.rows[0])} if sheet.rows else {}
        return [Region(1, [0], headings, range(1, len(sheet.rows)))] if headings else []
    strips = _find_strips(sheet, extra)
    regions: list[Region] = []
    for position, strip in enumerate(strips):
        end = strips[position + 1].rows[0] if position + 1 < len(strips) else len(sheet.rows)
        title = _title_above(sheet, strip.rows[0])
        body = range(strip.rows[-1] + 1, end)
        titles: dict[int, str] = {}
        if sheet.turned:
            strip.headings, titles = part_titles(sheet, strip.headings, body)
            strip.headings, units = units_beside(sheet, strip.headings, body)
            strip.repeats |= units
            title = " ".join([title, *titles.values()]).strip()
        bands, aside = split_bands(sheet, strip.headings, body, extra)
        bands, aside = ([sorted(strip.headings)], titles) if sheet.turned else (bands, aside)
        for columns in bands:
            band = {column: strip.headings[column] for column in columns}
            beside = {column: heading for column, heading in aside.items() if columns == bands[-1] or len(bands) == 1}
            ended = next((row for row, ended in strip.ends if set(ended) & set(columns)), None)
            regions.append(Region(len(regions) + 1, strip.rows, band, body, title, strip.repeats, beside))
            regions[-1].ended, regions[-1].unknown = ended, strip.unknown
    return regions


def _find_strips(sheet: Sheet, extra: frozenset[str]) -> list[_Strip]:
    first = _first_heading(sheet, extra)
    if first is None:
        return []
    rows = heading_block(sheet, first)
    strips = [_Strip(rows, join_headings(sheet, rows))]
    own = {cell for row in rows for cell in sheet.rows[row] if type(cell) is str and cell.strip()}
    words = written_aliases() | extra | own
    end = rows[-1] + 1
    for index in _candidates(sheet, end, words):
        if index < end:
            continue
        last = strips[-1]
        repeated = next((i for i, row in enumerate(last.rows) if _same_row(sheet.rows[index], sheet.rows[row])), None)
        if repeated is not None:
            last.repeats.update(range(index - repeated, index - repeated + len(last.rows)))
            end = index - repeated + len(last.rows)
            continue
        strip = _next_strip(sheet, index, end, last, extra)
        if strip is not None:
            strips.append(strip)
            end = strip.rows[-1] + 1
    return strips


def _first_heading(sheet: Sheet, extra: frozenset[str]) -> int | None:
    """The row of the first table that reads most like headings."""
    likely = [*range(min(len(sheet.rows), _SEARCHED)), *_candidates(sheet, _SEARCHED, written_aliases() | extra)]
    for index in likely:
        score = score_cells(sheet.rows[index], extra)
        if not score.is_heading:
            continue
        ahead = 1 if score.share >= _PLAIN else _LOOK_AHEAD
        ahead = _BELOW_PAIRS if _is_pairs(sheet.rows[index]) else ahead
        best = range(index, min(index + ahead, len(sheet.rows)))
        return max(best, key=lambda row: (score_cells(sheet.rows[row], extra).hits, -row))
    return None


def _is_pairs(row: list[Any]) -> bool:
    """Whether a row is a label and a value, perhaps twice, as on a cover."""
    filled = [cell for cell in row if not is_blank(cell)]
    known = [isinstance(cell, str) and bool(known_in(cell)) for cell in filled]
    return len(filled) % 2 == 0 and known[::2].count(True) >= 1 and not any(known[1::2])


def _candidates(sheet: Sheet, start: int, words: frozenset[str]) -> list[int]:
    """The rows from `start` that may be headings: some of their cells are words of headings, or they stand apart."""
    if start >= len(sheet.rows):
        return []
    named = np.zeros(len(sheet.rows), dtype=np.int64)
    for column in range(sheet.width):
        named += sheet.where(column, words.__contains__)
    filled = sheet.filled.sum(axis=1)
    above = np.concatenate([[0], filled[:-1]])
    apart = (filled >= 2) & (above <= 1)
    if apart[start:].sum() > _MOST_APART:
        apart &= named > 0
    likely = apart | ((named >= 2) & (2 * named >= filled))
    return [row for row in np.flatnonzero(likely).tolist() if row >= start]


def _next_strip(sheet: Sheet, index: int, end: int, last: _Strip, extra: frozenset[str]) -> _Strip | None:
    """The table whose headings stand at or just under a row, below another table; None if there is none."""
    ended = _ended_beside(sheet, index, last, extra)
    if ended:
        last.ends.append((index, ended))
        return None
    apart = not sheet.filled[index - 1].sum() > 1
    block = [index]
    while apart and len(block) <= 2 and block[-1] + 1 < len(sheet.rows) and sheet.filled[block[-1] + 1].sum() > 1:
        block.append(block[-1] + 1)
    scores = {row: score_cells(sheet.rows[row], extra) for row in block}
    base = max(block, key=lambda row: (scores[row].hits, -row))
    if _is_new(scores[base], apart) and not (base > index and _is_data(sheet, index)):
        rows = heading_block(sheet, base, end if apart else base)
        rows = [row for row in rows if row >= index]
        return _Strip(rows, join_headings(sheet, rows))
    if apart and looks_like_headings(sheet, index, last.headings, range(last.rows[-1] + 1, index)):
        return _Strip([index], join_headings(sheet, [index]), unknown=True)
    return None


def _is_new(score: Score, apart: bool) -> bool:
    """Whether a row under a table is the headings of another, not a record that holds words of headings."""
    if score.exact >= 2:
        return score.share >= 0.5 and (score.exact >= 4 or apart)
    return apart and score.is_heading


def _is_data(sheet: Sheet, row: int) -> bool:
    return any(not isinstance(cell, str) for cell in sheet.rows[row] if not is_blank(cell))


def _ended_beside(sheet: Sheet, row: int, strip: _Strip, extra: frozenset[str]) -> list[int]:
    """The columns of those tables side by side that a row of headings ends while another one goes on."""
    bands, _ = split_bands(sheet, strip.headings, range(strip.rows[-1] + 1, row), extra)
    ended: list[int] = []
    goes_on = False
    for band in bands if len(bands) > 1 else ():
        if sheet.filled[row, band].any():
            score = score_cells([sheet.rows[row][c] for c in band if c < len(sheet.rows[row])], extra)
            begins = score.hits >= 2 and score.share >= 0.5
            ended += band if begins else []
            goes_on |= not begins
    return ended if goes_on else []


def _same_row(row: list[Any], other: list[Any]) -> bool:
    def kept(cells: list[Any]) -> dict[int, str]:
        return {i: normalize(str(cell)) for i, cell in enumerate(cells) if not is_blank(cell)}

    return kept(row) == kept(other)


def _title_above(sheet: Sheet, row: int) -> str:
    words = []
    for cells in sheet.rows[max(row - _TITLE_ROWS, 0) : row]:
        filled = [cell for cell in cells if not is_blank(cell)]
        words += [str(filled[0])] if len(filled) == 1 else []
    return " ".join(words)
