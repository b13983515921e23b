"""Rows of large tables, read in order and a batch at a time, several queries side by side."""

from collections.abc import Iterator, Sequence
from typing import Any

from groundcheck.report.cell_text import CELL_LIMIT, clean_text
from groundcheck.store import Store

_BATCH = 5_000

# What clean_text takes out; a row without any, and with no text long enough to be cut, is passed on as it is.
_CONTROL = r"[\x{0}-\x{8}\x{b}-\x{1f}\x{7f}-\x{9f}\x{fffe}\x{ffff}]"


def stream(store: Store, query: str, parameters: Sequence[Any] = ()) -> Iterator[tuple[Any, ...]]:
    """
    The rows of a query, a batch at a time; other queries may run meanwhile.

    Sees what the store has committed: a cursor of its own has neither open transactions nor temporary tables.
    """
    database = store.sql("SELECT current_database()").fetchall()[0][0]
    with store.connection.cursor() as cursor:
        cursor.execute(f'USE "{database}"')
        cursor.execute(query, list(parameters))
        while batch := cursor.fetchmany(_BATCH):
            yield from batch


def stream_clean(
    store: Store,
    columns: Sequence[str],
    texts: Sequence[str],
    rest: str,
    parameters: Sequence[Any] = (),
    start: str = "",
) -> Iterator[tuple[Any, ...]]:
    """
    The rows of `start SELECT columns rest`, each text without what a cell can't hold.

    `texts` are the SQL expressions whose texts are of unknown origin.
    """
    query = f"{start} SELECT {', '.join(columns)}, {_needs_cleaning(texts)} {rest}"
    for row in stream(store, query, parameters):
        yield tuple(cleaned(value) for value in row[:-1]) if row[-1] else row[:-1]


def _needs_cleaning(texts: Sequence[str]) -> str:
    """SQL: whether clean_text may change one of the texts."""
    if not texts:
        return "FALSE"
    together = f"concat_ws('', {', '.join(texts)})"
    return f"(regexp_matches({together}, '{_CONTROL}') OR length({together}) > {CELL_LIMIT // 2})"


def cleaned(value: Any) -> Any:
    """A value with its texts cleaned."""
    if isinstance(value, str):
        return clean_text(value)
    if isinstance(value, list):
        return [cleaned(each) for each in value]
    return value


class Groups:
    """Rows that come ordered by their first value, handed out a key at a time."""

    def __init__(self, rows: Iterator[tuple[Any, ...]]) -> None:
        self._rows = rows
        self._next = next(rows, None)

    def take(self, key: Any) -> list[tuple[Any, ...]]:
        """The rows of the key, without it; keys must be asked for in ascending order."""
        taken: list[tuple[Any, ...]] = []
        row, rows = self._next, self._rows
        while row is not None and row[0] < key:
            row = next(rows, None)
        while row is not None and row[0] == key:
            taken.append(row[1:])
            row = next(rows, None)
        self._next = row
        return taken
