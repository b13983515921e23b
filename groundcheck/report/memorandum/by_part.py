"""Rows of a query by memorandum, as dicts, cut to the room there is and the rest counted."""

from typing import Any

from groundcheck.store import Store

Row = dict[str, Any]


def rows_by_part(store: Store, query: str) -> dict[int, list[Row]]:
    """The rows of a query whose first column is `memo`, in its order."""
    cursor = store.connection.execute(query)
    names = [column[0] for column in cursor.description or ()]
    found: dict[int, list[Row]] = {}
    for memo, *values in cursor.fetchall():
        found.setdefault(memo, []).append(dict(zip(names[1:], values, strict=True)))
    return found


def listed_by_part(store: Store, query: str, order: str, room: int) -> dict[int, dict[str, Any]]:
    """Of each memo the first rows by an order, and how many `more` there are."""
    numbered = f"""
        SELECT * FROM (
            SELECT *, row_number() OVER (PARTITION BY memo ORDER BY {order}) AS "place",
                   count(*) OVER (PARTITION BY memo) AS total
            FROM ({query})
        ) WHERE "place" <= {room} ORDER BY memo, "place"
    """
    return {
        memo: {
            "rows": [{name: row[name] for name in row if name not in ("place", "total")} for row in rows],
            "more": rows[0]["total"] - len(rows),
        }
        for memo, rows in rows_by_part(store, numbered).items()
    }


NOTHING: dict[str, Any] = {"rows": [], "more": 0}
