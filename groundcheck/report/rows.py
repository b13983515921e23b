"""Rows of the store as plain tuples, the form in which every report takes them."""

from collections.abc import Iterator, Mapping, Sequence
from contextlib import closing
from typing import Any

from groundcheck.store import Store


def fetch(store: Store, query: str, parameters: Sequence[Any] = ()) -> list[tuple[Any, ...]]:
    """All rows of a query."""
    return store.connection.execute(query, list(parameters)).fetchall()


def stream(
    store: Store, query: str, frames: Mapping[str, Any] | None = None, batch: int = 5_000
) -> Iterator[tuple[Any, ...]]:
    """
    The rows of a query, a batch at a time; other queries may run meanwhile. `frames` are tables that it names.

    It sees what is committed.
    """
    with closing(store.connection.cursor()) as cursor:
        if store.path is not None:
            cursor.execute("USE groundcheck")
        for name, frame in (frames or {}).items():
            cursor.register(name, frame)
        cursor.execute(query)
        while rows := cursor.fetchmany(batch):
            yield from rows


def count_rows(store: Store, query: str) -> int:
    """How many rows a query gives."""
    return int(fetch(store, f"SELECT count(*) FROM ({query})")[0][0])


def severity_order(column: str) -> str:
    """The SQL expression that sorts severities as a person would: high first."""
    return f"CASE {column} WHEN 'high' THEN 1 WHEN 'medium' THEN 2 WHEN 'low' THEN 3 ELSE 4 END"
