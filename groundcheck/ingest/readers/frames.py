"""Frames in memory as the sheets of one source."""

import hashlib
from collections.abc import Mapping
from typing import Any

import pandas as pd

from groundcheck.ingest.readers.plain import plain, whole_text
from groundcheck.ingest.sheets import Sheet, SourceFile, cell_text
from groundcheck.schema import INVENTORY_TABLES


def read_frames(frames: Mapping[str, pd.DataFrame]) -> SourceFile:
    """
    Frames in memory as the sheets of one source; the headings stand in row 1.

    A frame that is named for a canonical table holds that table. Any other name is that of a sheet, and its headings
    are matched as a sheet's are.
    """
    source = SourceFile("DataFrame", reader="frames in memory")
    digest = hashlib.sha256()
    for name, frame in frames.items():
        # By position: of two columns with one name, frame[name] gives a frame.
        columns = [[plain(cell) for cell in frame.iloc[:, place].array] for place in range(frame.shape[1])]
        rows: list[list[Any]] = [[_heading(column) for column in frame.columns], *map(list, zip(*columns, strict=True))]
        digest.update(repr((str(name), [[cell_text(cell) for cell in row] for row in rows])).encode())
        table = name if name in INVENTORY_TABLES else None
        source.sheets.append(Sheet(source.file, whole_text(str(name)), rows, table=table))
    source.sha256 = digest.hexdigest()
    return source


def _heading(column: Any) -> str:
    """The name of a column; the parts of one that has several levels are joined with a blank."""
    parts = column if isinstance(column, tuple) else (column,)
    return whole_text(" ".join(str(part) for part in parts if plain(part) is not None).strip())
