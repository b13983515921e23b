"""The rows of a book as stage raw keeps them: every cell as text, a list a row."""

from collections.abc import Iterable
from itertools import chain

import numpy as np
import pyarrow as pa
from numpy.typing import NDArray

from groundcheck.ingest.book import Block
from groundcheck.ingest.sheets import Sheet

_SCHEMA = pa.schema(
    [
        ("raw_row", pa.int64()),
        ("file", pa.string()),
        ("sheet", pa.string()),
        ("row", pa.int64()),
        ("region", pa.int64()),
        ("use", pa.string()),
        ("cells", pa.list_(pa.string())),
    ]
)


def row_table(blocks: Iterable[Block]) -> pa.Table:
    """All rows of the blocks, in their order."""
    return pa.Table.from_batches([_batch(block) for block in blocks if len(block.rows)], _SCHEMA)


def _batch(block: Block) -> pa.RecordBatch:
    size = len(block.rows)
    rows = np.asarray(block.rows, dtype=np.int64)
    columns = [
        pa.array(np.arange(block.first, block.first + size)),
        _repeated(block.sheet.file, size),
        _repeated(block.sheet.name, size),
        pa.array(rows + 1),
        pa.nulls(size, pa.int64()) if block.region is None else pa.array(np.full(size, block.region)),
        pa.array(block.uses, pa.string()),
        _cells(block.sheet, rows, block.columns),
    ]
    return pa.RecordBatch.from_arrays(columns, schema=_SCHEMA)


def _repeated(text: str, size: int) -> pa.Array:
    return pa.array(np.repeat(text, size), pa.string())


def _cells(sheet: Sheet, rows: NDArray[np.int64], columns: range | None) -> pa.ListArray:
    """The cells from column A to the last that is filled; those of the tables beside are left out."""
    chosen = [c for c in range(sheet.width) if columns is None or c in columns]
    if not chosen:
        return pa.array([[]] * len(rows), pa.list_(pa.string()))
    width = chosen[-1] + 1
    height = len(sheet.rows)
    texts = [sheet.text_column(c) if c in chosen else pa.nulls(height, pa.string()) for c in range(width)]
    filled = np.column_stack([np.asarray(text.is_valid())[rows] for text in texts])
    lengths = np.where(filled.any(axis=1), width - np.argmax(filled[:, ::-1], axis=1), 0)
    wanted = np.arange(width) < lengths[:, None]
    places = (rows[:, None] + np.arange(width) * height)[wanted]
    flat = pa.concat_arrays(list(chain(texts))).take(pa.array(places))
    offsets = np.concatenate([[0], np.cumsum(lengths)]).astype(np.int32)
    return pa.ListArray.from_arrays(pa.array(offsets), flat)
