"""Tables side by side under one row of headings, and what stands beside a table without being a part of it."""

from groundcheck.ingest.mapping.headings import aliases, known_in, normalize
from groundcheck.ingest.sheets import Sheet
from groundcheck.ingest.tables.heading_score import like_a_heading, score_cells
from groundcheck.ingest.tables.note_words import REVISION_WORDS
from groundcheck.schema import INVENTORY_TABLES

_MOSTLY = 0.6


def split_bands(
    sheet: Sheet, headings: dict[int, str], body: range, extra: frozenset[str]
) -> tuple[list[list[int]], dict[int, str]]:
    """
    The columns of each table, from left to right, and the headings that belong to none.

    A blank column parts two tables that each have their own station and tag; so does a second heading of the
    station. What a blank column parts off is of no table if none of its headings fits the table beside it.
    """
    bands: list[list[int]] = []
    aside: dict[int, str] = {}
    for group in _groups(headings):
        gap = range(bands[-1][-1] + 1, group[0]) if bands else range(0)
        blank = not sheet.filled[body.start : body.stop, gap.start : gap.stop].any()
        if not bands or not gap or (blank and all(_stands_alone(headings, band) for band in (bands[-1], group))):
            bands.append(group)
        elif blank and _is_foreign([headings[c] for c in group], [headings[c] for c in bands[-1]], extra):
            aside |= {column: headings[column] for column in group}
        else:
            bands[-1] = bands[-1] + group
    return bands, aside


def _groups(headings: dict[int, str]) -> list[list[int]]:
    """Columns without a gap, parted also where the heading of the station comes a second time."""
    groups: list[list[int]] = []
    for column in sorted(headings):
        if groups and column == groups[-1][-1] + 1:
            groups[-1].append(column)
        else:
            groups.append([column])
    parted = []
    for group in groups:
        first = normalize(headings[group[0]])
        again = [i for i, column in enumerate(group) if i and normalize(headings[column]) == first]
        parts = [group[a:b] for a, b in zip([0, *again], [*again, len(group)], strict=True)]
        is_station = aliases("substation").get(first) == "substation"
        parted += parts if is_station and all(_stands_alone(headings, part) for part in parts) else [group]
    return parted


def _stands_alone(headings: dict[int, str], columns: list[int]) -> bool:
    """Whether the columns hold a station and a tag of one table."""
    named = [headings[column] for column in columns]
    for table, model in INVENTORY_TABLES.items():
        known = aliases(table)
        fields = {known.get(normalize(heading)) for heading in named}
        if len(fields - {None}) >= 2 and set(model.key_columns()) <= fields:
            return True
    return False


def _is_foreign(group: list[str], beside: list[str], extra: frozenset[str]) -> bool:
    """Whether headings behind a blank column have nothing to do with the table before it."""
    if len(group) < 2 or any(normalize(heading) in extra for heading in group):
        return False
    if sum(normalize(heading) in REVISION_WORDS for heading in group) >= _MOSTLY * len(group):
        return True
    table = score_cells(beside).table
    return not any(table in known_in(h) or table in like_a_heading(h) for h in group)
