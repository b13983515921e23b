"""Rows of the store as plain tuples, the form in which every report takes them."""

from collections.abc import Sequence
from typing import Any

from groundcheck.store import Store


def fetch(store: Store, query: str, parameters: Sequence[Any] = ()) -> list[tuple[Any, ...]]:
    """All rows of a query."""
    return store.connection.execute(query, list(parameters)).fetchall()


def severity_order(column: str) -> str:
    """The SQL expression that sorts severities as a person would: high first."""
    return f"CASE {column} WHEN 'high' THEN 1 WHEN 'medium' THEN 2 WHEN 'low' THEN 3 ELSE 4 END"
