"""How large a source may be: beyond these sizes it is refused with the reason, instead of filling the memory."""

# Bytes of one file, or of all that a compressed workbook unpacks to. A register of a million rows and fourteen columns
# unpacks to half of it.
LARGEST_FILE = 1 << 30

# Cells of a table whose file does not grow with them: a column of one value takes a few bytes in .parquet.
MOST_CELLS = 50_000_000

# A sheet is read as a full grid if that has at most so many cells, or so many times the cells that are filled. From a
# larger one the cells are set apart that stand so many rows or columns off the rest; and, where it is far larger than
# what it holds, others too, from its end.
SMALL_GRID = 200_000
GRID_PER_CELL = 4
THIN_GRID_PER_CELL = 60
FAR_ROWS, FAR_COLUMNS = 1000, 50


def refuse_size(size: int) -> str | None:
    """Why a file of so many bytes, unpacked, is not read; None if it is."""
    if size <= LARGEST_FILE:
        return None
    return f"unpacks to {size / 1e9:.1f} GB, more than the {LARGEST_FILE / 1e9:.1f} GB that are read: split it"
