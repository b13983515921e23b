"""Reading .parquet files: the headings in row 1, the cells as plain values."""

import io

import pyarrow as pa
import pyarrow.parquet as pq

from groundcheck.ingest.readers.limits import MOST_CELLS, refuse_size
from groundcheck.ingest.readers.plain import plain
from groundcheck.ingest.sheets import Sheet, SourceFile


def read_parquet(content: bytes, kind: str, source: SourceFile) -> None:
    """Fill the source with the one sheet of a .parquet file, or with the reason why it has none."""
    try:
        file = pq.ParquetFile(io.BytesIO(content))
        groups = [file.metadata.row_group(number) for number in range(file.metadata.num_row_groups)]
        cells = file.metadata.num_rows * max(file.metadata.num_columns, 1)
        source.problem = refuse_size(sum(group.total_byte_size for group in groups))
        if cells > MOST_CELLS:
            source.problem = f"holds {cells} cells, more than the {MOST_CELLS} that are read: split it"
        if source.problem:
            return
        table = file.read()
        # Not to_pydict: of two columns with one name it keeps one.
        columns = [[plain(cell) for cell in _values(column)] for column in table.columns]
    except (pa.ArrowException, OSError, ValueError, TypeError, OverflowError, KeyError, MemoryError) as error:
        reason = (str(error).splitlines() or [type(error).__name__])[0]
        source.problem = f"not a whole .parquet file ({reason}): write it again"
        return
    rows = [list(table.column_names), *map(list, zip(*columns, strict=True))]
    name = source.file.rpartition("/")[2].removesuffix(".parquet")
    source.sheets.append(Sheet(source.file, name, rows))


def _values(column: pa.ChunkedArray) -> list[object]:
    """The values of a column; moments finer than Python's are cut to microseconds."""
    if pa.types.is_timestamp(column.type) and column.type.unit == "ns":
        column = column.cast(pa.timestamp("us", column.type.tz), safe=False)
    elif pa.types.is_time64(column.type) and column.type.unit == "ns":
        column = column.cast(pa.time64("us"), safe=False)
    elif pa.types.is_duration(column.type) and column.type.unit == "ns":
        column = column.cast(pa.duration("us"), safe=False)
    values: list[object] = column.to_pylist()
    return values
