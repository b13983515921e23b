"""Cells that stand far off the rest of a sheet: they are named, and are no part of its grid."""

from typing import Any

import numpy as np

from groundcheck.ingest.readers.extents import choose_grid, fits
from groundcheck.ingest.sheets import Position, Sheet, cell_name, cell_text, is_blank

_SHOWN = 10


def remark_on_strays(strays: dict[Position, Any]) -> str:
    """What is said of a sheet whose far-off cells were not read with the others."""
    named = [f"{cell_name(*place)} {cell_text(cell) or '':.60}".strip() for place, cell in strays.items()]
    more = f" and {len(named) - _SHOWN} more" if len(named) > _SHOWN else ""
    shown = ", ".join(named[:_SHOWN])
    return f"far off the other cells, and so not read with them: {shown}{more}; move or delete what stands there"


def set_apart(sheet: Sheet) -> None:
    """Take the far-off cells out of a sheet whose rows are in memory already, and name them in its remark."""
    height, width = len(sheet.rows), max(map(len, sheet.rows), default=0)
    # Blanks need not be told from cells where even a full grid would be small.
    if fits(height, width, 0) or fits(height, width, sum(map(_filled, sheet.rows))):
        return
    places = [(r, c) for r, row in enumerate(sheet.rows) for c, cell in enumerate(row) if not is_blank(cell)]
    grid = choose_grid(*np.array(places, dtype=np.int64).reshape(-1, 2).T)
    strays = {place: sheet.rows[place[0]][place[1]] for place in places if not grid.holds(*place)}
    sheet.rows = [row[: grid.columns] for row in sheet.rows[: grid.rows]]
    if strays:
        sheet.remark = remark_on_strays(strays)


def _filled(row: list[Any]) -> int:
    return len(row) - row.count("") - row.count(None)
